"""In which sentences is levelling told: which leg, how much, and what a leftover tilt does?"""

from __future__ import annotations

from axletree.ground.level.leftover import Leftover
from axletree.ground.level.legs import LegChanges, Tilt
from axletree.kit.frozen import dataclass
from axletree.stages.set_up.level import LevelAnswer, LevelCaution
from axletree.tell.kit.dimension_text import dimension_words
from axletree.tell.shared.guessed import of_tripod
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import compass_point, degrees, length, small


@dataclass(frozen=True)
class LevelDrawingWords:
    """What stands on the drawing beside the legs themselves."""

    title: str
    description: str
    to_the_pole: str
    high_side: str
    leans: str
    reading: str
    foot: tuple[str, ...]


LEVEL = "Level as far as the reading can tell"
AT_RIM = "The bubble is at its rim"
GO_ON = "Go on in the same proportion until it leaves the rim, then read it again."


def level_text(answer: LevelAnswer) -> str:
    """The answer as text: the legs first, then what follows from leaving it."""
    return sections(
        paragraph(headline(answer)),
        paragraph(tilt_words(answer.tilt, answer.facing_deg)),
        _legs(answer),
        paragraph(_again(answer.changes, answer.units)),
        listed("Left as it is", leftover_words(answer)),
        listed("Cautions", caution_words(answer)),
        listed("Assumed", assumed_words(answer)),
    )


def headline(answer: LevelAnswer) -> str:
    """'Lengthen leg 1 by 17 mm and leg 3 by 13 mm.'"""
    words = change_words(answer)
    if answer.tilt.at_least:
        return f"{AT_RIM}, so this is the least: {words}. {GO_ON}"
    if not words:
        return f"{LEVEL}: leave the legs alone."
    return words[0].upper() + words[1:] + "."


def change_words(answer: LevelAnswer) -> str:
    """'lengthen leg 1 by 17 mm and leg 3 by 13 mm'; '' where no leg has to change."""
    # What the reading can't tell from nothing isn't worth a hand.
    small = max(0.5, 0.5 * answer.changes.sigma_mm)
    least = "at least " if answer.tilt.at_least else ""
    legs: dict[str, list[str]] = {}
    for i, mm in enumerate(answer.changes.along_leg_mm, start=1):
        if abs(mm) >= small:
            verb = "lengthen" if mm > 0 else "shorten"
            legs.setdefault(verb, []).append(f"leg {i} by {least}{length(abs(mm), answer.units)}")
    return "; ".join(f"{verb} {' and '.join(which)}" for verb, which in legs.items())


def page_words(answer: LevelAnswer) -> dict[str, str]:
    """The lines at the head of the page: its answer, and what to do at the rim."""
    if answer.tilt.at_least:
        return {"answer": f"{AT_RIM}, so this is the least", "at_rim": GO_ON}
    words = change_words(answer)
    return {"answer": words[0].upper() + words[1:] + "." if words else LEVEL, "at_rim": ""}


def tilt_words(tilt: Tilt, facing_deg: float) -> str:
    """The lean of the top in words."""
    high = (tilt.high_side_deg + facing_deg) % 360.0
    least = "at least " if tilt.at_least else ""
    return (
        f"The top leans {least}{tilt.tilt_deg:.2f}° (±{tilt.sigma_deg:.2f}°), high side to the "
        f"{compass_point(high)} ({tilt.high_side_deg:.0f}° clockwise from the pole's direction)."
    )


def _legs(answer: LevelAnswer) -> str:
    changes, directions = answer.changes, answer.tripod.leg_directions_deg
    rows = ["leg  stands to the        along the leg   top rises by"]
    for i, (along, rise, direction) in enumerate(
        zip(changes.along_leg_mm, changes.rise_mm, directions, strict=True), start=1
    ):
        point = compass_point(direction + answer.facing_deg)
        change = ("+" if along > 0.05 else "") + length(along, answer.units)
        rows.append(f"{i:>3}  {point:<18}{change:>16}   {length(rise, answer.units):>12}")
    return "\n".join(rows)


def _again(changes: LegChanges, units: str) -> str:
    return (
        f"Each is good to ±{length(max(changes.sigma_mm, 0.5), units)} from this one reading; "
        "the legs slant "
        f"{degrees(changes.slant_deg, 0)} from upright. Read the level again afterwards."
    )


def caution_words(answer: LevelAnswer) -> list[str]:
    """The cautions, a sentence or two each."""
    words = {
        LevelCaution.HOLD_THE_TUBE: (
            "Take the tube off, or let somebody hold it, before a leg is let go; tighten the leg "
            "before you let go of the top."
        ),
        LevelCaution.LONG_CHANGE: (
            f"{length(answer.longest_change_mm, answer.units)} on one leg is much: look for "
            "flatter ground, or set that leg uphill; a tripod with uneven legs tips more easily."
        ),
    }
    return [words[caution] for caution in answer.cautions]


