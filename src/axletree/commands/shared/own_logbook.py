"""Which logbook does a command read: the person's own, a named one, none?"""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.evening.objects.seen_lately import SeenLately
    from axletree.kit.kit import Kit
    from axletree.logbook.read import Somewhere

NONE = "none"


def logbook_option(parser: argparse.ArgumentParser) -> None:
    """The option --logbook."""
    parser.add_argument(
        "--logbook", metavar="FILE", help="the logbook to learn from (your own; 'none': none)"
    )


def logbook_path(options: argparse.Namespace) -> Path | None:
    """The logbook to read, or None where there is none; a named one has to exist."""
    from axletree.logbook.own import own_logbook

    named = getattr(options, "logbook", None)
    if named == NONE:
        return None
    if named is not None:
        if not Path(named).is_file():
            raise AxletreeError(f"--logbook {named}: no such file")
        return Path(named)
    return own_logbook()


def learned_kit(options: argparse.Namespace, kit: Kit) -> tuple[Kit, tuple[str, ...]]:
    """The kit with what the logbook learned of its bolts, and words about it."""
    from axletree.logbook.own import learned_bolts
    from axletree.tell.logbook.text import learned_words

    learned = learned_bolts(kit, logbook_path(options))
    return learned.kit, learned_words(learned)


def seen_lately(options: argparse.Namespace, day: date) -> SeenLately:
    """What was shown in the 90 days before this date."""
    from axletree.logbook import own

    return own.seen_lately(logbook_path(options), day)


def logged_tonight(options: argparse.Namespace, day: date, site: Somewhere) -> tuple[str, ...]:
    """Catalogue ids of what the logbook says was shown or skipped on this evening, right here."""
    from axletree.logbook import own

    return own.logged_tonight(logbook_path(options), day, site)
