"""In which words is it told what to measure first?"""

from __future__ import annotations

from pathlib import Path

from axletree.mount.sure.measure_first import MeasureFirst
from axletree.stages.kit.measure import MeasureAnswer, MeasureFor, ToMeasure
from axletree.tell.kit.dimension_text import dimension_words, quantity_words
from axletree.tell.kit.tape_text import tape_words
from axletree.tell.shared.words import bar, day_words


def measure_words(one: MeasureFirst) -> str:
    """What to measure and what it brings: 'Crossing of the axes to the saddle
    (mount.head.saddle_distance_mm): rooms known to ±16 min instead of ±25 min'."""
    return f"{dimension_words(one.name)} ({one.name}): {brings_words(one)}"


def brings_words(one: MeasureFirst) -> str:
    """'rooms known to ±16 min instead of ±25 min'."""
    return rooms_known_words(one.after_s, one.before_s)


def rooms_known_words(after_s: float, before_s: float) -> str:
    """The same of two half-widths."""
    after, before = (f"±{bar(s / 60.0)} min" for s in (after_s, before_s))
    return f"rooms known to {after} instead of {before}"


def measure_text(answer: MeasureAnswer) -> str:
    """What to measure first, what is known of it, where the tape goes and what it brings."""
    where = "all over the sky"
    if answer.of is MeasureFor.TONIGHT and answer.day is not None:
        where = f"at the stops of {day_words(answer.day)}"
    if not answer.dimensions:
        return f"Nothing to measure: no dimension would make rooms {where} a minute surer."
    lines = [f"Measure first, for rooms {where}:"]
    for number, one in enumerate(answer.dimensions, start=1):
        lines.append(f"{number}. {measure_words(one.first)}")
        lines.append(f"   so far {so_far_words(one, answer.kit.habits.units)}")
        lines.append(f"   {tape_words(one.first.name)}")
    return "\n".join(lines)


def so_far_words(one: ToMeasure, units: str) -> str:
    """The value so far with its error: '150 ± 27 mm'."""
    return quantity_words(one.first.name, one.value, one.sigma, units)


def question_words(one: ToMeasure, unit: str) -> str:
    """What the command asks: value and error, in which unit."""
    mark = f", {unit}" if unit else ""
    return f"{dimension_words(one.first.name)}{mark} (152 ± 2; Enter: not now): "


def written_text(names: list[str], file: Path) -> str:
    """What was written into the kit file."""
    if not names:
        return "Nothing was written."
    told = "; ".join(dimension_words(name) for name in names)
    return f"Written into {file}: {told}."


def tape_title(kit_name: str) -> str:
    """The title of the drawings."""
    return f"{kit_name}: where the tape goes"
