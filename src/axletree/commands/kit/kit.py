"""Write a kit file to start from, check one, or measure for it.

'new' writes a commented TOML file; five numbers are enough to begin. 'check' says everything
that is wrong with a file, with line and key, and which values were guessed. 'measure' asks for the
few dimensions that matter most and writes them down. 'axletree kit new --help' and so on explain
their options.
"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.kit.measure import MEASURE, measure_options, measured
from axletree.commands.kit.photographs import (
    PHOTOGRAPHS,
    photographs_options,
    told_by_photographs,
)
from axletree.commands.shared.common import Answer, part_options, parts_chosen
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    pass

EXAMPLE = 'axletree kit new my.toml --place "Évora" --aperture 150 --focal-length 750'

NEW = """\
Write a commented kit file to start from.

Place, tube and the mount's size are written into it; all else stands there as a remark with an
example, and is guessed until you measure it. An existing file is left alone without --replace.
"""
CHECK = """\
Say everything that is wrong with a kit file, and what was guessed.

Each mistake comes with its line, its key and what would be right. Exit status 0 when nothing is
wrong, 1 when something is, 2 when the file can't be read. A file of a site or a tube alone
(NAME.site.toml, NAME.tube.toml) is checked as such.
"""


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of 'kit new', 'kit check' and 'kit measure'."""
    from axletree.commands.shared.help_pages import HelpPage

    actions = parser.add_subparsers(
        dest="action", required=True, metavar="new|check|measure|photographs"
    )
    new = actions.add_parser("new", help="write a commented kit file", description=NEW,
                             epilog=f"example: {EXAMPLE}", formatter_class=HelpPage)  # fmt: skip
    new.add_argument("file", nargs="?", default="axletree.toml",
                     help="the file to write (axletree.toml)")  # fmt: skip
    new.add_argument("--place", metavar="PLACE",
                     help="where you stand: a name, coordinates, or a geo: URI")  # fmt: skip
    new.add_argument("--name", metavar="NAME", default="my kit", help="what to call it (my kit)")
    new.add_argument("--kind", choices=("newtonian", "refractor", "catadioptric"),
                     default="newtonian", metavar="KIND",
                     help="the tube: newtonian, refractor or catadioptric (newtonian)")  # fmt: skip
    new.add_argument("--aperture", type=float, default=130.0, metavar="MM",
                     help="width of its mirror or lens (130)")  # fmt: skip
    new.add_argument("--focal-length", type=float, default=650.0, metavar="MM",
                     help="its focal length (650)")  # fmt: skip
    new.add_argument("--size", choices=("small", "middle", "large"), default="middle",
                     metavar="SIZE", help="the mount: small, middle or large (middle)")  # fmt: skip
    new.add_argument("--motion", choices=("hand", "motor"), default="hand", metavar="BY",
                     help="what moves the mount: hand or motor (hand)")  # fmt: skip
    new.add_argument("--replace", action="store_true", help="write over an existing file")
    new.add_argument("--json", action="store_true", help="print the answer as JSON")
    check = actions.add_parser("check", help="say everything that is wrong with a kit file",
                               description=CHECK, epilog="example: axletree kit check my.toml",
                               formatter_class=HelpPage)  # fmt: skip
    check.add_argument(
        "file", help="the kit file, one of NAME.site.toml, or a demo kit: courtyard, paddock"
    )
    part_options(check)
    check.add_argument("--json", action="store_true", help="print the answer as JSON")
    tape = actions.add_parser("measure", help="ask for what is to be measured first",
                              description=MEASURE, epilog="example: axletree kit measure my.toml",
                              formatter_class=HelpPage)  # fmt: skip
    measure_options(tape)
    pictures = actions.add_parser("photographs", help="solve lengths from pictures of the rig",
                                  description=PHOTOGRAPHS, formatter_class=HelpPage,
                                  epilog="example: axletree kit photographs my.toml marks.toml",
                                  )  # fmt: skip
    photographs_options(pictures)


def answer(options: argparse.Namespace) -> Answer:
    """Write, check or measure."""
    if options.action == "measure":
        return measured(options)
    if options.action == "photographs":
        return told_by_photographs(options)
    return _new(options) if options.action == "new" else _check(options)


def _new(options: argparse.Namespace) -> Answer:
    from axletree.kit.kit import check_text
    from axletree.kit.writing.template import new_kit_text
    from axletree.tell.kit.text import kit_new_text
    from axletree.tell.shared.files import write_whole

    file = Path(options.file)
    if file.exists() and not options.replace:
        raise AxletreeError(f"{file} exists; choose another name, or add --replace")
    text = new_kit_text(
        options.name, options.place, options.kind, options.aperture, options.focal_length,
        options.size, options.motion,
    )  # fmt: skip
    kit, problems = check_text(text)
    if kit is None:
        raise AxletreeError(str(problems[0]))
    write_whole(file, text.encode())
    return Answer(kit_new_text(str(file), kit), {"file": str(file), "guessed": list(kit.guessed)})


def _check(options: argparse.Namespace) -> Answer:
    from axletree.kit.kit import DEMO_KITS, demo_text, read_text
    from axletree.kit.reading.composed import OwnPart
    from axletree.kit.rig import compose_files
    from axletree.stages.kit.kit_check import KitCheckRequest, kit_check
    from axletree.tell.kit.data import kit_check_data
    from axletree.tell.kit.text import kit_check_text

    file = Path(options.file)
    is_demo = options.file in DEMO_KITS and not file.is_file()
    text = demo_text(options.file) if is_demo else read_text(file)
    part = next((p for p in OwnPart if file.name.endswith(p.ending)), None)
    folder = None if is_demo else file.parent
    parts = parts_chosen(argparse.Namespace(**{**vars(options), "kit": options.file}))
    if part is not None and parts:
        raise AxletreeError(f"{file}: a {part.value} file is checked alone")
    whole = compose_files(text, options.file, parts)
    # A file elsewhere has its skyline beside it; that is read where it is used.
    near = all(folder and own.parent.resolve() == folder.resolve() for own in parts.values())
    found = kit_check(KitCheckRequest(whole.text, folder, near, part, what_first=True))
    for name, problem in map(whole.placed, found.problems):
        if name != options.file:
            raise AxletreeError(f"{name}: {problem}")
    data = kit_check_data(found, options.file)
    return Answer(kit_check_text(found, str(file)), data, status=0 if found.kit else 1)
