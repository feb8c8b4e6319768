"""Which stars does the finder go by, for a program? Keys carry units."""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.find.finding import Finding
from axletree.find.hopping.answer import HopAnswer, HopStar
from axletree.find.view import seen_angle_deg


class PartnerData(TypedDict):
    """A star that confirms another: from it, as the finder shows it."""

    clockwise_deg: float
    separation_deg: float
    separation_field: float
    fainter_mag: float


class HopStarData(TypedDict):
    """A star of the hop and the pattern that confirms it."""

    number: int
    names: list[str]
    magnitude_v: float
    pattern: str
    partners: list[PartnerData]


class HopStepData(TypedDict):
    """A move of the finder from a star to the next (None: to the object)."""

    present: HopStarData
    following: HopStarData | None
    hour_deg: float
    declination_deg: float
    axes: list[str]
    distance_deg: float
    distance_field: float
    clockwise_deg: float | None
    chance: float


class HopHelpData(TypedDict):
    """What would make the hop surer."""

    kind: str
    figure: float
    chance: float


class HopData(TypedDict):
    """The hop through the finder, or why there is none."""

    outcome: str
    chance: float | None
    start_chance: float | None
    steps: list[HopStepData]
    weakest: str | None
    helps: list[HopHelpData]


def hop_data(found: Finding, hop: HopAnswer) -> HopData:
    """The hop, its stars as the finder shows them."""
    return {
        "outcome": hop.outcome.value,
        "chance": hop.chance,
        "start_chance": hop.start_chance,
        "steps": [
            {
                "present": _hop_star(found, step.present),
                "following": None if step.following is None else _hop_star(found, step.following),
                "hour_deg": step.hour_deg,
                "declination_deg": step.declination_deg,
                "axes": [axis.value for axis in step.axes],
                "distance_deg": step.distance_deg,
                "distance_field": step.distance_field,
                "clockwise_deg": _seen(found, step.present, step.position_angle_deg),
                "chance": step.chance,
            }
            for step in hop.steps
        ],
        "weakest": None if hop.weakest is None else hop.weakest.value,
        "helps": [
            {"kind": one.kind.value, "figure": one.figure, "chance": one.chance}
            for one in hop.helps
        ],
    }


def _hop_star(found: Finding, star: HopStar) -> HopStarData:
    return {
        "number": star.number,
        "names": list(found.star_names.get(star.number, ())),
        "magnitude_v": star.magnitude_v,
        "pattern": star.pattern.kind.value,
        "partners": [
            {
                "clockwise_deg": _seen(found, star, one.position_angle_deg) or 0.0,
                "separation_deg": one.separation_deg,
                "separation_field": one.separation_field,
                "fainter_mag": one.fainter_mag,
            }
            for one in star.pattern.partners
        ],
    }


def _seen(found: Finding, middle: HopStar, position_angle_deg: float) -> float | None:
    finder = found.views.finder
    if finder is None:
        return None
    north = found.north_deg.get(middle.number, finder.turned.north_deg)
    return float(seen_angle_deg(position_angle_deg, north, finder.turned.mirrored))
