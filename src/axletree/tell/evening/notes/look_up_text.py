"""When can visitors look up for a satellite? The lines of run sheet, paper and phone."""

from __future__ import annotations

from axletree.tell.evening.document import Evening


def satellite_lines(evening: Evening) -> list[str]:
    """A line for each crossing and each note; [] where the kit names no satellites."""
    told = evening.satellites
    if told is None:
        return []
    lines = [f"{one['words']}." for one in told["crossings"]]
    none = ["No satellite of your list crosses in these hours where it can be seen."]
    return [*(lines or none), *told["notes"]]
