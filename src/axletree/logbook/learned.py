"""What does the record teach about the bolts: how many turns move the axis by a degree?

Each bolt turn that stands between two measurements of the axis (the latest before and the first
after it) gives one equation: turns = k * moved degrees. The estimate is the least-squares k
through the origin, weighted by the measurements' errors, with its standard deviation. Only
evenings with the same mount count.
"""

from __future__ import annotations

import functools
import math
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from axletree.kit.errors import AxletreeError
from axletree.kit.parts.mount import Mount
from axletree.logbook.store import Logbook
from axletree.pole.correct.learned import NOTHING_LEARNED, LearnedBolts, TurnsPerDegree

Bolt = Literal["altitude", "azimuth"]

LEAST_TURNS = 0.05


@dataclass(frozen=True)
class _Then:
    """What a kit of the record says of its mount and bolts."""

    name: str
    size: str
    pair: bool


@dataclass(frozen=True)
class _Equation:
    turns: float
    moved_deg: float
    variance_deg2: float


def turns_per_degree(
    book: Logbook, bolt: Bolt, mount: Mount | None = None
) -> TurnsPerDegree | None:
    """What the record says of one bolt; None until a turn stands between two measurements.

    With `mount`, only evenings whose kit had a mount of this name and size count. Azimuth is
    counted along the horizon: the axis's `east` angle divided by the cosine of the site's
    latitude. Opposed azimuth bolts are noted by the one that is tightened, always clockwise: of
    them only the amounts count, and moves within two standard deviations of nothing don't.
    """
    weight_sum = product = 0.0
    count = 0
    for one in _equations(book, bolt, mount):
        weight = 1.0 / max(one.variance_deg2, 1e-8)
        # moved = turns / k, so 1/k is the slope of moved on turns.
        weight_sum += weight * one.turns**2
        product += weight * one.turns * one.moved_deg
        count += 1
    if not count or product == 0.0:
        return None
    slope = product / weight_sum
    return TurnsPerDegree(1.0 / slope, 1.0 / (math.sqrt(weight_sum) * slope**2), count)


def learned_bolts(book: Logbook, mount: Mount) -> LearnedBolts:
    """What the record teaches about the bolts of a mount of this name and size."""
    return LearnedBolts(
        turns_per_degree(book, "altitude", mount), turns_per_degree(book, "azimuth", mount)
    )


def read_learned(path: Path | None, mount: Mount) -> tuple[LearnedBolts, tuple[str, ...]]:
    """What the logbook in this file teaches, and what has to be said of the file.

    Nothing without a file, and from one that can't be read; a file is never begun by reading.
    """
    if path is None:
        return NOTHING_LEARNED, ()
    try:
        with Logbook(path) as book:
            return learned_bolts(book, mount), (book.note,) if book.note else ()
    except AxletreeError as error:
        return NOTHING_LEARNED, (f"nothing learned from the logbook: {error}",)


def _equations(book: Logbook, bolt: Bolt, mount: Mount | None) -> list[_Equation]:
    column = "high" if bolt == "altitude" else "east"
    rows = book.connection.execute(
        f"SELECT t.{bolt}_turns AS turns, t.at, t.evening_id, e.latitude_deg, e.kit_toml "
        "FROM bolt_turn t JOIN evening e ON e.id = t.evening_id ORDER BY julianday(t.at), t.id"
    ).fetchall()
    found: list[_Equation] = []
    for row in rows:
        then = _then(row["kit_toml"])
        if mount is not None and (then.name, then.size) != (mount.name, mount.size):
            continue
        if abs(row["turns"]) < LEAST_TURNS:
            continue
        around = []
        for order, compare in (("DESC", "<="), ("ASC", ">")):
            around.append(
                book.connection.execute(
                    f"SELECT {column}_arcmin AS value, {column}_variance_arcmin2 AS variance, at "
                    "FROM axis_measure WHERE evening_id = ? "
                    f"AND julianday(at) {compare} julianday(?) "
                    f"ORDER BY julianday(at) {order}, id {order} LIMIT 1",
                    (row["evening_id"], row["at"]),
                ).fetchone()
            )
        before, after = around
        if before is None or after is None or _other_turn_between(book, row, before, after):
            continue
        flat = math.cos(math.radians(row["latitude_deg"])) if bolt == "azimuth" else 1.0
        moved_deg = (after["value"] - before["value"]) / 60.0 / flat
        variance_deg2 = (after["variance"] + before["variance"]) / 3600.0 / flat**2
        turns = float(row["turns"])
        if bolt == "azimuth" and then.pair:
            if abs(moved_deg) < 2.0 * math.sqrt(variance_deg2):
                continue
            turns, moved_deg = abs(turns), abs(moved_deg)
        found.append(_Equation(turns, moved_deg, variance_deg2))
    return found


@functools.lru_cache(maxsize=64)
def _then(kit_toml: str) -> _Then:
    """The mount of a recorded kit; what it does not say is what a kit means by silence."""
    fields, pair = Mount.model_fields, True
    name, size = str(fields["name"].default), str(fields["size"].default)
    try:
        mount = tomllib.loads(kit_toml).get("mount", {})
    except (tomllib.TOMLDecodeError, RecursionError):
        mount = {}
    if isinstance(mount, dict):
        name, size = str(mount.get("name", name)), str(mount.get("size", size))
        bolts = mount.get("bolts", {})
        pair = bool(bolts.get("azimuth_pair", True)) if isinstance(bolts, dict) else True
    return _Then(name, size, pair)


def _other_turn_between(book: Logbook, row: object, before: object, after: object) -> bool:
    """True if more than this one turn of the bolts lies between the two measurements."""
    turn, first, last = dict(row), dict(before), dict(after)  # type: ignore[call-overload]
    found = book.connection.execute(
        "SELECT count(*) FROM bolt_turn WHERE evening_id = ? "
        "AND julianday(at) >= julianday(?) AND julianday(at) < julianday(?)",
        (turn["evening_id"], first["at"], last["at"]),
    ).fetchone()[0]
    return int(found) > 1
