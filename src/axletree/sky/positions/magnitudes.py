"""How bright do the planets and the Moon look, in visual magnitudes?

Planets: A. Mallama and J. L. Hilton 2018, Astronomy and Computing 25, 10, 'Computing apparent
planetary magnitudes for The Astronomical Almanac' (coefficients from memory, checked by test
against a general library that carries them). Left out: the small rotational and seasonal terms
of Mars (up to 0.06 mag). r, d: distances to Sun and Earth (au); a: phase angle (degrees).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats

_MERCURY = (-0.613, 6.3280e-2, -1.6336e-3, 3.3644e-5, -3.4265e-7, 1.6893e-9, -3.0334e-12)
_VENUS = (-4.384, -1.044e-3, 3.687e-4, -2.814e-6, 8.938e-9)
_VENUS_THIN = (236.05828, -2.81914, 8.39034e-3)
_MARS = (-1.601, 2.267e-2, -1.302e-4)
_MARS_FAR = (-0.367, -2.573e-2, 3.445e-4)
_JUPITER = (-9.395, -3.7e-4, 6.16e-4)
_NEPTUNE = (-7.00, 7.944e-3, 9.617e-5)


def _poly(a: Floats, coefficients: tuple[float, ...]) -> Floats:
    total = np.zeros_like(a)
    for c in reversed(coefficients):
        total = total * a + c
    return total


def planet_magnitude(
    name: str,
    sun_distance_au: ArrayLike,
    distance_au: ArrayLike,
    phase_angle_deg: ArrayLike,
    earth_latitude_deg: ArrayLike = 0.0,
    sun_latitude_deg: ArrayLike = 0.0,
) -> Floats:
    """Apparent V magnitude of a planet, arrays broadcast.

    The two latitudes are the planetocentric ones of Earth and Sun on Saturn (its rings) and
    Uranus (its banding); others ignore them.
    """
    r = np.asarray(sun_distance_au, dtype=np.float64)
    d = np.asarray(distance_au, dtype=np.float64)
    a = np.asarray(phase_angle_deg, dtype=np.float64)
    far = 5.0 * np.log10(r * d)
    if name == "mercury":
        return np.asarray(far + _poly(a, _MERCURY))
    if name == "venus":
        return np.asarray(far + np.where(a <= 163.7, _poly(a, _VENUS), _poly(a, _VENUS_THIN)))
    if name == "mars":
        return np.asarray(far + np.where(a <= 50.0, _poly(a, _MARS), _poly(a, _MARS_FAR)))
    if name == "jupiter":
        return np.asarray(far + _poly(a, _JUPITER))  # seen from here the phase stays below 12
    if name == "saturn":
        be, bs = np.asarray(earth_latitude_deg), np.asarray(sun_latitude_deg)
        # Rings lit from the side that is turned away from us add nothing.
        b = np.radians(np.sqrt(np.maximum(be * bs, 0.0)))
        return np.asarray(
            far - 8.914 - 1.825 * np.sin(b) + 0.026 * a - 0.378 * np.sin(b) * np.exp(-2.25 * a)
        )
    if name == "uranus":
        # Planetographic latitudes: the globe's flattening is 0.0022927.
        lat = [
            np.degrees(np.arctan(np.tan(np.radians(np.abs(b))) / (1.0 - 0.0022927) ** 2))
            for b in (np.asarray(earth_latitude_deg), np.asarray(sun_latitude_deg))
        ]
        phi = 0.5 * (lat[0] + lat[1])
        # Seen from the Earth the phase stays below 3.1 degrees and shows no effect of its own.
        phase = np.where(a > 3.1, 6.587e-3 * a + 1.045e-4 * a * a, 0.0)
        return np.asarray(far - 7.110 - 8.4e-4 * phi + phase)
    if name == "neptune":
        return np.asarray(far + np.where(a <= 1.9, _NEPTUNE[0], _poly(a, _NEPTUNE)))
    return np.full(np.broadcast_shapes(r.shape, d.shape, a.shape), np.nan)


def moon_magnitude(
    sun_distance_au: ArrayLike, distance_au: ArrayLike, phase_angle_deg: ArrayLike
) -> Floats:
    """Apparent V magnitude of the Moon.

    Source: K. Krisciunas and B. E. Schaefer 1991, PASP 103, 1033, eq. 9 (after Allen):
    -12.73 + 0.026 |a| + 4e-9 a^4, here also with the true distances (mean 0.0025696 au).
    """
    r = np.asarray(sun_distance_au, dtype=np.float64)
    d = np.asarray(distance_au, dtype=np.float64)
    a = np.abs(np.asarray(phase_angle_deg, dtype=np.float64))
    return np.asarray(-12.73 + 0.026 * a + 4e-9 * a**4 + 5.0 * np.log10(r * d / 0.0025696))


def sun_magnitude(distance_au: ArrayLike) -> Floats:
    """Apparent V magnitude of the Sun: -26.74 at 1 au (Allen's Astrophysical Quantities, 4th)."""
    return np.asarray(-26.74 + 5.0 * np.log10(np.asarray(distance_au, dtype=np.float64)))
