"""Where does the object that is followed stand, how large is it, and how fast does it go?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.mount.follow.rates import ObjectRates, refracted_rate
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.objects import MOVING, object_positions
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S, Instants


@dataclass(frozen=True)
class FollowedPlace:
    """Apparent and topocentric place of one object, and its diameter (0: a point)."""

    hour_angle_h: float
    declination_deg: float
    azimuth_deg: float
    altitude_deg: float
    diameter_deg: float


def equator_place(observer: Observer) -> FollowedPlace:
    """Of a star on the celestial equator at the meridian, where the sky is fastest."""
    high = 90.0 - abs(observer.latitude_deg)
    return FollowedPlace(0.0, 0.0, 180.0 if observer.north else 0.0, high, 0.0)


def equator_rates(observer: Observer) -> ObjectRates:
    """The rates of that star, without air and through air about the refracted pole."""
    rate, drift = refracted_rate(0.0, 0.0, observer, refracted_pole_altitude_deg(observer))
    return ObjectRates(SIDEREAL_RATE_ARCSEC_PER_S, 0.0, float(rate), float(drift), 0.0)


def object_place(target: SkyObject, instants: Instants, observer: Observer) -> FollowedPlace:
    """Of a star, planet, the Sun, the Moon or a deep-sky object at the first of `instants`."""
    at = object_positions([target], instants, observer)
    size = 0.0
    if target.kind in MOVING:
        bodies = body_positions(target.catalogue_id, instants, observer)
        size = float(bodies.diameter_arcsec[0, 0]) / 3600.0
    elif target.size_major_arcmin is not None:
        size = target.size_major_arcmin / 60.0
    return FollowedPlace(
        hour_angle_h=float(at.hour_angle_h[0, 0]),
        declination_deg=float(at.declination_deg[0, 0]),
        azimuth_deg=float(at.azimuth_deg[0, 0]),
        altitude_deg=float(at.altitude_deg[0, 0]),
        diameter_deg=size,
    )
