"""In which sentences is told what every stage may have to say: of the Earth's rotation?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.pole.enough.tolerance import LARGEST_ERROR_ARCMIN
from axletree.sky.time.earth_rotation import RotationDoubt, RotationDoubtKind
from axletree.tell.shared.words import day_words


def rotation_words(doubts: Sequence[RotationDoubt]) -> str:
    """What may be wrong with the Earth's rotation at these instants; '' for nothing."""
    return " ".join(map(_doubt_words, doubts))


def _doubt_words(doubt: RotationDoubt) -> str:
    known = "" if doubt.limit is None else day_words(doubt.limit)
    if doubt.kind == RotationDoubtKind.AFTER_TABLE:
        return (
            f"Earth rotation is known and predicted only to {known}; its last value"
            " is used after that. By our estimate this can shift the sky by about 0.2 s (3″) for"
            " each year beyond."
        )
    if doubt.kind == RotationDoubtKind.LEAP_SECONDS:
        until = f" only to {known}" if known else " nowhere here"
        return (
            f"Leap seconds are announced{until}: if one is put in later, the sky will stand a"
            " second (15″) from where it is reckoned, until Axletree's tables are brought up to"
            " date."
        )
    return (
        f"Earth rotation is tabulated only from {known}; its first value is used before that,"
        " which can shift the sky by seconds of time."
    )


def stop_words(arcmin: float) -> str:
    """When to stop setting the axis, in one sentence; the same on every sheet and page."""
    return f"Within {error_words(arcmin)} of the pole will do tonight: stop there."


def error_words(arcmin: float) -> str:
    """An axis error as people say it: '0.8′', '12′', '2.9°'."""
    if arcmin >= LARGEST_ERROR_ARCMIN:
        return "45° and more"
    if arcmin >= 90:
        return f"{arcmin / 60:.1f}°" if arcmin < 600 else f"{arcmin / 60:.0f}°"
    return f"{arcmin:.0f}′" if arcmin >= 10 else f"{arcmin:.1f}′"
