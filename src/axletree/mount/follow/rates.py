"""How fast does the hour axis have to turn, for this object, through this air?

Rates are arcseconds of hour angle per second of clock time; what a mount whose axis stands on
the refracted pole has to do is found by seeing the object through the air, reading its hour
angle and declination in the frame of that pole, and differentiating.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Motor
from axletree.sky.air.refraction import apparent_altitude_deg, refracted_pole_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import (
    azimuth_altitude,
    hour_angle_from_vector,
    vector_from_azimuth_altitude,
    wrap_h,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S, Instants

_ARCSEC_PER_H = 15.0 * 3600.0
_STEP_S = 30.0

MOON_MEAN_MOTION_DEG_PER_DAY = 13.176396  # sidereal; J. Chapront et al. 2002, A&A 387, 700
SOLAR_RATE = 15.0  # of the mean Sun: 360 degrees in 86400 s
LUNAR_RATE = SIDEREAL_RATE_ARCSEC_PER_S - MOON_MEAN_MOTION_DEG_PER_DAY * 3600.0 / 86400.0
# E. S. King 1931, A Manual of Celestial Photography: the average for the sky not far from the
# zenith, quoted from memory; `refracted_rate` gives what holds where the object is.
KING_RATE = 15.0369

DRIVE_RATES: dict[str, float] = {
    "sidereal": SIDEREAL_RATE_ARCSEC_PER_S,
    "solar": SOLAR_RATE,
    "lunar": LUNAR_RATE,
    "king": KING_RATE,
}


def refracted_hour_angle(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    observer: Observer,
    axis_altitude_deg: float | None = None,
) -> tuple[Floats, Floats]:
    """Hour angle (h) and declination (deg) as seen through air, about the refracted pole.

    From the true ones; `axis_altitude_deg` puts the axis elsewhere in the meridian.
    """
    pole = refracted_pole_altitude_deg(observer) if axis_altitude_deg is None else axis_altitude_deg
    sense = 1.0 if observer.north else -1.0
    azimuth, altitude = azimuth_altitude(hour_angle_h, declination_deg, observer.latitude_deg)
    seen = vector_from_azimuth_altitude(azimuth, apparent_altitude_deg(altitude, observer))
    return hour_angle_from_vector(seen, sense * pole)


def refracted_rate(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    observer: Observer,
    axis_altitude_deg: float | None = None,
) -> tuple[Floats, Floats]:
    """Rates of a fixed star through air: hour angle and declination, arcsec per second.

    Central differences over a minute of the seen hour angle about the refracted pole; the
    method is A. A. Rambaut's (1896, MNRAS 57, 50) and E. S. King's (1931) without their series.
    """
    H = np.asarray(hour_angle_h, dtype=np.float64)
    step_h = _STEP_S * SIDEREAL_RATE_ARCSEC_PER_S / _ARCSEC_PER_H
    before, after = (
        refracted_hour_angle(H + s, declination_deg, observer, axis_altitude_deg)
        for s in (-step_h, step_h)
    )
    turn = wrap_h(after[0] - before[0]) * _ARCSEC_PER_H / (2.0 * _STEP_S)
    drift = (after[1] - before[1]) * 3600.0 / (2.0 * _STEP_S)
    return np.asarray(turn), np.asarray(drift)


@dataclass(frozen=True)
class ObjectRates:
    """What one object does at one moment, arcseconds per second.

    `true` and `true_declination` without air about the true pole; `seen` and
    `seen_declination` through air about the refracted pole, which is what a mount set on that
    pole has to follow. `declination_deg` is the seen one.
    """

    true: float
    true_declination: float
    seen: float
    seen_declination: float
    declination_deg: float


def object_rates(target: SkyObject, instants: Instants, observer: Observer) -> ObjectRates:
    """Rates of a star, planet, the Sun or the Moon at the first of `instants`, from here.

    Its own motion and the observer's parallax are in it: differentiated over a minute.
    """
    around = instants[0].plus(np.array([-_STEP_S, 0.0, _STEP_S]))
    places = object_positions([target], around, observer)
    sense = 1.0 if observer.north else -1.0
    seen = vector_from_azimuth_altitude(places.azimuth_deg[0], places.altitude_deg[0])
    H, d = hour_angle_from_vector(seen, sense * refracted_pole_altitude_deg(observer))
    span = 2.0 * _STEP_S
    true_H, true_d = places.hour_angle_h[0], places.declination_deg[0]
    return ObjectRates(
        true=float(wrap_h(true_H[2] - true_H[0])) * _ARCSEC_PER_H / span,
        true_declination=float(true_d[2] - true_d[0]) * 3600.0 / span,
        seen=float(wrap_h(H[2] - H[0])) * _ARCSEC_PER_H / span,
        seen_declination=float(d[2] - d[0]) * 3600.0 / span,
        declination_deg=float(d[1]),
    )


@dataclass(frozen=True)
class DriveChoice:
    """One rate of the motor on one object: what is left over for the hand.

    `along_arcsec_per_min` and `across_arcsec_per_min` are the object's drift on the sky in hour
    angle (positive: it runs ahead to the west) and in declination (positive north).
    """

    rate: str
    arcsec_per_s: float
    along_arcsec_per_min: float
    across_arcsec_per_min: float

    @property
    def drift_arcsec_per_min(self) -> float:
        """Total drift."""
        return float(np.hypot(self.along_arcsec_per_min, self.across_arcsec_per_min))


def drive_choices(motor: Motor, rates: ObjectRates) -> list[DriveChoice]:
    """The motor's rates on an object, the one that leaves least drift first."""
    cos_d = float(np.cos(np.radians(rates.declination_deg)))
    found = [
        DriveChoice(
            rate=name,
            arcsec_per_s=DRIVE_RATES[name],
            along_arcsec_per_min=(rates.seen - DRIVE_RATES[name]) * 60.0 * cos_d,
            across_arcsec_per_min=rates.seen_declination * 60.0,
        )
        for name in motor.rates
    ]
    return sorted(found, key=lambda choice: choice.drift_arcsec_per_min)
