"""Where are the Sun, the Moon and the planets in space?

From an excerpt of the JPL development ephemeris DE440 (R. S. Park, W. M. Folkner, J. G. Williams
and D. H. Boggs 2021, AJ 161, 105), opened with jplephem; its series are summed here, in half the
time and less. The outer planets are the barycentres of their systems (Jupiter's lies within 0.1
arcseconds of the planet as seen from here).
"""

from __future__ import annotations

import atexit
import functools
from typing import Any

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.time.instants import Instants

# Whole years of the shipped kernel, for all nights: what begins in the last one ends in it.
FIRST_YEAR, LAST_YEAR = 2020, 2049
AU_KM = 149597870.7
LIGHT_AU_PER_DAY = 173.144632674240

_CHAINS: dict[str, tuple[tuple[int, int], ...]] = {
    "sun": ((0, 10),),
    "moon": ((0, 3), (3, 301)),
    "mercury": ((0, 1),),
    "venus": ((0, 2),),
    "earth": ((0, 3), (3, 399)),
    "mars": ((0, 4),),
    "jupiter": ((0, 5),),
    "saturn": ((0, 6),),
    "uranus": ((0, 7),),
    "neptune": ((0, 8),),
}
PLANETS = ("mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune")
FAINT_PLANETS = ("uranus", "neptune")  # no bare eye finds them
DIM_PLANETS = ("mercury", "mars", "saturn")  # mostly no brighter than the brightest stars
BODIES = ("sun", "moon", *PLANETS)


@dataclass(frozen=True)
class DaysAsked:
    """The first and last day (ISO 8601) that an ephemeris knows, and those that were asked."""

    known_from: str
    known_to: str
    asked_from: str
    asked_to: str


class BeyondEphemerisError(AxletreeError):
    """Instants were asked that the ephemeris doesn't cover; `days` says which."""

    def __init__(self, days: DaysAsked) -> None:
        super().__init__(
            f"the Sun, Moon and planets are known from {days.known_from} to {days.known_to};"
            f" {days.asked_from} to {days.asked_to} was asked"
        )
        self.days = days

    def __reduce__(self) -> tuple[type[BeyondEphemerisError], tuple[DaysAsked]]:
        return BeyondEphemerisError, (self.days,)


@dataclass(frozen=True)
class _Series:
    """One body's Chebyshev coefficients about another: `rows` (spans, 3, degrees), km.

    The first span begins at `start_jd`, each is `length_days` long.
    """

    start_jd: float
    length_days: float
    rows: Floats

    def km(self, jd1: Floats, jd2: Floats) -> Floats:
        """Place (n, 3) at two-part dates (n,), which its spans must hold."""
        since = jd1 - self.start_jd
        span = np.floor((since + jd2) / self.length_days).astype(np.intp)
        np.minimum(span, len(self.rows) - 1, out=span)  # its very end belongs to the last
        # The whole days go first, so that the fraction of one keeps its digits.
        part = ((since - span * self.length_days) + jd2) / self.length_days
        chebyshev = _chebyshev(2.0 * part - 1.0, self.rows.shape[2])
        return np.asarray(np.einsum("nck,kn->nc", self.rows[span], chebyshev))


# Of fewer places the polynomials' cosines are quicker than their recurrence.
_FEW = 100


def _chebyshev(x: Floats, count: int) -> Floats:
    """The first polynomials of x (n,) within -1 and 1, (count, n).

    Source: M. Abramowitz and I. A. Stegun 1964, Handbook of Mathematical Functions, 22.3.15 and
    22.7.4.
    """
    if len(x) < _FEW:
        angle = np.arccos(np.minimum(np.maximum(x, -1.0), 1.0))
        return np.asarray(np.cos(np.arange(count)[:, np.newaxis] * angle))
    found = np.empty((count, len(x)))
    found[0], found[1] = 1.0, x
    twice = 2.0 * x
    for k in range(2, count):
        np.multiply(twice, found[k - 1], out=found[k])
        found[k] -= found[k - 2]
    return found


@dataclass(frozen=True)
class Ephemeris:
    """The bodies of an open kernel and the terrestrial Julian dates that it spans."""

    series: dict[tuple[int, int], _Series]
    start_jd: float
    stop_jd: float

    def barycentric_au(self, name: str, tt1: Floats, tt2: Floats) -> Floats:
        """Place from the Solar System's barycentre, ICRS axes, au, shape (n, 3).

        Refuses an unknown name and dates outside the kernel. Dynamical time is taken for
        terrestrial time (less than 2 ms apart: the Moon moves 2 m).
        """
        if name not in _CHAINS:
            raise AxletreeError(f"'{name}' is not one of {', '.join(BODIES)}")
        self._refuse_beyond(tt1 + tt2, self.start_jd)
        first, *further = (self.series[pair].km(tt1, tt2) for pair in _CHAINS[name])
        return np.asarray(sum(further, first) / AU_KM)

    def check(self, instants: Instants) -> None:
        """Refuse instants that the kernel doesn't cover."""
        # A little short of the ends, so that light has time to travel.
        self._refuse_beyond(instants.tt1 + instants.tt2, self.start_jd + 1.0)

    def _refuse_beyond(self, jd: Floats, first_jd: float) -> None:
        if jd.size and (jd.min() < first_jd or jd.max() > self.stop_jd):
            raise BeyondEphemerisError(
                DaysAsked(
                    known_from=_iso(first_jd),
                    known_to=_iso(self.stop_jd),
                    asked_from=_iso(jd.min()),
                    asked_to=_iso(jd.max()),
                )
            )


def _iso(jd: float) -> str:
    import erfa

    year, month, day, _ = erfa.jd2cal(jd, 0.0)
    return f"{year:04d}-{month:02d}-{day:02d}"


@functools.cache
def load_ephemeris(path: str | None = None) -> Ephemeris:
    """The shipped DE440 excerpt (2020-2050), or another SPK kernel at `path`."""
    from jplephem.spk import SPK

    from axletree.data import data_path

    kernel = SPK.open(str(data_path("planets.bsp")) if path is None else path)
    atexit.register(kernel.close)
    needed = {pair for chain in _CHAINS.values() for pair in chain}
    segments = [s for s in kernel.segments if (s.center, s.target) in needed]
    series = {pair: _series(kernel[pair]) for pair in needed if pair in kernel.pairs}
    return Ephemeris(series, max(s.start_jd for s in segments), min(s.end_jd for s in segments))


def _series(segment: Any) -> _Series:
    start_jd, length_days, coefficients = segment.load_array()  # a view of the file
    return _Series(start_jd, length_days, coefficients.transpose(1, 0, 2))
