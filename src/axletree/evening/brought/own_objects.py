"""Which objects of the person's own should be thought of: comets, favourites, a list from a paper?

Public: ``read_own_objects``, ``own_objects_of``, ``OwnObjects``, ``BrokenRow``, ``COLUMNS``.

A CSV file in plain columns, one object a row. A thing that moves (a comet) has several rows of the
same name with the column `at`; its place is taken on the great circle between the two rows around
the moment that matters.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.reading.beside import beside
from axletree.kit.reading.files import text_of_file
from axletree.kit.reading.table import Row, RowError, read_table
from axletree.sky.catalogue.names import fold
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import angles_from_vector, vector_from_angles

# Places are of J2000; of `ra_h` and `ra_deg` one, sexagesimal too. Rows of one name with `at` are a
# thing that moves; `separation_arcsec` and `companion_magnitude` are a double star's.
COLUMNS = (
    "name", "ra_h", "ra_deg", "dec_deg", "magnitude", "size_arcmin", "size_minor_arcmin", "kind",
    "separation_arcsec", "companion_magnitude", "at", "note",
)  # fmt: skip
KINDS = (
    "star", "double star", "open cluster", "globular cluster", "cluster with nebula",
    "star cloud", "galaxy", "planetary nebula", "emission nebula", "reflection nebula", "nebula",
    "supernova remnant", "comet", "other",
)  # fmt: skip
LARGEST_BYTES = 5_000_000


Moment = Callable[[str], datetime]  # text to an aware datetime; ValueError where it is none


@dataclass(frozen=True)
class BrokenRow:
    """A row that could not be used: its line in the file, and its refusal."""

    line: int
    refusal: AxletreeError


@dataclass(frozen=True)
class OwnObjects:
    """The objects that could be read, and the rows that could not."""

    objects: tuple[SkyObject, ...]
    broken: tuple[BrokenRow, ...] = ()


@dataclass(frozen=True)
class _Read:
    """One good row."""

    line: int
    thing: SkyObject
    at: datetime | None


def own_objects_of(
    kit: Kit,
    folder: Path | None,
    when: datetime,
    *,
    file: Path | None = None,
    all_or_none: bool = False,
) -> OwnObjects:
    """The objects of the kit's `own_objects_file`, which lies beside it; none without one.

    `file` is read instead, wherever it lies: for a person who names it with their own hands.
    """
    named = kit.habits.own_objects_file
    if file is None:
        if named is None:
            return OwnObjects(())
        file = beside(named, folder, "habits.own_objects_file", "mine.csv")
    text = text_of_file(file, LARGEST_BYTES, "a list")

    def moment(words: str) -> datetime:
        found = datetime.fromisoformat(words)
        return found if found.tzinfo else found.replace(tzinfo=kit.site.zone)

    return read_own_objects(text, str(file), when, moment, all_or_none=all_or_none)


def read_own_objects(
    text: str,
    source: str,
    when: datetime,
    moment: Moment | None = None,
    *,
    all_or_none: bool = False,
) -> OwnObjects:
    """The objects of a CSV text, as they stand at `when` (aware).

    A broken row is named and the rest kept; with `all_or_none` the first one refuses the file.
    Always refused: no header, a column that is not known or stands twice, no name or place
    column, no row that can be read. A moving thing whose rows don't reach to `when` is named
    among the broken ones. `moment` turns the text of `at` into an aware datetime (UTC
    without one).
    """
    table = read_table(text, source, COLUMNS, "name,ra_h,dec_deg,magnitude,size_arcmin")
    if not {"name", "dec_deg"} <= set(table.names) or not {"ra_h", "ra_deg"} & set(table.names):
        problem = "the columns name, dec_deg and one of ra_h, ra_deg are needed"
        raise RowError(source, table.head_line, "", problem)
    read: list[_Read] = []
    broken: list[BrokenRow] = []
    for number, line in table.lines:
        try:
            read.append(_read_row(table.row(number, line), moment or _utc))
        except AxletreeError as error:
            broken.append(BrokenRow(number, error))
    kept, more = _gathered(read, source, when)
    nothing_read = not read
    broken = sorted([*broken, *more], key=lambda row: row.line)
    if broken and (all_or_none or nothing_read):
        first, rest = broken[0].refusal, len(broken) - 1
        raise AxletreeError(f"{first} (and {rest} more)") if rest else first
    return OwnObjects(tuple(kept), tuple(broken))


def _read_row(row: Row, moment: Moment) -> _Read:
    name = row.text("name")
    if not name:
        raise row.wrong("name", "is missing")
    hours, degrees = row.number("ra_h", 0.0, 24.0), row.number("ra_deg", 0.0, 360.0)
    if (hours is None) == (degrees is None):
        which = "both are given; keep one" if hours is not None else "one of them is needed"
        raise row.wrong("ra_h, ra_deg", which)
    major = row.number("size_arcmin", 0.001, 3000.0)
    minor = row.number("size_minor_arcmin", 0.001, 3000.0)
    if minor is not None and (major is None or minor > major):
        raise row.wrong("size_minor_arcmin", "must not exceed size_arcmin")
    apart = row.number("separation_arcsec", 0.01, 3600.0)
    default = "double star" if apart is not None else "other" if major is not None else "star"
    at = row.text("at")
    when = None
    if at:
        try:
            when = moment(at)
        except ValueError:
            raise row.wrong("at", f"'{at}' is not a time; write 2026-12-05T20:00") from None
    thing = SkyObject(
        name=name,
        kind=row.word("kind", KINDS) or default,
        ra_deg=degrees if degrees is not None else (hours or 0.0) * 15.0,
        dec_deg=row.needed("dec_deg", -90.0, 90.0),
        magnitude_v=row.number("magnitude", -30.0, 30.0),
        size_major_arcmin=major,
        size_minor_arcmin=minor if minor is not None else major,
        separation_arcsec=apart,
        companion_magnitude_v=row.number("companion_magnitude", -30.0, 30.0),
        catalogue_id=f"own:{name}",
        note=row.text("note"),
    )
    return _Read(row.line, thing, when)


def _utc(words: str) -> datetime:
    found = datetime.fromisoformat(words)
    return found if found.tzinfo else found.replace(tzinfo=UTC)


def _gathered(
    read: Sequence[_Read], source: str, when: datetime
) -> tuple[list[SkyObject], list[BrokenRow]]:
    """One object a name: the row itself, or its place between the rows around `when`."""
    by_name: dict[str, list[_Read]] = {}
    for one in read:
        by_name.setdefault(fold(one.thing.name), []).append(one)
    kept: list[SkyObject] = []
    broken: list[BrokenRow] = []
    for rows in by_name.values():
        moving = [one for one in rows if one.at is not None]
        if not moving:
            kept.append(rows[0].thing)
            broken += [
                _broken(source, one, "name",
                        f"'{one.thing.name}' stands in line {rows[0].line} already")
                for one in rows[1:]
            ]  # fmt: skip
            continue
        broken += [
            _broken(source, one, "at",
                    f"is missing beside other rows of '{one.thing.name}' that have it")
            for one in rows
            if one.at is None
        ]  # fmt: skip
        moving.sort(key=lambda one: one.at or when)
        times = [one.at.timestamp() for one in moving if one.at is not None]
        twice = [two for t, u, two in zip(times, times[1:], moving[1:], strict=False) if t == u]
        broken += [
            _broken(source, one, "at", f"'{one.thing.name}' has two rows for this moment")
            for one in twice
        ]  # fmt: skip
        moving = [one for one in moving if one not in twice]
        times = sorted(set(times))
        now = when.timestamp()
        if not times[0] - 86400.0 <= now <= times[-1] + 86400.0:
            first, last = moving[0].at, moving[-1].at
            assert first is not None
            assert last is not None
            broken.append(_broken(
                source, moving[0], "at",
                f"'{moving[0].thing.name}' is known from {first:%Y-%m-%d} to {last:%Y-%m-%d} "
                f"only, not on {when:%Y-%m-%d}",
            ))  # fmt: skip
            continue
        kept.append(_between(moving, times, now))
    return kept, broken


def _broken(source: str, one: _Read, column: str, problem: str) -> BrokenRow:
    return BrokenRow(one.line, RowError(source, one.line, column, problem))


def _between(rows: Sequence[_Read], times: Sequence[float], now: float) -> SkyObject:
    """The object at a moment: along the great circle between two rows, magnitude in proportion."""
    after = int(np.clip(np.searchsorted(times, now), 1, max(1, len(rows) - 1)))
    if len(rows) == 1:
        return rows[0].thing
    a, b = rows[after - 1].thing, rows[after].thing
    part = float(np.clip((now - times[after - 1]) / (times[after] - times[after - 1]), 0.0, 1.0))
    u = vector_from_angles(a.ra_deg or 0.0, a.dec_deg or 0.0)
    v = vector_from_angles(b.ra_deg or 0.0, b.dec_deg or 0.0)
    angle = float(np.arctan2(np.linalg.norm(np.cross(u, v)), np.sum(u * v)))
    here = u
    if angle > 1e-12:
        here = (np.sin((1.0 - part) * angle) * u + np.sin(part * angle) * v) / np.sin(angle)
    ra, dec = angles_from_vector(here)
    magnitude = a.magnitude_v
    if a.magnitude_v is not None and b.magnitude_v is not None:
        magnitude = a.magnitude_v + part * (b.magnitude_v - a.magnitude_v)
    return replace(a, ra_deg=float(ra), dec_deg=float(dec), magnitude_v=magnitude)
