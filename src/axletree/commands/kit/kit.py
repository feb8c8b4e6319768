"""Write a kit file to start from, or check one.

'new' writes a commented TOML file; five numbers are enough to begin. 'check' says everything
that is wrong with a file, with line and key, and which values were guessed. 'axletree kit new
--help' and 'axletree kit check --help' explain their options.
"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from axletree.commands.shared.common import Answer
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.ground.skyline.skyline import SkylineGap
    from axletree.kit.kit import Kit

EXAMPLE = 'axletree kit new my.toml --place "Évora" --aperture 150 --focal-length 750'

NEW = """\
Write a commented kit file to start from.

Place, tube and the mount's size are written into it; all else stands there as a remark with an
example, and is guessed until you measure it. An existing file is left alone without --replace.
"""
CHECK = """\
Say everything that is wrong with a kit file, and what was guessed.

Each mistake comes with its line, its key and what would be right. Exit status 0 when nothing is
wrong, 1 when something is, 2 when the file can't be read.
"""


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of 'kit new' and 'kit check'."""
    from axletree.commands.shared.help_pages import HelpPage

    actions = parser.add_subparsers(dest="action", required=True, metavar="new|check")
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
    check.add_argument("file", help="the kit file, or a demo kit: courtyard, paddock")
    check.add_argument("--json", action="store_true", help="print the answer as JSON")


def answer(options: argparse.Namespace) -> Answer:
    """Write or check."""
    return _new(options) if options.action == "new" else _check(options)


def _new(options: argparse.Namespace) -> Answer:
    from axletree.kit.kit import check_text
    from axletree.kit.writing.template import new_kit_text
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
    words = [
        f"Wrote {file}.",
        f"  site   {kit.site.latitude_deg:.4f}, {kit.site.longitude_deg:.4f} degrees, "
        f"{kit.site.elevation_m:.0f} m, {kit.site.time_zone}",
        f"  tube   {kit.tube.kind}, {kit.tube.aperture_mm:g} mm, "
        f"f/{kit.tube.focal_length_mm / kit.tube.aperture_mm:.1f}",
        f"  {len(kit.guessed)} values are guessed until you measure them.",
        f"Next: open it in a text editor, then 'axletree kit check {file}'.",
    ]
    return Answer("\n".join(words), {"file": str(file), "guessed": list(kit.guessed)})


def _check(options: argparse.Namespace) -> Answer:
    from axletree.kit.kit import DEMO_KITS, check_text, demo_text, read_text

    file = Path(options.file)
    is_demo = options.file in DEMO_KITS and not file.is_file()
    kit, problems = check_text(demo_text(options.file) if is_demo else read_text(file))
    data: dict[str, Any] = {
        "file": options.file,
        "right": kit is not None,
        "problems": [{"line": p.line, "key": p.key, "message": p.message} for p in problems],
        "guessed": list(kit.guessed) if kit else [],
        "skyline_unknown": [],
    }
    if kit is None:
        count = f"{len(problems)} thing{'s' if len(problems) != 1 else ''} to mend in {file}:"
        return Answer("\n".join([count, *(f"  {p}" for p in problems)]), data, status=1)
    lines = [f"{file}: nothing wrong. {kit.name}: {kit.tube.name} on {kit.mount.name}."]
    if kit.guessed:
        lines.append(f"{len(kit.guessed)} values were guessed; measure what matters to you:")
        lines += [f"  {name} = {_value(kit, name)}" for name in kit.guessed]
    gaps = _gaps(kit, None if is_demo else file.parent)
    data["skyline_unknown"] = [
        {"from_deg": gap.from_deg, "to_deg": gap.to_deg, "taken_deg": gap.taken_deg,
         "measure_at_deg": gap.middle_deg}
        for gap in gaps
    ]  # fmt: skip
    lines += [
        f"{gap.words[:1].upper()}{gap.words[1:]}, though more may stand there; measure one "
        f"point in it, such as at {gap.middle_deg:.0f}°, and add it to site.skyline."
        for gap in gaps
    ]
    return Answer("\n".join(lines), data)


def _gaps(kit: Kit, folder: Path | None) -> tuple[SkylineGap, ...]:
    """Where the kit's skyline is unknown; none where it has no skyline at all.

    Compass bearings are left as they were read: the person is asked for another one.
    """
    from axletree.ground.skyline.of_site import horizon_of

    skyline = kit.site.skyline
    if not skyline.points and skyline.file is None:
        return ()
    return horizon_of(skyline, folder, 0.0).gaps


def _value(kit: object, name: str) -> str:
    """The value behind a dotted name, as short text."""
    value = kit
    for part in name.split("."):
        fields = type(value).model_fields  # type: ignore[attr-defined]
        attribute = next((n for n, f in fields.items() if part in (n, f.alias)), part)
        value = getattr(value, attribute)
    if isinstance(value, tuple):
        return f"{len(value)} of them"
    return f"{value:.4g}" if isinstance(value, float) else str(value)
