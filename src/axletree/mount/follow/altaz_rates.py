"""What would a mount with a vertical axis have to do to follow the same object?

Both of its axes turn at changing speeds, the picture turns as well, and close to the zenith the
azimuth axis cannot keep up. Angles in degrees, hour angle in hours, positive west.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import azimuth_altitude, wrap_180
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S


@dataclass(frozen=True)
class AltazRates:
    """Azimuth, altitude and parallactic angle change, arcseconds per second, arrays alike.

    Azimuth is positive from north to east (in the axis, not on the sky); `turn` is the field's
    rotation. At the zenith itself the azimuth rate has no bound: inf.
    """

    azimuth_deg: Floats
    altitude_deg: Floats
    azimuth: Floats
    altitude: Floats
    turn: Floats


def altaz_rates(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    latitude_deg: ArrayLike,
    rate_arcsec_per_s: ArrayLike = SIDEREAL_RATE_ARCSEC_PER_S,
) -> AltazRates:
    """The rates that follow an object whose hour angle grows by `rate_arcsec_per_s`.

    dA/dH = sin f - tan e cos A cos f, de/dH = cos f sin A, dq/dH = -cos f cos A / cos e.
    Source: P. T. Wallace, SUN/67 (SLALIB), sla_ALTAZ, with A from north through east.
    """
    A_deg, e_deg = azimuth_altitude(hour_angle_h, declination_deg, latitude_deg)
    A, e = np.radians(A_deg), np.radians(e_deg)
    f = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    w = np.asarray(rate_arcsec_per_s, dtype=np.float64)
    cos_e = np.cos(e)
    zenith = cos_e < 1e-12
    safe = np.where(zenith, 1.0, cos_e)
    return AltazRates(
        azimuth_deg=A_deg,
        altitude_deg=e_deg,
        azimuth=np.asarray(
            np.where(zenith, np.inf, w * (np.sin(f) - np.sin(e) / safe * np.cos(A) * np.cos(f)))
        ),
        altitude=np.asarray(w * np.cos(f) * np.sin(A)),
        turn=np.asarray(np.where(zenith, np.inf, -w * np.cos(f) * np.cos(A) / safe)),
    )


def zenith_zone_deg(latitude_deg: ArrayLike, limit_deg_per_s: ArrayLike) -> Floats:
    """Radius of the zone around the zenith where an azimuth axis of this top speed falls behind.

    On the meridian |sin f -+ cot z cos f| w = limit, solved for the zenith distance z on the
    equator's side, where the zone reaches farthest; close to w cos f / limit.
    """
    f = np.radians(np.abs(np.asarray(latitude_deg, dtype=np.float64)))
    w = SIDEREAL_RATE_ARCSEC_PER_S / 3600.0
    v = np.asarray(limit_deg_per_s, dtype=np.float64) / w
    with np.errstate(divide="ignore"):
        cot = (v - np.sin(f)) / np.cos(f)
    return np.asarray(np.degrees(np.arctan2(1.0, cot)))


@dataclass(frozen=True)
class Culmination:
    """An object's culmination under an alt-azimuth mount of one top speed.

    `closest_deg` from the zenith; `top_azimuth_arcsec_per_s` and `top_turn_arcsec_per_s` on the
    meridian (inf through the zenith); `behind_s` how long the azimuth axis, at full speed, is
    behind the object: from where it can't follow any more until it has caught up.
    """

    closest_deg: float
    top_azimuth_arcsec_per_s: float
    top_turn_arcsec_per_s: float
    behind_s: float


def _bisect(below: Callable[[float], bool], low: float, high: float) -> float:
    """Where `below` turns from true to false between two hour angles, to 0.005 s."""
    while (high - low) * 3600.0 > 0.005:
        middle = (low + high) / 2
        low, high = (middle, high) if below(middle) else (low, middle)
    return (low + high) / 2


def culmination(declination_deg: float, latitude_deg: float, limit_deg_per_s: float) -> Culmination:
    """What an alt-azimuth mount of this top speed meets as the object crosses the meridian."""
    top = altaz_rates(0.0, declination_deg, latitude_deg)
    limit = limit_deg_per_s * 3600.0
    culmination_deg = 0.0 if declination_deg >= latitude_deg else 180.0

    def fast(hour_h: float) -> bool:
        rate = altaz_rates(hour_h, declination_deg, latitude_deg).azimuth
        return bool(np.abs(rate) > limit)

    def turned_deg(hour_h: float) -> float:
        azimuth = azimuth_altitude(hour_h, declination_deg, latitude_deg)[0]
        return abs(float(wrap_180(azimuth - culmination_deg)))

    behind = 0.0
    if fast(0.0):
        begin = _bisect(fast, 0.0, 6.0)  # by symmetry as long before the meridian as after
        per_h = limit_deg_per_s * 3600.0 * 15.0 / SIDEREAL_RATE_ARCSEC_PER_S  # per sidereal hour

        def lags(hour_h: float) -> bool:
            return per_h * (hour_h + begin) < turned_deg(hour_h) + turned_deg(begin)

        end = _bisect(lags, begin, 6.0)
        behind = (begin + end) * 3600.0 * 15.0 / SIDEREAL_RATE_ARCSEC_PER_S
    return Culmination(
        closest_deg=abs(latitude_deg - declination_deg),
        top_azimuth_arcsec_per_s=float(np.abs(top.azimuth)),
        top_turn_arcsec_per_s=float(np.abs(top.turn)),
        behind_s=behind,
    )
