"""Which way is the Earth turned, and how does it move, at many instants at once?

Precession, nutation and the Earth's motion change smoothly, so they are computed at whole days
and carried to each instant by a cubic through four of them (within 0.0005 arcseconds of the
direct computation); the Earth's rotation angle and polar motion are taken at each instant.
"""

from __future__ import annotations

import functools
from typing import Any

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.time.instants import J2000_JD, Instants

_erfa = erfa.ufunc


@dataclass(frozen=True)
class Orientation:
    """ERFA star-independent contexts `astrom` (n,), refraction off; equation of origins (rad).

    Right ascension from the equinox = right ascension from the CIO - `origins_rad`.
    `observer_au` is the observer's place from the Earth's centre, celestial axes, (n, 3).
    """

    astrom: Any
    origins_rad: Floats
    observer_au: Floats

    @property
    def sidereal_time_rad(self) -> Floats:
        """Local apparent sidereal time (n,), radians, not wrapped."""
        return np.asarray(self.astrom["eral"] - self.origins_rad)


@functools.lru_cache(maxsize=4096)
def _day_row(day: int) -> Floats:
    """X, Y, s, equation of origins, Earth's barycentric p and v, heliocentric p (13 numbers).

    At terrestrial time JD 2451545.0 + `day`; au and au a day; IAU 2006/2000A.
    """
    matrix = _erfa.pnm06a(J2000_JD, float(day))
    x, y = _erfa.bpn2xy(matrix)
    s = _erfa.s06(J2000_JD, float(day), x, y)
    helio, bary, _ = _erfa.epv00(J2000_JD, float(day))
    return np.concatenate(
        [[x, y, s, _erfa.eors(matrix, s)], bary["p"], bary["v"], helio["p"]]
    ).astype(np.float64)


@functools.lru_cache(maxsize=16)
def _rows_of(days: tuple[int, ...]) -> Floats:
    """The rows of some days, (days, 13)."""
    return np.array([_day_row(day) for day in days]).reshape(-1, 13)


def _smooth_rows(tt1: Floats, tt2: Floats) -> Floats:
    """Rows (n, 13) at terrestrial times, by Lagrange's cubic through the four nearest days."""
    since = (tt1 - J2000_JD) + tt2
    day = np.floor(since).astype(np.int64)
    days = sorted(set(day.tolist()))  # np.unique would load masked arrays, 25 ms
    nodes = sorted({d + k for d in days for k in range(-1, 3)})
    table = _rows_of(tuple(nodes))
    first = np.searchsorted(nodes, day - 1)
    x = since - day
    weights = (
        -x * (x - 1.0) * (x - 2.0) / 6.0,
        (x + 1.0) * (x - 1.0) * (x - 2.0) / 2.0,
        -(x + 1.0) * x * (x - 2.0) / 2.0,
        (x + 1.0) * x * (x - 1.0) / 6.0,
    )
    total = weights[0][:, np.newaxis] * table[first]
    for k in (1, 2, 3):
        total = total + weights[k][:, np.newaxis] * table[first + k]
    return np.asarray(total)


def orientation(instants: Instants, observer: Observer | None) -> Orientation:
    """ERFA contexts of this observer at these instants, polar motion included, without air.

    Without an observer they hold for the Earth's centre (no turn, no horizon). Terrestrial time
    stands in for barycentric dynamical time (less than 2 ms apart).
    """
    times = (instants.tt1, instants.tt2, instants.ut11, instants.ut12)
    columns = (*times, instants.xp_rad, instants.yp_rad)
    if len(instants) > _FEW:
        return _oriented(*columns, observer)
    # Many things are asked of the same moments in turn.
    kept = _at_moment if len(instants) == 1 else _at_moments
    return kept(np.concatenate(columns).tobytes(), observer)


# A day in steps of five minutes, 0.1 MB.
_FEW = 301


def _unwritten(columns: bytes, observer: Observer | None) -> Orientation:
    """At the moments of these columns, one after the other; nobody writes into what comes back."""
    tt1, tt2, ut11, ut12, xp_rad, yp_rad = np.frombuffer(columns).reshape(6, -1)
    found = _oriented(tt1, tt2, ut11, ut12, xp_rad, yp_rad, observer)
    for kept in (found.astrom, found.origins_rad, found.observer_au):
        kept.flags.writeable = False
    return found


_at_moment = functools.lru_cache(maxsize=64)(_unwritten)
_at_moments = functools.lru_cache(maxsize=8)(_unwritten)


def _oriented(
    tt1: Floats, tt2: Floats, ut11: Floats, ut12: Floats, xp_rad: Floats, yp_rad: Floats,
    observer: Observer | None,
) -> Orientation:  # fmt: skip
    rows = _smooth_rows(tt1, tt2)
    bary = np.empty(len(rows), dtype=erfa.dt_pv)
    bary["p"], bary["v"] = rows[:, 4:7], rows[:, 7:10]
    sun_to_earth = np.ascontiguousarray(rows[:, 10:13])
    x, y, s, origins = (rows[:, k].copy() for k in range(4))
    if observer is None:
        astrom = _erfa.apci(tt1, tt2, bary, sun_to_earth, x, y, s)
        return Orientation(astrom, origins, np.zeros((len(rows), 3)))
    astrom = _erfa.apco(
        tt1,
        tt2,
        bary,
        sun_to_earth,
        x,
        y,
        s,
        _erfa.era00(ut11, ut12),
        observer.longitude_rad,
        observer.latitude_rad,
        observer.elevation_m,
        xp_rad,
        yp_rad,
        _erfa.sp00(tt1, tt2),
        0.0,
        0.0,
    )
    return Orientation(astrom, origins, astrom["eb"] - bary["p"])
