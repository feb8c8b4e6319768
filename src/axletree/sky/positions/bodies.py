"""Where do the Sun, the Moon and the planets stand, how large, and what shape do they show?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import angle_between_deg, position_angle_deg
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import AU_KM, LIGHT_AU_PER_DAY, Ephemeris, load_ephemeris
from axletree.sky.positions.magnitudes import moon_magnitude, planet_magnitude, sun_magnitude
from axletree.sky.positions.poles import RADIUS_KM, north_pole
from axletree.sky.positions.stars import Positions, positions_from_cirs
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import Orientation, orientation

_erfa = erfa.ufunc

# Planets whose brightness depends on the latitudes of observer and Sun over their equators.
_LEANING = ("saturn", "uranus")


@dataclass(frozen=True)
class BodyPositions(Positions):
    """`Positions` of Sun, Moon and planets, with how they look; arrays (bodies, instants).

    `names` in the order of the rows. Distance from the observer; apparent diameter (equatorial);
    phase angle (Sun-body-observer); lit fraction of the disc; position angle of the middle of
    the bright limb from celestial north through east (nan for the Sun); angle from the Sun;
    V magnitude; `ring_tilt_deg` is the observer's latitude over Saturn's rings, positive when
    their north face is seen (nan for the others).
    """

    names: tuple[str, ...]
    distance_au: Floats
    diameter_arcsec: Floats
    phase_angle_deg: Floats
    lit_fraction: Floats
    bright_limb_deg: Floats
    elongation_deg: Floats
    magnitude_v: Floats
    ring_tilt_deg: Floats

    def row(self, name: str) -> BodyPositions:
        """The part about one body, still of shape (1, instants)."""
        k = self.names.index(name)
        arrays = {f.name: getattr(self, f.name)[k : k + 1] for f in fields(self)}
        return BodyPositions(**arrays)


@dataclass(frozen=True)
class Seen:
    """One body as its light arrives: vectors (n, 3).

    `from_observer_au` geometric with light time, `from_sun_au` of the body when the light left;
    `cirs` apparent unit vectors of the celestial intermediate frame.
    """

    from_observer_au: Floats
    from_sun_au: Floats
    cirs: Floats


def see_body(name: str, instants: Instants, turned: Orientation, ephemeris: Ephemeris) -> Seen:
    """One body with light time, deflection by the Sun, aberration and precession-nutation."""
    return see_bodies((name,), instants, turned, ephemeris)[0]


def see_bodies(
    names: Sequence[str], instants: Instants, turned: Orientation, ephemeris: Ephemeris
) -> list[Seen]:
    """`see_body` of some bodies at the same instants: the observer's place is reckoned once."""
    earth = ephemeris.barycentric_au("earth", instants.tt1, instants.tt2)
    here = earth + turned.observer_au
    sun = ephemeris.barycentric_au("sun", instants.tt1, instants.tt2)
    return [_seen_from(name, (here, sun), instants, turned, ephemeris) for name in names]


def _seen_from(
    name: str,
    here_and_sun_au: tuple[Floats, Floats],
    instants: Instants,
    turned: Orientation,
    ephemeris: Ephemeris,
) -> Seen:
    here, sun = here_and_sun_au
    body = sun if name == "sun" else ephemeris.barycentric_au(name, instants.tt1, instants.tt2)
    delay = _length(body - here) / LIGHT_AU_PER_DAY
    for _ in range(2):  # each turn gains the ratio of the body's speed to light's, 1e-4
        body = ephemeris.barycentric_au(name, instants.tt1, instants.tt2 - delay)
        delay = _length(body - here) / LIGHT_AU_PER_DAY
    from_observer = body - here
    if name == "sun":
        from_sun = np.zeros_like(body)
    else:
        from_sun = body - ephemeris.barycentric_au("sun", instants.tt1, instants.tt2 - delay)
    direction = from_observer / _length(from_observer)[:, np.newaxis]
    astrom = turned.astrom
    if name != "sun":
        sun_to_here = here - sun
        distance = _length(sun_to_here)
        q = from_sun / _length(from_sun)[:, np.newaxis]
        e = sun_to_here / distance[:, np.newaxis]
        limit = 1e-6 / np.maximum(distance**2, 1.0)
        direction = _erfa.ld(1.0, direction, q, e, distance, limit)
    apparent = _erfa.ab(direction, np.ascontiguousarray(astrom["v"]), astrom["em"], astrom["bm1"])
    return Seen(from_observer, from_sun, _erfa.rxp(np.ascontiguousarray(astrom["bpn"]), apparent))


def _length(vectors: Floats) -> Floats:
    """Of vectors (n, 3); a fifth of the time that numpy's norm takes for a few."""
    return np.asarray(np.sqrt(np.einsum("ij,ij->i", vectors, vectors)))


