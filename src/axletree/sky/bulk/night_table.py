"""Where does the whole catalogue stand through a whole night, quickly?

The way: factors that all objects share (see `table_runs`), whose product is the local direction.
Chunks stay in the processor's cache. "exact" works and answers in float64 (0.005 arcseconds from
the direct way), "display" in float32 (0.2 arcseconds). The loops are in numpy, or compiled
(`table_kernel`) where that pays.
"""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any, Literal

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kernels import Way, kernel
from axletree.sky.air.quick import Buffers, QuickAir, fill_azimuth
from axletree.sky.arrays import Reals
from axletree.sky.bulk.matrices import knot_values
from axletree.sky.bulk.table_runs import Run, table_runs
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import StarLike
from axletree.sky.time.instants import Instants

Column = Literal["altitude", "azimuth", "hour_angle", "declination"]
Precision = Literal["exact", "display"]
COLUMNS: tuple[Column, ...] = ("altitude", "azimuth", "hour_angle", "declination")

_CHUNK_BYTES = 192_000  # one working array: small enough to stay near the processor
_SAVED_S = 4e-9  # by compiled code, a number of the table


@dataclass(frozen=True)
class NightTable:
    """Arrays of shape (objects, instants), float64 ("exact") or float32 ("display").

    `altitude_deg` as seen through the air, `azimuth_deg` 0-360 from north through east,
    `hour_angle_h` within (-12, 12] positive west, `declination_deg` apparent of date.
    A column that wasn't asked for has shape (0, 0).
    """

    altitude_deg: Reals
    azimuth_deg: Reals
    hour_angle_h: Reals
    declination_deg: Reals


@dataclass(frozen=True)
class Work:
    """How the processor works: in numpy or compiled, and in how many threads at once. More of them
    help a little where processors stand idle and hurt where they don't."""

    way: Way = "auto"
    threads: int = 1


ALONE = Work()


def night_table(
    stars: StarLike,
    instants: Instants,
    observer: Observer,
    what: tuple[Column, ...] = COLUMNS,
    precision: Precision = "exact",
    out: NightTable | None = None,
    work: Work = ALONE,
) -> NightTable:
    """The columns `what` of all stars at all instants, (objects, instants).

    Instants must not go back in time. `out`, a table of the same shape, columns and precision,
    is filled again, which saves the cost of fresh memory.
    """
    dtype = _dtype(precision)
    _check_columns(what)
    shape = (len(stars.ra_deg), len(instants))
    table = _empty(shape, what, dtype) if out is None else out
    _check_out(table, shape, what, dtype)
    filler = _Filler(stars, instants, observer, what, dtype, work.way)
    filler.fill(table, slice(0, shape[0]), work.threads)
    return table


def night_blocks(
    stars: StarLike,
    instants: Instants,
    observer: Observer,
    what: tuple[Column, ...] = COLUMNS,
    precision: Precision = "exact",
    block: int = 512,
    work: Work = ALONE,
) -> Iterator[tuple[slice, NightTable]]:
    """The same in blocks of objects: yields which objects, and their table.

    The table's memory is used again for the next block (copy what you keep), so that any
    number of objects needs no more than one block.
    """
    dtype = _dtype(precision)
    _check_columns(what)
    filler = _Filler(stars, instants, observer, what, dtype, work.way)
    count, n = len(stars.ra_deg), len(instants)
    buffer = _empty((min(block, count), n), what, dtype)
    for first in range(0, count, block):
        rows = slice(first, min(first + block, count))
        size = rows.stop - rows.start
        part = NightTable(*(getattr(buffer, f)[:size] for f in NightTable.__dataclass_fields__))
        filler.fill(part, rows, work.threads)
        yield rows, part


def _dtype(precision: str) -> Any:
    kinds = {"exact": np.float64, "display": np.float32}
    if precision not in kinds:
        raise AxletreeError(f"precision '{precision}' is not one of 'exact', 'display'")
    return kinds[precision]


def _check_columns(what: tuple[Column, ...]) -> None:
    wrong = [w for w in what if w not in COLUMNS]
    if wrong:
        raise AxletreeError(f"column '{wrong[0]}' is not one of {', '.join(COLUMNS)}")


def _empty(shape: tuple[int, int], what: tuple[Column, ...], dtype: Any) -> NightTable:
    return NightTable(*(np.empty(shape if c in what else (0, 0), dtype) for c in COLUMNS))


