"""What does the person's own logbook bring into an answer: bolts that were learned, repeats?

A logbook that is not there is never begun by reading; one that can't be read is said, and the
answer is given without it.
"""

from __future__ import annotations

import argparse
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.logbook.read import Somewhere

LATELY_DAYS = 90
NONE = "none"


def logbook_option(parser: argparse.ArgumentParser) -> None:
    """The option --logbook."""
    parser.add_argument(
        "--logbook", metavar="FILE", help="the logbook to learn from (your own; 'none': none)"
    )


def logbook_path(options: argparse.Namespace) -> Path | None:
    """The logbook to read, or None where there is none; a named one has to exist."""
    from axletree.logbook.store import existing_logbook

    named = getattr(options, "logbook", None)
    if named == NONE:
        return None
    if named is not None:
        if not Path(named).is_file():
            raise AxletreeError(f"--logbook {named}: no such file")
        return Path(named)
    return existing_logbook()


def learned_kit(options: argparse.Namespace, kit: Kit) -> tuple[Kit, tuple[str, ...]]:
    """The kit with what the logbook learned of its bolts, and words about it."""
    from axletree.logbook.learned import read_learned
    from axletree.pole.correct.learned import with_learned
    from axletree.tell.pole.bolts_text import lesson_words

    learned, notes = read_learned(logbook_path(options), kit.mount)
    better, lessons = with_learned(kit, learned)
    return better, (*notes, *(lesson_words(lesson) for lesson in lessons))


def seen_lately(options: argparse.Namespace, day: date) -> tuple[frozenset[str], tuple[str, ...]]:
    """Catalogue ids of what was shown in the 90 days before this date, and words about it."""
    path = logbook_path(options)
    if path is None:
        return frozenset(), ()
    from axletree.logbook.read import seen_since
    from axletree.logbook.store import Logbook

    since = day - timedelta(days=LATELY_DAYS)
    try:
        with Logbook(path) as book:
            last = seen_since(book, since)
            note = (book.note,) if book.note else ()
    except AxletreeError as error:
        return frozenset(), (f"repeats are not avoided: {error}",)
    before = {key for key, shown in last.items() if date.fromisoformat(shown) < day}
    if not before:
        return frozenset(), note
    count = f"{len(before)} object{'s' if len(before) > 1 else ''}"
    return frozenset(before), (
        *note, f"{count} shown since {since.isoformat()} (logbook) count less this time",
    )  # fmt: skip


def logged_tonight(options: argparse.Namespace, day: date, site: Somewhere) -> tuple[str, ...]:
    """Catalogue ids of what the logbook says was shown or skipped on this evening, right here."""
    path = logbook_path(options)
    if path is None:
        return ()
    from axletree.logbook.read import evening_of_date, evening_whole
    from axletree.logbook.store import Logbook

    with Logbook(path) as book:
        number = evening_of_date(book, day, site)
        stops = [] if number is None else evening_whole(book, number)["stop"]
    return tuple(stop["catalogue_id"] for stop in stops)
