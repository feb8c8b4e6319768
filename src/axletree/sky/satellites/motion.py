"""Where do satellites stand, from the ground, at each instant, and is the Sun on them?

Public: ``SatelliteSights``, ``SatelliteSky``, ``sky_at``, ``satellite_sights``, ``teme_km``,
``earth_fixed``.

No light time and no aberration (5 arcseconds and less); the elements themselves are good to a
kilometre, some minutes of arc. Refraction by the rule of the house.
"""

from __future__ import annotations

from collections.abc import Sequence

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.air.refraction import apparent_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import AU_KM, load_ephemeris
from axletree.sky.satellites.shadow import above_shadow_deg
from axletree.sky.satellites.two_line import TwoLine
from axletree.sky.time.instants import Instants

_erfa = erfa.ufunc


@dataclass(frozen=True)
class SatelliteSky:
    """What all satellites share at m instants, Earth-fixed axes: the observer's place (3,) and its
    axes east, north and up (3, 3), the Sun (m, 3), km, and its altitude (m,), degrees, no air."""

    instants: Instants
    observer: Observer
    here_km: Floats
    axes: Floats
    sun_km: Floats
    sun_altitude_deg: Floats


@dataclass(frozen=True)
class SatelliteSights:
    """n satellites at m instants, arrays (n, m); nan where the elements fail (it has decayed).

    Azimuth, altitude as seen; distance; `lit_deg`: how far the Sun stands clear of the Earth's limb
    there (negative: in the shadow); `phase_deg`: the angle Sun-satellite-observer.
    """

    azimuth_deg: Floats
    altitude_deg: Floats
    distance_km: Floats
    lit_deg: Floats
    phase_deg: Floats


def sky_at(instants: Instants, observer: Observer) -> SatelliteSky:
    """The ground and the Sun. Refuses instants outside the planets' years."""
    kernel = load_ephemeris()
    kernel.check(instants)
    lat, lon = observer.latitude_rad, observer.longitude_rad
    here, _ = _erfa.gd2gc(1, lon, lat, observer.elevation_m)
    axes = np.array(
        [
            [-np.sin(lon), np.cos(lon), 0.0],
            [-np.sin(lat) * np.cos(lon), -np.sin(lat) * np.sin(lon), np.cos(lat)],
            [np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)],
        ]
    )
    sun = kernel.barycentric_au("sun", instants.tt1, instants.tt2)
    earth = kernel.barycentric_au("earth", instants.tt1, instants.tt2)
    turn = _erfa.c2t06a(
        instants.tt1, instants.tt2, instants.ut11, instants.ut12, instants.xp_rad, instants.yp_rad
    )
    sun_km = np.einsum("mij,mj->mi", turn, (sun - earth) * AU_KM)
    here_km = np.asarray(here, dtype=np.float64) / 1000.0
    up = (sun_km - here_km) @ axes[2]
    altitude = np.degrees(np.arcsin(up / np.linalg.norm(sun_km - here_km, axis=-1)))
    return SatelliteSky(instants, observer, here_km, axes, sun_km, np.asarray(altitude))


def teme_km(satellites: Sequence[TwoLine], instants: Instants) -> Floats:
    """Places (n, m, 3) from the Earth's centre, km, true equator and mean equinox of date.

    SGP4 with the constants of WGS-72, for which the elements are made. nan where it fails.
    """
    from sgp4.api import WGS72, Satrec, SatrecArray

    records = [Satrec.twoline2rv(one.line1, one.line2, WGS72) for one in satellites]
    wrong, places, _ = SatrecArray(records).sgp4(instants.utc1, instants.utc2)
    return np.where(wrong[..., np.newaxis] == 0, places, np.nan)


def earth_fixed(places: Floats, instants: Instants) -> Floats:
    """TEME places (n, m, 3) turned into the Earth-fixed frame (ITRS).

    By Greenwich mean sidereal time of 1982 (Aoki et al. 1982, A&A 105, 359) about the pole, then by
    the pole's motion. AIAA 2006-6753, appendix C.
    """
    theta = _erfa.gmst82(instants.ut11, instants.ut12)
    c, s = np.cos(theta), np.sin(theta)
    x, y, z = places[..., 0], places[..., 1], places[..., 2]
    turned = np.stack([c * x + s * y, -s * x + c * y, z], axis=-1)
    pole = _erfa.pom00(instants.xp_rad, instants.yp_rad, np.zeros(len(instants)))
    return np.asarray(np.einsum("mij,nmj->nmi", pole, turned))


def satellite_sights(satellites: Sequence[TwoLine], sky: SatelliteSky) -> SatelliteSights:
    """All of them through the instants of a sky."""
    places = earth_fixed(teme_km(satellites, sky.instants), sky.instants)
    seen = places - sky.here_km
    distance = np.linalg.norm(seen, axis=-1)
    east, north, up = (seen @ axis for axis in sky.axes)
    true_deg = np.degrees(np.arcsin(np.clip(up / distance, -1.0, 1.0)))
    to_sun = sky.sun_km - places
    cosine = -np.sum(seen * to_sun, axis=-1) / (distance * np.linalg.norm(to_sun, axis=-1))
    return SatelliteSights(
        azimuth_deg=np.mod(np.degrees(np.arctan2(east, north)), 360.0),
        altitude_deg=apparent_altitude_deg(true_deg, sky.observer),
        distance_km=distance,
        lit_deg=above_shadow_deg(places, sky.sun_km),
        phase_deg=np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))),
    )
