"""Where do Io, Europa, Ganymede and Callisto stand about Jupiter?

V. Lainey, L. Duriez and A. Vienne 2006, Astron. Astrophys. 456, 783 (theory L1), in the shortened
form of data/jupiter_moons.json: osculating elements as sums of cosines and sines. Its letters:
semi-major axis a, mean longitude L, z = e exp(i perijove), zeta = sin(I/2) exp(i node).
"""

from __future__ import annotations

import functools
import json

import numpy as np

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints
from axletree.sky.positions.ephemeris import AU_KM
from axletree.sky.time.instants import J2000_JD

MOONS = ("io", "europa", "ganymede", "callisto")


@dataclass(frozen=True)
class _Series:
    """Terms of one element: amplitude, phase (rad), frequency (rad a day), each (4, terms)."""

    amplitude: Floats
    phase: Floats
    frequency: Floats


@dataclass(frozen=True)
class _Theory:
    epoch_days: float
    to_icrs: Floats
    gm: Floats
    longitude: Floats
    a: _Series
    L: _Series
    z: _Series
    zeta: _Series


@functools.cache
def _theory() -> _Theory:
    document = json.loads(data_path("jupiter_moons.json").read_text(encoding="utf-8"))
    moons = [document["moons"][name] for name in MOONS]

    def series(key: str) -> _Series:
        width = max(len(moon[key]) for moon in moons)
        table = np.zeros((3, len(MOONS), width))  # a missing term has no amplitude
        for k, moon in enumerate(moons):
            table[:, k, : len(moon[key])] = np.array(moon[key]).T
        return _Series(*table)

    return _Theory(
        epoch_days=document["epoch_tt_jd"] - J2000_JD,
        to_icrs=np.array(document["to_icrs"]),
        gm=np.array([moon["gm_au3_per_day2"] for moon in moons]),
        longitude=np.array([moon["longitude_rad"] for moon in moons]),
        a=series("a_au"),
        L=series("longitude_terms_rad"),
        z=series("eccentricity"),
        zeta=series("half_inclination"),
    )


def _sums(series: _Series, moon: Ints, t: Floats) -> tuple[Floats, Floats]:
    """Sums of the cosines and of the sines, (n,)."""
    angle = series.phase[moon] + series.frequency[moon] * t[:, np.newaxis]
    A = series.amplitude[moon]
    return np.sum(A * np.cos(angle), axis=1), np.sum(A * np.sin(angle), axis=1)


def jovicentric_km(moon: Ints, days: Floats) -> tuple[Floats, Floats]:
    """Places (km) and velocities (km/s) from Jupiter's centre, ICRS axes, each (n, 3).

    `moon` (n,) counts `MOONS` from 0; `days` (n,) of dynamical time from J2000.0. Another
    theory (J. H. Lieske's E5) lies 160 km (Io) to 900 km (Callisto) from it in 2026-36, rms.
    """
    theory = _theory()
    t = np.asarray(days, dtype=np.float64) - theory.epoch_days
    a, _ = _sums(theory.a, moon, t)
    _, more = _sums(theory.L, moon, t)
    L = theory.longitude[moon, 0] + theory.longitude[moon, 1] * t + more
    k, h = _sums(theory.z, moon, t)
    q, p = _sums(theory.zeta, moon, t)
    # Kepler's equation for the eccentric longitude: E - k sin E + h cos E = L.
    E = L + k * np.sin(L) - h * np.cos(L)
    for _ in range(3):  # the eccentricity stays below 0.01: each turn squares the error
        E -= (E - k * np.sin(E) + h * np.cos(E) - L) / (1.0 - k * np.cos(E) - h * np.sin(E))
    c, s = np.cos(E), np.sin(E)
    psi = 1.0 / (1.0 + np.sqrt(1.0 - k * k - h * h))
    lag, ratio = h * c - k * s, 1.0 - k * c - h * s
    x = a * (c - k - psi * h * lag)
    y = a * (s - h + psi * k * lag)
    speed = np.sqrt(theory.gm[moon] / a) / ratio
    vx = speed * (-s - psi * h * (ratio - 1.0))
    vy = speed * (c + psi * k * (ratio - 1.0))
    cosine = np.sqrt(1.0 - q * q - p * p)

    def lifted(u: Floats, v: Floats) -> Floats:
        """From the plane of the orbit to Jupiter's equator, and on to the ICRS."""
        side = p * u - q * v
        flat = np.stack([u - 2.0 * p * side, v + 2.0 * q * side, -2.0 * cosine * side], axis=-1)
        return np.asarray(flat @ theory.to_icrs.T)

    return lifted(x, y) * AU_KM, lifted(vx, vy) * (AU_KM / 86400.0)
