"""What is to be measured first, and how do tape and numbers get into the kit file?"""

from __future__ import annotations

import argparse
import re
import sys
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, parse_date
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.stages.kit.measure import MeasureAnswer

MEASURE = """\
Ask for the few dimensions that make rooms surer, and write them into the kit file.

One after the other: what it brings, where the tape goes, then your number with its error in the
kit's units (152 ± 2). It stands in the file with error and date; comments stay. Where the tube
lies is seen by balancing: write 'balanced 372'. Without a terminal the list is printed alone.
"""
_BALANCED = re.compile(r"^\s*balanced\s+", re.IGNORECASE)
_UNIT = re.compile(r"(?<=[0-9.])\s*(mm|cm|in|kg|g|lb)\b", re.IGNORECASE)
# What a number counts as whose error nobody gave: read off a tape with care (ours).
_ERROR_MM, _ERROR_OTHER = 2.0, 1.0
_TUBE = "tube.balance_from_front_mm"
_SCALES = {"mm": 1.0, "cm": 10.0, "in": 25.4, "kg": 1.0, "g": 0.001, "lb": 0.45359237}


def measure_options(parser: argparse.ArgumentParser) -> None:
    """Arguments of 'kit measure'."""
    parser.add_argument("file", help="the kit file, or a demo kit to look at")
    parser.add_argument("--tonight", action="store_true", help="for the stops of an evening alone")
    parser.add_argument("--date", metavar="DATE", help="which evening (tonight); with --tonight")
    parser.add_argument("--set", action="append", default=[], metavar="KEY=VALUE",
                        help="write this: mount.head.saddle_distance_mm='152 ± 2'")  # fmt: skip
    parser.add_argument("--draw", metavar="FILE.svg", help="where the tape goes, drawn")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def measured(options: argparse.Namespace) -> Answer:
    """Ask or take the numbers, write them, and say what to measure."""
    from axletree.kit.kit import DEMO_KITS, demo_kit, load_kit
    from axletree.stages.kit.measure import MeasureRequest, measure
    from axletree.tell.kit.measure_data import kit_measure_data
    from axletree.tell.kit.measure_text import measure_text, written_text

    file = Path(options.file)
    demo = options.file in DEMO_KITS and not file.is_file()
    if demo and options.set:
        raise AxletreeError(f"{file} is a demo kit, which nobody measures; name your own file")
    kit = demo_kit(options.file) if demo else load_kit(file)
    now = datetime.now(kit.site.zone).replace(microsecond=0)
    # What balancing shows is reckoned last, with all else as it was measured.
    given = sorted(map(_pair, options.set), key=lambda pair: bool(_BALANCED.match(pair[1])))
    text = ""
    if given:
        _write(file, kit, given, now.date())
        text = written_text([name for name, _ in given], file)
        kit = load_kit(file)
    day = parse_date(options.date, kit.site, now) if options.tonight or options.date else None
    folder = None if demo else file.parent
    found = measure(kit, MeasureRequest(day, now if day else None, folder))
    names = [name for name, _ in given]
    if not given and not demo and not options.json and sys.stdin.isatty():
        names = _ask(found, file, kit, now.date())
        text = written_text(names, file)
    else:
        told = measure_text(found)
        text = f"{text}\n{told}" if given else told

    def drawing() -> str:
        from axletree.mount.rig.build import build_rig
        from axletree.mount.rig.kinematics import align
        from axletree.tell.kit.measure_text import tape_title
        from axletree.tell.kit.tape_drawing import tape_sheet

        kit, every = found.kit, [one.first.name for one in found.dimensions]
        axes = align(kit.site.latitude_deg)
        return tape_sheet(kit, build_rig(kit), axes, every, tape_title(kit.name))

    return Answer(text, kit_measure_data(found, names), drawing)


def _pair(text: str) -> tuple[str, str]:
    name, mark, value = text.partition("=")
    if not mark or not value.strip():
        raise AxletreeError(f"--set {text}: write KEY=VALUE, as in tube.length_mm='690 ± 2'")
    return name.strip(), value


def _ask(found: MeasureAnswer, file: Path, kit: Kit, day: date) -> list[str]:
    """Ask for each; what was typed so far is written, whatever happens later."""
    from axletree.kit.writing.units import unit_of
    from axletree.tell.kit.measure_text import measure_words, question_words, so_far_words
    from axletree.tell.kit.questions_text import unit_words
    from axletree.tell.kit.tape_text import tape_words

    written: list[str] = []
    units = kit.habits.units
    for one in found.dimensions:
        name = one.first.name
        print(f"\n{measure_words(one.first)}.\n{tape_words(name)}")
        print(f"So far: {so_far_words(one, units)}.")
        while True:
            try:
                typed = input(question_words(one, unit_words(unit_of(name, units))))
            except EOFError:
                return written
            if not typed.strip():
                break
            try:
                _write(file, kit, [(name, typed)], day)
                written.append(name)
                break
            except AxletreeError as error:
                print(error)
    return written


def _write(file: Path, kit: Kit, given: list[tuple[str, str]], day: date) -> None:
    """Write numbers into the file, all or none."""
    from axletree.kit.kit import check_text, read_text
    from axletree.kit.writing.measured import with_measured
    from axletree.mount.dimensions.names import rig_names
    from axletree.stages.kit.measure import bare_balance_mm
    from axletree.tell.shared.files import write_whole

    text = read_text(file)
    for name, typed in given:
        if name not in rig_names(kit):
            raise AxletreeError(f"{name}: no dimension of this kit's rig; 'kit check' lists them")
        balanced = _BALANCED.match(typed)
        if balanced and name != _TUBE:
            raise AxletreeError(f"{name}: only {_TUBE} is seen by balancing")
        value, error = _number(name, _BALANCED.sub("", typed), kit.habits.units)
        if balanced:
            value = round(bare_balance_mm(check_text(text)[0] or kit, value), 1)
        text = with_measured(text, name, value, error, day)
    _, problems = check_text(text)
    if problems:
        raise AxletreeError(f"not written: {problems[0]}")
    write_whole(file, text.encode())


def _number(name: str, typed: str, units: str) -> tuple[float, float]:
    """Value and error in the key's own unit, from what was typed in the person's or with one."""
    from axletree.kit.writing.units import number_and_error, shown_error, stored

    key = name.rpartition(".")[2]
    marks = {mark.lower() for mark in _UNIT.findall(typed)}
    number, error = number_and_error(_UNIT.sub("", typed))
    if len(marks) > 1:
        raise AxletreeError(f"'{typed.strip()}': one unit for value and error")
    if marks:
        mark = marks.pop()
        if key.endswith("_kg") != (mark in ("kg", "g", "lb")) or not key.endswith(("_mm", "_kg")):
            raise AxletreeError(f"{name} isn't given in {mark}")
        number *= _SCALES[mark]
        error = None if error is None else error * _SCALES[mark]
    else:
        number = stored(number, key, units)
        error = None if error is None else error / shown_error(1.0, key, units)
    if error is None:
        error = _ERROR_MM if key.endswith("_mm") else _ERROR_OTHER
        if key.endswith("_kg"):
            error = max(0.02, 0.01 * abs(number))
    return number, error
