"""How exactly do a shadow, a star or the Moon lead to north at one moment?

A body at altitude h whose place is known tells direction with these errors, one standard
deviation each, added in quadrature:
  clock     rate of azimuth x error of the time
  lean      an upright that leans by t sideways turns the line by t tan h
  sighting  an error s across the line of sight is s / cos h of azimuth
  shadow    the blurred edge of a shadow, whose middle can be found to a part of the half degree
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from dataclasses import fields
from datetime import datetime
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike

from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_180
from axletree.sky.events.crossings import find_crossings
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import sun_altitude_deg
from axletree.sky.positions.stars import Positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import later

PositionsAt = Callable[[Instants], Positions]
ValuesAt = Callable[[Instants], Floats]

_DEG = np.pi / 180.0


class ErrorCause(Enum):
    """What a direction's error is made of."""

    CLOCK = "clock"
    LEANING_ROD = "leaning rod"
    LEANING_SIGHT = "leaning sight"
    BLURRED_SHADOW = "blurred shadow"
    SIGHTING = "sighting"
    MAGNETIC_MODEL = "magnetic model"
    COMPASS_READING = "reading"
    POSITIONS = "the two positions"


ErrorParts = tuple[tuple[ErrorCause, float], ...]


@dataclass(frozen=True)
class ObservingErrors:
    """How well things are done: one standard deviation each; common practice, no source.

    `compass_deg` reading a hand compass; `sighting_deg` sighting with the bare eye along a
    plumb line; `scope_deg` setting a star in the polar scope; `bore_deg` in a hollow axis;
    `clock_s` the time; `lean_deg` how far a rod leans (a plumb line: 0.05); `shadow_deg`
    finding the middle of a shadow; `site_m`, `mark_m` each coordinate of the two positions.
    Refuses a negative one.
    """

    compass_deg: float = 1.0
    sighting_deg: float = 0.25
    scope_deg: float = 0.03
    bore_deg: float = 0.15
    clock_s: float = 2.0
    lean_deg: float = 0.2
    shadow_deg: float = 0.1
    site_m: float = 5.0
    mark_m: float = 5.0

    def __post_init__(self) -> None:
        for item in fields(self):
            value = getattr(self, item.name)
            if not 0.0 <= value < 1e6:
                raise AxletreeError(f"{item.name} {value:g}: an error is 0 or more")


@dataclass(frozen=True)
class NorthSearch:
    """From where, at which moment, over which skyline and how exactly north is looked for."""

    observer: Observer
    at: datetime
    horizon: Horizon
    errors: ObservingErrors

    @property
    def pole_azimuth_deg(self) -> float:
        """True azimuth of the elevated pole: 0 or 180."""
        return 0.0 if self.observer.north else 180.0

    @functools.cached_property
    def sun_altitude_deg(self) -> float:
        """The Sun's true altitude at the moment, which several methods ask for.

        Refuses moments outside the ephemeris.
        """
        return float(sun_altitude_deg(Instants.from_datetime(self.at), self.observer)[0])


@dataclass(frozen=True)
class Pointer:
    """Where a body stands at a moment: azimuth, altitude as seen, degrees, and its pace."""

    at: datetime
    azimuth_deg: float
    altitude_deg: float
    rate_deg_per_min: float


def pointer(place: PositionsAt, at: datetime) -> Pointer:
    """A body's place and how fast its azimuth changes; `place` gives one row of positions."""
    seen = place(Instants.from_datetime(at).plus(np.array([-30.0, 0.0, 30.0])))
    azimuth = seen.azimuth_deg[0]
    return Pointer(
        at=at,
        azimuth_deg=float(azimuth[1]),
        altitude_deg=float(seen.altitude_deg[0, 1]),
        rate_deg_per_min=float(wrap_180(azimuth[2] - azimuth[0])),
    )


