"""When and through what was a picture taken, as its file says?

Source: CIPA DC-008 (Exif 2.32), the tags of times, zones, exposure and focal length. Places (GPS)
are not read.
"""

from __future__ import annotations

import math
import re
from datetime import datetime, timedelta, timezone

from PIL import Image

from axletree.kit.frozen import dataclass

_BLOCK = 0x8769
_TAKEN, _ZONE, _SUBSECONDS = 0x9003, 0x9011, 0x9291
_TAKEN_ELSE, _ZONE_ELSE = 0x0132, 0x9010
_EXPOSURE, _FOCAL, _FOCAL_35 = 0x829A, 0x920A, 0xA405
_PLANE_X, _PLANE_UNIT = 0xA20E, 0xA210
_UNIT_MM = {2: 25.4, 3: 10.0, 4: 1.0}
DIAGONAL_35_MM = math.hypot(36.0, 24.0)
LONGEST_EXPOSURE_S = 86400.0


@dataclass(frozen=True)
class FileSays:
    """What a file says; None where it says nothing.

    `begun`: when the exposure began, without a zone where the file names none. `focal_35_mm`: of
    the lens that shows as much on 36 x 24 mm. `pixel_um`: of the file's full size. `middle_known`:
    `begun` is already the middle of the exposure.
    """

    begun: datetime | None = None
    exposure_s: float | None = None
    focal_mm: float | None = None
    focal_35_mm: float | None = None
    pixel_um: float | None = None
    middle_known: bool = False
    rows_may_be_flipped: bool = False


def taken_from_exif(exif: Image.Exif) -> FileSays:
    """What EXIF says; what can't be read counts as not said."""
    block = exif.get_ifd(_BLOCK)
    begun = _moment(block.get(_TAKEN) or exif.get(_TAKEN_ELSE), block.get(_SUBSECONDS))
    zone = _zone(block.get(_ZONE) or block.get(_ZONE_ELSE))
    if begun is not None and zone is not None:
        begun = begun.replace(tzinfo=zone)
    exposure = _number(block.get(_EXPOSURE))
    return FileSays(
        begun=begun,
        exposure_s=exposure if exposure is not None and exposure < LONGEST_EXPOSURE_S else None,
        focal_mm=_number(block.get(_FOCAL)),
        focal_35_mm=_number(block.get(_FOCAL_35)),
        pixel_um=_pixel_um(_number(block.get(_PLANE_X)), block.get(_PLANE_UNIT)),
    )


def zone_of(text: str) -> timezone | None:
    """'+01:00' or '-0330' as a zone, None for anything else."""
    found = re.fullmatch(r"\s*([+-])(\d{2}):?(\d{2})\s*", text)
    if found is None:
        return timezone(timedelta(0)) if text.strip().upper() in ("Z", "UTC") else None
    minutes = int(found[2]) * 60 + int(found[3])
    if minutes > 14 * 60:
        return None
    return timezone(timedelta(minutes=-minutes if found[1] == "-" else minutes))


def _zone(value: object) -> timezone | None:
    return zone_of(value) if isinstance(value, str) else None


def _moment(value: object, subseconds: object) -> datetime | None:
    if not isinstance(value, str):
        return None
    try:
        moment = datetime.strptime(value.strip("\0 ")[:19], "%Y:%m:%d %H:%M:%S")
    except ValueError:
        return None
    digits = subseconds.strip("\0 ") if isinstance(subseconds, str) else ""
    part = float(f"0.{digits}") if digits.isdigit() else 0.0
    return moment + timedelta(seconds=part)


def _number(value: object) -> float | None:
    try:
        number = float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    return number if math.isfinite(number) and number > 0.0 else None


def _pixel_um(a_unit: float | None, unit: object) -> float | None:
    """From pixels on the sensor in each inch, centimetre or millimetre."""
    size = _UNIT_MM.get(unit if isinstance(unit, int) else 2)
    if a_unit is None or size is None:
        return None
    pixel = size * 1000.0 / a_unit
    return pixel if 0.3 < pixel < 50.0 else None
