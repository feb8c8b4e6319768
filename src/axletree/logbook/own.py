"""What does the person's own logbook bring into an answer: bolts that were learned, repeats?

A logbook that is not there is never begun by reading; one that can't be read is said, and the
answer is given without it. Whose it is: bolts belong to a mount, wherever it stood; finding to the
whole rig; what was shown to the site and who comes there; the axis to a rig on its spot
(`AxisNotes`). A demo kit is nobody's: it neither learns nor teaches.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from axletree.evening.people.seen_lately import SeenLately
from axletree.kit.errors import AxletreeError, KeptAside
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Habits, audience_of
from axletree.logbook.learned import LearnedBolt, with_learned_bolts
from axletree.logbook.read import Somewhere, evening_of_date, evening_whole, seen_since
from axletree.logbook.store import Logbook, default_logbook

LATELY_DAYS = 90


@dataclass(frozen=True)
class Learned:
    """The kit with what its logbook learned of its bolts.

    `kept_aside`: it was damaged and begun anew. `refusal`: why it could not be read; the kit is as
    it was then.
    """

    kit: Kit
    bolts: tuple[LearnedBolt, ...] = ()
    kept_aside: KeptAside | None = None
    refusal: AxletreeError | None = None


def own_logbook() -> Path | None:
    """The person's own logbook, or None where none was begun."""
    path = default_logbook()
    return path if path.is_file() else None


def logbook_to_learn_from(*, demo: bool) -> Path | None:
    """The person's own logbook for a kit that learns from it; a demo kit learns from none."""
    return None if demo else own_logbook()


def learned_bolts(kit: Kit, path: Path | None) -> Learned:
    """The kit with what the logbook at `path` learned of its bolts; None learns nothing."""
    if path is None:
        return Learned(kit)
    try:
        with Logbook(path) as book:
            better, bolts = with_learned_bolts(kit, book)
            return Learned(better, bolts, book.kept_aside)
    except AxletreeError as error:
        return Learned(kit, refusal=error)


def seen_lately(path: Path | None, day: date, site: Somewhere, habits: Habits) -> SeenLately:
    """What was shown at this site to the same audience in the 90 days before a date, by the
    logbook at `path`."""
    since = day - timedelta(days=LATELY_DAYS)
    if path is None:
        return SeenLately(since)
    try:
        with Logbook(path) as book:
            last = seen_since(book, since, site, audience_of(habits))
            kept_aside = book.kept_aside
    except AxletreeError as error:
        return SeenLately(since, refusal=error)
    before = {key for key, shown in last.items() if date.fromisoformat(shown) < day}
    return SeenLately(since, frozenset(before), kept_aside)


def logged_tonight(path: Path | None, day: date, site: Somewhere) -> tuple[str, ...]:
    """Catalogue ids of what the logbook says was shown or skipped on this evening, right here."""
    return tuple(stop["catalogue_id"] for stop in _stops_tonight(path, day, site))


def last_logged(path: Path | None, day: date, site: Somewhere) -> datetime | None:
    """When the latest of these was shown or skipped, by the clock of then."""
    times = [datetime.fromisoformat(stop["at"]) for stop in _stops_tonight(path, day, site)]
    return max(times, key=datetime.timestamp, default=None)


def _stops_tonight(path: Path | None, day: date, site: Somewhere) -> list[dict[str, Any]]:
    if path is None:
        return []
    with Logbook(path) as book:
        number = evening_of_date(book, day, site)
        found: list[dict[str, Any]] = [] if number is None else evening_whole(book, number)["stop"]
    return found