def _check_out(
    table: NightTable, shape: tuple[int, int], what: tuple[Column, ...], dtype: Any
) -> None:
    for column, array in zip(COLUMNS, _arrays(table), strict=True):
        if column in what and (array.shape != shape or array.dtype != dtype):
            raise AxletreeError(
                f"out.{column} is {array.dtype} of shape {array.shape}; it must be"
                f" {np.dtype(dtype)} of shape {shape}"
            )


def _arrays(table: NightTable) -> tuple[Reals, Reals, Reals, Reals]:
    return table.altitude_deg, table.azimuth_deg, table.hour_angle_h, table.declination_deg


class _Filler:
    """Everything that is worked out once, and the loop that fills the arrays from it."""

    def __init__(
        self,
        stars: StarLike,
        instants: Instants,
        observer: Observer,
        what: tuple[Column, ...],
        dtype: Any,
        way: Way,
    ) -> None:
        seconds = instants.seconds_since(instants[0]) if len(instants) else np.zeros(0)
        if np.any(np.diff(seconds) < 0.0):
            raise AxletreeError("the instants of a night table must not go back in time")
        self.what, self.dtype = what, dtype
        self.air = QuickAir(observer, dtype)
        self.runs = table_runs(stars, instants, seconds, observer, dtype)
        saved_s = len(stars.ra_deg) * len(seconds) * len(what) * _SAVED_S
        self.kernel = kernel("axletree.sky.bulk.table_kernel", way, saved_s)
        self.knots: dict[int, tuple[Reals, Reals]] = {}  # hour angle and declination, by run
        if self.kernel is None and not {"hour_angle", "declination"}.isdisjoint(what):
            for k, run in enumerate(self.runs):
                H, d = knot_values(run.matrices, run.four, run.turn_rad)
                self.knots[k] = (
                    np.ascontiguousarray(H, dtype=dtype),
                    np.ascontiguousarray(d, dtype=dtype),
                )

    def fill(self, table: NightTable, objects: slice, threads: int) -> None:
        """Fill `table`, whose rows are these objects."""
        jobs: list[tuple[int, int, int]] = []
        for k, run in enumerate(self.runs):
            size = self._rows_at_once(run, objects.stop - objects.start, threads)
            starts = range(objects.start, objects.stop, size)
            jobs += [(k, a, min(a + size, objects.stop)) for a in starts]
        work = self._in_numpy if self.kernel is None else self._compiled
        if threads <= 1 or len(jobs) < threads:
            work(table, objects.start, jobs)
            return
        with ThreadPoolExecutor(threads) as pool:
            parts = [jobs[k::threads] for k in range(threads)]
            list(pool.map(lambda part: work(table, objects.start, part), parts))

    def _rows_at_once(self, run: Run, rows: int, threads: int) -> int:
        if self.kernel is not None:
            return max(1, -(-rows // max(1, threads)))
        a_row = max(1, run.vectors.itemsize * run.local.shape[2])
        return max(1, _CHUNK_BYTES // int(a_row))

    def _compiled(self, table: NightTable, first: int, jobs: list[tuple[int, int, int]]) -> None:
        for k, a, b in jobs:
            self.kernel.fill_run(self.runs[k], self.air, (a, b, first), *_arrays(table))

    def _in_numpy(self, table: NightTable, first: int, jobs: list[tuple[int, int, int]]) -> None:
        buffers: dict[tuple[int, int], Buffers] = {}
        altitude, azimuth, hour_angle, declination = _arrays(table)
        with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
            for k, a, b in jobs:
                run = self.runs[k]
                n = run.columns.stop - run.columns.start
                work = buffers.get((b - a, n))
                if work is None:
                    work = buffers[b - a, n] = Buffers(b - a, n, self.dtype)
                rows = slice(a - first, b - first)
                if "altitude" in self.what or "azimuth" in self.what:
                    np.matmul(run.vectors[a:b], run.local, out=work.product)
                if "azimuth" in self.what:
                    fill_azimuth(work, azimuth[rows, run.columns])
                if "altitude" in self.what:
                    self.air.fill_altitude(work, altitude[rows, run.columns])
                if "hour_angle" in self.what:
                    H = hour_angle[rows, run.columns]
                    np.matmul(self.knots[k][0][a:b], run.tent, out=H)
                    np.greater(H, 12.0, out=work.mask)
                    np.subtract(H, 24.0, out=H, where=work.mask)
                if "declination" in self.what:
                    np.matmul(self.knots[k][1][a:b], run.tent, out=declination[rows, run.columns])
