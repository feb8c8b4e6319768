"""In which words is it told what notes of gaps taught of the rig?"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from axletree.axis.state import GapNote
from axletree.mount.learned.learn import DimensionLearned, LearnedRig
from axletree.tell.kit.dimension_text import dimension_words, quantity_words
from axletree.tell.shared.words import capital, day_and_clock, length, small

if TYPE_CHECKING:
    from axletree.mount.learned.misfit import GapMisfit

_FEW = 2


def pose_words(note: GapNote) -> str:
    """In which pose something was noted: 'Capella, side west' or what the circles showed."""
    if note.object:
        return f"{note.object}, side {note.side}"
    hours = f"{note.hour_angle_h:+.2f} h"
    return f"circles {hours}, {note.declination_deg:+.1f}°, side {note.side}"


def gap_words(note: GapNote, units: str) -> str:
    """What was noted: '15 mm ± 5 mm left' or 'a touch'."""
    if not note.gap_mm:
        return f"a touch (± {length(note.error_mm, units)})"
    return f"{length(note.gap_mm, units)} ± {length(note.error_mm, units)} left"


def note_words(note: GapNote, zone: ZoneInfo, units: str) -> str:
    """A note whole."""
    return f"{day_and_clock(note.at, zone)}, {pose_words(note)}: {gap_words(note, units)}"


def learned_words(one: DimensionLearned, units: str) -> str:
    """'crossing of the axes to the saddle 129 ± 14 mm (before: 150 ± 27 mm)'."""
    before = quantity_words(one.name, one.value_before, one.sigma_before, units)
    return f"{value_words(one, units)} (before: {before})"


def value_words(one: DimensionLearned, units: str) -> str:
    """'top of the legs 110 ± 14 mm'."""
    now = quantity_words(one.name, one.value, one.sigma, units)
    return f"{small(dimension_words(one.name))} {now}"


def misfit_words(misfit: GapMisfit, zone: ZoneInfo, units: str) -> str:
    """Which note contradicts, by how much, and what may be wrong."""
    expected = f"{length(misfit.expected_mm, units)} ± {length(misfit.sigma_mm, units)}"
    return (
        f"the note of {note_words(misfit.note, zone, units)} contradicts the others and the kit, "
        f"which say {expected}: {abs(misfit.sigmas):.1f} standard deviations. It is left out. "
        f"{_may_be(misfit, zone, units)}"
    )


def _may_be(misfit: GapMisfit, zone: ZoneInfo, units: str) -> str:
    from axletree.mount.learned.misfit import MayBe

    if misfit.may_be is MayBe.OTHER_SIDE:
        other = "west" if misfit.note.side == "east" else "east"
        return f"On tube side {other} it would fit"
    if misfit.may_be is MayBe.OTHER_NOTE and misfit.other is not None:
        return (
            f"Without the note of {note_words(misfit.other, zone, units)} it would fit: one of the "
            "two is wrong"
        )
    if misfit.may_be is MayBe.DIMENSION and misfit.dimension is not None:
        more = "more" if misfit.needed > 0 else "less"
        by = quantity_words(misfit.dimension, abs(misfit.needed), None, units)
        return f"Or measure again: {dimension_words(misfit.dimension)}; {by} {more} would fit"
    return "Look at its object, time, side and gap again"


def assumed_of_rig(learned: LearnedRig | None, zone: ZoneInfo, units: str) -> list[str]:
    """Lines of what was assumed: what notes of gaps taught, and what contradicts."""
    if learned is None:
        return []
    lines = []
    if learned.used:
        count = len(learned.used)
        notes = "a note" if count == 1 else f"{count} notes"
        told = "; ".join(learned_words(one, units) for one in learned.dimensions[:_FEW])
        taught = f": {told}" if told else ""
        lines.append(f"the rig as {notes} of its gaps taught it{taught}; --as-kit leaves them out")
    return lines + [misfit_words(one, zone, units) for one in learned.left_out]


def gap_noted_text(
    note: GapNote, file: Path, learned: LearnedRig | None, zone: ZoneInfo, units: str
) -> str:
    """That a gap was noted, and what all notes teach now."""
    head = f"Noted in {file}: {pose_words(note)}, {gap_words(note, units)}."
    return "\n".join([head, *taught_lines(learned, zone, units)])


def gaps_text(
    notes: Sequence[GapNote], learned: LearnedRig | None, zone: ZoneInfo, units: str
) -> str:
    """Every note, and what all of them teach."""
    if not notes:
        return (
            "No gaps of this rig are noted yet; 'axletree log add touch OBJECT --side west' or "
            "'axletree log add gap OBJECT --left 15mm --side west' notes one."
        )
    lines = ["Noted:", *(f"  {note_words(note, zone, units)}" for note in notes)]
    return "\n".join([*lines, *taught_lines(learned, zone, units)])


def gap_taken_back_text(note: GapNote, zone: ZoneInfo, units: str) -> str:
    """Which note was taken back."""
    return f"Taken back: {note_words(note, zone, units)}."


def taught_lines(learned: LearnedRig | None, zone: ZoneInfo, units: str) -> list[str]:
    """What the notes teach, a line each; of which parts each is."""
    if learned is None:
        return []
    lines = []
    if learned.used:
        lines.append("Taken to be of:")
        lines += [
            f"  {one.parts[0]} and {one.parts[1]} ({pose_words(one.note)})" for one in learned.used
        ]
    if learned.dimensions:
        lines.append("So from now on:")
        lines += [f"  {capital(learned_words(one, units))}" for one in learned.dimensions]
    elif learned.used:
        lines.append("They agree with the kit, and teach little of any one dimension.")
    return lines + [f"{capital(misfit_words(one, zone, units))}." for one in learned.left_out]


def assumed_text(learned: LearnedRig | None, zone: ZoneInfo, units: str) -> str:
    """The same as lines of their own, '' without any."""
    return "\n".join(f"Assumed: {line}." for line in assumed_of_rig(learned, zone, units))
