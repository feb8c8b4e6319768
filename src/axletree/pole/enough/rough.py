"""How well is the axis set without any view of the pole: by level, north, scale, then drift?

Each step leaves an error; they are independent and add as squares. `high` and `east` are great
circle, so an error of the compass counts with the cosine of the pole's altitude.
"""

from __future__ import annotations

import math
from enum import Enum

from axletree.kit.frozen import dataclass
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

# Estimates, common practice, no source: reading a hand compass on a tripod; a bull's-eye bubble
# read to a part of its ring; how exactly a head follows a counted turn of its bolts.
COMPASS_READING_SIGMA_DEG = 1.0
LEVEL_SIGMA_DEG = 0.2
BOLT_SIGMA_PART = 0.1
# How many rounds of drift test and bolt turns are told.
DRIFT_ROUNDS = 3
# An axis error of 1' drifts 0.2625" a minute at most.
DRIFT_ARCSEC_PER_MIN_PER_ARCMIN = SIDEREAL_RATE_ARCSEC_PER_S * 60.0 * math.pi / 180.0 / 60.0


class RoughStep(Enum):
    """The steps of a rough alignment, in their order."""

    NORTH = "north"
    LEVEL = "level"
    SCALE = "scale"


@dataclass(frozen=True)
class StepError:
    """One step's own error of the axis, one standard deviation each way, arcminutes."""

    step: RoughStep
    high_arcmin: float
    east_arcmin: float


@dataclass(frozen=True)
class DriftTest:
    """How a drift test is done: minutes on each of two stars, and how well a place is read."""

    reading_sigma_arcsec: float = 10.0
    minutes: float = 10.0

    @property
    def sigma_arcmin(self) -> float:
        """Error of the axis, one way, from one such test.

        Two readings of the star's place, each this uncertain; a star at its best hour angle.
        """
        moved = DRIFT_ARCSEC_PER_MIN_PER_ARCMIN * self.minutes
        return math.sqrt(2.0) * self.reading_sigma_arcsec / moved


@dataclass(frozen=True)
class RoughAlignment:
    """What the steps leave: before the drift test, and after each round of it.

    Errors are one standard deviation; `magnetic_sigma_deg` is the field model's own, without
    steel and cars.
    """

    magnetic_sigma_deg: float
    compass_reading_sigma_deg: float
    level_sigma_deg: float
    scale_sigma_deg: float
    errors: tuple[StepError, ...]
    high_sigma_arcmin: float
    east_sigma_arcmin: float
    drift: DriftTest
    after_drift: tuple[tuple[float, float], ...]

    @property
    def compass_sigma_deg(self) -> float:
        """The field model's error and the reading's together."""
        return math.hypot(self.magnetic_sigma_deg, self.compass_reading_sigma_deg)

    @property
    def total_arcmin(self) -> float:
        """Root mean square distance of the axis from the pole before the drift test."""
        return math.hypot(self.high_sigma_arcmin, self.east_sigma_arcmin)


def rough_alignment(
    pole_altitude_deg: float,
    scale_sigma_deg: float,
    magnetic_sigma_deg: float,
    *,
    level_sigma_deg: float = LEVEL_SIGMA_DEG,
    drift: DriftTest = DriftTest(),  # noqa: B008 (frozen)
) -> RoughAlignment:
    """The error to expect of the axis by compass, level and scale, and as drift tests mend it.

    A base that leans towards the pole lifts the axis by as much; one that leans sideways moves
    it along by the sine of the altitude.
    """
    a = math.radians(pole_altitude_deg)
    compass = math.hypot(magnetic_sigma_deg, COMPASS_READING_SIGMA_DEG)
    level = level_sigma_deg * 60.0
    errors = (
        StepError(RoughStep.NORTH, 0.0, compass * 60.0 * math.cos(a)),
        StepError(RoughStep.LEVEL, level, level * math.sin(a)),
        StepError(RoughStep.SCALE, scale_sigma_deg * 60.0, 0.0),
    )
    high = math.hypot(*(e.high_arcmin for e in errors))
    east = math.hypot(*(e.east_arcmin for e in errors))
    after = []
    h, e = high, east
    for _ in range(DRIFT_ROUNDS):
        # What is measured is corrected, less the bolts' own error of a part of the way.
        h = math.hypot(drift.sigma_arcmin, BOLT_SIGMA_PART * h)
        e = math.hypot(drift.sigma_arcmin, BOLT_SIGMA_PART * e)
        after.append((h, e))
    return RoughAlignment(
        magnetic_sigma_deg=magnetic_sigma_deg,
        compass_reading_sigma_deg=COMPASS_READING_SIGMA_DEG,
        level_sigma_deg=level_sigma_deg,
        scale_sigma_deg=scale_sigma_deg,
        errors=errors,
        high_sigma_arcmin=high,
        east_sigma_arcmin=east,
        drift=drift,
        after_drift=tuple(after),
    )
