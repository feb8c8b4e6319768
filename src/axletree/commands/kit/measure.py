"""What is to be measured first, and how do tape and numbers get into the kit file?"""

from __future__ import annotations

import argparse
import sys
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, is_demo, kit_folder, parse_date
from axletree.commands.shared.own_state import state_here
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


def measure_options(parser: argparse.ArgumentParser) -> None:
    """Arguments of 'kit measure'."""
    parser.add_argument("file", help="the kit file, or a demo kit to look at")
    parser.add_argument("--tonight", action="store_true", help="for the stops of an evening alone")
    parser.add_argument("--date", metavar="DATE", help="which evening (tonight); with --tonight")
    parser.add_argument("--set", action="append", default=[], metavar="KEY=VALUE",
                        help="write this: mount.head.saddle_distance_mm='152 ± 2'")  # fmt: skip
    parser.add_argument("--draw", metavar="FILE.svg", help="where the tape goes, drawn")
    parser.add_argument("--as-kit", action="store_true",
                        help="leave out what gaps of this mount taught")  # fmt: skip
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def measured(options: argparse.Namespace) -> Answer:
    """Ask or take the numbers, write them, and say what to measure."""
    from axletree.kit.kit import demo_kit, load_kit
    from axletree.stages.kit.measure import MeasureRequest, is_balanced, measure
    from axletree.tell.kit.measure_data import kit_measure_data
    from axletree.tell.kit.measure_text import measure_text, written_text
    from axletree.tell.learned.text import assumed_text

    file = Path(options.file)
    demo = is_demo(options.file)
    if demo and options.set:
        raise AxletreeError(f"{file} is a demo kit, which nobody measures; name your own file")
    kit = demo_kit(options.file) if demo else load_kit(file)
    now = datetime.now(kit.site.zone).replace(microsecond=0)
    # What balancing shows is reckoned last, with all else as it was measured.
    given = sorted(map(_pair, options.set), key=lambda pair: is_balanced(pair[1]))
    text = ""
    if given:
        _write(file, kit, given, now.date())
        text = written_text([name for name, _ in given], file)
        kit = load_kit(file)
    day = parse_date(options.date, kit.site, now) if options.tonight or options.date else None
    own = argparse.Namespace(kit=options.file, notes=None, as_kit=options.as_kit)
    request = MeasureRequest(day, now if day else None, kit_folder(own), state_here(own, kit, now))
    found = measure(kit, request)
    names = [name for name, _ in given]
    if not given and not demo and not options.json and sys.stdin.isatty():
        names = _ask(found, file, kit, now.date())
        text = written_text(names, file)
    else:
        assumed = assumed_text(found.learned, kit.site.zone, kit.habits.units)
        told = "\n".join(filter(None, (measure_text(found), assumed)))
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
                print()
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
    from axletree.kit.kit import read_text
    from axletree.stages.kit.measure import with_typed
    from axletree.tell.shared.files import write_whole

    text = read_text(file)
    for name, typed in given:
        text = with_typed(text, name, typed, kit.habits.units, day)
    write_whole(file, text.encode())
