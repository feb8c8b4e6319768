"""Which night is worth most for this spot, this rig and this audience?

Public: ``score_nights``, ``Calendar``, ``ScoredNight``, ``best_of``.

A night's score is what its best stops would be worth together, against as many stops of the full
hundred points as the person's hours hold: late darkness and early bedtime leave fewer stops,
moonlight takes margin from the faint ones, the planets and what stands high bring points. Points
and visibility are the evening's own; clouds nobody knows.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from enum import Enum
from pathlib import Path

import numpy as np

from axletree.evening.ground_here import Ground, ground_of
from axletree.evening.hosting.pace import show_seconds
from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.objects.candidates import BODIES, Candidates
from axletree.evening.order.moving import Handling, handling_of
from axletree.evening.seeing.sky_brightness import AssumedSky, site_sky
from axletree.evening.year.night_points import NightPoints, night_points, worth_of_nights
from axletree.evening.year.night_samples import (
    NightSamples,
    hours_above,
    sample_nights,
    spans_above,
)
from axletree.evening.year.sights import Sights, sights_of
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.events.moon_phases import SkyDate, moon_phases
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, nights_between

MOST_NIGHTS = 1100
NAMED = 6
# Days between the best nights of a long range, unless the person says otherwise (ours).
APART_DAYS = 6
# A usual turn from one object to the next, degrees on each axis (ours).
USUAL_TURN_DEG = 40.0


class NoSession(Enum):
    """Why a night has no session."""

    DARK_AFTER_HOURS = "dark_after_hours"
    NEVER_DARK = "never_dark"


@dataclass(frozen=True)
class Shown:
    """One of a night's best objects: its greatest height in the session and its points."""

    name: str
    common_name: str
    theme: str
    highest_deg: float
    points: float


@dataclass(frozen=True)
class ScoredNight:
    """One night: score 0 to 100 and the facts behind it.

    `begin` and `end` of the session (None where there is none), its hours, those with the Sun
    below -18 degrees and those without the Moon. The Moon's lit fraction, greatest height in the
    session (None: never up) and spans above the horizon. `stops` fit; `showing` objects could
    be shown; `best` are the first of them, `planets` all that clear the skyline. Without a
    session `ended_by` says why there is none.
    """

    date: date
    score: float
    begin: datetime | None
    end: datetime | None
    ended_by: SessionEnd | NoSession
    session_h: float
    dark_h: float
    moonless_h: float
    moon_lit: float | None
    moon_highest_deg: float | None
    moon_up: tuple[tuple[datetime, datetime], ...]
    stops: int
    showing: int
    best: tuple[Shown, ...]
    planets: tuple[Shown, ...]


@dataclass(frozen=True)
class Calendar:
    """Every night of a range, the Moon's phases in it, and what was assumed."""

    nights: tuple[ScoredNight, ...]
    phases: tuple[SkyDate, ...]
    wanted_stops: int
    stop_min: float
    considered: int
    can_show: int
    assumed: tuple[AssumedSky, ...]


