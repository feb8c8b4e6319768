"""How is a gap kept as a line of the notes, and read back?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from axletree.axis.state import MOST_ERROR_MM, MOST_GAP_MM, GapNote

GAP = "gap noted"


def gap_record(gap: GapNote) -> dict[str, Any]:
    """The record of a gap, without its spot."""
    return {
        "kind": GAP,
        "at": gap.at.isoformat(),
        "key": gap.key,
        "side": gap.side,
        "hour_angle_h": gap.hour_angle_h,
        "declination_deg": gap.declination_deg,
        "pose_error_deg": gap.pose_error_deg,
        "gap_mm": gap.gap_mm,
        "error_mm": gap.error_mm,
        "object": gap.object,
    }


def gap_of_record(record: Mapping[str, Any], at: datetime, evening: date) -> GapNote | None:
    """The gap of a record; None of another kind, and where it has figures that no gap has."""
    side = record.get("side")
    names = "hour_angle_h", "declination_deg", "pose_error_deg", "gap_mm", "error_mm"
    if record.get("kind") != GAP or side not in ("east", "west"):
        return None
    try:
        H, d, pose, gap, error = (float(record[name]) for name in names)
    except (KeyError, TypeError, ValueError, OverflowError):
        return None
    fits = (
        abs(H) <= 24.0 and abs(d) <= 90.0 and 0.0 <= pose <= 30.0 and 0.0 <= gap <= MOST_GAP_MM
        and 0.0 < error <= MOST_ERROR_MM and all(map(math.isfinite, (H, d, pose, gap, error)))
    )  # fmt: skip
    if not fits:
        return None
    name, key = str(record.get("object") or ""), str(record.get("key"))
    return GapNote(at, evening, side, H, d, pose, gap, error, name, key)
