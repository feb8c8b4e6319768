"""Where does a body stand that only the Sun pulls, on any orbit: ellipse, parabola, hyperbola?

Public: ``Elements``, ``elements_of``, ``heliocentric``, ``elements_from_state``,
``GM_AU3_PER_DAY2``.

One formula serves every orbit: Kepler's equation from the perihelion in the universal variable s,
with Stumpff's functions c of x = alpha s^2, alpha = GM (1 - e) / q:
    t - T = q s + GM e s^3 c3(x),   r cos v = q - GM s^2 c2(x),
    r sin v = sqrt(GM q (1 + e)) s c1(x),   r = q + GM e s^2 c2(x).
Source: J. M. A. Danby, Fundamentals of Celestial Mechanics, 2nd ed. 1988, sections 6.9 and 6.10,
with the perihelion as starting point. Nothing in it is singular at e = 1.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.orbits.orbit import Orbit

GAUSS_K = 0.01720209895  # IAU 1976; defines the Sun's pull in au and days to 1e-9 of DE440's
GM_AU3_PER_DAY2 = GAUSS_K**2
# Obliquity of the ecliptic of J2000.0 in which the elements are published (IAU 1976).
OBLIQUITY_RAD = np.radians(84381.448 / 3600.0)

_ROUNDS = 60
_EPS = 1e-13


@dataclass(frozen=True)
class Elements:
    """n orbits as arrays (n,): q in au, e, perihelion as Julian date of TT; unit vectors (n, 3),
    ICRS axes, toward the perihelion and a quarter turn ahead of it."""

    perihelion_au: Floats
    eccentricity: Floats
    perihelion_tt: Floats
    toward: Floats
    ahead: Floats


def elements_of(orbits: Sequence[Orbit]) -> Elements:
    """The orbits as arrays."""

    def column(name: str) -> Floats:
        return np.array([getattr(orbit, name) for orbit in orbits], dtype=np.float64)

    w, node, i = (
        np.radians(column(name)) for name in ("argument_deg", "node_deg", "inclination_deg")
    )
    toward = np.stack(
        [
            np.cos(w) * np.cos(node) - np.sin(w) * np.sin(node) * np.cos(i),
            np.cos(w) * np.sin(node) + np.sin(w) * np.cos(node) * np.cos(i),
            np.sin(w) * np.sin(i),
        ],
        axis=-1,
    )
    ahead = np.stack(
        [
            -np.sin(w) * np.cos(node) - np.cos(w) * np.sin(node) * np.cos(i),
            -np.sin(w) * np.sin(node) + np.cos(w) * np.cos(node) * np.cos(i),
            np.cos(w) * np.sin(i),
        ],
        axis=-1,
    )
    return Elements(
        column("perihelion_au"),
        column("eccentricity"),
        column("perihelion_tt"),
        toward @ _TO_EQUATOR,
        ahead @ _TO_EQUATOR,
    )


# Rows of ecliptic axes in equatorial ones: v_ecliptic @ _TO_EQUATOR = v_equatorial.
_TO_EQUATOR = np.array(
    [
        [1.0, 0.0, 0.0],
        [0.0, np.cos(OBLIQUITY_RAD), np.sin(OBLIQUITY_RAD)],
        [0.0, -np.sin(OBLIQUITY_RAD), np.cos(OBLIQUITY_RAD)],
    ]
)


def heliocentric(elements: Elements, tt: Floats) -> tuple[Floats, Floats]:
    """Places (au) and velocities (au a day), heliocentric, ICRS axes, both (n, m, 3).

    `tt` (m,) or (n, m), Julian dates of terrestrial time. No light time. The two-body motion itself
    to 1e-12 of the distance.
    """
    q, e = elements.perihelion_au[:, np.newaxis], elements.eccentricity[:, np.newaxis]
    since = np.atleast_2d(tt) - elements.perihelion_tt[:, np.newaxis]
    since, q, e = np.broadcast_arrays(since, q, e)
    s = universal_anomaly(since, q, e)
    alpha = GM_AU3_PER_DAY2 * (1.0 - e) / q
    c0, c1, c2, _ = _stumpff(alpha * s * s)
    side = np.sqrt(GM_AU3_PER_DAY2 * q * (1.0 + e))
    r = q + GM_AU3_PER_DAY2 * e * s * s * c2
    along, across = q - GM_AU3_PER_DAY2 * s * s * c2, side * s * c1
    v_along, v_across = -GM_AU3_PER_DAY2 * s * c1 / r, side * c0 / r
    toward, ahead = elements.toward[:, np.newaxis], elements.ahead[:, np.newaxis]
    return (
        along[..., np.newaxis] * toward + across[..., np.newaxis] * ahead,
        v_along[..., np.newaxis] * toward + v_across[..., np.newaxis] * ahead,
    )


def universal_anomaly(since_days: Floats, q: Floats, e: Floats) -> Floats:
    """The variable s (days per au) at so many days from the perihelion; arrays of one shape.

    Newton's way from above: within half a turn the function rises and is hollow, so that it can't
    overshoot.
    """
    alpha = GM_AU3_PER_DAY2 * (1.0 - e) / q
    closed = alpha > 0.0
    with np.errstate(divide="ignore", invalid="ignore"):
        period = 2.0 * np.pi * GM_AU3_PER_DAY2 / np.where(closed, alpha, 1.0) ** 1.5
        turns = np.where(closed, np.round(since_days / period), 0.0)
        days = np.abs(since_days - turns * period * closed)
        half_turn = np.where(closed, np.pi / np.sqrt(np.where(closed, alpha, 1.0)), np.inf)
        pull = GM_AU3_PER_DAY2 * np.maximum(e, 1e-9)
        open_top = np.cbrt(6.0 * days / pull)  # for c3 of a hyperbola is 1/6 and more
        # And sinh y - y is half of sinh y and more where y is 2.2 and more.
        root = np.sqrt(np.where(alpha < 0.0, -alpha, 0.0))
        far = np.maximum(2.2, np.arcsinh(2.0 * days * root**3 / pull)) / root
        open_top = np.minimum(open_top, np.where(alpha < 0.0, far, np.inf))
    s = np.minimum(days / q, np.where(closed, half_turn, open_top))
    for _ in range(_ROUNDS):
        _, _, c2, c3 = _stumpff(alpha * s * s)
        wrong = q * s + GM_AU3_PER_DAY2 * e * s**3 * c3 - days
        step = wrong / (q + GM_AU3_PER_DAY2 * e * s * s * c2)
        s = np.maximum(s - step, 0.0)
        if np.all(np.abs(step) <= _EPS * (1.0 + s)):
            break
    # Whole turns add nothing to the place, so the rest of the time alone counts.
    return np.asarray(np.copysign(s, since_days - turns * np.where(closed, period, 0.0)))


def _stumpff(x: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Stumpff's functions c0, c1, c2, c3; c_k(x) = 1/k! - x/(k+2)! + x^2/(k+4)! - ..."""
    small = np.abs(x) < 0.3
    near, above, below = np.where(small, x, 0.0), x >= 0.3, x <= -0.3
    c2 = _series(near, 2)
    c3 = _series(near, 3)
    root = np.sqrt(np.where(above, x, 1.0))
    hyper = np.sqrt(np.where(below, -x, 1.0))
    c2 = np.where(above, (1.0 - np.cos(root)) / root**2, c2)
    c3 = np.where(above, (root - np.sin(root)) / root**3, c3)
    c2 = np.where(below, (np.cosh(hyper) - 1.0) / hyper**2, c2)
    c3 = np.where(below, (np.sinh(hyper) - hyper) / hyper**3, c3)
    return 1.0 - x * c2, 1.0 - x * c3, c2, c3


