"""How is a thing written down so that a flat battery a second later cannot take it away?

SQLite with a write-ahead log and full synchronisation: when a method has returned, its row is
on the disk. Every row carries a random `uid`, so that records can be carried between machines
and read back twice without doubling.
"""

from __future__ import annotations

import os
import secrets
import sqlite3
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from axletree.kit.errors import AxletreeError, KeptAside
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.reading.files import refuse_streams
from axletree.logbook.earlier import keep_earlier
from axletree.logbook.fit import why_unfit
from axletree.logbook.schema import bring_up_to_date, is_whole

WAIT_FOR_LOCK_S = 5.0
# A file of another name that is no database was named by mistake, and is left where it is.
SUFFIXES = (".sqlite", ".db")


def default_logbook() -> Path:
    """The person's own logbook: $XDG_DATA_HOME/axletree/logbook.sqlite, or under ~/.local/share."""
    base = os.environ.get("XDG_DATA_HOME")
    root = Path(base) if base else Path.home() / ".local" / "share"
    return root / "axletree" / "logbook.sqlite"


@dataclass(frozen=True)
class LoggedStop:
    """A stop that was shown (or skipped) at an aware moment, by its object's name and id.

    `visitors`: how many looked, None where nobody counted. `uid`: the page's own mark of this
    entry, so that what is sent twice is written once.
    """

    at: datetime
    name: str
    catalogue_id: str
    done: bool = True
    visitors: int | None = None
    note: str = ""
    uid: str | None = None


