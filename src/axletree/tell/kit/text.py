"""In which sentences is a kit file told: what is wrong, what is guessed, what was written?"""

from __future__ import annotations

from typing import Any

from axletree.ground.skyline.skyline import SkylineGap
from axletree.kit.kit import Kit
from axletree.kit.parts.spreads import GuessReason
from axletree.kit.reading.composed import OwnPart
from axletree.kit.reading.problems import Problem
from axletree.kit.writing.units import unit_of
from axletree.stages.kit.kit_check import Guess, KitCheckAnswer
from axletree.tell.kit.measure_text import measure_words
from axletree.tell.kit.questions_text import unit_words
from axletree.tell.kit.slips_text import slip_words
from axletree.tell.skyline.text import gap_words


def kit_check_text(answer: KitCheckAnswer, file: str) -> str:
    """Everything that is wrong with the file, or the values that were guessed."""
    kit = answer.kit
    if kit is None:
        count = len(answer.problems)
        head = f"{count} thing{'s' if count != 1 else ''} to mend in {file}:"
        return "\n".join([head, *(f"  {problem_words(p)}" for p in answer.problems)])
    lines = [f"{file}: nothing wrong. {_what_words(kit, answer.part)}."]
    lines += [_ended(f"Look again: {slip.key}: {slip_words(slip)}") for slip in answer.slips]
    if answer.guesses:
        lines.append(
            f"{len(answer.guesses)} values were guessed (± is one standard deviation); measure "
            "what matters to you:"
        )
        lines += [f"  {_guess_words(guess)}" for guess in answer.guesses]
    if answer.measure_first:
        lines.append(
            "Measure first, so that you know better how long an object can be followed "
            f"('axletree kit measure {file}' asks for them, and draws where the tape goes):"
        )
        lines += [f"  {measure_words(one)}" for one in answer.measure_first]
    lines += map(_gap_words, answer.gaps)
    return "\n".join(lines)


def _ended(words: str) -> str:
    return words if words.endswith("?") else f"{words}."


def _what_words(kit: Kit, part: OwnPart | None) -> str:
    if part is OwnPart.SITE:
        return f"Site: {kit.site.name}"
    if part is OwnPart.TUBE:
        return f"Tube: {kit.tube.label}"
    return f"{kit.name}: {kit.tube.label} on {kit.mount.label}"


def problem_words(problem: Problem) -> str:
    """'line 12, tube.aperture_mm: must be more than 0'."""
    where = f"line {problem.line}, " if problem.line else ""
    key = f"{problem.key}: " if problem.key else ""
    return f"{where}{key}{problem.message}"


def _gap_words(gap: SkylineGap) -> str:
    words = gap_words(gap)
    return (
        f"{words[:1].upper()}{words[1:]}, though more may stand there; measure one "
        f"point in it, such as at {gap.middle_deg:.0f}°, and add it to site.skyline."
    )


REASONS = {
    GuessReason.MOUNT_SIZE: "from the mount's size",
    GuessReason.LEGS_AS_USUAL: "legs as most people set them",
    GuessReason.TURNED_BY_HAND: "as well as it is turned by hand",
    GuessReason.LEFT_BY_THE_LEVEL: "half a division of the level",
    GuessReason.FOCAL_LENGTH: "from the focal length",
    GuessReason.APERTURE: "from the aperture",
    GuessReason.KIND_OF_TUBE: "from the kind of tube",
    GuessReason.TUBE_LENGTH: "from the tube's length",
    GuessReason.TUBE_DIAMETER: "from the tube's diameter",
    GuessReason.TUBE_SURFACE: "from the tube's surface and glass",
    GuessReason.USUAL_PART: "what is usual",
    GuessReason.PLACE_NAME: "from the place",
    GuessReason.EXPERIENCE: "from how much you have observed",
}


def _guess_words(guess: Guess) -> str:
    """'tube.length_mm = 690 ± 31 mm, from the focal length'."""
    # Two figures, and no power of ten.
    error = "" if guess.sigma is None else f" ± {float(f'{guess.sigma:.2g}'):g}"
    unit = unit_words(unit_of(guess.key))
    value = f"{_value_words(guess.value)}{error} {unit}".rstrip()
    return f"{guess.key} = {value}, {REASONS[guess.reason]}"


def _value_words(value: Any) -> str:
    if isinstance(value, tuple):
        numbers = all(isinstance(v, int | float) for v in value)
        return ", ".join(f"{v:g}" for v in value) if numbers else f"{len(value)} of them"
    return f"{value:.4g}" if isinstance(value, float) else f"{value}"


def kit_new_text(file: str, kit: Kit) -> str:
    """What was written into a new kit file, and what to do next."""
    site, tube = kit.site, kit.tube
    return "\n".join(
        [
            f"Wrote {file}.",
            f"  site   {site.latitude_deg:.4f}, {site.longitude_deg:.4f} degrees, "
            f"{site.elevation_m:.0f} m, {site.time_zone}",
            f"  tube   {tube.label}",
            f"  {len(kit.guessed)} values are guessed until you measure them.",
            f"Next: open it in a text editor, then 'axletree kit check {file}'.",
        ]
    )
