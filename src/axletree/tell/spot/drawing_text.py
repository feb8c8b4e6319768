"""Which words stand in the drawings of the yard and of the skyline?"""

from __future__ import annotations

from axletree.ground.spot.around import PlaceVerdict
from axletree.kit.frozen import dataclass
from axletree.stages.set_up.spot import SpotAnswer
from axletree.tell.spot.text import FROM_THERE, blocker_name, plan_length, pole_star_word


@dataclass(frozen=True)
class SpotDrawingWords:
    """What stands on the drawing of the yard, and on that of the skyline alone."""

    title: str
    description: str
    skyline_title: str
    ruler: str
    true_north: str
    tint: str
    not_to_be_used: str
    step_away: str
    from_there: str


@dataclass(frozen=True)
class SkylineWords:
    """What stands on the strip of a skyline."""

    description: str
    points: tuple[str, str, str, str]
    lowest_used: str
    not_measured: str


def drawing_words(answer: SpotAnswer) -> SpotDrawingWords:
    """The words of the drawing but for those of place, steps and obstacles."""
    us = answer.units == "us"
    step_m = answer.steps[0].distance_m if answer.steps else 0.0
    true = "true north" if answer.yard.bearings == "true" else (
        "true north (the plan's is magnetic)"
    )  # fmt: skip
    return SpotDrawingWords(
        title=f"Where to put the tripod: {answer.site_name}",
        description="The yard from above with the best place for the tripod.",
        skyline_title=f"Skyline: {answer.site_name}",
        ruler=f"{'feet' if us else 'metres'} from the plan's origin",
        true_north=true,
        tint="Tint: score of a place, 100 an open sky",
        not_to_be_used="not to be used",
        step_away=f"One step away ({plan_length(step_m or 1.0, answer.units)})",
        from_there=FROM_THERE,
    )


def skyline_drawing_words() -> SkylineWords:
    """The words of the strip."""
    return SkylineWords(
        description="Altitude of the skyline by true azimuth.",
        points=("north", "east", "south", "west"),
        lowest_used="lowest used",
        not_measured="not measured",
    )


def drawn_place_words(answer: SpotAnswer) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Large rows beside the map, and small ones below: the place and what it gives, or why not."""
    best, wanted = answer.best, answer.wanted
    if best is None:
        return ("No place will do",), tuple(_why_not(answer))
    return (
        (
            f"{plan_length(best.x_m, answer.units)} across",
            f"{plan_length(best.y_m, answer.units)} up the plan",
        ),
        (
            f"{pole_star_word(wanted)} {best.pole_clearance_deg:.1f}° above the skyline",
            f"{len(wanted.names)} objects: {best.object_hours:.0f} of "
            f"{answer.open_object_hours:.0f} hours clear",
            f"score {best.score:.0f} of 100",
        ),
    )


def _why_not(answer: SpotAnswer) -> list[str]:
    """What stands in the way, in a few short rows."""
    if answer.no_place is PlaceVerdict.NO_ROOM:
        return ["the area leaves no room for a tripod"]
    pole = pole_star_word(answer.wanted)
    rows = [
        f"{pole} is hidden by {blocker_name(b)} ({100 * b.share:.0f} %)"
        for b in answer.hidden_by[:4]
    ]
    if answer.no_place is PlaceVerdict.POLE_HIDDEN and answer.nearest_miss is not None:
        lacking = answer.wanted.pole_margin_deg - answer.nearest_miss.pole_clearance_deg
        rows.append(f"nearest miss: {lacking:.1f}° lacking")
    return rows or ["no object rises clear of the skyline"]