def assumed_words(answer: LevelAnswer) -> list[str]:
    """What the answer takes for granted: the reading, the legs, and what was guessed."""
    tripod = answer.tripod
    legs = ", ".join(f"{d:g}" for d in tripod.leg_directions_deg)
    rows = [
        f"legs at {legs}° clockwise from the pole's direction, feet {tripod.foot_radius_mm:g} mm "
        "from the middle; braced legs, each foot sliding on its own line"
    ]
    if answer.guessed:
        rows.append(
            "guessed, not measured: "
            + "; ".join(small(dimension_words(key)) for key in of_tripod(answer.guessed))
        )
    return [*_reading_words(answer), *rows]


def _reading_words(answer: LevelAnswer) -> list[str]:
    sensitivity = answer.bubble_arcmin_per_division
    if sensitivity is None:
        return [f"the inclinometer reads ±{answer.incline_sigma_deg:g}°"]
    rows = [f"the bubble moves 2 mm for {sensitivity:g}′ and is read to a quarter of that"]
    if answer.tilt.at_least:
        edge = answer.tripod.bubble_edge_divisions
        rows.append(f"its rim is {edge:g} divisions from the middle")
    return rows


def leftover_words(answer: LevelAnswer) -> list[str]:
    """What the tilt does if nobody corrects it, in numbers."""
    after, scale = answer.after, answer.latitude_scale_deg
    (a_high, a_east), (z_high, z_east) = after.bolts.tolist()
    sense = "more" if after.scale_shift_deg >= 0 else "less"
    turned = "east" if after.base_turn_deg >= 0 else "west"
    return [
        "tracking: nothing. Once the axis is on the pole, a leaning base makes no drift and no "
        "field rotation.",
        f"latitude scale: it shows {abs(after.scale_shift_deg):.2f}° {sense} when the axis is on "
        f"the pole; start from {scale + after.scale_shift_deg:.2f}° instead of {scale:.2f}°, "
        f"with the head turned {abs(after.base_turn_deg):.2f}° {turned}.",
        f"altitude bolt: one degree of it moves the axis {_move(a_high, a_east)}.",
        f"azimuth bolts: one degree of turn moves the axis {_move(z_high, z_east)}.",
        _passes(after, answer.tilt),
    ]


def _move(high: float, east: float) -> str:
    up = f"{abs(high):.1f}′ {'up' if high >= 0 else 'down'}"
    side = f"{abs(east):.1f}′ {'east' if east >= 0 else 'west'}"
    return f"{up} and {side}"


def _passes(after: Leftover, tilt: Tilt) -> str:
    if tilt.tilt_deg == 0.0:
        return "bolts: they don't mix."
    if not after.remains_per_pass < 0.5:
        return "bolts: so near to the zenith they mix wholly; level the base first."
    return (
        f"so setting first the one and then the other leaves {100 * after.remains_per_pass:.2g} % "
        "of the error; a second round removes that."
    )


def drawing_words(answer: LevelAnswer) -> LevelDrawingWords:
    """All words of the drawing."""
    changes, tilt = answer.changes, answer.tilt
    least = "at least " if tilt.at_least else ""
    return LevelDrawingWords(
        title="Which leg to lengthen",
        description="The tripod from above; the pole is up the sheet.",
        to_the_pole=f"to the pole, {'north' if answer.facing_deg == 0.0 else 'south'}",
        high_side="high side",
        leans=f"The top leans {least}{tilt.tilt_deg:.2f}°",
        reading=f"±{tilt.sigma_deg:.2f}° from one reading",
        foot=(
            f"Lengths along the leg, which slants {changes.slant_deg:.0f}° from upright; "
            f"each ±{length(max(changes.sigma_mm, 0.5), answer.units)}.",
            "Hold the tube, or take it off, before a leg is let go. Read the level again.",
        ),
    )


def leg_words(answer: LevelAnswer, number: int, *, moved: bool) -> tuple[str, str]:
    """The figure at one foot and the line below it; legs count from 1."""
    mm = answer.changes.along_leg_mm[number - 1]
    direction = answer.tripod.leg_directions_deg[number - 1]
    if moved:
        least = "≥ " if answer.tilt.at_least else ""
        figure = f"{least}{'+' if mm > 0 else '−'}{length(abs(mm), answer.units)}"
        change = "lengthen" if mm > 0 else "shorten"
    else:
        figure, change = "leave", "as it is"
    return figure, f"leg {number}, {compass_point(direction + answer.facing_deg)}: {change}"