def _series(x: Floats, k: int) -> Floats:
    """c_k for |x| below 0.3: eight terms leave 1e-17."""
    term = np.full(np.shape(x), 1.0 / (2.0 if k == 2 else 6.0))
    total = term.copy()
    for j in range(1, 9):
        term = -term * x / ((k + 2 * j - 1) * (k + 2 * j))
        total = total + term
    return total


def elements_from_state(place_au: Floats, velocity_au_per_day: Floats, tt: float) -> Elements:
    """The elements that a body with this place and velocity (n, 3) has at a moment.

    Heliocentric, ICRS axes. Refuses nothing; a body that falls straight into the Sun has no plane
    and becomes nan.
    """
    GM = GM_AU3_PER_DAY2
    r = np.linalg.norm(place_au, axis=-1)
    h = np.cross(place_au, velocity_au_per_day)
    size = np.linalg.norm(h, axis=-1)
    pole = h / size[:, np.newaxis]
    radial = place_au / r[:, np.newaxis]
    vector = np.cross(velocity_au_per_day, h) / GM - radial
    e = np.linalg.norm(vector, axis=-1)
    # A circle has no perihelion: the body stands in it then.
    toward = np.where(e[:, np.newaxis] > 1e-12, vector, radial)
    toward = toward / np.linalg.norm(toward, axis=-1, keepdims=True)
    ahead = np.cross(pole, toward)
    q = size**2 / (GM * (1.0 + e))
    v = np.arctan2(np.sum(radial * ahead, axis=-1), np.sum(radial * toward, axis=-1))
    s = _anomaly_from_true(v, q, e)
    _, _, _, c3 = _stumpff(GM * (1.0 - e) / q * s * s)
    return Elements(q, e, tt - (q * s + GM * e * s**3 * c3), toward, ahead)


def _anomaly_from_true(v: Floats, q: Floats, e: Floats) -> Floats:
    """s from the true anomaly (rad): s = 2 w sqrt(q / (GM (1 + e))) atan(z) / z, z^2 =
    w^2 (1 - e) / (1 + e), w = tan(v / 2); atanh for a hyperbola, whose z^2 is negative."""
    w = np.tan(v / 2.0)
    square = w * w * (1.0 - e) / (1.0 + e)
    near = np.abs(square) < 1e-4
    z = np.sqrt(np.abs(np.where(near, 1.0, square)))
    with np.errstate(invalid="ignore", divide="ignore"):
        far = np.where(square > 0.0, np.arctan(z) / z, np.arctanh(np.minimum(z, 1.0 - 1e-16)) / z)
    share = np.where(near, 1.0 - square / 3.0 + square**2 / 5.0 - square**3 / 7.0, far)
    return np.asarray(2.0 * w * np.sqrt(q / (GM_AU3_PER_DAY2 * (1.0 + e))) * share)
