"""Which satellites do the kit's files of two-line elements hold, and how old are they?

Public: ``read_satellites``, ``satellites_of_kit``, ``SatelliteList``, ``TooOld``.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from axletree.evening.brought.own_objects import BrokenRow
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.reading.beside import beside
from axletree.kit.reading.files import text_of_file
from axletree.kit.reading.table import RowError
from axletree.sky.satellites.crossings import TOO_OLD_DAYS
from axletree.sky.satellites.two_line import TwoLine, TwoLineError, read_set, sets_of
from axletree.sky.time.instants import Instants

LARGEST_BYTES = 1_000_000
MOST_SATELLITES = 1000


@dataclass(frozen=True)
class TooOld:
    """A satellite that is left out, for its elements are so many days from the evening."""

    name: str
    number: int
    age_days: float


@dataclass(frozen=True)
class SatelliteList:
    """The satellites that can be used, those whose elements are too old, and the broken lines."""

    satellites: tuple[TwoLine, ...] = ()
    too_old: tuple[TooOld, ...] = ()
    broken: tuple[BrokenRow, ...] = ()


def satellites_of_kit(kit: Kit, folder: Path | None, when: datetime) -> SatelliteList:
    """All satellites of the kit's `satellite_files`, which lie beside it.

    Of several elements of one satellite those nearest to `when` are taken.
    """
    jd = Instants.from_datetime(when)
    now = float(jd.utc1[0] + jd.utc2[0])
    best: dict[int, TwoLine] = {}
    broken: list[BrokenRow] = []
    for name in kit.habits.satellite_files:
        file = beside(name, folder, "habits.satellite_files", "satellites.txt")
        found, wrong = read_satellites(text_of_file(file, LARGEST_BYTES, "a list"), str(file))
        broken += wrong
        for one in found:
            before = best.get(one.number)
            if before is None or abs(one.epoch_jd - now) < abs(before.epoch_jd - now):
                best[one.number] = one
    if len(best) > MOST_SATELLITES:
        raise AxletreeError(
            f"habits.satellite_files: {len(best)} satellites; keep {MOST_SATELLITES} at most"
        )
    ages = {one.number: abs(one.epoch_jd - now) for one in best.values()}
    return SatelliteList(
        tuple(one for one in best.values() if ages[one.number] <= TOO_OLD_DAYS),
        tuple(
            TooOld(one.name, one.number, ages[one.number])
            for one in best.values()
            if ages[one.number] > TOO_OLD_DAYS
        ),
        tuple(broken),
    )


@lru_cache(maxsize=8)
def read_satellites(text: str, source: str) -> tuple[tuple[TwoLine, ...], tuple[BrokenRow, ...]]:
    """The satellites of a text, and the lines that could not be used; a broken set is named.

    Empty lines and lines that begin with '#' are passed over. Refuses a text without any set that
    can be read.
    """
    lines = [
        (number, line.rstrip("\r"))
        for number, line in enumerate(text.split("\n"), start=1)
        if line.strip() and not line.startswith("#")
    ]
    good: list[TwoLine] = []
    broken: list[BrokenRow] = []
    for one in sets_of(lines):
        try:
            good.append(read_set([line for _, line in one]))
        except TwoLineError as error:
            row = one[min(error.offset, len(one) - 1)][0]
            broken.append(BrokenRow(row, RowError(source, row, "", error.why)))
    if not good:
        raise _nothing(source, broken)
    return tuple(good), tuple(broken)


def _nothing(source: str, broken: Sequence[BrokenRow]) -> AxletreeError:
    if not broken:
        return AxletreeError(f"{source}: empty, no two-line elements")
    more = len(broken) - 1
    return AxletreeError(f"{broken[0].refusal}" + (f" (and {more} more)" if more else ""))
