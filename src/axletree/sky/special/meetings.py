"""When do the Moon, planets, bright stars and clusters stand together in one field, seen from here?

What counts is what somebody sees: of the moments when the Sun is well down and both stand above
the haze, the one at which they are closest. A meeting that lasts several evenings is told once,
by its closest one, with all its evenings.
"""

from __future__ import annotations

from dataclasses import fields

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.directions import angle_between_deg
from axletree.sky.positions.bodies import body_positions, see_body
from axletree.sky.special.kinds import (
    Figure,
    FigureKind,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.neighbours import (
    CLUSTERS,
    CLUSTERS_BESIDE_MOON,
    MEETING_STAR_LIMIT_MAG,
    met,
)
from axletree.sky.special.rough import RoughSky, star_directions
from axletree.sky.special.watch import Neighbours, Watch, altitude_azimuth_deg

# Ours: civil twilight, and above the haze of a flat horizon.
SUN_BELOW_DEG = -6.0
LOWEST_DEG = 5.0
# The Moon's parallax may bring it so much nearer than it is from the Earth's centre.
_PARALLAX_DEG = 1.0
# A cluster is met when its middle is.
_PLACE_ERROR_DEG = 0.003
# How far on both sides of a passage to look, and how finely, seconds.
_STEPS = {"moon": (12.0 * 3600.0, 900.0), "planet": (5.0 * 86400.0, 3600.0)}


@dataclass(frozen=True)
class _Passage:
    """One pair near each other: the mover and the target's number, about `guess_s`."""

    mover: str
    target: int
    guess_s: float


def meetings_here(
    watch: Watch,
    sky: RoughSky,
    field_deg: float,
    star_limit_mag: float = MEETING_STAR_LIMIT_MAG,
) -> list[SpecialNight]:
    """Every pair that stands within `field_deg` of each other where and when it can be seen."""
    targets = met(star_limit_mag)
    every = _passages(sky, targets, field_deg)
    found = []
    for mover in ("moon", *targets.planets):
        passages = [passage for passage in every if passage.mover == mover]
        seen = _visible(watch, targets, passages)
        closest = [seen.of_pair(k) for k in range(len(passages))]
        met_now = [k for k, one in enumerate(closest) if one.closest_deg <= field_deg]
        figures = _figures(watch, mover, [closest[k] for k in met_now], field_deg)
        for k, of_it in zip(met_now, figures, strict=True):
            found.append(_told(watch, targets, passages[k], closest[k], of_it))
    return found


def _passages(sky: RoughSky, targets: Neighbours, field_deg: float) -> list[_Passage]:
    fixed = star_directions(targets.stars)
    planets = targets.planets
    found = []
    for mover in ("moon", *planets):
        place = sky.towards[mover]
        within = field_deg + (_PARALLAX_DEG if mover == "moon" else 0.0)
        others = [k for k in range(len(targets.names)) if _pairs(mover, targets, k)]
        rows = np.array(
            [
                sky.apart_deg(
                    place,
                    sky.towards[planets[k]]
                    if k < len(planets)
                    else np.broadcast_to(fixed[k - len(planets)], place.shape),
                )
                for k in others
            ]
        )
        which, guess = sky.low_points(rows, within)
        found += [
            _Passage(mover, others[row], float(s)) for row, s in zip(which, guess, strict=True)
        ]
    return found


def _pairs(mover: str, targets: Neighbours, k: int) -> bool:
    """Whether this mover is asked about this target: each pair of planets once."""
    name = targets.names[k]
    if mover == "moon":
        return name not in CLUSTERS or name in CLUSTERS_BESIDE_MOON
    return k >= len(targets.planets) or k > targets.planets.index(mover)


@dataclass(frozen=True)
class _Visible:
    """Moments at which both of a pair can be seen, arrays (n,): which pair, seconds, degrees."""

    pair: Ints
    seconds: Floats
    apart_deg: Floats
    altitude_deg: Floats
    azimuth_deg: Floats

    @property
    def closest_deg(self) -> float:
        """How near they come; infinite where nobody sees them together."""
        return float(self.apart_deg.min(initial=np.inf))

    @property
    def closest_s(self) -> float:
        """When they are nearest."""
        return float(self.seconds[np.argmin(self.apart_deg)])

    def of_pair(self, k: int) -> _Visible:
        """Those of one pair."""
        mine = self.pair == k
        return _Visible(**{f.name: getattr(self, f.name)[mine] for f in fields(self)})


def _visible(watch: Watch, targets: Neighbours, passages: list[_Passage]) -> _Visible:
    """All pairs of one mover, sampled about their passages, in the dark and above the haze."""
    assert watch.observer is not None
    if not passages:
        return _Visible(np.empty(0, dtype=np.int64), *(np.empty(0) for _ in range(4)))
    mover = passages[0].mover
    reach, step = _STEPS["moon" if mover == "moon" else "planet"]
    offsets = np.arange(-reach, reach, step)
    pair = np.repeat(np.arange(len(passages)), len(offsets))
    seconds = np.array([p.guess_s for p in passages])[pair] + np.tile(offsets, len(passages))
    within = (seconds >= 0.0) & (seconds < watch.length_s)
    pair, seconds = pair[within], seconds[within]
    dark = _dark(watch, seconds)
    pair, seconds = pair[dark], seconds[dark]
    instants, turned = watch.at(seconds)
    place = see_body(mover, instants, turned, watch.kernel).cirs
    which = np.array([p.target for p in passages], dtype=np.int64)[pair]
    other = targets.cirs(which, instants, turned, watch.kernel)
    height, azimuth = altitude_azimuth_deg(place, turned, watch.observer)
    lower, _ = altitude_azimuth_deg(other, turned, watch.observer)
    up = np.minimum(height, lower) >= LOWEST_DEG
    apart = angle_between_deg(place, other)
    return _Visible(pair[up], seconds[up], apart[up], height[up], azimuth[up])


def _figures(
    watch: Watch, mover: str, seen: list[_Visible], field_deg: float
) -> list[tuple[Figure, ...]]:
    """How near and within what, of each meeting of one mover; beside the Moon how much is lit."""
    assert watch.observer is not None
    lit: list[tuple[Figure, ...]] = [()] * len(seen)
    if mover == "moon" and seen:
        at = watch.base.plus(np.array([one.closest_s for one in seen]))
        moon = body_positions("moon", at, watch.observer, ephemeris=watch.kernel)
        parts = moon.lit_fraction[0].tolist()
        lit = [(Figure(FigureKind.MOON_LIT_FRACTION, part, 0.001),) for part in parts]
    return [
        (
            Figure(FigureKind.SEPARATION_DEG, one.closest_deg, _PLACE_ERROR_DEG),
            Figure(FigureKind.FIELD_DEG, field_deg, 0.0),
            *more,
        )
        for one, more in zip(seen, lit, strict=True)
    ]


def _told(
    watch: Watch, targets: Neighbours, passage: _Passage, seen: _Visible,
    figures: tuple[Figure, ...],
) -> SpecialNight:  # fmt: skip
    k = int(np.argmin(seen.apart_deg))
    # Sampled: the closest of what is seen lies within a step, unless dusk or haze cut it off.
    _, step = _STEPS["moon" if passage.mover == "moon" else "planet"]
    field_deg = next(f.value for f in figures if f.kind is FigureKind.FIELD_DEG)
    together = seen.seconds[seen.apart_deg <= field_deg]
    time, *times = watch.times(np.concatenate([seen.seconds[k : k + 1], together]))
    moment = NamedMoment(
        kind=MomentKind.CLOSEST,
        time=time,
        doubt_s=step / 2.0,
        altitude_deg=float(seen.altitude_deg[k]),
        azimuth_deg=float(seen.azimuth_deg[k]),
        seen=True,
    )
    return SpecialNight(
        kind=SpecialKind.MEETING,
        day=watch.night(time).date,
        bodies=(passage.mover, targets.names[passage.target]),
        greatest=moment,
        moments=(moment,),
        figures=figures,
        nights=tuple(sorted({watch.night(t).date for t in times})),
    )


def _dark(watch: Watch, seconds: Floats) -> Mask:
    """Where the Sun is well down."""
    assert watch.observer is not None
    instants, turned = watch.at(seconds)
    sun = see_body("sun", instants, turned, watch.kernel).cirs
    altitude, _ = altitude_azimuth_deg(sun, turned, watch.observer)
    return np.asarray(altitude < SUN_BELOW_DEG)
