"""Which point of the Moon faces the observer, which the Sun?"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import angles_from_vector, wrap_180, wrap_360
from axletree.sky.discs.look import axis_angle_deg
from axletree.sky.lunar.turn import to_mean_earth_axes
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import see_body
from axletree.sky.positions.ephemeris import LIGHT_AU_PER_DAY, Ephemeris, load_ephemeris
from axletree.sky.time.instants import J2000_JD, Instants
from axletree.sky.time.orientation import orientation


@dataclass(frozen=True)
class MoonFace:
    """How the Moon is turned to the observer and the Sun; arrays (n,) and (n, 3), degrees.

    Selenographic, mean-Earth axes, east positive (toward Mare Crisium). `longitude_deg` and
    `latitude_deg` of the point in the middle of the disc (the libration), (-180, 180];
    `sun_longitude_deg`, `sun_latitude_deg` of the point under the Sun; `colongitude_deg` of the
    Sun, 0-360: 270 new, 0 first quarter, 90 full; `sunrise_longitude_deg` and
    `sunset_longitude_deg` where the terminator meets the equator; `axis_deg` the position angle of
    the north pole, from celestial north of date through east. Unit vectors on the Moon's axes:
    `to_observer`, `to_sun`.
    """

    longitude_deg: Floats
    latitude_deg: Floats
    sun_longitude_deg: Floats
    sun_latitude_deg: Floats
    colongitude_deg: Floats
    sunrise_longitude_deg: Floats
    sunset_longitude_deg: Floats
    axis_deg: Floats
    to_observer: Floats
    to_sun: Floats


def moon_face(
    instants: Instants, observer: Observer | None, ephemeris: Ephemeris | None = None
) -> MoonFace:
    """The Moon's face as this observer sees it (None: from the Earth's centre).

    Optical and physical libration, the observer's own parallax and light time in. Error 0.001
    degrees; dates outside 2020-2050 are refused by the shipped kernel, and give nan with another.
    """
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    kernel.check(instants)
    turned = orientation(instants, observer)
    moon = see_body("moon", instants, turned, kernel)
    far = np.linalg.norm(moon.from_observer_au, axis=-1)
    days = (instants.tt1 - J2000_JD) + instants.tt2 - far / LIGHT_AU_PER_DAY
    axes = to_mean_earth_axes(days)
    under_way = far / LIGHT_AU_PER_DAY
    when = instants.tt2 - under_way
    here = kernel.barycentric_au("moon", instants.tt1, when)
    velocity = (here - kernel.barycentric_au("moon", instants.tt1, when - 0.01)) / 0.01
    # On the Moon, which runs about the Sun at 30 km/s, light goes and comes aberrated: 0.006
    # degrees. (So Earth and Moon, which run together, see each other where they are.)
    to_observer = _on_axes(axes, -moon.from_observer_au - velocity * under_way[:, np.newaxis])
    late = np.linalg.norm(moon.from_sun_au, axis=-1) / LIGHT_AU_PER_DAY
    sun = kernel.barycentric_au("sun", instants.tt1, when - late)
    to_sun = _on_axes(axes, sun - here + velocity * late[:, np.newaxis])
    longitude, latitude = angles_from_vector(to_observer)
    sun_longitude, sun_latitude = angles_from_vector(to_sun)
    return MoonFace(
        longitude_deg=wrap_180(longitude),
        latitude_deg=latitude,
        sun_longitude_deg=wrap_180(sun_longitude),
        sun_latitude_deg=sun_latitude,
        colongitude_deg=wrap_360(90.0 - sun_longitude),
        sunrise_longitude_deg=wrap_180(sun_longitude - 90.0),
        sunset_longitude_deg=wrap_180(sun_longitude + 90.0),
        axis_deg=axis_angle_deg(moon.cirs, axes[:, 2, :], turned.astrom["bpn"]),
        to_observer=to_observer,
        to_sun=to_sun,
    )


def _on_axes(axes: Floats, vectors: Floats) -> Floats:
    turned = np.einsum("nij,nj->ni", axes, vectors)
    return np.asarray(turned / np.linalg.norm(turned, axis=-1, keepdims=True))
