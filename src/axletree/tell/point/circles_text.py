"""In which words are the person's own circles told, and on what their figures rest?"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.axis.circles_read import SetOnStar
from axletree.axis.marks import HOUR_ANGLE, RIGHT_ASCENSION
from axletree.axis.model import Known, KnownBy, PointingModel
from axletree.axis.sides import SideCircles, SideOutOfReach
from axletree.axis.state import State
from axletree.axis.unknowns import LOST_CIRCLE_ARCMIN, ModelPart
from axletree.kit.parts.circles import HourMarks
from axletree.tell.shared.words import day_and_clock, day_words, degrees
from axletree.tell.stop.circles_text import reading_words

_FINE_DEG = 0.1  # an error below this is told to one digit more
_FINE_ARCMIN = 3.0  # likewise
_PARTS = {
    ModelPart.AXIS: "axis",
    ModelPart.INDEX_HOUR: "hour circle",
    ModelPart.INDEX_DECLINATION: "declination circle",
    ModelPart.CONE: "cone of the tube",
    ModelPart.LEAN: "lean of the declination axis",
}
_BY = {
    KnownBy.MEASURED: "measured",
    KnownBy.SET: "as it was set",
    KnownBy.USUAL: "taken as on usual mounts",
    KnownBy.VOIDED: "moved since",
}
SET_IT = "unknown: set it on a star first"


def hour_circle_words(
    circles: SideCircles | SideOutOfReach, marks: HourMarks, set_on: SetOnStar | None = None
) -> str:
    """'+5h 32m ± 4 min', by its marks; with `set_on` as it shows once it was set on that star."""
    if isinstance(circles, SideOutOfReach):
        return _out_of_reach(circles)
    if circles.hour_lost and set_on is None:
        return SET_IT
    minutes = circles.hour_sigma_arcmin / 15.0
    if set_on is not None and set_on.sigma_min is not None:
        minutes = set_on.sigma_min
    error = f"{minutes:.0f} min" if minutes >= 1.0 else f"{minutes:.1f} min"
    return f"{reading_words(marks, _reading_h(circles, marks, set_on))} ± {error}"


def _reading_h(circles: SideCircles, marks: HourMarks, set_on: SetOnStar | None) -> float:
    right = {HOUR_ANGLE: circles.hour_circle_h, RIGHT_ASCENSION: circles.right_ascension_h}
    if set_on is None:
        return right[marks]
    if set_on.marks == marks:
        return set_on.object_reading_h
    # Both ways of marking together are the sidereal time.
    return (sum(right.values()) - set_on.object_reading_h) % 24.0


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


def circles_line(
    circles: SideCircles | SideOutOfReach, marks: HourMarks, set_on: SetOnStar | None = None
) -> str:
    """Both circles in one short line, for the drawing."""
    if isinstance(circles, SideOutOfReach):
        return "circles: out of reach"
    lost_hour = circles.hour_lost and set_on is None
    hour = "hour unknown" if lost_hour else hour_circle_words(circles, marks, set_on)
    lost = circles.declination_lost
    declination = "declination unknown" if lost else declination_circle_words(circles)
    return f"circles {hour}, {declination}"


def resting_on(model: PointingModel, zone: ZoneInfo) -> str:
    """What the circles' figures rest on, part by part, each from when."""
    told: dict[str, list[str]] = {}
    for one in model.known:
        told.setdefault(_from(one, zone), []).append(_PARTS[one.part] + _sizes(model, one))
    whose = "as this mount's own show" if model.looked_at else "of a mount that nobody measured"
    parts = "; ".join(f"{from_when}: {', '.join(names)}" for from_when, names in told.items())
    return f"circles {whose}, ± one standard deviation without your reading of them; {parts}"


def _sizes(model: PointingModel, known: Known) -> str:
    """' ±20′ high, ±60′ east' of an axis, ' ±20′' of the other parts; '' of a circle set to
    anywhere."""
    sigmas = [float(model.sigmas_arcmin[place]) for place in known.part.places]
    if known.part is ModelPart.AXIS:
        high, east = (_arcmin(sigma) for sigma in sigmas)
        return f" ±{high} high, ±{east} east"
    return f" ±{_arcmin(sigmas[0])}" if sigmas[0] < LOST_CIRCLE_ARCMIN else ""


def _arcmin(value: float) -> str:
    return f"{value:.1f}′" if value < _FINE_ARCMIN else f"{value:.0f}′"


def by_which_notes(state: State) -> str:
    """From which evening's notes the figures are."""
    since = state.stands_since
    stands = "" if since is None else f"; the mount stands where it stood on {day_words(since)}"
    evening = day_words(state.evening)
    return f"by the notes of the evening of {evening}{stands}; --as-kit leaves them out"


def hour_circle_counts(model: PointingModel | None, *, set_on_star: bool = False) -> str:
    """For which tube side the hour circle's figures count."""
    if set_on_star:
        return (
            "the hour circle counts for the side on which it was set on its star; on the other "
            "side it reads 12 hours off"
        )
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


def _out_of_reach(side: SideOutOfReach) -> str:
    return f"out of reach, {degrees(side.reason.least_from_axis_deg)} round the axis"
