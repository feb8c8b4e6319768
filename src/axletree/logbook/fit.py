"""Is a row fit for the record? Dates that are dates, numbers that are finite, text that is text.

SQLite takes a date of the thirteenth month and an infinite angle without a word; whoever reads
them later would stumble.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from axletree.find.practice.learned import FoundBy
from axletree.find.practice.rig_work import RigWork

_NUMBERS = {
    "latitude_deg": 90.0, "longitude_deg": 360.0, "seeing_arcsec": 1e3,
    "sky_brightness_mag_arcsec2": 40.0, "naked_eye_limit_mag": 20.0, "high_arcmin": 1e6,
    "east_arcmin": 1e6, "high_variance_arcmin2": 1e12, "east_variance_arcmin2": 1e12,
    "covariance_arcmin2": 1e12, "altitude_turns": 1e6, "azimuth_turns": 1e6,
    "minutes": 600.0, "chance": 1.0,
}  # fmt: skip
_EMPTY = (
    "run_sheet", "visitors", "seeing_arcsec", "sky_brightness_mag_arcsec2", "naked_eye_limit_mag",
    "minutes", "chance",
)  # fmt: skip
LONGEST_TEXT = 5_000_000


def why_unfit(row: Mapping[str, Any]) -> str:
    """What is wrong with the first unfit column of a row; '' when all are fit."""
    for name, value in row.items():
        if value is None and name in _EMPTY:
            continue
        wrong = _why(name, value)
        if wrong:
            shown = repr(value)
            return f"'{name}' {shown if len(shown) < 40 else shown[:36] + ' ...'} {wrong}"
    return ""


def _why(name: str, value: Any) -> str:
    if name in _NUMBERS:
        most = _NUMBERS[name]
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            return "is not a number"
        return "" if math.isfinite(value) and abs(value) <= most else f"is beyond {most:g}"
    if name == "found":
        yes_or_no = isinstance(value, int) and not isinstance(value, bool) and value in (0, 1)
        return "" if yes_or_no else "is neither 0 nor 1"
    if name in ("visitors", "evening_id"):
        whole = isinstance(value, int) and not isinstance(value, bool)
        return "" if whole and 0 <= value < 2**31 else "is not a whole number"
    if not isinstance(value, str):
        return "is not text"
    if len(value) > LONGEST_TEXT:
        return "is too long"
    if any("\ud800" <= c <= "\udfff" for c in value):
        return "holds a broken character"
    if name == "ways":
        known = set(value.split(",")) <= set(FoundBy)
        return "" if known else "holds a way that is not known"
    if name == "work":
        return "" if value in tuple(RigWork) else "is no work that is known"
    if name == "uid":
        return "" if 0 < len(value) <= 64 else "is no uid"
    if name == "date":
        return _why_no_date(value)
    return _why_no_moment(value) if name in ("at", "begun_at") else ""


def _why_no_date(text: str) -> str:
    try:
        return "" if date.fromisoformat(text).isoformat() == text else "is not a date"
    except ValueError:
        return "is not a date; write it like 2026-12-05"


def _why_no_moment(text: str) -> str:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return "is not a time; write it like 2026-12-05T20:30:00+00:00"
    return "" if moment.tzinfo is not None else "has no zone"
