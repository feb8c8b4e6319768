"""Where does the whole catalogue stand through a whole night, quickly?

The way: what changes slowly (proper motion, parallax, deflection by the Sun) once a day and
object, as a unit vector; what is the same for all objects (aberration, precession-nutation,
Earth rotation, polar motion, latitude) once an instant, as one matrix of 3 rows and 4 columns,
the fourth holding first-order aberration. Their product is the local direction. Chunks stay in
the processor's cache. "exact" works and answers in float64 (0.005 arcseconds from the direct
way), "display" in float32 (0.2 arcseconds).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from axletree.kit.errors import AxletreeError
from axletree.sky.matrices import equatorial_matrices, knot_values, tents, unit_vectors
from axletree.sky.observer import Observer
from axletree.sky.orientation import Orientation, orientation
from axletree.sky.positions import StarLike, places_at_j2000
from axletree.sky.quick_air import Buffers, QuickAir, fill_azimuth
from axletree.sky.time import Instants

Floats = NDArray[np.float64]
Reals = NDArray[np.floating[Any]]
Column = Literal["altitude", "azimuth", "hour_angle", "declination"]
Precision = Literal["exact", "display"]
COLUMNS: tuple[Column, ...] = ("altitude", "azimuth", "hour_angle", "declination")

_RUN_S = 80_000.0  # under a turn of the sky, so that an hour angle wraps once at most
_CHUNK_BYTES = 192_000  # one working array: small enough to stay near the processor


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
class _Run:
    """What all objects share on one day: instants `columns`, and factors for them."""

    columns: slice
    vectors: Reals  # (objects, 4): unit vectors and a 1 for aberration
    local: Reals  # (3, 4, n): minus east, minus north, up
    tent: Reals  # (knots, n): weights of linear interpolation between knots
    knots_h: Reals  # (objects, knots): hour angle, unwrapped
    knots_dec: Reals  # (objects, knots)


def night_table(
    stars: StarLike,
    instants: Instants,
    observer: Observer,
    what: tuple[Column, ...] = COLUMNS,
    precision: Precision = "exact",
    out: NightTable | None = None,
    threads: int = 1,
) -> NightTable:
    """The columns `what` of all stars at all instants, (objects, instants).

    Instants must not go back in time. `out`, a table of the same shape, columns and precision,
    is filled again, which saves the cost of fresh memory. More `threads` help a little where
    processors stand idle and hurt where they don't.
    """
    dtype = _dtype(precision)
    _check_columns(what)
    shape = (len(stars.ra_deg), len(instants))
    table = _empty(shape, what, dtype) if out is None else out
    _check_out(table, shape, what, dtype)
    kernel = _Kernel(stars, instants, observer, what, dtype)
    kernel.fill(table, slice(0, shape[0]), threads)
    return table


def night_blocks(
    stars: StarLike,
    instants: Instants,
    observer: Observer,
    what: tuple[Column, ...] = COLUMNS,
    precision: Precision = "exact",
    block: int = 512,
    threads: int = 1,
) -> Iterator[tuple[slice, NightTable]]:
    """The same in blocks of objects: yields which objects, and their table.

    The table's memory is used again for the next block (copy what you keep), so that any
    number of objects needs no more than one block.
    """
    dtype = _dtype(precision)
    _check_columns(what)
    kernel = _Kernel(stars, instants, observer, what, dtype)
    count, n = len(stars.ra_deg), len(instants)
    buffer = _empty((min(block, count), n), what, dtype)
    for first in range(0, count, block):
        rows = slice(first, min(first + block, count))
        size = rows.stop - rows.start
        part = NightTable(*(getattr(buffer, f)[:size] for f in NightTable.__dataclass_fields__))
        kernel.fill(part, rows, threads)
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


class _Kernel:
    """Everything that is worked out once, and the loop that fills the arrays from it."""

    def __init__(
        self,
        stars: StarLike,
        instants: Instants,
        observer: Observer,
        what: tuple[Column, ...],
        dtype: Any,
    ) -> None:
        seconds = instants.seconds_since(instants[0]) if len(instants) else np.zeros(0)
        if np.any(np.diff(seconds) < 0.0):
            raise AxletreeError("the instants of a night table must not go back in time")
        self.what, self.dtype = what, dtype
        self.air = QuickAir(observer, dtype)
        turned = orientation(instants, observer)
        places = places_at_j2000(stars)
        day = np.floor(seconds / _RUN_S)
        edges = [0, *(np.flatnonzero(np.diff(day)) + 1), len(seconds)]
        self.runs = [
            _run(places, turned, seconds, slice(int(a), int(b)), observer, what, dtype)
            for a, b in itertools.pairwise(edges)
            if b > a
        ]

    def fill(self, table: NightTable, objects: slice, threads: int) -> None:
        """Fill `table`, whose rows are these objects."""
        jobs: list[tuple[_Run, int, int]] = []
        per_chunk = _CHUNK_BYTES // np.dtype(self.dtype).itemsize
        for run in self.runs:
            size = max(1, per_chunk // max(1, run.columns.stop - run.columns.start))
            starts = range(objects.start, objects.stop, size)
            jobs += [(run, a, min(a + size, objects.stop)) for a in starts]
        if threads <= 1 or len(jobs) < 2 * threads:
            self._work(table, objects.start, jobs)
            return
        with ThreadPoolExecutor(threads) as pool:
            parts = [jobs[k::threads] for k in range(threads)]
            list(pool.map(lambda part: self._work(table, objects.start, part), parts))

    def _work(self, table: NightTable, first: int, jobs: list[tuple[_Run, int, int]]) -> None:
        buffers: dict[tuple[int, int], Buffers] = {}
        altitude, azimuth, hour_angle, declination = _arrays(table)
        with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
            for run, a, b in jobs:
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
                    np.matmul(run.knots_h[a:b], run.tent, out=H)
                    np.greater(H, 12.0, out=work.mask)
                    np.subtract(H, 24.0, out=H, where=work.mask)
                if "declination" in self.what:
                    np.matmul(run.knots_dec[a:b], run.tent, out=declination[rows, run.columns])


def _run(
    places: tuple[Floats, ...],
    turned: Orientation,
    seconds: Floats,
    columns: slice,
    observer: Observer,
    what: tuple[Column, ...],
    dtype: Any,
) -> _Run:
    astrom = np.ascontiguousarray(turned.astrom[columns])
    middle = astrom[len(astrom) // 2]
    vectors = unit_vectors(places, middle)
    both = equatorial_matrices(astrom)
    phi = observer.latitude_rad
    to_meridian, west, pole = both[:, 0], both[:, 1], both[:, 2]
    minus_east = west
    minus_north = np.sin(phi) * to_meridian - np.cos(phi) * pole
    up = np.cos(phi) * to_meridian + np.sin(phi) * pole
    local = np.stack([minus_east.T, minus_north.T, up.T])
    four = np.concatenate([vectors, np.ones((len(vectors), 1))], axis=1)
    knots, tent = tents(seconds[columns])
    knots_h = knots_dec = np.empty((0, 0))
    if "hour_angle" in what or "declination" in what:
        knots_h, knots_dec = knot_values(both[knots], four, astrom["eral"][knots])
    return _Run(
        columns=columns,
        vectors=np.ascontiguousarray(four, dtype=dtype),
        local=np.ascontiguousarray(local, dtype=dtype),
        tent=np.ascontiguousarray(tent, dtype=dtype),
        knots_h=np.ascontiguousarray(knots_h, dtype=dtype),
        knots_dec=np.ascontiguousarray(knots_dec, dtype=dtype),
    )
