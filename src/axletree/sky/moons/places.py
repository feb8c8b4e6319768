"""Where do the moons stand beside their planet, as one looks at it?"""

from __future__ import annotations

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask
from axletree.sky.moons.before_the_disc import (
    Before,
    before_disc,
    from_edge_km,
    shadow_on_disc_km,
)
from axletree.sky.moons.sight import Sight, sight
from axletree.sky.moons.systems import SYSTEMS
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import AU_KM, Ephemeris, load_ephemeris
from axletree.sky.positions.poles import RADIUS_KM
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import Orientation, orientation

_erfa = erfa.ufunc
_ARCSEC = 180.0 * 3600.0 / np.pi


@dataclass(frozen=True)
class MoonPlaces:
    """Moons beside their planet; arrays (moons, instants), `names` in the order of the rows.

    `east_arcsec`, `north_arcsec` from the middle of the planet's disc, along the celestial east
    and north of date. `west_radii`, `north_radii` along the planet's own equator and axis, in its
    equatorial radii (with its north up, west is on the right of one who looks up at it);
    `nearer_radii` toward the observer. `before`: wholly or partly before the disc; `behind`:
    hidden, wholly or partly; `dark`: its middle in the planet's shadow (it isn't seen).
    `shadow_west_radii`, `shadow_north_radii` the middle of its shadow on the disc, nan where none
    is seen; `shadow_squeeze` how much narrower than round the spot looks (1 round, 0 at the edge).
    `size_arcsec` the moon's diameter. V magnitude in full sunlight.
    """

    planet: str
    names: tuple[str, ...]
    east_arcsec: Floats
    north_arcsec: Floats
    west_radii: Floats
    north_radii: Floats
    nearer_radii: Floats
    before: Mask
    behind: Mask
    dark: Mask
    shadow_west_radii: Floats
    shadow_north_radii: Floats
    shadow_squeeze: Floats
    size_arcsec: Floats
    magnitude_v: Floats


def moon_places(
    planet: str,
    instants: Instants,
    observer: Observer | None = None,
    ephemeris: Ephemeris | None = None,
) -> MoonPlaces:
    """The moons of "jupiter" (Io, Europa, Ganymede, Callisto) or "saturn" (Titan).

    For this observer, or the Earth's centre. Light time, aberration, precession and nutation;
    no refraction. Error below 0.2 arcseconds (two theories' spread), of Titan 0.3; dates outside
    the kernel (2020-2050) are refused.
    """
    system = SYSTEMS[planet]
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    turned = orientation(instants, observer)
    once = sight(planet, instants, kernel, turned.observer_au)
    count, n = len(system.names), len(instants)
    seen = Sight(
        days=np.tile(once.days, count),
        to_observer_km=np.tile(once.to_observer_km, (count, 1)),
        to_sun_km=np.tile(once.to_sun_km, (count, 1)),
        velocity_km_s=np.tile(once.velocity_km_s, (count, 1)),
    )
    moon = np.repeat(np.arange(count), n)
    here = before_disc(system, moon, np.zeros(count * n, dtype=bool), seen)
    sun = before_disc(system, moon, np.ones(count * n, dtype=bool), seen)
    edge = from_edge_km(planet, here.x, here.y, here.tilt_rad)
    touches = edge < system.radius_km[moon]
    in_line = from_edge_km(planet, sun.x, sun.y, sun.tilt_rad) < 0.0
    shadow_west, shadow_north, squeeze = shadow_on_disc_km(system, moon, seen)
    east, north = _offsets_arcsec(turned, once, here, count)
    R = RADIUS_KM[planet]
    sun_km = np.linalg.norm(seen.to_sun_km + here.place, axis=-1)
    far_km = np.linalg.norm(seen.to_observer_km, axis=-1) - here.z
    magnitude = system.magnitude_v10[moon] + 5.0 * np.log10(sun_km * far_km / AU_KM**2)

    def shaped(values: Floats) -> Floats:
        return values.reshape(count, n)

    def masked(values: Mask) -> Mask:
        return values.reshape(count, n)

    return MoonPlaces(
        planet=planet,
        names=system.names,
        east_arcsec=shaped(east),
        north_arcsec=shaped(north),
        west_radii=shaped(here.x / R),
        north_radii=shaped(here.y / R),
        nearer_radii=shaped(here.z / R),
        before=masked(touches & (here.z > 0.0)),
        behind=masked(touches & (here.z < 0.0)),
        dark=masked(in_line & (sun.z < 0.0)),
        shadow_west_radii=shaped(shadow_west / R),
        shadow_north_radii=shaped(shadow_north / R),
        shadow_squeeze=shaped(squeeze),
        size_arcsec=shaped(2.0 * np.arcsin(system.radius_km[moon] / far_km) * _ARCSEC),
        magnitude_v=shaped(magnitude),
    )


def _offsets_arcsec(
    turned: Orientation, seen: Sight, line: Before, count: int
) -> tuple[Floats, Floats]:
    """East and north of the planet's middle, apparent, arcseconds; (moons * instants,)."""
    planet = -seen.to_observer_km
    moons = np.tile(planet, (count, 1)) + line.place

    def apparent(vectors: Floats, copies: int) -> tuple[Floats, Floats]:
        astrom = np.tile(turned.astrom, copies)
        unit = vectors / np.linalg.norm(vectors, axis=-1, keepdims=True)
        bent = _erfa.ab(unit, np.ascontiguousarray(astrom["v"]), astrom["em"], astrom["bm1"])
        ra, dec = _erfa.c2s(_erfa.rxp(np.ascontiguousarray(astrom["bpn"]), bent))
        return np.asarray(ra), np.asarray(dec)

    ra0, dec0 = apparent(planet, 1)
    ra, dec = apparent(moons, count)
    ra0, dec0 = np.tile(ra0, count), np.tile(dec0, count)
    # In the plane that touches the sky at the planet's middle.
    toward = np.sin(dec) * np.sin(dec0) + np.cos(dec) * np.cos(dec0) * np.cos(ra - ra0)
    east = np.cos(dec) * np.sin(ra - ra0) / toward
    north = np.sin(dec) * np.cos(dec0) - np.cos(dec) * np.sin(dec0) * np.cos(ra - ra0)
    return east * _ARCSEC, north / toward * _ARCSEC
