"""What does a program get to know about the person's own circles? Keys carry units."""

from __future__ import annotations

from typing import NotRequired

from typing_extensions import TypedDict

from axletree.axis.circles_read import SetOnStar
from axletree.axis.model import PointingModel
from axletree.axis.sides import SideCircles, SideOutOfReach
from axletree.axis.state import State
from axletree.axis.unknowns import UNKNOWNS
from axletree.kit.parts.circles import HourMarks
from axletree.tell.stop.circles_text import set_on_words


class KnownData(TypedDict):
    """How one part of the model is known, and from when."""

    part_code: str
    known_code: str
    at: str | None


class FaultData(TypedDict):
    """One of the six figures of the mount, with one standard deviation."""

    name: str
    arcmin: float
    sigma_arcmin: float


class SideCirclesData(TypedDict):
    """What both circles of one side show; no figures where the tube can't reach the object."""

    side: str
    reached: bool
    hour_circle_h: NotRequired[float]
    right_ascension_circle_h: NotRequired[float]
    hour_sigma_min: NotRequired[float]
    declination_circle_deg: NotRequired[float]
    declination_sigma_deg: NotRequired[float]
    past_ninety: NotRequired[bool]
    hour_lost: NotRequired[bool]
    declination_lost: NotRequired[bool]
    from_axis_deg: NotRequired[float]
    least_from_axis_deg: NotRequired[float]
    set_on: NotRequired[SetOnData]


class SetOnData(TypedDict):
    """On which star the hour circle is set before the turn, as it is marked; the readings count
    at the answer's moment, `then_code` says how they change (with_clock, falls, kept)."""

    star: str
    apart_deg: float
    star_reading_h: float
    object_reading_h: float
    sigma_min: float | None
    then_code: str
    words: str


class StateData(TypedDict):
    """The notes that the figures come from: the evening (its date) of the latest, its moment.

    `measurements` of that evening; `stands_since` is the evening of the axis where the mount was
    left standing, else null.
    """

    evening: str
    at: str
    measurements: int
    stands_since: str | None


class CirclesData(TypedDict):
    """The person's own circles: the mount's six figures, whence they come, and both sides.

    `hour_marks` says what the kit's hour circle counts. Of a circle that is set on a star `set_on`
    says what it shows then; the other figures of the hour circle are those before the setting.
    """

    hour_marks: str
    state: NotRequired[StateData]
    pole: str
    faults: list[FaultData]
    known: list[KnownData]
    sides: list[SideCirclesData]


def circles_data(
    model: PointingModel, sides: tuple[SideCircles | SideOutOfReach, ...], marks: HourMarks,
    set_on: tuple[SetOnStar | None, SetOnStar | None],
) -> CirclesData:  # fmt: skip
    """The person's own circles for programs."""
    rows = zip(UNKNOWNS, model.values, model.sigmas_arcmin, strict=True)
    return {
        "hour_marks": marks,
        "pole": model.pole,
        "faults": [
            {"name": name, "arcmin": round(float(v), 3), "sigma_arcmin": round(float(s), 3)}
            for name, v, s in rows
        ],
        "known": [
            {
                "part_code": one.part.value,
                "known_code": one.by.value,
                "at": None if one.at is None else one.at.isoformat(),
            }
            for one in model.known
        ],
        "sides": [_side(one, on) for one, on in zip(sides, set_on, strict=True)],
    }


def state_data(state: State) -> StateData:
    """From which notes the figures come, for programs."""
    since = state.stands_since
    return {
        "evening": state.evening.isoformat(),
        "at": state.at.isoformat(),
        "measurements": state.measurements,
        "stands_since": None if since is None else since.isoformat(),
    }


def _set_on(setting: SetOnStar) -> SetOnData:
    return {
        "star": setting.star,
        "apart_deg": round(setting.apart_deg, 1),
        "star_reading_h": round(setting.star_reading_h, 5),
        "object_reading_h": round(setting.object_reading_h, 5),
        "sigma_min": None if setting.sigma_min is None else round(setting.sigma_min, 3),
        "then_code": setting.then.value,
        "words": set_on_words(setting),
    }


def _side(one: SideCircles | SideOutOfReach, set_on: SetOnStar | None) -> SideCirclesData:
    if isinstance(one, SideOutOfReach):
        return {
            "side": one.side,
            "reached": False,
            "from_axis_deg": round(one.reason.from_axis_deg, 4),
            "least_from_axis_deg": round(one.reason.least_from_axis_deg, 4),
        }
    told: SideCirclesData = {
        "side": one.side,
        "reached": True,
        "hour_circle_h": round(one.hour_circle_h, 5),
        "right_ascension_circle_h": round(one.right_ascension_h, 5),
        "hour_sigma_min": round(one.hour_sigma_arcmin / 15.0, 3),
        "declination_circle_deg": round(one.declination_circle_deg, 4),
        "declination_sigma_deg": round(one.declination_sigma_arcmin / 60.0, 4),
        "past_ninety": one.past_ninety,
        "hour_lost": one.hour_lost,
        "declination_lost": one.declination_lost,
    }
    if set_on is not None:
        told["set_on"] = _set_on(set_on)
    return told
