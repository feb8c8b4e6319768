"""How well is the axis set without any view of the pole: by level, north, scale, then drift?

Each step leaves an error; they are independent and add as squares. `high` and `east` are great
circle, so an error of the compass counts with the cosine of the pole's altitude.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

# Estimates, common practice, no source: reading a hand compass on a tripod; a bull's-eye bubble
# read to a part of its ring; how exactly a head follows a counted turn of its bolts.
COMPASS_READING_SIGMA_DEG = 1.0
LEVEL_SIGMA_DEG = 0.2
BOLT_SIGMA_PART = 0.1
# The sky's turn times one arcminute: an axis error of 1' drifts 0.2625" a minute at most.
DRIFT_ARCSEC_PER_MIN_PER_ARCMIN = SIDEREAL_RATE_ARCSEC_PER_S * 60.0 * math.pi / 180.0 / 60.0


@dataclass(frozen=True)
class BlindStep:
    """One step's own error of the axis, one standard deviation each way, arcminutes."""

    name: str
    source: str
    high_arcmin: float
    east_arcmin: float


@dataclass(frozen=True)
class BlindPath:
    """The steps, and what they leave: before drift, and after each pass of the drift test.

    `drift_minutes` on each of two stars; `drift_sigma_arcmin` is what one such test measures to.
    """

    steps: tuple[BlindStep, ...]
    high_sigma_arcmin: float
    east_sigma_arcmin: float
    after_drift: tuple[tuple[float, float], ...]
    drift_minutes: float
    drift_sigma_arcmin: float

    @property
    def total_arcmin(self) -> float:
        """Root mean square distance of the axis from the pole before the drift test."""
        return math.hypot(self.high_sigma_arcmin, self.east_sigma_arcmin)


def drift_sigma_arcmin(reading_sigma_arcsec: float, minutes: float) -> float:
    """Error of the axis, one way, from one drift test of this length.

    Two readings of the star's place, each this uncertain; a star at its best hour angle.
    """
    return math.sqrt(2.0) * reading_sigma_arcsec / (DRIFT_ARCSEC_PER_MIN_PER_ARCMIN * minutes)


def blind_path(
    pole_altitude_deg: float,
    scale_sigma_deg: float,
    magnetic_sigma_deg: float,
    *,
    compass_reading_sigma_deg: float = COMPASS_READING_SIGMA_DEG,
    level_sigma_deg: float = LEVEL_SIGMA_DEG,
    drift_reading_arcsec: float = 10.0,
    drift_minutes: float = 10.0,
    passes: int = 3,
) -> BlindPath:
    """The error to expect of the axis; `passes` of drift test and bolt turns after it.

    A base that leans towards the pole lifts the axis by as much; one that leans sideways moves
    it along by the sine of the altitude. `magnetic_sigma_deg` is the declination's own error
    from the field model; steel and cars are not in it.
    """
    a = math.radians(pole_altitude_deg)
    compass = math.hypot(magnetic_sigma_deg, compass_reading_sigma_deg)
    steps = (
        BlindStep(
            "north",
            f"compass ±{compass:.1f}°: field model ±{magnetic_sigma_deg:.1f}°, reading "
            f"±{compass_reading_sigma_deg:.1f}°",
            0.0,
            compass * 60.0 * math.cos(a),
        ),
        BlindStep(
            "level",
            f"bubble ±{level_sigma_deg:.1f}°",
            level_sigma_deg * 60.0,
            level_sigma_deg * 60.0 * math.sin(a),
        ),
        BlindStep("scale", f"altitude scale ±{scale_sigma_deg:.1f}°", scale_sigma_deg * 60.0, 0.0),
    )
    high = math.hypot(*(s.high_arcmin for s in steps))
    east = math.hypot(*(s.east_arcmin for s in steps))
    drift = drift_sigma_arcmin(drift_reading_arcsec, drift_minutes)
    after = []
    h, e = high, east
    for _ in range(passes):
        # What is measured is corrected, less the bolts' own error of a part of the way.
        h, e = math.hypot(drift, BOLT_SIGMA_PART * h), math.hypot(drift, BOLT_SIGMA_PART * e)
        after.append((h, e))
    return BlindPath(steps, high, east, tuple(after), drift_minutes, drift)
