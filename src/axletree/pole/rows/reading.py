"""What did the person write down? Rows of plain columns, each mistake named by its line.

The first line names the columns, in any order. Columns are parted by commas, semicolons or tabs;
with semicolons or tabs a decimal comma is understood. Empty lines and lines that begin with '#'
are left out.
"""

from __future__ import annotations

import csv
import difflib
import math
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.directions import azimuth_altitude
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import MOVING, object_positions
from axletree.sky.time.instants import Instants

MOST_ROWS = 20_000
Moment = Callable[[str], datetime]  # text to an aware datetime; ValueError where it is none

_SEXAGESIMAL = re.compile(
    r"([+-]?)(\d{1,3})[: hd°](\d{1,2}(?:\.\d+)?)(?:[: m'′](\d{1,2}(?:\.\d+)?))?[ms\"″'′]?"
)


@dataclass(frozen=True)
class Row:
    """One line of the file: its number from 1, and what stands in its columns."""

    source: str
    line: int
    cells: dict[str, str]
    decimal_comma: bool

    def wrong(self, column: str, words: str) -> AxletreeError:
        """The refusal of one cell."""
        where = f"{self.source} line {self.line}"
        return AxletreeError(f"{where}, {column}: {words}" if column else f"{where}: {words}")

    def text(self, column: str) -> str:
        """A cell's text, '' if it is empty."""
        return self.cells.get(column, "")

    def number(self, column: str, least: float = -math.inf, most: float = math.inf) -> float | None:
        """A cell as a number (also '12:30' or '-5:20:10'), None if it is empty."""
        text = self.text(column)
        if not text:
            return None
        value = self._parsed(text)
        if value is None:
            raise self.wrong(column, f"'{text}' is not a number")
        if not least <= value <= most:
            raise self.wrong(column, f"{text} must lie between {least:g} and {most:g}")
        return value

    def needed(self, column: str, least: float = -math.inf, most: float = math.inf) -> float:
        """A cell as a number, refused if it is empty."""
        value = self.number(column, least, most)
        if value is None:
            raise self.wrong(column, "is missing")
        return value

    def word(self, column: str, known: Collection[str]) -> str:
        """A cell as one of some words, '' if it is empty."""
        text = self.text(column).lower()
        if text and text not in known:
            raise self.wrong(column, f"'{text}' is not one of {', '.join(known)}")
        return text

    def _parsed(self, text: str) -> float | None:
        plain = text.replace("−", "-").strip()
        if self.decimal_comma:
            plain = plain.replace(",", ".")
        try:
            value = float(plain)
            return value if math.isfinite(value) else None
        except ValueError:
            pass
        match = _SEXAGESIMAL.fullmatch(plain)
        if match is None:
            return None
        minutes, seconds = float(match[3]), float(match[4] or 0.0)
        if minutes >= 60 or seconds >= 60:
            return None
        size = float(match[2]) + minutes / 60.0 + seconds / 3600.0
        return -size if match[1] == "-" else size


def read_rows(text: str, source: str, columns: Collection[str]) -> list[Row]:
    """The rows of a text; refuses unknown columns, double columns, and rows of another length."""
    lines = [
        (number, line)
        for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if not lines:
        raise AxletreeError(f"{source}: there are no rows; the first line names the columns")
    if len(lines) > MOST_ROWS:
        raise AxletreeError(f"{source}: more than {MOST_ROWS} rows")
    head = lines[0][1]
    part = next((mark for mark in (";", "\t") if mark in head), ",")
    names = [name.strip().lower() for name in head.split(part)]
    for name in names:
        if name not in columns:
            close = difflib.get_close_matches(name, columns, n=1, cutoff=0.5)
            hint = f"did you mean '{close[0]}'?" if close else "known: " + ", ".join(columns)
            raise AxletreeError(f"{source} line {lines[0][0]}: no column '{name}'; {hint}")
        if names.count(name) > 1:
            raise AxletreeError(f"{source} line {lines[0][0]}: column '{name}' stands twice")
    rows = []
    for number, line in lines[1:]:
        cells = [cell.strip() for cell in next(csv.reader([line], delimiter=part))]
        if len(cells) > len(names) and any(cells[len(names) :]):
            raise AxletreeError(
                f"{source} line {number}: {len(cells)} cells, but there are {len(names)} columns"
            )
        if len(cells) < len(names):
            cells += [""] * (len(names) - len(cells))
        held = dict(zip(names, cells, strict=False))
        rows.append(Row(source, number, held, decimal_comma=part != ","))
    if not rows:
        raise AxletreeError(f"{source}: there are column names but no rows")
    return rows


def moment_of(row: Row, column: str, moment: Moment) -> datetime | None:
    """A cell as an aware datetime, None if it is empty."""
    text = row.text(column)
    if not text:
        return None
    try:
        return moment(text)
    except ValueError:
        raise row.wrong(
            column, f"'{text}' is not a time; write 21:05, 21:05:30 or 2026-12-05T21:05"
        ) from None


@dataclass(frozen=True)
class Placed:
    """Which star a row is about: its name, hour angle (h) and declination (degrees) of date."""

    name: str
    hour_angle_h: float
    declination_deg: float
    at: datetime | None


def place_of(row: Row, at: datetime | None, observer: Observer) -> Placed:
    """The star of a row, from its name and time, or from hour angle and declination."""
    name = row.text("star")
    hour_angle = row.number("hour_angle_h", -12.0, 12.0)
    declination = row.number("declination_deg", -90.0, 90.0)
    if hour_angle is not None and declination is not None:
        placed = Placed(name or f"line {row.line}", hour_angle, declination, at)
    else:
        placed = _named(row, name, hour_angle, declination, at, observer)
    _, altitude = azimuth_altitude(
        placed.hour_angle_h, placed.declination_deg, observer.latitude_deg
    )
    if float(altitude) < 0.0:
        raise row.wrong(
            "", f"{placed.name} stands {-float(altitude):.0f}° below the horizon then, seen from "
            "this site; are the time and its zone right?",
        )  # fmt: skip
    return placed


def _named(
    row: Row, name: str, hour_angle: float | None, declination: float | None,
    at: datetime | None, observer: Observer,
) -> Placed:  # fmt: skip
    if not name:
        raise row.wrong("", "give a star's name, or hour_angle_h and declination_deg")
    try:
        thing = find(name)
    except AxletreeError as error:
        raise row.wrong("star", str(error)) from None
    if thing.kind in MOVING:
        raise row.wrong("star", f"{thing.name} moves among the stars; choose a star")
    if at is None and hour_angle is None:
        raise row.wrong("", f"give the time at which {thing.name} was looked at, or hour_angle_h")
    H, dec = _where(thing, at, observer)
    if declination is not None:
        dec = declination
    return Placed(thing.name, H if hour_angle is None else hour_angle, dec, at)


def _where(thing: SkyObject, at: datetime | None, observer: Observer) -> tuple[float, float]:
    moment = at or datetime.fromisoformat("2026-01-01T00:00:00+00:00")
    place = object_positions([thing], Instants.from_datetime(moment), observer)
    hour = float(np.asarray(place.hour_angle_h)[0, 0])
    return hour, float(np.asarray(place.declination_deg)[0, 0])
