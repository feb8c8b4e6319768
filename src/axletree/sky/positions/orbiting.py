"""Where does a comet or a minor planet stand for this observer, and how bright is it there?

Public: ``orbit_positions``, ``orbit_sights``, ``OrbitSights``.
"""

from __future__ import annotations

from collections.abc import Sequence

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.orbits.brightness import magnitudes
from axletree.sky.orbits.orbit import Orbit
from axletree.sky.orbits.two_body import elements_of, heliocentric
from axletree.sky.positions.ephemeris import LIGHT_AU_PER_DAY, Ephemeris, load_ephemeris
from axletree.sky.positions.stars import Positions, positions_from_cirs
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import Orientation, orientation

_erfa = erfa.ufunc


@dataclass(frozen=True)
class OrbitSights:
    """n orbits at m instants: distances in au and total magnitudes (n, m), nan where not known;
    `ra_deg` and `dec_deg` (n, m) the astrometric place, ICRS."""

    distance_au: Floats
    from_sun_au: Floats
    magnitude: Floats
    ra_deg: Floats
    dec_deg: Floats


def _seen(
    orbits: Sequence[Orbit], instants: Instants, observer_au: Floats, kernel: Ephemeris
) -> tuple[Floats, Floats, Floats]:
    """Vectors (n, m, 3), ICRS, au: from the observer with light time, from the Sun when the light
    left, and (m, 3) from the Sun to the observer."""
    elements = elements_of(orbits)
    tt = instants.tt1 + instants.tt2
    here = kernel.barycentric_au("earth", instants.tt1, instants.tt2) + observer_au
    sun = kernel.barycentric_au("sun", instants.tt1, instants.tt2)
    # The Sun moves by 5e-6 au a day, evenly enough while light travels.
    drift = (sun - kernel.barycentric_au("sun", instants.tt1, instants.tt2 - 0.1)) / 0.1
    delay = np.zeros((len(orbits), len(instants)))
    for _ in range(3):  # each turn gains the ratio of the body's speed to light's, 1e-4
        from_sun, _ = heliocentric(elements, tt - delay)
        from_here = from_sun + (sun - here) - drift * delay[..., np.newaxis]
        delay = np.linalg.norm(from_here, axis=-1) / LIGHT_AU_PER_DAY
    return from_here, from_sun, here - sun


def orbit_positions(
    orbits: Sequence[Orbit],
    instants: Instants,
    observer: Observer,
    turned: Orientation | None = None,
) -> Positions:
    """Apparent topocentric places (orbits, instants): light time, the Sun's deflection, aberration,
    diurnal parallax, refraction in `altitude_deg` only.

    The orbits are taken as they are; `pulled` brings them to the moment first. Dates outside the
    planets' years are refused.
    """
    kernel = load_ephemeris()
    kernel.check(instants)
    turned = orientation(instants, observer) if turned is None else turned
    from_here, from_sun, sun_to_here = _seen(orbits, instants, turned.observer_au, kernel)
    direction = from_here / np.linalg.norm(from_here, axis=-1, keepdims=True)
    distance = np.linalg.norm(sun_to_here, axis=-1)
    q = from_sun / np.linalg.norm(from_sun, axis=-1, keepdims=True)
    e = sun_to_here / distance[:, np.newaxis]
    bent = _erfa.ld(1.0, direction, q, e, distance, 1e-6 / np.maximum(distance**2, 1.0))
    astrom = turned.astrom
    apparent = _erfa.ab(bent, np.ascontiguousarray(astrom["v"]), astrom["em"], astrom["bm1"])
    ra, dec = _erfa.c2s(_erfa.rxp(np.ascontiguousarray(astrom["bpn"]), apparent))
    return positions_from_cirs(ra, dec, turned, observer)


def orbit_sights(
    orbits: Sequence[Orbit], instants: Instants, observer: Observer | None = None
) -> OrbitSights:
    """How far, how bright, and where among the catalogued stars; from the Earth's centre without an
    observer."""
    kernel = load_ephemeris()
    kernel.check(instants)
    at = np.zeros(3) if observer is None else orientation(instants, observer).observer_au
    from_here, from_sun, sun_to_here = _seen(orbits, instants, at, kernel)
    distance = np.linalg.norm(from_here, axis=-1)
    r, R = np.linalg.norm(from_sun, axis=-1), np.linalg.norm(sun_to_here, axis=-1)
    ra, dec = _erfa.c2s(from_here)
    return OrbitSights(
        distance_au=distance,
        from_sun_au=r,
        magnitude=magnitudes(orbits, r, distance, R),
        ra_deg=np.mod(np.degrees(ra), 360.0),
        dec_deg=np.degrees(dec),
    )