class Logbook:
    """An open logbook. Use it in a `with`; every method that writes commits before it returns."""

    def __init__(self, path: Path, *, wait_s: float = WAIT_FOR_LOCK_S) -> None:
        """Open or make the logbook at `path`.

        A damaged file is moved aside, never written over, and stands in `kept_aside`; a locked one
        is refused after `wait_s` seconds. Of one of an earlier form a copy is kept.
        """
        self.path = path
        self.kept_aside: KeptAside | None = None
        refuse_streams(path)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self.connection = self._open(wait_s)
        except sqlite3.DatabaseError as error:
            if isinstance(error, sqlite3.OperationalError):
                raise AxletreeError(self._refusal(error)) from None
            if path.suffix not in SUFFIXES and not _was_a_logbook(path):
                raise AxletreeError(f"{path} is not a logbook; name another file") from None
            aside = _keep_aside(path)
            self.kept_aside = KeptAside(path, aside.name)
            self.connection = self._open(wait_s)
        except OSError as error:
            raise AxletreeError(f"{path}: cannot be opened ({error.strerror})") from None

    def _open(self, wait_s: float) -> sqlite3.Connection:
        connection = sqlite3.connect(self.path, timeout=wait_s, isolation_level=None)
        try:
            connection.row_factory = sqlite3.Row
            # A damaged letter must not hide the rest of the record.
            connection.text_factory = lambda text: text.decode("utf-8", "replace")
            connection.execute("PRAGMA foreign_keys = ON")
            if connection.execute("PRAGMA quick_check").fetchone()[0] != "ok":
                raise sqlite3.DatabaseError("quick_check failed")
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute("PRAGMA synchronous = FULL")
            bring_up_to_date(connection, lambda form: keep_earlier(self.path, form))
            if not is_whole(connection):
                raise sqlite3.DatabaseError("tables or columns are missing")
        except UnicodeDecodeError:  # even SQLite's own words of complaint are damaged
            connection.close()
            raise sqlite3.DatabaseError("names of its tables are damaged") from None
        except BaseException:
            connection.close()
            raise
        return connection

    def _refusal(self, error: sqlite3.OperationalError) -> str:
        if "locked" in str(error) or "busy" in str(error):
            return f"{self.path} is in use by another program; close it and try again"
        return f"{self.path}: the logbook cannot be used ({error})"

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
        if isinstance(error, sqlite3.Error):
            raise AxletreeError(f"{self.path}: the logbook cannot be read ({error})") from None

    def close(self) -> None:
        """Close the file; harmless when closed already."""
        self.connection.close()

    def insert(self, table: str, row: dict[str, Any]) -> int:
        """One row, on the disk when this returns; the row's id. `table` is never from outside.

        A row whose `uid` is there already is left as it is: what is sent twice is kept once.
        """
        given = row.pop("uid", None)
        if given is not None:
            known = self.connection.execute(f"SELECT id FROM {table} WHERE uid = ?", (given,))
            if (found := known.fetchone()) is not None:
                return int(found["id"])
        row = {"uid": given or secrets.token_hex(8), **row}
        wrong = why_unfit(row)
        if wrong:
            raise AxletreeError(f"the logbook refuses this {table}: {wrong}")
        columns, marks = ", ".join(row), ", ".join("?" * len(row))
        try:
            cursor = self.connection.execute(
                f"INSERT INTO {table} ({columns}) VALUES ({marks})", tuple(row.values())
            )
        except sqlite3.IntegrityError as error:
            raise AxletreeError(f"the logbook refuses this {table}: {error}") from None
        except sqlite3.OperationalError as error:
            raise AxletreeError(self._refusal(error)) from None
        return int(cursor.lastrowid or 0)

    def begin_evening(
        self, day: date, kit: Kit, kit_toml: str, at: datetime, run_sheet: str | None = None
    ) -> int:
        """A new evening with the kit as it was and the run sheet as planned (JSON text)."""
        return self.insert(
            "evening",
            {
                "date": day.isoformat(),
                "site": kit.site.name,
                "latitude_deg": kit.site.latitude_deg,
                "longitude_deg": kit.site.longitude_deg,
                "kit_name": kit.name,
                "kit_toml": kit_toml,
                "run_sheet": run_sheet,
                "begun_at": at.isoformat(),
            },
        )

    def add_stop(self, evening: int, stop: LoggedStop) -> int:
        """A stop that was shown, or skipped."""
        return self.insert(
            "stop",
            {"uid": stop.uid, "evening_id": evening, "at": stop.at.isoformat(),
             "object": stop.name, "catalogue_id": stop.catalogue_id,
             "state": "done" if stop.done else "skipped", "visitors": stop.visitors,
             "note": stop.note},
        )  # fmt: skip

    def add_note(self, evening: int, at: datetime, text: str, uid: str | None = None) -> int:
        """A remark in the person's own words."""
        row = {"uid": uid, "evening_id": evening, "at": at.isoformat(), "text": text}
        return self.insert("note", row)

    def add_conditions(
        self, evening: int, at: datetime, *, seeing_arcsec: float | None = None,
        sky_brightness_mag_arcsec2: float | None = None,
        naked_eye_limit_mag: float | None = None, words: str = "", uid: str | None = None,
    ) -> int:  # fmt: skip
        """Seeing and darkness as they were found."""
        return self.insert(
            "conditions",
            {"uid": uid, "evening_id": evening, "at": at.isoformat(),
             "seeing_arcsec": seeing_arcsec,
             "sky_brightness_mag_arcsec2": sky_brightness_mag_arcsec2,
             "naked_eye_limit_mag": naked_eye_limit_mag, "words": words},
        )  # fmt: skip

    def add_axis_measure(
        self, evening: int, at: datetime, method: str, high_arcmin: float, east_arcmin: float,
        covariance_arcmin2: tuple[tuple[float, float], tuple[float, float]], details: str = "{}",
    ) -> int:  # fmt: skip
        """A measurement of the axis error with its covariance; `details` is JSON text."""
        (hh, he), (_, ee) = covariance_arcmin2
        return self.insert(
            "axis_measure",
            {"evening_id": evening, "at": at.isoformat(), "method": method,
             "high_arcmin": high_arcmin, "east_arcmin": east_arcmin,
             "high_variance_arcmin2": hh, "east_variance_arcmin2": ee,
             "covariance_arcmin2": he, "details": details},
        )  # fmt: skip

    def add_bolt_turn(
        self, evening: int, at: datetime, altitude_turns: float, azimuth_turns: float,
        note: str = "",
    ) -> int:  # fmt: skip
        """Turns of the bolts, signed as `pole.bolts` signs them."""
        return self.insert(
            "bolt_turn",
            {"evening_id": evening, "at": at.isoformat(), "altitude_turns": altitude_turns,
             "azimuth_turns": azimuth_turns, "note": note},
        )  # fmt: skip

    def take_back(self, evening: int, uid: str) -> bool:
        """Take a stop, a find, minutes of work, a note or conditions out of an evening again.

        What was written by mistake is gone then.

        True if it was there. Measurements and turns of the bolts are not taken back.
        """
        for table in ("stop", "note", "conditions", "found", "rig_work"):
            gone = self.connection.execute(
                f"DELETE FROM {table} WHERE evening_id = ? AND uid = ?", (evening, uid)
            )
            if gone.rowcount:
                return True
        return False


def _was_a_logbook(path: Path) -> bool:
    """Whether the file begins as SQLite's do: then what is wrong with it is damage."""
    with path.open("rb") as file:
        return file.read(16) == b"SQLite format 3\0"


def _keep_aside(path: Path) -> Path:
    """Move a damaged logbook and its log files to the first free name beside it."""
    number = 1
    while (aside := path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")).exists():
        number += 1
    os.rename(path, aside)
    for tail in ("-wal", "-shm"):
        log = path.with_name(path.name + tail)
        if log.exists():
            os.rename(log, aside.with_name(aside.name + tail))
    return aside
