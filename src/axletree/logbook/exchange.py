"""How is a logbook carried to another machine, or into a spreadsheet, without loss?"""

from __future__ import annotations

import csv
import io
import json
import sqlite3
from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.logbook.fit import why_unfit
from axletree.logbook.read import evening_whole, evenings
from axletree.logbook.schema import TABLES
from axletree.logbook.store import Logbook

FORMAT = "axletree logbook"
VERSION = 1
LARGEST_IMPORT_BYTES = 64_000_000


def export_json(book: Logbook) -> str:
    """The whole logbook as JSON text; `import_json` reads it back without loss."""
    whole = [evening_whole(book, line.id) for line in reversed(evenings(book))]
    for evening in whole:
        evening.pop("id")
    data = {"format": FORMAT, "version": VERSION, "evenings": whole}
    return json.dumps(data, ensure_ascii=False, indent=1)


def import_json(book: Logbook, text: str) -> int:
    """Add the evenings of an export; how many rows were new. All or nothing.

    Rows that are already there (same uid) are left as they are, so that reading a file twice,
    or the export of a phone that was itself imported, doubles nothing.
    """
    if len(text) > LARGEST_IMPORT_BYTES:
        raise AxletreeError("this file is too large for a logbook (over 64 MB)")
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise AxletreeError(f"this is not a logbook export: {error}") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise AxletreeError(f"this is not a logbook export: its format is not '{FORMAT}'")
    version = data.get("version")
    if version != VERSION:
        said = version if isinstance(version, int) and 0 < version < 1000 else "no such number"
        raise AxletreeError(f"this export has version {said}, not {VERSION}")
    listed = data.get("evenings")
    if not isinstance(listed, list):
        raise AxletreeError("this export holds no list of evenings")
    connection = book.connection
    before = connection.total_changes
    try:
        connection.execute("BEGIN IMMEDIATE")
        for number, evening in enumerate(listed, start=1):
            _import_evening(connection, evening, f"evening {number}")
        added = connection.total_changes - before
        connection.execute("COMMIT")
    except BaseException as error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        if isinstance(error, sqlite3.Error):
            raise AxletreeError(f"nothing was imported: {error}") from None
        raise
    return added


def _import_evening(connection: sqlite3.Connection, evening: Any, where: str) -> None:
    values = _checked(evening, "evening", where)
    _insert(connection, "evening", values, where)
    row = connection.execute("SELECT id FROM evening WHERE uid = ?", (values["uid"],)).fetchone()
    for table in TABLES:
        if table == "evening":
            continue
        rows = evening.get(table, [])
        if not isinstance(rows, list):
            raise AxletreeError(f"{where}: '{table}' is not a list")
        for number, item in enumerate(rows, start=1):
            place = f"{where}, {table} {number}"
            part = _checked(item, table, place)
            _insert(connection, table, {**part, "evening_id": row["id"]}, place)


def _checked(item: Any, table: str, where: str) -> dict[str, Any]:
    """The known columns of one row; refuses what is not a row, and values that are not fit."""
    if not isinstance(item, dict):
        raise AxletreeError(f"{where}: not a record")
    allowed = set(TABLES[table]) | ({"id", *TABLES} if table == "evening" else set())
    unknown = sorted(set(item) - allowed)
    if unknown:
        raise AxletreeError(f"{where}: unknown key '{unknown[0]}'")
    values = {name: item.get(name) for name in TABLES[table] if name in item}
    if not values.get("uid"):
        raise AxletreeError(f"{where}: no uid")
    wrong = why_unfit(values)
    if wrong:
        raise AxletreeError(f"{where}: {wrong}")
    return values


def _insert(connection: sqlite3.Connection, table: str, row: dict[str, Any], where: str) -> None:
    columns, marks = ", ".join(row), ", ".join("?" * len(row))
    try:
        connection.execute(
            f"INSERT INTO {table} ({columns}) VALUES ({marks}) ON CONFLICT(uid) DO NOTHING",
            tuple(row.values()),
        )
    except sqlite3.IntegrityError as error:
        raise AxletreeError(f"{where}: nothing was imported ({error})") from None


def export_csv(book: Logbook) -> dict[str, str]:
    """Each table as CSV text by file name, for a spreadsheet. One way: use JSON to come back."""
    made = {}
    for table, columns in TABLES.items():
        if table == "evening":
            rows = book.connection.execute("SELECT * FROM evening ORDER BY date, id")
            head: tuple[str, ...] = columns
        else:
            rows = book.connection.execute(
                f"SELECT e.date, t.* FROM {table} t JOIN evening e ON e.id = t.evening_id "
                "ORDER BY julianday(t.at), t.id"
            )
            head = ("date", *columns)
        text = io.StringIO()
        writer = csv.writer(text)
        writer.writerow(head)
        writer.writerows([_plain(row[name]) for name in head] for row in rows)
        made[f"{table}.csv"] = text.getvalue()
    return made


def _plain(value: Any) -> Any:
    """A cell that no spreadsheet takes for a formula."""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t", "\r"):
        return "'" + value
    return value
