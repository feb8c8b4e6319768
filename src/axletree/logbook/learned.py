"""What does the record teach about the bolts: how many turns move the axis by a degree?

Each bolt turn that stands between two measurements of the axis (the latest before and the first
after it) gives one equation: turns = k * moved degrees. The estimate is the least-squares k
through the origin, weighted by the measurements' errors, with its standard deviation.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from axletree.logbook.store import Logbook

LEAST_TURNS = 0.05


@dataclass(frozen=True)
class TurnsPerDegree:
    """The learned figure, its standard deviation, and on how many turns it rests."""

    turns_per_degree: float
    sigma: float
    count: int


def turns_per_degree(book: Logbook, bolt: Literal["altitude", "azimuth"]) -> TurnsPerDegree | None:
    """What the record says of one bolt; None until a turn stands between two measurements.

    Azimuth is counted along the horizon: the axis's `east` angle divided by the cosine of the
    site's latitude.
    """
    column = "high" if bolt == "altitude" else "east"
    weight_sum = product = 0.0
    count = 0
    rows = book.connection.execute(
        f"SELECT t.{bolt}_turns AS turns, t.at, t.evening_id, e.latitude_deg FROM bolt_turn t "
        "JOIN evening e ON e.id = t.evening_id ORDER BY t.at, t.id"
    ).fetchall()
    for row in rows:
        if abs(row["turns"]) < LEAST_TURNS:
            continue
        found = []
        for order, compare in (("DESC", "<="), ("ASC", ">")):
            found.append(
                book.connection.execute(
                    f"SELECT {column}_arcmin AS value, {column}_variance_arcmin2 AS variance, at "
                    f"FROM axis_measure WHERE evening_id = ? AND at {compare} ? "
                    f"ORDER BY at {order}, id {order} LIMIT 1",
                    (row["evening_id"], row["at"]),
                ).fetchone()
            )
        before, after = found
        if before is None or after is None or _other_turn_between(book, row, before, after):
            continue
        flat = math.cos(math.radians(row["latitude_deg"])) if bolt == "azimuth" else 1.0
        moved_deg = (after["value"] - before["value"]) / 60.0 / flat
        variance_deg2 = (after["variance"] + before["variance"]) / 3600.0 / flat**2
        weight = 1.0 / max(variance_deg2, 1e-8)
        # moved = turns / k, so 1/k is the slope of moved on turns.
        weight_sum += weight * row["turns"] ** 2
        product += weight * row["turns"] * moved_deg
        count += 1
    if not count or product == 0.0:
        return None
    slope = product / weight_sum
    return TurnsPerDegree(1.0 / slope, 1.0 / (math.sqrt(weight_sum) * slope**2), count)


def _other_turn_between(book: Logbook, row: object, before: object, after: object) -> bool:
    """True if more than this one turn of the bolts lies between the two measurements."""
    turn, first, last = dict(row), dict(before), dict(after)  # type: ignore[call-overload]
    found = book.connection.execute(
        "SELECT count(*) FROM bolt_turn WHERE evening_id = ? AND at >= ? AND at < ?",
        (turn["evening_id"], first["at"], last["at"]),
    ).fetchone()[0]
    return int(found) > 1
