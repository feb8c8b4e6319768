"""What do all commands share? The kit, the moment, and the shape of an answer."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from axletree.kit.errors import AxletreeError, SeveralWrongError
from axletree.kit.frozen import dataclass
from axletree.sky.time.parse import date_from, moment_from, tonight

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.kit.parts.site import Site
    from axletree.kit.reading.composed import OwnPart
    from axletree.kit.rig import WholeKit

HERE_KIT = "axletree.toml"


class Late(Mapping[str, Any]):
    """Data that are made when somebody first asks for them: a text needs none."""

    def __init__(self, make: Callable[[], Mapping[str, Any]]) -> None:
        self._make = make

    @cached_property
    def _made(self) -> Mapping[str, Any]:
        return self._make()

    def __getitem__(self, key: str) -> Any:
        return self._made[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._made)

    def __len__(self) -> int:
        return len(self._made)


@dataclass(frozen=True)
class Answer:
    """What a command gives back: words for people, data for programs, maybe a drawing (SVG)."""

    text: str
    data: Mapping[str, Any]
    drawing: Callable[[], str] | None = None
    status: int = 0
    notes: tuple[str, ...] = field(default=())


def rig_options(parser: argparse.ArgumentParser) -> None:
    """The options that choose the rig: --kit, --site, --tube."""
    parser.add_argument("--kit", metavar="FILE", help="the kit file (TOML)")
    part_options(parser)


def part_options(parser: argparse.ArgumentParser) -> None:
    """The options that choose what has a file of its own: --site, --tube."""
    parser.add_argument(
        "--site", metavar="FILE", help="another site: a file, or NAME of NAME.site.toml"
    )
    parser.add_argument(
        "--tube", metavar="FILE", help="another tube: a file, or NAME of NAME.tube.toml"
    )


def kit_options(parser: argparse.ArgumentParser, *, draw: bool = False, at: bool = True) -> None:
    """The options that most commands have: those of the rig, --at, --json, --draw."""
    rig_options(parser)
    if at:
        parser.add_argument(
            "--at", metavar="ISO", help="date and time, ISO 8601; without a zone, the site's (now)"
        )
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    if draw:
        parser.add_argument("--draw", metavar="FILE.svg", help="write the drawing to this file")


def refuse_outside(options: argparse.Namespace, bounds: Mapping[str, tuple[float, float]]) -> None:
    """Refuse a number outside its bounds, by the name of its option; one that isn't given is in."""
    for name, (least, most) in bounds.items():
        value = getattr(options, name)
        if value is not None and not least <= value <= most:
            option = "--" + name.replace("_", "-")
            raise AxletreeError(f"{option} {value:g} must lie between {least:g} and {most:g}")


def kit_named(options: argparse.Namespace) -> str | None:
    """The kit that was named or lies here; None: the demo kit stands in."""
    named: str | None = getattr(options, "kit", None)
    return named or (HERE_KIT if Path(HERE_KIT).is_file() else None)


def is_demo(named: str | None) -> bool:
    """Whether a demo kit is read: one that was named, or where none was."""
    from axletree.kit.kit import DEMO_KITS

    return named is None or (named in DEMO_KITS and not Path(named).is_file())


def read_kit(options: argparse.Namespace) -> Kit:
    """The kit named by --kit, or axletree.toml in this folder, or the demo kit; with the site
    and the tube that were chosen.

    A caller that holds a kit already (the app) gives it as `options.kit`, its folder as
    `options.kit_folder`.
    """
    from axletree.kit.kit import Kit, demo_kit

    held = getattr(options, "kit", None)
    if isinstance(held, Kit):
        return held
    named = kit_named(options)
    if is_demo(named) and not parts_chosen(options):
        return demo_kit(named or "courtyard")
    return read_rig_here(options).kit


def parts_chosen(options: argparse.Namespace) -> dict[OwnPart, Path]:
    """The files of the parts that were chosen."""
    from axletree.kit.reading.composed import OwnPart
    from axletree.kit.rig import part_file

    named = {part: getattr(options, part.value, None) for part in OwnPart}
    folder = kit_folder(options)
    return {p: part_file(p, name, folder) for p, name in named.items() if name is not None}


def read_rig_here(options: argparse.Namespace) -> WholeKit:
    """The kit of the options and its text, made whole with the parts that were chosen."""
    from axletree.kit.kit import demo_text, read_text
    from axletree.kit.reading.composed import OwnPart
    from axletree.kit.rig import WholeKit, read_rig

    named, folder, parts = kit_named(options), kit_folder(options), parts_chosen(options)
    text = demo_text(named or "courtyard") if is_demo(named) else read_text(Path(named or HERE_KIT))
    try:
        rig = read_rig(text, named or "courtyard", folder, parts)
    except SeveralWrongError as wrong:
        if parts:
            raise
        raise AxletreeError(f"{wrong}; 'axletree kit check {named}' lists them") from None
    site = parts.get(OwnPart.SITE)
    if site is None:
        return rig
    from axletree.ground.skyline.of_site import with_file_beside

    kept = with_file_beside(rig.kit.site, site.parent, folder)
    return WholeKit(rig.kit.model_copy(update={"site": kept}), rig.text)


def kit_folder(options: argparse.Namespace) -> Path | None:
    """The folder of the kit that `read_kit` reads, where its other files lie; None for a demo."""
    named = getattr(options, "kit", None)
    if named is not None and not isinstance(named, str):
        folder: Path | None = options.kit_folder
        return folder
    if named and Path(named).is_file():
        return Path(named).parent
    return Path() if not named and Path(HERE_KIT).is_file() else None


def parse_moment(text: str | None, site: Site) -> datetime:
    """The aware moment that --at says; without a zone the site's; None gives now."""
    if text is None:
        return datetime.now(site.zone).replace(microsecond=0)
    try:
        return moment_from(text, site.zone)
    except AxletreeError as refusal:
        raise AxletreeError(f"--at {refusal}") from None


def parse_date(text: str | None, site: Site, now: datetime | None = None) -> date:
    """The date that --date says; None gives the evening date at the site of `now` (the clock's)."""
    if text is None:
        return tonight((now or datetime.now(site.zone)).astimezone(site.zone))
    try:
        return date_from(text)
    except AxletreeError as refusal:
        raise AxletreeError(f"--date {refusal}") from None