def body_positions(
    names: str | Sequence[str],
    instants: Instants,
    observer: Observer,
    *,
    ephemeris: Ephemeris | None = None,
    turned: Orientation | None = None,
) -> BodyPositions:
    """Apparent topocentric places of bodies ("sun", "moon", "mercury", ... "neptune").

    Diurnal parallax, light time, deflection, aberration, polar motion; refraction in
    `altitude_deg` only. Dates outside the kernel (2020-2050) and unknown names are refused.
    """
    asked = (names,) if isinstance(names, str) else tuple(names)
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    kernel.check(instants)
    if turned is None:
        turned = orientation(instants, observer)
    others = tuple(name for name in asked if name != "sun")
    sun, *found = see_bodies(("sun", *others), instants, turned, kernel)
    by_name = {"sun": sun, **dict(zip(others, found, strict=True))}
    seen = [by_name[name] for name in asked]
    cirs = np.array([s.cirs for s in seen]).reshape(len(asked), len(instants), 3)
    ra, dec = _erfa.c2s(cirs)
    places = positions_from_cirs(ra, dec, turned, observer)
    sun_ra, sun_dec = _erfa.c2s(sun.cirs)
    looks = [_looks(n, s, sun, instants) for n, s in zip(asked, seen, strict=True)]
    limb = position_angle_deg(
        np.degrees(ra), np.degrees(dec), np.degrees(sun_ra), np.degrees(sun_dec)
    )
    is_sun = np.array([n == "sun" for n in asked])[:, np.newaxis]
    columns = [np.array(c).reshape(len(asked), len(instants)) for c in zip(*looks, strict=True)]
    if not columns:
        columns = [np.empty((0, len(instants)))] * 7
    return BodyPositions(
        **{f.name: getattr(places, f.name) for f in fields(Positions)},
        names=asked,
        distance_au=columns[0],
        diameter_arcsec=columns[1],
        phase_angle_deg=columns[2],
        lit_fraction=columns[3],
        bright_limb_deg=np.where(is_sun, np.nan, limb),
        elongation_deg=columns[4],
        magnitude_v=columns[5],
        ring_tilt_deg=columns[6],
    )


def body_places(
    name: str, instants: Instants, observer: Observer, ephemeris: Ephemeris | None = None
) -> Positions:
    """Where one body stands, (1, instants): `body_positions` without how it looks, in half the
    time."""
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    kernel.check(instants)
    turned = orientation(instants, observer)
    ra, dec = _erfa.c2s(see_body(name, instants, turned, kernel).cirs)
    return positions_from_cirs(ra[np.newaxis], dec[np.newaxis], turned, observer)


def sun_altitude_deg(
    instants: Instants, observer: Observer, ephemeris: Ephemeris | None = None
) -> Floats:
    """True topocentric altitude of the Sun's centre (n,), degrees; the quick way to it."""
    return body_altitude_deg("sun", instants, observer, ephemeris)


def body_altitude_deg(
    name: str,
    instants: Instants,
    observer: Observer,
    ephemeris: Ephemeris | None = None,
    *,
    upper_edge: bool = False,
) -> Floats:
    """True topocentric altitude (n,) of a body's centre or upper edge, degrees."""
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    kernel.check(instants)
    turned = orientation(instants, observer)
    seen = see_body(name, instants, turned, kernel)
    ra, dec = _erfa.c2s(seen.cirs)
    _, zenith, _, _, _ = _erfa.atioq(ra, dec, turned.astrom)
    altitude = np.asarray(90.0 - np.degrees(zenith))
    if upper_edge:
        distance = _length(seen.from_observer_au)
        altitude = altitude + np.degrees(np.arcsin(RADIUS_KM[name] / (distance * AU_KM)))
    return altitude


def _looks(name: str, seen: Seen, sun: Seen, instants: Instants) -> tuple[Floats, ...]:
    """Distance, diameter, phase angle, lit fraction, elongation, magnitude, ring tilt; (n,)."""
    distance = _length(seen.from_observer_au)
    diameter = 2.0 * np.degrees(np.arcsin(RADIUS_KM[name] / (distance * AU_KM))) * 3600.0
    none = np.full_like(distance, np.nan)
    if name == "sun":
        zero = np.zeros_like(distance)
        return distance, diameter, zero, zero + 1.0, zero, sun_magnitude(distance), none
    phase = angle_between_deg(seen.from_observer_au, seen.from_sun_au)
    lit = 0.5 * (1.0 + np.cos(np.radians(phase)))
    elongation = angle_between_deg(seen.cirs, sun.cirs)
    from_sun = _length(seen.from_sun_au)
    if name == "moon":
        magnitude = moon_magnitude(from_sun, distance, phase)
        return distance, diameter, phase, lit, elongation, magnitude, none
    earth_lat, sun_lat = _latitudes_deg(name, seen, instants)
    magnitude = planet_magnitude(name, from_sun, distance, phase, earth_lat, sun_lat)
    tilt = earth_lat if name == "saturn" else none
    return distance, diameter, phase, lit, elongation, magnitude, tilt


def _latitudes_deg(name: str, seen: Seen, instants: Instants) -> tuple[Floats, Floats]:
    """Planetocentric latitudes of observer and Sun above the body's equator; 0 if not needed."""
    if name not in _LEANING:
        zero = np.zeros(len(instants))
        return zero, zero
    pole = north_pole(name, (instants.julian_year - 2000.0) * 365.25)
    return (
        90.0 - angle_between_deg(pole, -seen.from_observer_au),
        90.0 - angle_between_deg(pole, -seen.from_sun_au),
    )
