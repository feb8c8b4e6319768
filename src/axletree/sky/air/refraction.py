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
_STEEPEST = 0.5  # refraction never changes by more than this part of a change of altitude
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
    return np.asarray((A + B * (tan_z * tan_z)) * tan_z / _DEG)


def refraction_from_apparent_deg(apparent_altitude_deg: ArrayLike, observer: Observer) -> Floats:
    """Refraction in degrees at an apparent altitude: subtract it to get the true altitude.

    Continuous, falling with altitude; faded out between 1 and 4 degrees below the horizon.
    """
    h = np.asarray(apparent_altitude_deg, dtype=np.float64)
    if observer.air_pressure_hpa == 0.0:
        return np.zeros_like(h)
    is_high = h >= JOIN_ALTITUDE_DEG
    if is_high.all():
        return _two_constants_deg(np.minimum(h, 90.0), observer)
    if not is_high.any():
        return _low_deg(h, observer)
    refraction = np.empty_like(h)
    refraction[is_high] = _two_constants_deg(np.minimum(h[is_high], 90.0), observer)
    refraction[~is_high] = _low_deg(h[~is_high], observer)
    return refraction


def _low_deg(h: Floats, observer: Observer) -> Floats:
    """Below where the two forms join: the almanac's, bent to the other one, faded out below."""
    above = np.minimum(np.maximum(h, _LOWEST_DEG), JOIN_ALTITUDE_DEG)
    almanac = almanac_refraction_deg(above, observer.air_pressure_hpa, observer.air_temperature_c)
    x = np.maximum(above / JOIN_ALTITUDE_DEG, 0.0)
    bent = almanac * (1.0 + (_at_join(observer) - 1.0) * x * x * (3.0 - 2.0 * x))
    fade = (h - GONE_ALTITUDE_DEG) / (_LOWEST_DEG - GONE_ALTITUDE_DEG)
    return np.asarray(bent * np.minimum(np.maximum(fade, 0.0), 1.0))


@functools.lru_cache(maxsize=64)
def _at_join(observer: Observer) -> float:
    """How many times the almanac's refraction the other one is where both join."""
    join = np.asarray(JOIN_ALTITUDE_DEG)
    almanac = almanac_refraction_deg(join, observer.air_pressure_hpa, observer.air_temperature_c)
    return float(_two_constants_deg(join, observer) / almanac)


def refraction_deg(altitude_true_deg: ArrayLike, observer: Observer) -> Floats:
    """Refraction in degrees at a true altitude: add it to get the apparent altitude."""
    true = np.asarray(altitude_true_deg, dtype=np.float64)
    at = true.reshape(-1)
    settled = refraction_from_apparent_deg(at, observer)
    rows = np.arange(at.size)
    before, found, now = np.zeros_like(at), settled.copy(), settled.copy()
    # R changes by less than half a degree a degree: to look again at the height that it gives
    # gains a digit. The line through two looks (secant) doubles them; held to that, it is safe.
    for _ in range(12):
        step = now - before
        left = np.abs(step) > SETTLED_DEG
        if not left.all():
            rows, at, step = rows[left], at[left], step[left]
            found, now = found[left], now[left]
        if not rows.size:
            break
        again = refraction_from_apparent_deg(at + now, observer)
        slope = np.minimum(np.maximum((again - found) / step, -_STEEPEST), _STEEPEST)
        before, found, now = now, again, now + (again - now) / (1.0 - slope)
        settled[rows] = now
    return settled.reshape(true.shape)


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
