"""Where are the Sun, the Moon and the planets in space?

From an excerpt of the JPL development ephemeris DE440 (R. S. Park, W. M. Folkner, J. G. Williams
and D. H. Boggs 2021, AJ 161, 105), read with jplephem. The outer planets are the barycentres of
their systems (Jupiter's lies within 0.1 arcseconds of the planet as seen from here).
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
class Ephemeris:
    """An open kernel and the terrestrial Julian dates that it spans."""

    kernel: Any
    start_jd: float
    stop_jd: float

    def barycentric_au(self, name: str, tt1: Floats, tt2: Floats) -> Floats:
        """Place from the Solar System's barycentre, ICRS axes, au, shape (n, 3).

        Refuses an unknown name and dates outside the kernel. Dynamical time is taken for
        terrestrial time (less than 2 ms apart: the Moon moves 2 m).
        """
        if name not in _CHAINS:
            raise AxletreeError(f"'{name}' is not one of {', '.join(BODIES)}")
        total = np.zeros((3, np.size(tt1)))
        for pair in _CHAINS[name]:
            total += self.kernel[pair].compute(tt1, tt2)
        return np.ascontiguousarray(total.T) / AU_KM

    def check(self, instants: Instants) -> None:
        """Refuse instants that the kernel doesn't cover."""
        if len(instants) == 0:
            return
        jd = instants.tt1 + instants.tt2
        # A little short of the ends, so that light has time to travel.
        if jd.min() < self.start_jd + 1.0 or jd.max() > self.stop_jd:
            raise BeyondEphemerisError(
                DaysAsked(
                    known_from=_iso(self.start_jd + 1.0),
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
    return Ephemeris(kernel, max(s.start_jd for s in segments), min(s.end_jd for s in segments))
