"""What stands in a small table that a person wrote: its columns, and each row by its line?

The first line names the columns, in any order. Columns are parted by commas, semicolons or tabs;
with semicolons or tabs a decimal comma is understood. Empty lines and lines that begin with '#'
are left out. A table of plain figures (`by_place`) may come without that first line, parted by
spaces, and with a remark after '#' at the end of a line.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Collection, Iterator, Mapping, Sequence

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass

MOST_ROWS = 20_000
BYTE_ORDER_MARK = "\ufeff"  # some programs begin a text with it

_SEXAGESIMAL = re.compile(
    r"([+-]?)(\d{1,3})[: hd°](\d{1,2}(?:\.\d+)?)(?:[: m'′](\d{1,2}(?:\.\d+)?))?[ms\"″'′]?"
)


class RowError(AxletreeError):
    """What is wrong in a table. `row`: its line from 1; `field`: the column, '' for all of it."""

    def __init__(self, source: str, row: int, field: str, problem: str) -> None:
        where = f"{source} line {row}"
        super().__init__(f"{where}, {field}: {problem}" if field else f"{where}: {problem}")
        self.source, self.row, self.field, self.problem = source, row, field, problem

    def __reduce__(self) -> tuple[type[RowError], tuple[str, int, str, str]]:
        return RowError, (self.source, self.row, self.field, self.problem)


@dataclass(frozen=True)
class Row:
    """One line of a table: its number from 1, and what stands in its columns."""

    source: str
    line: int
    cells: dict[str, str]
    decimal_comma: bool

    def wrong(self, column: str, words: str) -> RowError:
        """The refusal of one cell, or with column '' of the row."""
        return RowError(self.source, self.line, column, words)

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
        plain = text.replace("−", "-").strip().removesuffix("°")
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


@dataclass(frozen=True)
class Table:
    """A table whose header was understood; its rows are read one by one.

    `head_line`: where the columns are named; `part`: the mark between the columns; `lines`: number
    and text of each row.
    """

    source: str
    head_line: int
    names: tuple[str, ...]
    part: str
    lines: tuple[tuple[int, str], ...]

    def rows(self) -> Iterator[Row]:
        """Every row; the first that can't be parted ends it with its refusal."""
        return (self.row(number, line) for number, line in self.lines)

    def row(self, number: int, line: str) -> Row:
        """One of the lines as a row; refuses more cells than columns."""
        cells = _cells(self.source, number, line, self.part)
        count = len(self.names)
        if any(cells[count:]):
            problem = f"{len(cells)} cells, but there are {count} columns"
            raise RowError(self.source, number, "", problem)
        cells += [""] * (count - len(cells))
        held = dict(zip(self.names, cells, strict=False))
        return Row(self.source, number, held, decimal_comma=self.part != ",")


def read_table(
    text: str,
    source: str,
    columns: Collection[str],
    example: str = "",
    by_place: Sequence[str] = (),
    most_rows: int = MOST_ROWS,
) -> Table:
    """The table of a text; refuses none, unknown or double columns, one without any row, and one
    with more than `most_rows`.

    `example`: a first line, for the person whose text is empty. `by_place`: what the columns of
    a table of plain figures are when no line names them, that is when it begins with a number.
    """
    lines = [
        (number, line)
        for number, line in enumerate(text.lstrip(BYTE_ORDER_MARK).splitlines(), start=1)
        if line.strip(" ,;\t") and not line.lstrip().startswith("#")
    ]
    if by_place:
        lines = [(number, line.partition("#")[0].rstrip()) for number, line in lines]
    if not lines:
        such = f", such as {example}" if example else ""
        raise AxletreeError(f"{source}: empty, no rows; the first line names the columns{such}")
    if len(lines) - (not by_place) > most_rows:
        raise AxletreeError(f"{source}: more than {most_rows} rows")
    head_line, head = lines[0]
    part = _part(head, spaces=bool(by_place))
    names = [name.lower() for name in _cells(source, head_line, head, part)]
    if by_place and _begins_with_number(names[0], part):
        return Table(source, head_line, tuple(by_place), part, tuple(lines))
    for name in names:
        if name not in columns:
            problem = f"no column '{name}'; {_meant(name, columns)}"
            raise RowError(source, head_line, "", problem)
        if names.count(name) > 1:
            raise RowError(source, head_line, "", f"column '{name}' stands twice")
    if len(lines) == 1:
        raise AxletreeError(f"{source}: there are column names but no rows")
    return Table(source, head_line, tuple(names), part, tuple(lines[1:]))


def _part(head: str, *, spaces: bool) -> str:
    """The mark between the columns; spaces where they may be it and the commas can't be."""
    mark = next((mark for mark in (";", "\t") if mark in head), ",")
    pieces = [piece.strip() for piece in head.split(",")]
    by_commas = len(pieces) > 1 and not any(" " in piece for piece in pieces)
    return " " if spaces and mark == "," and not by_commas else mark


def _cells(source: str, number: int, line: str, part: str) -> list[str]:
    """What stands in the columns of a line; refuses one that can't be parted."""
    if part == " ":
        return line.split()
    try:
        return [cell.strip() for cell in next(csv.reader([line], delimiter=part))]
    except csv.Error as error:
        raise RowError(source, number, "", f"cannot be parted ({error})") from None


def _begins_with_number(cell: str, part: str) -> bool:
    row = Row("", 0, {"": cell}, decimal_comma=part != ",")
    try:
        return row.number("") is not None
    except RowError:
        return False


def _meant(name: str, columns: Collection[str]) -> str:
    """The column with the nearest name, or one that begins with the same word; or all of them."""
    import difflib

    close = difflib.get_close_matches(name, columns, n=1, cutoff=0.5)
    close = close or [c for c in columns if c.split("_")[0] == name.split("_")[0]]
    return f"did you mean '{close[0]}'?" if close else "known: " + ", ".join(columns)


def written_table(rows: Sequence[Mapping[str, str]], columns: Collection[str]) -> str:
    """The text that `read_table` reads back as these rows; refuses a column that isn't known."""
    for row in rows:
        unknown = [name for name in row if name not in columns]
        if unknown:
            raise AxletreeError(f"there is no column '{unknown[0]}'")
    names = [name for name in columns if any(row.get(name) for row in rows)]
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";", lineterminator="\n")
    writer.writerow(names)
    for row in rows:
        # A line that began with '#' would be taken for a remark.
        writer.writerow([" ".join(row.get(name, "").split()).lstrip("#") for name in names])
    return out.getvalue()
