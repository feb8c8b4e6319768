"""When can visitors look up for a satellite? The lines of run sheet, paper and phone."""

from __future__ import annotations

from datetime import datetime

from axletree.tell.evening.document import Evening
from axletree.tell.satellites.data import CrossingData, CrossingMomentData
from axletree.tell.shared.words import compass_point, magnitude

_AS_CODED = {"enters_shadow": " into the shadow", "leaves_shadow": " out of the shadow"}


def satellite_lines(evening: Evening) -> list[str]:
    """A line for each crossing and each note; [] where the kit names no satellites."""
    told = evening.satellites
    if told is None:
        return []
    lines = [f"{one['words']}." for one in told["crossings"]]
    none = ["No satellite of your list crosses in these hours where it can be seen."]
    return [*(lines or none), *told["notes"]]


def paper_lines(evening: Evening) -> list[str]:
    """The same for the paper, where a crossing has one line."""
    told = evening.satellites
    if told is None or not told["crossings"]:
        return satellite_lines(evening)
    return [*(_one_line(one) for one in told["crossings"]), *told["notes"]]


def _one_line(one: CrossingData) -> str:
    name = one["name"] or str(one["number"])
    begin, top, end = one["moments"]
    # Where it is highest as it comes or goes, that says it.
    moments = [begin, end] if top["at"] in (begin["at"], end["at"]) else [begin, top, end]
    text = f"{name}: " + ", ".join(map(_moment, moments))
    if one["brightest_mag"] is not None:
        text += f"; {magnitude(one['brightest_mag'])} mag"
    return f"{text}; {one['age_days']:.0f} days old" if one["old"] else text


def _moment(moment: CrossingMomentData) -> str:
    at = datetime.fromisoformat(moment["at"])
    return (
        f"{at:%H:%M:%S} {moment['altitude_deg']:.0f}° {compass_point(moment['azimuth_deg'])}"
        f"{_AS_CODED.get(moment['what'], '')}"
    )
