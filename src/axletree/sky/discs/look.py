"""How large is a planet's disc, how is it lit, and how does its axis lie?"""

from __future__ import annotations

from enum import Enum

import erfa
import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import wrap_360
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions, see_bodies
from axletree.sky.positions.ephemeris import (
    LIGHT_AU_PER_DAY,
    PLANETS,
    Ephemeris,
    load_ephemeris,
)
from axletree.sky.positions.poles import (
    POLAR_RADIUS_KM,
    RADIUS_KM,
    latitude_longitude_deg,
    north_pole,
    turns_backward,
)
from axletree.sky.time.instants import J2000_JD, Instants
from axletree.sky.time.orientation import orientation

_erfa = erfa.ufunc
_OBLIQUITY = np.radians(84381.406 / 3600.0)  # of J2000.0, IAU 2006
_ECLIPTIC_POLE = np.array([0.0, -np.sin(_OBLIQUITY), np.cos(_OBLIQUITY)])


class SkySide(Enum):
    """On which side of the Sun a planet stands: east of it (evenings) or west (mornings)."""

    EAST = "east"
    WEST = "west"


@dataclass(frozen=True)
class Disc:
    """A planet's disc at each instant; arrays (n,).

    `diameter_arcsec` along the equator, `polar_diameter_arcsec` along the axis, as they look.
    `phase_angle_deg` Sun-planet-observer; `lit_fraction` of the disc; `dark_width_arcsec` the
    widest part of the disc that is unlit; `bright_limb_deg` the position angle of the middle of
    the bright edge, `axis_deg` that of the north pole, both from celestial north of date through
    east. `elongation_deg` from the Sun, and `evening`: east of it. `observer_latitude_deg` and
    `sun_latitude_deg` planetocentric, positive north; `central_meridian_deg` the planetographic
    longitude in the middle (it grows with time), of Jupiter and Saturn in System III.
    """

    name: str
    diameter_arcsec: Floats
    polar_diameter_arcsec: Floats
    phase_angle_deg: Floats
    lit_fraction: Floats
    dark_width_arcsec: Floats
    bright_limb_deg: Floats
    axis_deg: Floats
    elongation_deg: Floats
    evening: Mask
    observer_latitude_deg: Floats
    sun_latitude_deg: Floats
    central_meridian_deg: Floats
    magnitude_v: Floats

    def side(self, k: int = 0) -> SkySide:
        """The side of the Sun at instant `k`."""
        return SkySide.EAST if self.evening[k] else SkySide.WEST


def disc(
    name: str, instants: Instants, observer: Observer, ephemeris: Ephemeris | None = None
) -> Disc:
    """How "mercury" ... "neptune" looks to this observer.

    Light time and aberration are in; errors: sizes 0.1 %, angles 0.05 degrees, the central
    meridian 0.3 degrees. Elongation side by longitude along the ecliptic. Definitions:
    J. Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 41-43, here from vectors.
    """
    if name not in PLANETS:
        raise AxletreeError(f"'{name}' is not one of {', '.join(PLANETS)}")
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    turned = orientation(instants, observer)
    seen = body_positions(name, instants, observer, ephemeris=kernel, turned=turned)
    vectors, sun = see_bodies((name, "sun"), instants, turned, kernel)
    far = np.linalg.norm(vectors.from_observer_au, axis=-1)
    days = (instants.tt1 - J2000_JD) + instants.tt2 - far / LIGHT_AU_PER_DAY
    latitude, east = latitude_longitude_deg(name, days, -vectors.from_observer_au)
    sun_latitude, _ = latitude_longitude_deg(name, days, -vectors.from_sun_au)
    a, b = RADIUS_KM[name], POLAR_RADIUS_KM[name]
    B = np.radians(latitude)
    lit = seen.lit_fraction[0]
    diameter = seen.diameter_arcsec[0]
    squeeze = np.sqrt(a * a * np.sin(B) ** 2 + b * b * np.cos(B) ** 2) / a
    # The pole of the ecliptic J2000.0: the side changes its sign at the Sun's own longitude.
    side = np.cross(sun.from_observer_au, vectors.from_observer_au) @ _ECLIPTIC_POLE
    return Disc(
        name=name,
        diameter_arcsec=diameter,
        polar_diameter_arcsec=diameter * squeeze,
        phase_angle_deg=seen.phase_angle_deg[0],
        lit_fraction=lit,
        dark_width_arcsec=diameter * (1.0 - lit),
        bright_limb_deg=seen.bright_limb_deg[0],
        axis_deg=axis_angle_deg(vectors.cirs, north_pole(name, days), turned.astrom["bpn"]),
        elongation_deg=seen.elongation_deg[0],
        evening=side > 0.0,
        observer_latitude_deg=latitude,
        sun_latitude_deg=sun_latitude,
        central_meridian_deg=east if turns_backward(name) else wrap_360(-east),
        magnitude_v=seen.magnitude_v[0],
    )


def axis_angle_deg(cirs: Floats, pole: Floats, to_cirs: Floats) -> Floats:
    """Position angle 0-360 (n,) of an axis, from celestial north of date through east.

    `cirs` (n, 3) the body's apparent direction, `pole` (n, 3) its axis in the ICRS, `to_cirs`
    (n, 3, 3) from the ICRS to the intermediate frame. (Aberration turns the axis by less than
    0.006 degrees.)
    """
    axis = _erfa.rxp(np.ascontiguousarray(to_cirs), np.ascontiguousarray(pole))
    x, y = cirs[:, 0], cirs[:, 1]
    level = np.hypot(x, y)
    east = np.stack([-y / level, x / level, np.zeros(len(x))], axis=-1)
    north = np.cross(cirs, east)
    return wrap_360(
        np.degrees(np.arctan2(np.sum(axis * east, axis=-1), np.sum(axis * north, axis=-1)))
    )
