"""Where does Titan stand about Saturn?

G. Dourneau's theory (thesis, Bordeaux 1987) as printed by J. Meeus, Astronomical Algorithms, 2nd
ed. 1998, ch. 46; the printed numbers from memory. The paper's letters, angles in degrees, referred
to the ecliptic and equinox B1950.0. The mean distance is that of Kepler's third law with Saturn's
mass (R. A. Jacobson 2022, AJ 164, 199): the book's unit, Saturn's radius, leaves it 0.3 % short.
"""

from __future__ import annotations

import erfa
import numpy as np

from axletree.sky.arrays import Floats, Ints

_A_KM = 1221870.0
_B1950_OBLIQUITY_DEG = 23.4457889


def _elements(days: Floats) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Mean longitude, eccentricity, perisaturnium, inclination, node; degrees."""
    rad = np.radians
    jd = np.asarray(days, dtype=np.float64) + 2451545.0
    t4 = jd - 2411368.0
    t5 = t4 / 365.25
    t7 = (jd - 2415020.0) / 36525.0
    W3 = 42.0 - 0.5118 * t5
    W4 = 276.59 + 0.5118 * t5
    W5 = 267.2635 + 1222.1136 * t7
    W6 = 175.4762 + 1221.5515 * t7
    W7 = 2.4891 + 0.002435 * t7
    W8 = 113.35 - 0.2597 * t7
    e1 = 0.05589 - 0.000346 * t7
    L = 261.1582 + 22.57697855 * t4 + 0.074025 * np.sin(rad(W3))
    i1 = 27.45141 + 0.295999 * np.cos(rad(W3))
    N1 = 168.66925 + 0.628808 * np.sin(rad(W3))
    a1 = np.sin(rad(W7)) * np.sin(rad(N1 - W8))
    a2 = np.cos(rad(W7)) * np.sin(rad(i1)) - np.sin(rad(W7)) * np.cos(rad(i1)) * np.cos(
        rad(N1 - W8)
    )
    g0 = 102.8623
    psi = np.degrees(np.arctan2(a1, a2))
    s = np.hypot(a1, a2)
    g = W4 - N1 - psi
    w = W4
    for _ in range(3):
        w = W4 + 0.37515 * (np.sin(rad(2.0 * g)) - np.sin(rad(2.0 * g0)))
        g = w - N1 - psi
    e2 = 0.029092 + 0.00019048 * (np.cos(rad(2.0 * g)) - np.cos(rad(2.0 * g0)))
    q = 2.0 * (W5 - w)
    b1 = np.sin(rad(i1)) * np.sin(rad(N1 - W8))
    b2 = np.cos(rad(W7)) * np.sin(rad(i1)) * np.cos(rad(N1 - W8)) - np.sin(rad(W7)) * np.cos(
        rad(i1)
    )
    theta = np.degrees(np.arctan2(b1, b2)) + W8
    e = e2 + 0.002778797 * e2 * np.cos(rad(q))
    p = w + 0.159215 * np.sin(rad(q))
    u = 2.0 * W5 - 2.0 * theta + psi
    h = 0.9375 * e2 * e2 * np.sin(rad(q)) + 0.1875 * s * s * np.sin(rad(2.0 * (W5 - theta)))
    longitude = L - 0.254744 * (e1 * np.sin(rad(W6)) + 0.75 * e1 * e1 * np.sin(rad(2.0 * W6)) + h)
    inclination = i1 + 0.031843 * s * np.cos(rad(u))
    node = N1 + 0.031843 * s * np.sin(rad(u)) / np.sin(rad(i1))
    return longitude, e, p, inclination, node


def _place_km(days: Floats) -> Floats:
    longitude, e, p, inclination, node = _elements(days)
    M = np.radians(longitude - p)
    E = M + e * np.sin(M)
    for _ in range(4):
        E -= (E - e * np.sin(E) - M) / (1.0 - e * np.cos(E))
    x, y = _A_KM * (np.cos(E) - e), _A_KM * np.sqrt(1.0 - e * e) * np.sin(E)
    w, i, N = np.radians(p - node), np.radians(inclination), np.radians(node)
    along, across = x * np.cos(w) - y * np.sin(w), x * np.sin(w) + y * np.cos(w)
    ecliptic = np.stack(
        [
            along * np.cos(N) - across * np.cos(i) * np.sin(N),
            along * np.sin(N) + across * np.cos(i) * np.cos(N),
            across * np.sin(i),
        ],
        axis=-1,
    )
    return np.asarray(ecliptic @ _from_b1950().T)


def _from_b1950() -> Floats:
    """The turn from the ecliptic of B1950.0 to the ICRS.

    By the precession of the IAU 2006 back to B1950.0; the old catalogue's own turn, 0.01
    arcseconds a year at most, stays below 0.001 degrees here.
    """
    tilt = np.radians(_B1950_OBLIQUITY_DEG)
    to_equator = np.array(
        [
            [1.0, 0.0, 0.0],
            [0.0, np.cos(tilt), -np.sin(tilt)],
            [0.0, np.sin(tilt), np.cos(tilt)],
        ]
    )
    return np.asarray(erfa.ufunc.pmat06(2433282.42345905, 0.0).T @ to_equator)


def titan_km(moon: Ints, days: Floats) -> tuple[Floats, Floats]:
    """Titan's places (km) and velocities (km/s) from Saturn's centre, ICRS axes, each (n, 3).

    `days` (n,) of dynamical time from J2000.0; `moon` is 0 throughout. Error about 1,000 km
    (0.2 arcseconds as seen from here), from shadows seen on Saturn in 2025.
    """
    days = np.asarray(days, dtype=np.float64)
    step = 30.0
    both = _place_km(np.concatenate([days - step / 86400.0, days + step / 86400.0]))
    before, after = both[: len(days)], both[len(days) :]
    return 0.5 * (before + after), (after - before) / (2.0 * step)