def clock_part_deg(rate_deg_per_min: ArrayLike, errors: ObservingErrors) -> Floats:
    """Error that the time's error makes."""
    return np.abs(np.asarray(rate_deg_per_min, dtype=np.float64)) * errors.clock_s / 60.0


def shadow_parts(seen: Pointer, errors: ObservingErrors) -> ErrorParts:
    """Errors of a shadow's direction, degrees, by cause."""
    tan_h = np.tan(min(abs(seen.altitude_deg), 89.9) * _DEG)
    return (
        (ErrorCause.CLOCK, float(clock_part_deg(seen.rate_deg_per_min, errors))),
        (ErrorCause.LEANING_ROD, float(errors.lean_deg * tan_h)),
        (ErrorCause.BLURRED_SHADOW, errors.shadow_deg),
    )


def sight_parts(
    seen: Pointer, errors: ObservingErrors, sighting_deg: float | None = None
) -> ErrorParts:
    """Errors of the direction of something sighted at, degrees, by cause."""
    found = _sighted_deg(seen.altitude_deg, seen.rate_deg_per_min, errors, sighting_deg)
    causes = (ErrorCause.CLOCK, ErrorCause.LEANING_SIGHT, ErrorCause.SIGHTING)
    return tuple((cause, float(value)) for cause, value in zip(causes, found, strict=True))


def sight_sigma_deg(
    altitude_deg: Floats, rate_deg_per_min: Floats, errors: ObservingErrors
) -> Floats:
    """`total_deg` of `sight_parts`, (n,), of many things sighted at."""
    return _together_deg(_sighted_deg(altitude_deg, rate_deg_per_min, errors, None))


def _sighted_deg(
    altitude_deg: ArrayLike, rate_deg_per_min: ArrayLike, errors: ObservingErrors,
    sighting_deg: float | None,
) -> tuple[Floats, Floats, Floats]:  # fmt: skip
    """By the clock, the sight's lean and the sighting itself, degrees."""
    h = np.minimum(np.abs(np.asarray(altitude_deg, dtype=np.float64)), 89.9) * _DEG
    sighting = errors.sighting_deg if sighting_deg is None else sighting_deg
    clock = clock_part_deg(rate_deg_per_min, errors)
    return clock, np.asarray(errors.lean_deg * np.tan(h)), np.asarray(sighting / np.cos(h))


def total_deg(parts: ErrorParts) -> float:
    """The errors together: root of the sum of squares, never more than a random direction's."""
    return float(_together_deg([np.asarray(value) for _, value in parts]))


def _together_deg(parts: Sequence[Floats]) -> Floats:
    squares = sum((value**2 for value in parts), np.zeros(()))
    return np.asarray(np.minimum(np.sqrt(squares), 180.0 / np.sqrt(3.0)))


def next_clear(
    place: PositionsAt,
    horizon: Horizon,
    at: datetime,
    hours: float,
    margin_deg: float = 0.0,
    rising: bool = True,
) -> datetime | None:
    """When the body next comes up over the skyline plus a margin (or goes behind it)."""
    base = Instants.from_datetime(at)

    def above(seconds: Floats) -> Floats:
        seen = place(base.plus(seconds))
        return np.asarray(
            seen.altitude_deg[0] - horizon.altitude_at(seen.azimuth_deg[0]) - margin_deg
        )

    found = find_crossings(above, np.zeros(1), np.full(1, hours * 3600.0), 300.0)
    right = found.seconds[found.upward == rising]
    return later(at, float(right.min())) if right.size else None


def next_below(
    true_deg: ValuesAt, altitude_true_deg: float, at: datetime, hours: float
) -> datetime | None:
    """When a body's true altitude next sinks through a value, None if not within `hours`."""
    base = Instants.from_datetime(at)

    def value(seconds: Floats) -> Floats:
        return true_deg(base.plus(seconds))

    found = find_crossings(value, np.zeros(1), np.full(1, hours * 3600.0), 600.0, altitude_true_deg)
    down = found.seconds[~found.upward]
    return later(at, float(down.min())) if down.size else None
