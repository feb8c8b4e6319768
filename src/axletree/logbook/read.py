"""What stands in the logbook?"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Sequence
from datetime import date, datetime
from functools import cache
from sqlite3 import Row
from typing import Any, Protocol

from pydantic import ValidationError

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.habits import Audience, Habits, audience_of
from axletree.logbook.schema import TABLES
from axletree.logbook.store import Logbook
from axletree.sky.directions import separation_deg

LARGEST_ID = 2**63
# Who began an evening longer ago has done something else since (ours).
MOST_SINCE_BEGIN_MIN = 600.0
SAME_SITE_DEG = 0.05  # along a great circle, 5.6 km (ours)


@dataclass(frozen=True)
class EveningLine:
    """One evening in a list."""

    id: int
    date: str
    site: str
    kit_name: str
    done: int
    skipped: int
    notes: int


def evenings(book: Logbook) -> list[EveningLine]:
    """Every evening, the latest first."""
    rows = book.connection.execute(
        """
        SELECT e.id, e.date, e.site, e.kit_name,
          (SELECT count(*) FROM stop s WHERE s.evening_id = e.id AND s.state = 'done') AS done,
          (SELECT count(*) FROM stop s WHERE s.evening_id = e.id AND s.state = 'skipped')
            AS skipped,
          (SELECT count(*) FROM note n WHERE n.evening_id = e.id) AS notes
        FROM evening e ORDER BY e.date DESC, e.id DESC
        """
    )
    return [EveningLine(**dict(row)) for row in rows]


def seconds_of(at: str) -> float:
    """When an entry was made, to sort by: clocks change and zones differ, so its text won't do.

    A damaged time comes last.
    """
    try:
        return datetime.fromisoformat(at).timestamp()
    except (ValueError, OverflowError):
        return math.inf


def evening_whole(book: Logbook, evening: int) -> dict[str, Any]:
    """One evening with everything in it, as plain data; refuses an unknown number."""
    row = None
    if 0 < evening < LARGEST_ID:
        row = book.connection.execute("SELECT * FROM evening WHERE id = ?", (evening,)).fetchone()
    if row is None:
        shown = str(evening) if abs(evening) < LARGEST_ID else "of that size"
        raise AxletreeError(f"there is no evening number {shown}; 'axletree log' lists them")
    whole: dict[str, Any] = {"id": row["id"]} | {name: row[name] for name in TABLES["evening"]}
    for table, columns in TABLES.items():
        if table == "evening":
            continue
        found = book.connection.execute(
            f"SELECT * FROM {table} WHERE evening_id = ? ORDER BY julianday(at), id", (evening,)
        )
        whole[table] = [{name: r[name] for name in columns} for r in found]
    return whole


class Somewhere(Protocol):
    """A place with a name: a kit's site, a run sheet's place."""

    @property
    def name(self) -> str: ...
    @property
    def latitude_deg(self) -> float: ...
    @property
    def longitude_deg(self) -> float: ...


def minutes_since_begin(book: Logbook, evening: int, at: datetime) -> float:
    """Minutes from an evening's begin, as it was noted, to a later moment; refuses what can be no
    set-up: before it, or more than ten hours after."""
    begun = seconds_of(evening_whole(book, evening)["begun_at"])
    minutes = (at.timestamp() - begun) / 60.0
    if not 1.0 <= minutes <= MOST_SINCE_BEGIN_MIN:
        raise AxletreeError(
            f"{minutes:.0f} minutes have passed since the evening was begun: say how long setting "
            "up took with --minutes"
        )
    return float(round(minutes))


def evening_of_date(book: Logbook, day: date, site: Somewhere) -> int | None:
    """The number of the latest evening of this date at this site, or None."""
    rows = book.connection.execute(
        "SELECT id, site, latitude_deg, longitude_deg FROM evening WHERE date = ? ORDER BY id DESC",
        (day.isoformat(),),
    )
    return next((int(row["id"]) for row in rows if _same_site(row, site)), None)


def latest_evening(book: Logbook, site: Somewhere | None = None) -> int | None:
    """The number of the evening that was begun last, at this site or anywhere; or None."""
    rows = book.connection.execute(
        "SELECT id, site, latitude_deg, longitude_deg FROM evening ORDER BY id DESC"
    )
    fits = (int(row["id"]) for row in rows if site is None or _same_site(row, site))
    return next(fits, None)


def _same_site(row: Row, site: Somewhere) -> bool:
    """The same name, and no farther away than a corrected coordinate moves it."""
    if str(row["site"]).casefold().split() != site.name.casefold().split():
        return False
    try:
        there = float(row["longitude_deg"]), float(row["latitude_deg"])
    except (TypeError, ValueError):  # damaged figures: the name has to do
        return True
    apart_deg = separation_deg(*there, site.longitude_deg, site.latitude_deg)
    return not float(apart_deg) > SAME_SITE_DEG


@dataclass(frozen=True)
class Found:
    """One stop, note or conditions (`what`) that a search found, with its evening and site.

    `object` is None but for stops; `words` are the person's own.
    """

    evening: int
    date: str
    at: str
    what: str
    object: str | None
    skipped: bool
    words: str
    site: str

    def holds(self, wanted: Sequence[str]) -> bool:
        """Whether it holds all of these words (in lower case), its place and date included."""
        skipped = "skipped" if self.skipped else ""
        facts = (self.object or "", skipped, self.words, self.site, self.date)
        text = " ".join(facts).casefold()
        return all(word in text for word in wanted)


def search(book: Logbook, words: str) -> list[Found]:
    """Stops, notes and conditions that hold all of the words, the latest first."""
    wanted = [w for w in words.casefold().split() if w]
    if not wanted:
        raise AxletreeError("search for at least one word")
    rows = book.connection.execute(
        """
        SELECT e.id AS evening, e.date, s.at, 'stop' AS what, s.object AS object,
               s.state = 'skipped' AS skipped, s.note AS words, e.site
        FROM stop s JOIN evening e ON e.id = s.evening_id
        UNION ALL
        SELECT e.id, e.date, n.at, 'note', NULL, 0, n.text, e.site
        FROM note n JOIN evening e ON e.id = n.evening_id
        UNION ALL
        SELECT e.id, e.date, c.at, 'conditions', NULL, 0, c.words, e.site
        FROM conditions c JOIN evening e ON e.id = c.evening_id
        """
    ).fetchall()
    rows.sort(key=lambda row: seconds_of(row["at"]), reverse=True)
    every = (Found(**{**dict(row), "skipped": bool(row["skipped"])}) for row in rows)
    return [found for found in every if found.holds(wanted)]


def seen_since(
    book: Logbook, day: date, site: Somewhere | None = None, audience: Audience | None = None
) -> dict[str, str]:
    """Catalogue ids of objects shown since a date, with the date they were last shown.

    At this site, or anywhere; to this audience, or to anybody. Each evening's audience is that of
    the kit noted with it; one whose kit can't be read counts for all.
    """
    rows = book.connection.execute(
        """
        SELECT s.catalogue_id, e.date AS last, e.site, e.latitude_deg, e.longitude_deg,
            e.kit_toml FROM stop s
        JOIN evening e ON e.id = s.evening_id
        WHERE s.state = 'done' AND e.date >= ? ORDER BY e.date
        """,
        (day.isoformat(),),
    )
    here = (row for row in rows if site is None or _same_site(row, site))
    return {
        row["catalogue_id"]: row["last"]
        for row in here
        if audience is None or _audience_noted(row["kit_toml"]) in (audience, None)
    }


@cache
def _audience_noted(kit_toml: str) -> Audience | None:
    """For whom the evening was, by the kit noted with it; None where that can't be read."""
    try:
        raw = tomllib.loads(kit_toml)
        return audience_of(Habits.model_validate(raw.get("habits", {}))) if raw else None
    except (tomllib.TOMLDecodeError, ValidationError):
        return None
