"""In which words are the person's own circles told, and on what their figures rest?"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.axis.model import Known, KnownBy, PointingModel
from axletree.axis.sides import SideCircles, SideOutOfReach
from axletree.axis.state import State
from axletree.axis.unknowns import ModelPart
from axletree.tell.shared.words import day_and_clock, degrees, hours_minutes

_FINE_DEG = 0.1  # an error below this is told to one digit more
_PARTS = {
    ModelPart.AXIS: "axis",
    ModelPart.INDEX_HOUR: "hour circle",
    ModelPart.INDEX_DECLINATION: "declination circle",
    ModelPart.CONE: "cone of the tube",
    ModelPart.LEAN: "lean of the declination axis",
}
_BY = {
    KnownBy.MEASURED: "measured",
    KnownBy.SET: "set",
    KnownBy.USUAL: "taken as on usual mounts",
    KnownBy.VOIDED: "moved since",
}
SET_IT = "unknown: set it on a star first"


def hour_circle_words(circles: SideCircles | SideOutOfReach) -> str:
    """'5h 32m ± 4m' of a circle marked in hour angle."""
    if isinstance(circles, SideOutOfReach):
        return _out_of_reach(circles)
    return _hours(circles.hour_circle_h, circles)


def right_ascension_words(circles: SideCircles | SideOutOfReach) -> str:
    """The same of a circle marked in right ascension."""
    if isinstance(circles, SideOutOfReach):
        return _out_of_reach(circles)
    return _hours(circles.right_ascension_h, circles)


def declination_circle_words(circles: SideCircles | SideOutOfReach) -> str:
    """'+38.8° ± 0.4°', and whether that stands beyond the mark of 90."""
    if isinstance(circles, SideOutOfReach):
        return _out_of_reach(circles)
    if circles.declination_lost:
        return SET_IT
    sigma = circles.declination_sigma_arcmin / 60.0
    places = 2 if sigma < _FINE_DEG else 1
    past = ", past 90°" if circles.past_ninety else ""
    return (
        f"{degrees(circles.declination_circle_deg, places, signed=True)} ± "
        f"{degrees(sigma, places)}{past}"
    )


def circles_line(circles: SideCircles | SideOutOfReach) -> str:
    """Both circles in one short line, for the drawing."""
    if isinstance(circles, SideOutOfReach):
        return "circles: out of reach"
    hour = "hour unknown" if circles.hour_lost else hour_circle_words(circles)
    lost = circles.declination_lost
    declination = "declination unknown" if lost else declination_circle_words(circles)
    return f"circles {hour}, {declination}"


def resting_on(model: PointingModel, zone: ZoneInfo) -> str:
    """What the circles' figures rest on, part by part, each from when."""
    told: dict[str, list[str]] = {}
    for one in model.known:
        told.setdefault(_from(one, zone), []).append(_PARTS[one.part])
    parts = "; ".join(f"{from_when}: {', '.join(names)}" for from_when, names in told.items())
    return (
        f"circles as this mount's own show, ± one standard deviation without your reading of "
        f"them; {parts}"
    )


def by_which_notes(state: State) -> str:
    """From which evening's notes the figures are."""
    since = state.stands_since
    stands = "" if since is None else f"; the mount stands where it stood on {since}"
    return f"by the notes of the evening of {state.evening}{stands}; --as-kit leaves them out"


def hour_circle_counts(model: PointingModel | None) -> str:
    """For which tube side the hour circle's figures count."""
    if model is None or not model.hour_set_on:
        return (
            "the hour circle counts for the side it stands under; set on the other side it reads "
            "12 hours off"
        )
    side = "east" if model.hour_set_on > 0 else "west"
    return (
        f"the hour circle was set on side {side}; on the other side it reads 12 hours off, which "
        "its figure has in it"
    )


def _from(known: Known, zone: ZoneInfo) -> str:
    at: datetime | None = known.at
    return _BY[known.by] + ("" if at is None else f" {day_and_clock(at, zone)}")


def _hours(value_h: float, circles: SideCircles) -> str:
    if circles.hour_lost:
        return SET_IT
    minutes = circles.hour_sigma_arcmin / 15.0
    return (
        f"{hours_minutes(value_h)} ± {minutes:.0f}m"
        if minutes >= 1.0
        else (f"{hours_minutes(value_h)} ± {minutes:.1f}m")
    )


def _out_of_reach(side: SideOutOfReach) -> str:
    return f"out of reach, {degrees(side.reason.least_from_axis_deg)} round the axis"
