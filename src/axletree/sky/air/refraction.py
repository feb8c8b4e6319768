"""How much does the air lift things, and through how much of it does the light come?

Above 5 degrees of apparent altitude: R = A tan z + B tan^3 z with the constants that ERFA's
`refco` derives from pressure, temperature, humidity and wavelength (the form that large
libraries share). It loses its footing near the horizon, so below 5 degrees the form of the
Nautical Almanac (editions from 2004) takes over, scaled to meet the other at 5 degrees and
unscaled at the horizon. Near the horizon the true air can differ by several arcminutes.
"""

from __future__ import annotations

import functools

import erfa
import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer

_DEG = np.pi / 180.0
JOIN_ALTITUDE_DEG = 5.0
_LOWEST_DEG = -1.0  # the almanac form is not used below this apparent altitude
SETTLED_DEG = 1e-10
GONE_ALTITUDE_DEG = -4.0  # down to here refraction fades out: nothing is seen there anyway


@functools.lru_cache(maxsize=64)
def refraction_constants(observer: Observer) -> tuple[float, float]:
    """A and B in radians for R = A tan z + B tan^3 z, z the apparent zenith distance.

    Source: ERFA `refco` (after C. Y. Hohenkerk and A. T. Sinclair 1985 and I. P. Stone 1996).
    """
    a, b = erfa.ufunc.refco(
        observer.air_pressure_hpa,
        observer.air_temperature_c,
        observer.relative_humidity,
        observer.wavelength_um,
    )
    return float(a), float(b)


def almanac_refraction_deg(
    apparent_altitude_deg: ArrayLike, pressure_hpa: float = 1010.0, temperature_c: float = 10.0
) -> Floats:
    """Refraction in degrees by the Nautical Almanac's form, editions from 2004.

    R = 0.0167 deg cot(h + 7.32 / (h + 4.32)), times P/1010 and 283/(273 + T). Its form is that
    of G. G. Bennett 1982, J. Navigation 35, 255. For apparent altitudes above -1 degree.
    """
    h = np.asarray(apparent_altitude_deg, dtype=np.float64)
    scale = pressure_hpa / 1010.0 * 283.0 / (273.0 + temperature_c)
    return np.asarray(0.0167 * scale / np.tan((h + 7.32 / (h + 4.32)) * _DEG))


def _two_constants_deg(h: Floats, observer: Observer) -> Floats:
    A, B = refraction_constants(observer)
    tan_z = np.tan((90.0 - h) * _DEG)
    return np.asarray((A * tan_z + B * tan_z**3) / _DEG)


def refraction_from_apparent_deg(apparent_altitude_deg: ArrayLike, observer: Observer) -> Floats:
    """Refraction in degrees at an apparent altitude: subtract it to get the true altitude.

    Continuous, falling with altitude; faded out between 1 and 4 degrees below the horizon.
    """
    h = np.asarray(apparent_altitude_deg, dtype=np.float64)
    join = np.float64(JOIN_ALTITUDE_DEG)
    pressure, temperature = observer.air_pressure_hpa, observer.air_temperature_c
    if pressure == 0.0:
        return np.zeros_like(h)
    high = _two_constants_deg(np.clip(h, join, 90.0), observer)
    h_low = np.clip(h, _LOWEST_DEG, join)
    at_join = _two_constants_deg(np.asarray(join), observer) / almanac_refraction_deg(
        join, pressure, temperature
    )
    x = np.clip(h_low / join, 0.0, 1.0)
    low = almanac_refraction_deg(h_low, pressure, temperature) * (
        1.0 + (at_join - 1.0) * x * x * (3.0 - 2.0 * x)
    )
    fade = np.clip((h - GONE_ALTITUDE_DEG) / (_LOWEST_DEG - GONE_ALTITUDE_DEG), 0.0, 1.0)
    return np.asarray(np.where(h >= join, high, low * fade))


def refraction_deg(altitude_true_deg: ArrayLike, observer: Observer) -> Floats:
    """Refraction in degrees at a true altitude: add it to get the apparent altitude."""
    true = np.asarray(altitude_true_deg, dtype=np.float64)
    refraction = refraction_from_apparent_deg(true, observer)
    # R falls by at most a fifth of a degree a degree: each turn gains a digit and more.
    for _ in range(12):
        before, refraction = refraction, refraction_from_apparent_deg(true + refraction, observer)
        if not (np.abs(refraction - before) > SETTLED_DEG).any():
            break
    return refraction


def apparent_altitude_deg(altitude_true_deg: ArrayLike, observer: Observer) -> Floats:
    """Altitude as seen through the air, from the true altitude; degrees."""
    return np.asarray(altitude_true_deg, dtype=np.float64) + refraction_deg(
        altitude_true_deg, observer
    )


def true_altitude_deg(apparent_altitude_deg: ArrayLike, observer: Observer) -> Floats:
    """Altitude without air, from the altitude as seen; degrees."""
    return np.asarray(apparent_altitude_deg, dtype=np.float64) - refraction_from_apparent_deg(
        apparent_altitude_deg, observer
    )


def refracted_pole_altitude_deg(observer: Observer) -> float:
    """Altitude at which the elevated celestial pole is seen: |latitude| plus its refraction."""
    return float(apparent_altitude_deg(abs(observer.latitude_deg), observer))


def airmass(altitude_deg: ArrayLike) -> Floats:
    """Airmass at an apparent altitude in degrees; infinite below the horizon.

    Source: K. A. Pickering 2002, DIO 12, 3, p. 20: X = 1 / sin(h + 244 / (165 + 47 h^1.1)).
    """
    h = np.asarray(altitude_deg, dtype=np.float64)
    above = np.maximum(h, 0.0)
    x = 1.0 / np.sin((above + 244.0 / (165.0 + 47.0 * above**1.1)) * _DEG)
    return np.asarray(np.where(h >= 0.0, x, np.inf))
