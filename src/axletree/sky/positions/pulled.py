"""How do the planets bend an orbit between the day of its elements and the moment asked for?

Public: ``pulled``.

The place that the published elements give is the reference; what the planets' pull adds to it is
integrated (J. F. Encke's way: J. M. A. Danby, Fundamentals of Celestial Mechanics, 2nd ed. 1988,
section 11.3) with classical Runge-Kutta steps of order four, halved until the halving changes
nothing: within 0.1 arcseconds of an integration of another kind after half a year, where two-body
motion alone errs by 10 arcseconds and more for one in ten made-up minor planets and comets, and by
minutes of arc beside a planet. A comet's jets and the elements' own error are not in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices
from axletree.sky.orbits.orbit import NEAR_AU, Approach, Orbit
from axletree.sky.orbits.two_body import (
    GM_AU3_PER_DAY2,
    OBLIQUITY_RAD,
    Elements,
    elements_from_state,
    elements_of,
    heliocentric,
)
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris

# Sun's mass over the planet's, systems whole: IAU 2009 system of constants, JPL DE440 (from memory,
# to 1e-4, held against an integration with another set by a test).
SUN_OVER = {
    "mercury": 6023682.155592,
    "venus": 408523.718658,
    "earth": 332946.048834,
    "moon": 27068703.241203,
    "mars": 3098703.59029,
    "jupiter": 1047.348625,
    "saturn": 3497.9018,
    "uranus": 22902.951,
    "neptune": 19412.26,
}
# Approaches to these are told.
TOLD = ("earth", "jupiter")
# So far from their day elements are carried; beyond, only the Sun pulls, and their age says enough.
MOST_DAYS = 3700.0
# Steps (days) that are tried in turn, and by how much half the step may change the place.
_FIRST_STEP_DAYS, _HALVINGS, _GOOD_AU = 4.0, 8, 2e-8


def pulled(orbits: Sequence[Orbit], tt: float) -> tuple[Orbit, ...]:
    """The orbits with the elements that osculate at a moment (Julian date of TT), and with what
    they met on the way.

    Those of unknown epoch, of another day by more than `MOST_DAYS`, and whose way leads out of the
    planets' years come back as they are.
    """
    kernel = load_ephemeris()
    found = [replace(orbit, asked_tt=tt) for orbit in orbits]
    by_epoch: dict[float, list[int]] = {}
    for k, orbit in enumerate(orbits):
        given = orbit.given_tt if orbit.holds_tt is None else orbit.holds_tt
        if given is None or not 1e-3 < abs(tt - given) <= MOST_DAYS:
            continue
        if min(tt, given) < kernel.start_jd or max(tt, given) > kernel.stop_jd:
            continue
        by_epoch.setdefault(given, []).append(k)
    for given, rows in by_epoch.items():
        some = [found[k] for k in rows]
        for k, orbit in zip(rows, _carried(some, given, tt, kernel), strict=True):
            found[k] = orbit
    return tuple(found)


@dataclass(frozen=True)
class _Way:
    """What was added to place and velocity (n, 3) by the end, and the nearest of each planet of
    `TOLD` (n, planets) with its moment."""

    place: Floats
    velocity: Floats
    nearest_au: Floats
    nearest_tt: Floats


def _carried(orbits: Sequence[Orbit], given: float, tt: float, kernel: Ephemeris) -> list[Orbit]:
    """Orbits of one epoch at another moment."""
    elements = elements_of(orbits)
    way = _settled(elements, given, tt, kernel)
    place, velocity = heliocentric(elements, np.array([tt]))
    ends = elements_from_state(place[:, 0] + way.place, velocity[:, 0] + way.velocity, tt)
    return [_as_orbit(orbit, ends, way, k, tt) for k, orbit in enumerate(orbits)]


def _settled(elements: Elements, given: float, tt: float, kernel: Ephemeris) -> _Way:
    """The way of all orbits, each with a step whose half changes nothing."""
    count = max(2, int(np.ceil(abs(tt - given) / _FIRST_STEP_DAYS)))
    best = _integrated(elements, given, tt, count, kernel)
    arrays = {name: array.copy() for name, array in vars(best).items()}
    left = np.arange(len(elements.eccentricity))
    for _ in range(_HALVINGS):
        count *= 2
        finer = _integrated(_rows(elements, left), given, tt, count, kernel)
        change = np.linalg.norm(finer.place - arrays["place"][left], axis=-1)
        for name, array in arrays.items():
            array[left] = getattr(finer, name)
        left = left[~(change < _GOOD_AU)]
        if not len(left):
            break
    return _Way(**arrays)


def _rows(elements: Elements, which: Indices) -> Elements:
    return Elements(**{name: array[which] for name, array in vars(elements).items()})


def _integrated(elements: Elements, given: float, tt: float, count: int, kernel: Ephemeris) -> _Way:
    """So many even steps; the planets and the reference places are taken for all at once."""
    h = (tt - given) / count
    times: Floats = given + 0.5 * h * np.arange(2 * count + 1, dtype=np.float64)
    reference, _ = heliocentric(elements, times)
    sun = kernel.barycentric_au("sun", times, np.zeros(len(times)))
    planets = np.array(
        [kernel.barycentric_au(name, times, np.zeros(len(times))) - sun for name in SUN_OVER]
    )
    pulls = GM_AU3_PER_DAY2 / np.array(list(SUN_OVER.values()))[:, np.newaxis]

    def faster(at: int, added: Floats) -> Floats:
        """What the body gains over the reference, au a day a day, (n, 3)."""
        r0, r = reference[:, at], reference[:, at] + added
        gained = GM_AU3_PER_DAY2 * (_over_cube(r0) - _over_cube(r))
        for k, pull in enumerate(pulls):
            planet = planets[k, at]
            # A body in the middle of a planet would be flung out of all sense.
            gained = gained + pull * (_over_cube(planet - r, 1e-4) - _over_cube(planet))
        return np.asarray(gained)

    n = len(elements.eccentricity)
    x, v = np.zeros((n, 3)), np.zeros((n, 3))
    told = [list(SUN_OVER).index(name) for name in TOLD]
    nearest, when = np.full((n, len(TOLD)), np.inf), np.zeros((n, len(TOLD)))
    for i in range(count + 1):
        apart = reference[:, np.newaxis, 2 * i] + x[:, np.newaxis] - planets[told, 2 * i]
        distance = np.linalg.norm(apart, axis=-1)
        when = np.where(distance < nearest, times[2 * i], when)
        nearest = np.minimum(distance, nearest)
        if i == count:
            break
        a1 = faster(2 * i, x)
        a2 = faster(2 * i + 1, x + 0.5 * h * v)
        a3 = faster(2 * i + 1, x + 0.5 * h * v + 0.25 * h * h * a1)
        a4 = faster(2 * i + 2, x + h * v + 0.5 * h * h * a2)
        x, v = x + h * v + h * h / 6.0 * (a1 + a2 + a3), v + h / 6.0 * (a1 + 2 * a2 + 2 * a3 + a4)
    return _Way(x, v, nearest, when)


def _over_cube(vector: Floats, least: float = 0.0) -> Floats:
    size = np.maximum(np.linalg.norm(vector, axis=-1, keepdims=True), least)
    return np.asarray(vector / size**3)


def _as_orbit(orbit: Orbit, ends: Elements, way: _Way, k: int, tt: float) -> Orbit:
    """The osculating elements of one body as angles; as it was where they make no sense."""
    node, inclination, argument = _angles(ends.toward[k], ends.ahead[k])
    if not np.all(np.isfinite([ends.perihelion_au[k], ends.perihelion_tt[k], node])):
        return orbit
    met = [
        Approach(planet, float(way.nearest_au[k, j]), float(way.nearest_tt[k, j]))
        for j, planet in enumerate(TOLD)
        if way.nearest_au[k, j] < NEAR_AU
    ]
    return replace(
        orbit,
        perihelion_au=float(ends.perihelion_au[k]),
        eccentricity=float(ends.eccentricity[k]),
        perihelion_tt=float(ends.perihelion_tt[k]),
        argument_deg=argument,
        node_deg=node,
        inclination_deg=inclination,
        holds_tt=tt,
        approaches=(*orbit.approaches, *met),
    )


def _angles(toward: Floats, ahead: Floats) -> tuple[float, float, float]:
    """Node, inclination, argument of perihelion in degrees on the ecliptic of J2000.0."""
    c, s = np.cos(OBLIQUITY_RAD), np.sin(OBLIQUITY_RAD)
    to_ecliptic = np.array([[1.0, 0.0, 0.0], [0.0, c, s], [0.0, -s, c]])
    p, q = to_ecliptic @ toward, to_ecliptic @ ahead
    pole = np.cross(p, q)
    inclination = np.arctan2(np.hypot(pole[0], pole[1]), pole[2])
    # In the ecliptic itself the node is where the perihelion angles are counted from.
    flat = np.hypot(pole[0], pole[1]) < 1e-12
    node = 0.0 if flat else np.arctan2(pole[0], -pole[1])
    line = np.array([np.cos(node), np.sin(node), 0.0])
    argument = np.arctan2(-np.dot(line, q), np.dot(line, p))
    degrees = np.degrees([node, inclination, argument])
    return float(degrees[0]) % 360.0, float(degrees[1]), float(degrees[2]) % 360.0
