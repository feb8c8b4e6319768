"""What do all commands share? The kit, the moment, and the shape of an answer."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from axletree.kit.errors import AxletreeError
from axletree.sky.time.parse import date_from, moment_from, tonight

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.kit.parts.site import Site

HERE_KIT = "axletree.toml"


@dataclass(frozen=True)
class Answer:
    """What a command gives back: words for people, data for programs, maybe a drawing (SVG)."""

    text: str
    data: Mapping[str, Any]
    drawing: Callable[[], str] | None = None
    status: int = 0
    notes: tuple[str, ...] = field(default=())


def kit_options(parser: argparse.ArgumentParser, *, draw: bool = False, at: bool = True) -> None:
    """The options that most commands have: --kit, --at, --json, --draw."""
    parser.add_argument("--kit", metavar="FILE", help="the kit file (TOML)")
    if at:
        parser.add_argument(
            "--at", metavar="ISO", help="date and time, ISO 8601; without a zone, the site's (now)"
        )
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    if draw:
        parser.add_argument("--draw", metavar="FILE.svg", help="write the drawing to this file")


def read_kit(options: argparse.Namespace) -> Kit:
    """The kit named by --kit, or axletree.toml in this folder, or the demo kit.

    A caller that holds a kit already (the app) gives it as `options.kit`, its folder as
    `options.kit_folder`.
    """
    from axletree.kit.kit import DEMO_KITS, Kit, demo_kit, load_kit

    named = getattr(options, "kit", None)
    if isinstance(named, Kit):
        return named
    if named in DEMO_KITS and not Path(named).is_file():
        return demo_kit(named)
    if named:
        return load_kit(named)
    if Path(HERE_KIT).is_file():
        return load_kit(HERE_KIT)
    return demo_kit()


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
