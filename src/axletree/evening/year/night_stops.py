"""Which stops would each of many nights have, and what are they worth?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field
from datetime import date, datetime

import numpy as np

from axletree.evening.ground_here import Ground
from axletree.evening.objects.not_offered import SHOWN_MARGIN
from axletree.evening.objects.worth import (
    DIFFERS_LOSS,
    DIFFERS_LOSS_OF_COLOURS,
    UNGROUPED_THEME,
    any_theme,
)
from axletree.evening.seeing.visibility import GLOWS
from axletree.evening.year.deep_sky_left import deep_sky_left
from axletree.evening.year.figures import NightFigures, raw_figures
from axletree.evening.year.filling import Filling, Groups, fill_slots
from axletree.evening.year.night_points import SlotPoints, promising, slot_points
from axletree.evening.year.night_samples import NightSamples, sample_nights
from axletree.evening.year.sights import Sights
from axletree.evening.year.slot_looks import looks_at
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Ints, Texts
from axletree.sky.observer import Observer
from axletree.sky.time.nights import Night

NAMED = 6
# What of a stop there must be time for, so that it is named.
_TIME_ENOUGH = 0.7


@dataclass(frozen=True)
class Pace:
    """How long one stop takes (s), finding included, and how many are wanted."""

    stop_s: float
    wanted: int


@dataclass(frozen=True)
class Shown:
    """One of a night's stops: when its slot begins, its height in the middle of it, its points."""

    name: str
    common_name: str
    theme: str
    begin: datetime
    height_deg: float
    points: float


@dataclass(frozen=True)
class NightStops:
    """The stops of m sessions and what they are worth, arrays (m,).

    `kept` is how much of what must be seen is there, as a share of all stops; `showing` objects
    show at all, `glows_showing` of them glows: nebulae,
    galaxies, globular clusters. `common` keeps the names that were looked up already.
    """

    samples: NightSamples
    points: SlotPoints
    filling: Filling
    raw: NightFigures
    kept: Floats
    showing: Ints
    glows_showing: Ints
    common: dict[int, str] = field(default_factory=dict)

    @property
    def dates(self) -> list[date]:
        """The evenings of the sessions."""
        return [self.samples.nights[int(n)].date for n in self.samples.rows]

    def named(self, row: int) -> list[Shown]:
        """The best stops of one session that there is time for."""
        filling = self.filling
        whole = np.flatnonzero((filling.object[row] >= 0) & (filling.part[row] > _TIME_ENOUGH))
        if not len(whole):
            whole = np.flatnonzero(filling.object[row] >= 0)
        return [
            self._shown(row, int(filling.object[row, k]), int(filling.slot[row, k]))
            for k in whole[:NAMED]
        ]

    def planets(self, row: int) -> list[Shown]:
        """The planets that show in one session, each where it is worth most."""
        points = self.points.points[row, :, 1 : len(self.points.bodies)]
        at = points.argmax(axis=0)
        clear = np.flatnonzero(np.isfinite(points.max(axis=0)))
        return [self._shown(row, int(k) + 1, int(at[k])) for k in clear]

    def _shown(self, row: int, one: int, slot: int) -> Shown:
        first = len(self.points.bodies)
        body = one < first
        candidates, at = (self.points.bodies, one) if body else (self.points.fixed, one - first)
        if one not in self.common:
            common = () if body else candidates.object_at(at).common_names
            self.common[one] = next(iter(common), "")
        return Shown(
            name=candidates.names[at],
            common_name=self.common[one],
            theme=str(candidates.themes[at]),
            begin=self.samples.slot_begin(row, slot),
            height_deg=float(self.points.heights[row, slot, one]),
            points=float(self.points.points[row, slot, one]),
        )


def stops_of_nights(
    kit: Kit, observer: Observer, ground: Ground, sights: Sights, nights: Sequence[Night],
    pace: Pace, seen_ids: frozenset[str],
) -> NightStops:  # fmt: skip
    """The stops of the nights that have a session."""
    samples = sample_nights(kit, observer, ground.horizon, nights, pace.stop_s)
    some = sights.take(promising(kit, sights))
    found = slot_points(kit, observer, ground, some, samples, seen_ids)
    groups = _groups(kit, found.themes)
    most = np.full(len(samples.rows), float(pace.wanted))
    filling = fill_slots(
        found.points, samples.room, np.maximum(most - found.lost, 0.0), groups, found.must
    )
    bodies = slice(0, len(found.bodies))
    alone = fill_slots(
        found.pleasure, samples.room, most, groups.take(bodies), np.zeros(len(found.bodies), bool)
    )
    left = deep_sky_left(sights, samples)
    shows = _showing(sights, samples)
    bodies_show = np.isfinite(found.points[:, :, bodies]).any(axis=1)
    return NightStops(
        samples=samples,
        points=found,
        filling=filling,
        raw=raw_figures(kit, left, samples.room, alone, filling, pace.wanted),
        kept=1.0 - np.minimum(found.lost / pace.wanted, 1.0),
        showing=shows.sum(axis=1) + bodies_show.sum(axis=1),
        glows_showing=shows[:, np.isin(sights.candidates.looks.sort, GLOWS)].sum(axis=1),
    )


def _showing(sights: Sights, samples: NightSamples) -> Ints:
    """Which fixed objects show in each session (m, n), looked at early and late in it."""
    last = samples.slots
    at = sorted({1 + last // 4, max(1, (3 * last + 3) // 4)})
    margin = looks_at(sights, samples, at).margin
    return np.asarray(margin.max(axis=1) >= SHOWN_MARGIN)


def _groups(kit: Kit, themes: Texts) -> Groups:
    """What further objects of one theme lose, where people want a bit of everything."""
    names = sorted(set(themes.tolist()))
    place = {name: k for k, name in enumerate(names)}
    losses = np.zeros((len(names), len(DIFFERS_LOSS)))
    by = kit.habits.weights
    for name in names if any_theme(kit) else ():
        if name == UNGROUPED_THEME:
            continue
        steps = DIFFERS_LOSS_OF_COLOURS if name == "colours" else DIFFERS_LOSS
        losses[place[name]] = steps[-1]
        losses[place[name], : len(steps)] = steps
    return Groups(
        np.array([place[name] for name in themes], dtype=np.int64),
        losses * by.differs / by.total,
    )