def score_nights(
    kit: Kit,
    observer: Observer,
    first: date,
    last: date,
    *,
    folder: Path | None = None,
    own: Sequence[SkyObject] = (),
    seen_ids: frozenset[str] = frozenset(),
) -> Calendar:
    """Every night from the evening of `first` to that of `last`.

    Refuses dates outside 2020-2049, `last` before `first`, and more than three years at once.
    """
    refuse_range(first, last)
    nights = nights_between(first, last, kit.site.time_zone)
    middle = nights[len(nights) // 2]
    ground = ground_of(kit, observer, middle.start, folder)
    zenith_mag, _, assumed = site_sky(kit)
    sights = sights_of(kit, observer, ground, zenith_mag, Instants.from_datetime(middle.start), own)
    stop_s = show_seconds(kit) + _usual_move_s(handling_of(kit))
    wanted = max(1, int(kit.habits.hours * 3600.0 // stop_s))
    scored: list[ScoredNight] = []
    for a in range(0, len(nights), 366):  # a year at a time keeps the arrays small
        samples = sample_nights(kit, observer, nights[a : a + 366])
        scored += _scored(kit, ground, sights, samples, wanted, stop_s, seen_ids)
    return Calendar(
        nights=tuple(scored),
        phases=tuple(moon_phases(nights[0].start, nights[-1].stop, kit.site.zone)),
        wanted_stops=wanted,
        stop_min=stop_s / 60.0,
        considered=sights.considered + len(BODIES),
        can_show=len(sights) + len(BODIES),
        assumed=assumed,
    )


def refuse_range(first: date, last: date) -> None:
    """One line for a range that can't be answered."""
    if last < first:
        raise AxletreeError(f"the range ends on {last}, before it begins on {first}")
    for day in (first, last):
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            raise AxletreeError(
                f"{day}: the planets are known from {FIRST_YEAR} to {LAST_YEAR} only"
            )
    count = (last - first).days + 1
    if count > MOST_NIGHTS:
        raise AxletreeError(
            f"{first} to {last} are {count} nights; ask for three years at most ({MOST_NIGHTS})"
        )


def best_of(
    nights: Sequence[ScoredNight],
    count: int,
    *,
    apart_days: int = 0,
    weekdays: frozenset[int] = frozenset(range(7)),
) -> list[ScoredNight]:
    """The best nights by date, at least so many days apart, on these weekdays (Monday 0).

    Of equal scores the earlier night; nights worth nothing never.
    """
    kept: list[ScoredNight] = []
    for night in sorted(nights, key=lambda n: (-n.score, n.date)):
        if len(kept) >= count or night.score <= 0.0:
            break
        free = all(abs((night.date - k.date).days) >= apart_days for k in kept)
        if free and night.date.weekday() in weekdays:
            kept.append(night)
    return sorted(kept, key=lambda n: n.date)


def _usual_move_s(handling: Handling) -> float:
    hour = USUAL_TURN_DEG / handling.hour_deg_per_s
    declination = USUAL_TURN_DEG / handling.declination_deg_per_s
    turning = max(hour, declination) if handling.together else hour + declination
    hands = handling.find_s + handling.focus_s + turning
    return hands * (1.0 + handling.slack_part) + handling.slack_s


def _scored(
    kit: Kit, ground: Ground, sights: Sights, samples: NightSamples, wanted: int, stop_s: float,
    seen_ids: frozenset[str],
) -> list[ScoredNight]:  # fmt: skip
    found = night_points(kit, ground, sights, samples, seen_ids)
    hours = samples.session_h[samples.rows]
    score, order = worth_of_nights(found, np.minimum(hours * 3600.0 / stop_s, wanted), wanted)
    moon_alt = samples.of_body("moon", "altitude_deg")
    moonless = hours - hours_above(samples.seconds, moon_alt)
    lit = samples.of_body("moon", "lit_fraction")
    row_of = {int(n): k for k, n in enumerate(samples.rows)}
    made: list[ScoredNight] = []
    common: dict[int, str] = {}
    for n, night in enumerate(samples.nights):
        session = samples.sessions[n]
        if session is None:
            made.append(_empty(night, bool(samples.ever_dark[n])))
            continue
        k = row_of[n]
        stops = min(int(hours[k] * 3600.0 // stop_s), wanted)
        showing = np.isfinite(found.values[k])
        named = [i for i in order[k, :NAMED].tolist() if showing[i]]
        planets = np.flatnonzero(showing[1 : len(found.bodies)]) + 1
        top = float(moon_alt[k].max())
        made.append(
            ScoredNight(
                date=night.date,
                score=round(float(score[k]), 1),
                begin=session.first_stop,
                end=session.end,
                ended_by=session.ended_by,
                session_h=float(hours[k]),
                dark_h=float(samples.dark_h[n]),
                moonless_h=max(float(moonless[k]), 0.0),
                moon_lit=float(lit[k].mean()),
                moon_highest_deg=top if top > 0.0 else None,
                moon_up=tuple(spans_above(samples, k, moon_alt[k], 0.0)),
                stops=stops,
                showing=int(showing.sum()),
                best=tuple(_shown(found, sights.candidates, k, i, common) for i in named),
                planets=tuple(_shown(found, sights.candidates, k, int(i), common) for i in planets),
            )
        )
    return made


def _empty(night: Night, ever_dark: bool) -> ScoredNight:
    why = NoSession.DARK_AFTER_HOURS if ever_dark else NoSession.NEVER_DARK
    return ScoredNight(
        date=night.date, score=0.0, begin=None, end=None, ended_by=why, session_h=0.0, dark_h=0.0,
        moonless_h=0.0, moon_lit=None, moon_highest_deg=None, moon_up=(), stops=0, showing=0,
        best=(), planets=(),
    )  # fmt: skip


def _shown(found: NightPoints, fixed: Candidates, k: int, i: int, common: dict[int, str]) -> Shown:
    """Object `i` of session `k`; `common` keeps the names that were looked up already."""
    first = len(found.bodies)
    candidates, row = (found.bodies, i) if i < first else (fixed, i - first)
    if i not in common:
        common[i] = "" if i < first else next(iter(candidates.object_at(row).common_names), "")
    return Shown(
        name=candidates.names[row],
        common_name=common[i],
        theme=str(candidates.themes[row]),
        highest_deg=float(found.heights[k, i]),
        points=float(found.values[k, i]),
    )
