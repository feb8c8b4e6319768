"""What is doubtful in a measurement of the axis: which rows, how badly, and what might explain it?

A doubt is data with its figures, so that it can be noted, read again, and carried into everything
that is made from the measurement.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from enum import StrEnum
from typing import Any

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats

# A row of whose own error less than this shows in the misfits counts as unchecked.
LEAST_SHOWN = 0.5
_MOST_NOTED = 1000


class DoubtKind(StrEnum):
    """What is doubtful."""

    DISAGREEING = "disagreeing"  # the rows contradict each other, nobody can tell which is wrong
    UNCHECKED = "unchecked"  # a mistake in these rows would hardly show
    ALL_REVERSED = "all reversed"  # the whole set contradicts what was known, unless mirrored


class Mistake(StrEnum):
    """What may have happened to a row."""

    REVERSED = "reversed"  # north and south swapped
    MISTAKEN = "mistaken"  # wrong by any amount


@dataclass(frozen=True)
class Explanation:
    """One mistake that would make the rows agree. `rows`: those that it happened to.

    `off_arcsec`: by how much a mistaken row would be wrong, measured minus what the others say;
    None for a swap.
    """

    mistake: Mistake
    rows: tuple[int, ...]
    off_arcsec: float | None = None


@dataclass(frozen=True)
class Doubt:
    """One doubt. `rows`: the rows that it is about, places in the order given.

    `shown` (rows,): part of each row's own error that shows in the misfits. `slopes` (rows, 2):
    what one arcminute of high and of east does to each, in standard deviations. `explanations`:
    rows counted as in the measurement. `chance`: how often honest noise would disagree as badly.
    `widened`: factor put on the error in its worst direction. `names`: every row of the
    measurement, for whoever tells it.
    """

    kind: DoubtKind
    rows: tuple[int, ...]
    shown: tuple[float, ...] = ()
    slopes: Floats = field(default_factory=lambda: np.zeros((0, 2)))
    explanations: tuple[Explanation, ...] = ()
    chance: float = 1.0
    widened: float = 1.0
    names: tuple[str, ...] = ()


def shown_among(slopes: Floats, information: Floats) -> Floats:
    """Part (rows,) of each row's own error that shows among everything that makes `information`.

    `information` (2, 2) holds the rows' own. The square root of the redundancy number.
    """
    inverse = np.linalg.pinv(information, rcond=1e-12, hermitian=True)
    absorbed = np.einsum("...ij,...jk,...ik->...i", slopes, inverse, slopes)
    return np.asarray(np.sqrt(np.clip(1.0 - absorbed, 0.0, 1.0)))


def unchecked(rows: Sequence[int], shown: Floats, slopes: Floats) -> Doubt | None:
    """The doubt about those of the rows whose own error would hardly show; None if there is none.

    `rows`: their numbers; `shown` (rows,) and `slopes` (rows, 2) stand in the same order.
    """
    weak = [k for k in range(len(rows)) if shown[k] < LEAST_SHOWN]
    if not weak:
        return None
    return Doubt(
        DoubtKind.UNCHECKED,
        tuple(rows[k] for k in weak),
        tuple(float(shown[k]) for k in weak),
        np.asarray(slopes[weak]),
    )


def still_standing(doubt: Doubt, information: Floats) -> Doubt | None:
    """What remains of a doubt when other measurements bring the information up to this (2, 2).

    Only rows that nothing checked can be checked by others; any other doubt stays.
    """
    if doubt.kind is not DoubtKind.UNCHECKED:
        return doubt
    # More measurements never show less; an information widened for a contradiction would.
    shown = np.maximum(doubt.shown, shown_among(doubt.slopes, information))
    found = unchecked(doubt.rows, shown, doubt.slopes)
    return None if found is None else replace(found, names=doubt.names)


def doubt_record(doubt: Doubt) -> dict[str, Any]:
    """A doubt as plain data, for a line of the notes and for programs."""
    return {
        "kind": doubt.kind.value,
        "rows": list(doubt.rows),
        "names": list(doubt.names),
        "shown": list(doubt.shown),
        "slopes_per_arcmin": doubt.slopes.tolist(),
        "explanations": [
            {"mistake": e.mistake.value, "rows": list(e.rows), "off_arcsec": e.off_arcsec}
            for e in doubt.explanations
        ],
        "chance": doubt.chance,
        "widened": doubt.widened,
    }


def doubt_of(record: object) -> Doubt | None:
    """The doubt of a record that may have been damaged; None where it makes no sense."""
    try:
        if not isinstance(record, Mapping):
            return None
        names = tuple(str(name) for name in record["names"])
        rows, count = _rows(record["rows"]), len(names)
        slopes = np.array(record["slopes_per_arcmin"], dtype=np.float64).reshape(-1, 2)
        shown = tuple(_finite(v) for v in record["shown"])
        explanations = tuple(
            Explanation(
                Mistake(e["mistake"]),
                _rows(e["rows"]),
                None if e["off_arcsec"] is None else _finite(e["off_arcsec"]),
            )
            for e in record["explanations"]
        )
        chance, widened = _finite(record["chance"]), _finite(record["widened"])
        kind = DoubtKind(record["kind"])
    except (KeyError, TypeError, ValueError, OverflowError):
        return None
    told = [*rows, *(k for e in explanations for k in e.rows)]
    sized = len(slopes) == len(rows) and len(shown) == len(rows) and bool(rows)
    if not sized or len(told) > _MOST_NOTED or not all(0 <= k < count for k in told):
        return None
    if not np.all(np.abs(slopes) < 1e6):
        return None
    return Doubt(kind, rows, shown, slopes, explanations, chance, widened, names)


def _rows(value: Any) -> tuple[int, ...]:
    return tuple(int(k) for k in value)


def _finite(value: Any) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise ValueError("not a finite number")
    return number
