"""What has the sky on each object in these hours, and how many points of its worth is that?

Reckoned once an evening: the choice of objects, their openings and their stops ask the same answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from axletree.evening.special.of_kit import special_tonight
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats
from axletree.sky.happenings.ask import happenings, turns_between
from axletree.sky.happenings.kinds import Happening, HappeningKind
from axletree.sky.lunar.features import moon_features
from axletree.sky.observer import Observer
from axletree.sky.special.kinds import MomentKind, SpecialKind, SpecialNight
from axletree.sky.time.nights import Night

BODIES = ("moon", "jupiter", "saturn")
# The first passage of a moon that begins or ends in these hours, and each further one (ours).
FIRST_POINTS, MORE_POINTS = 50.0, 25.0
# Each well known feature of the Moon that stands in good light, and all of them at most (ours).
FEATURE_POINTS, MOST_FEATURE_POINTS = 10.0, 50.0
# What people come out for, and what is worth a word (ours). Meteors are no object; an eclipse of
# the Sun is no stop.
SPECIAL_POINTS = {
    SpecialKind.MOON_ECLIPSE_TOTAL: 100.0,
    SpecialKind.MOON_ECLIPSE_PARTIAL: 100.0,
    SpecialKind.MOON_ECLIPSE_PENUMBRAL: 25.0,
    SpecialKind.OCCULTATION: 75.0,
    SpecialKind.MEETING: 60.0,
    SpecialKind.THIN_MOON: 50.0,
    SpecialKind.RINGS_EDGE_TO_EARTH: 50.0,
    SpecialKind.RINGS_EDGE_TO_SUN: 50.0,
    SpecialKind.OPPOSITION: 25.0,
    SpecialKind.ELONGATION_EVENING: 25.0,
    SpecialKind.ELONGATION_MORNING: 25.0,
}
# These have their minutes: outside them there is nothing to see.
TIMED = frozenset(
    {
        SpecialKind.MOON_ECLIPSE_TOTAL,
        SpecialKind.MOON_ECLIPSE_PARTIAL,
        SpecialKind.MOON_ECLIPSE_PENUMBRAL,
        SpecialKind.OCCULTATION,
    }
)
# Hardly anything is to be seen yet; only of an eclipse without an umbra it is all there is.
PALE = frozenset({MomentKind.PENUMBRA_BEGINS, MomentKind.PENUMBRA_ENDS})
_WELL_KNOWN_RANK = 1


@dataclass(frozen=True)
class OnObject:
    """What happens on one object: `told` of its moons or features, `special` of its night."""

    told: tuple[Happening, ...]
    special: tuple[SpecialNight, ...]
    points: float

    def times(self) -> tuple[datetime, ...]:
        """Every moment in which something begins, ends or is deepest, in no order."""
        turns = [t.time for h in self.told for t in h.turns]
        moments = [m.time for night in self.special if night.kind in TIMED for m in night.moments]
        return (*turns, *moments)


NOTHING = OnObject((), (), 0.0)


@dataclass(frozen=True)
class TonightSky:
    """Everything that happens on Moon and planets from `start` to `stop` (aware), and what makes
    the night special; `special_all` holds also what lies outside these hours."""

    start: datetime
    stop: datetime
    told: tuple[Happening, ...]
    special_all: tuple[SpecialNight, ...]

    def on(self, key: str, name: str) -> OnObject:
        """What happens on the object of this catalogue key and name."""
        told = tuple(h for h in self.told if h.body == key)
        special = tuple(
            night
            for night in self.special_all
            if {key, name} & set(night.bodies) and self._holds(night)
        )
        if not told and not special:
            return NOTHING
        return OnObject(told, special, self._points(told, special))

    def _holds(self, night: SpecialNight) -> bool:
        """Whether something of it is seen in these hours; what has no minutes lasts all night."""
        if night.kind not in TIMED:
            return night.kind in SPECIAL_POINTS
        seen = [m.time for m in night.moments if m.seen and m.kind not in PALE]
        return bool(seen) and min(seen) <= self.stop and max(seen) >= self.start

    def _points(self, told: Sequence[Happening], special: Sequence[SpecialNight]) -> float:
        moons = {
            (h.kind, h.actor)
            for h, _ in turns_between(told, self.start, self.stop)
            if h.kind is not HappeningKind.FEATURE_IN_LIGHT
        }
        points = FIRST_POINTS + MORE_POINTS * (len(moons) - 1) if moons else 0.0
        known = _well_known()
        features = {h.actor for h in told if h.kind is HappeningKind.FEATURE_IN_LIGHT}
        points += min(FEATURE_POINTS * len(features & known), MOST_FEATURE_POINTS)
        points += sum(SPECIAL_POINTS[night.kind] for night in special)
        return min(points, 100.0)


def tonight_of(kit: Kit, observer: Observer, start: datetime, stop: datetime) -> TonightSky:
    """What happens from start to stop (aware) of one night, which may last no time at all."""
    night = Night.containing(start, kit.site.zone)
    return tonight_among(observer, start, stop, special_tonight(kit, observer, night.date))


def tonight_among(
    observer: Observer, start: datetime, stop: datetime, special: tuple[SpecialNight, ...]
) -> TonightSky:
    """The same, of a night of which it is known what makes it special."""
    told: tuple[Happening, ...] = ()
    if stop > start:
        zone = start.tzinfo or "UTC"
        told = tuple(h for b in BODIES for h in happenings(b, start, stop, observer, zone))
    return TonightSky(start, stop, told, special)


def tonight_points(keys: Sequence[str], names: Sequence[str], tonight: TonightSky | None) -> Floats:
    """Points (n,) from 0 to 100 of objects by catalogue key and name; 0 where nothing is known."""
    points = np.zeros(len(keys))
    if tonight is None:
        return points
    about = set(BODIES) | {body for night in tonight.special_all for body in night.bodies}
    for k, (key, name) in enumerate(zip(keys, names, strict=True)):
        if key in about or name in about:
            points[k] = tonight.on(key, name).points
    return points


def _well_known() -> set[str]:
    return {f.name for f in moon_features() if f.rank <= _WELL_KNOWN_RANK}
