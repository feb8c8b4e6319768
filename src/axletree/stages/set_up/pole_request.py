"""What is asked about the axis, and how far is it off by what was read or measured?"""

from __future__ import annotations

import math
from datetime import datetime
from pathlib import Path

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.aim.scale import (
    ScaleSetting,
    high_from_reading_arcmin,
)
from axletree.pole.aim.target import PoleTarget
from axletree.pole.correct.bolts import (
    AxisError,
    axis_error_from_head_arcmin,
)

LARGEST_ERROR_ARCMIN = 45.0 * 60.0


LOWEST_READING_DEG, HIGHEST_READING_DEG = -10.0, 100.0


LARGEST_AZIMUTH_ERROR_ARCMIN = 90.0 * 60.0


@dataclass(frozen=True)
class HeadReading:
    """What was read off at the head: the altitude scale, and the direction along the horizon.

    `azimuth_error_arcmin` is positive when the axis points east of the pole. None: not read.
    """

    scale_deg: float | None = None
    azimuth_error_arcmin: float | None = None


@dataclass(frozen=True)
class PoleRequest:
    """The moment, and what is known of the axis: read at the head, or measured on the sky.

    `at` is aware. Both `reading` and `error` are refused. `true_pole` aims at the pole without
    refraction. `kit_folder`: where a skyline file stands; None where the kit has no file.
    `through_tube`: look along the axis with the tube, or with what the mount itself has; None: the
    tube where the mount has nothing.
    """

    at: datetime
    reading: HeadReading | None = None
    error: AxisError | None = None
    true_pole: bool = False
    kit_folder: Path | None = None
    through_tube: bool | None = None


def axis_error(request: PoleRequest, setting: ScaleSetting, target: PoleTarget) -> AxisError | None:
    """The axis error that was measured, or that follows from what was read at the head."""
    if request.reading is None:
        if request.error is None:
            return None
        size = math.hypot(request.error.high_arcmin, request.error.east_arcmin)
        if not size <= LARGEST_ERROR_ARCMIN:
            raise AxletreeError(
                f"an axis error of {size:.0f}′ is more than 45 degrees: set the "
                "mount up roughly first; the error is in arcminutes"
            )
        return request.error
    if request.error is not None:
        raise AxletreeError(
            "give either a scale reading and an azimuth error along the horizon, or the axis "
            "error as high and east, not both"
        )
    reading, azimuth = request.reading.scale_deg, request.reading.azimuth_error_arcmin or 0.0
    if reading is not None and not LOWEST_READING_DEG <= reading <= HIGHEST_READING_DEG:
        raise AxletreeError(f"a scale reading of {reading:g}°: it must lie between -10 and 100")
    if not abs(azimuth) <= LARGEST_AZIMUTH_ERROR_ARCMIN:
        raise AxletreeError(
            f"an azimuth error of {azimuth:g}′ is more than 90 degrees; it is in arcminutes "
            "along the horizon, positive when the axis points east of the pole"
        )
    up = 0.0 if reading is None else float(high_from_reading_arcmin(reading, setting.setting_deg))
    high, east = axis_error_from_head_arcmin(up / 60.0, azimuth / 60.0, target.altitude_deg)
    sigma = 0.0 if reading is None else 60.0 * setting.sigma_deg
    return AxisError(float(high), float(east), sigma)
