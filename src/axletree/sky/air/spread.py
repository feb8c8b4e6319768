"""How well is refraction known, given what is known of the air?

Three causes, independent of each other, each with the shape that it gives refraction: the
temperature and the pressure at the site, and the two-constant form of `refraction` itself.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.air.refraction import JOIN_ALTITUDE_DEG, refraction_from_apparent_deg
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer

Cause = Literal["temperature", "pressure", "form"]

CAUSES: tuple[Cause, ...] = ("temperature", "pressure", "form")

# Where the kit names no air, wide on purpose: nights of all seasons and climates about the
# standard atmosphere at the site, -25 to 55 degrees Celsius at sea level within two (common
# practice, no source), and the weather's swing of pressure (from memory).
UNKNOWN_TEMPERATURE_SIGMA_C = 20.0
UNKNOWN_PRESSURE_SIGMA = 0.010  # of the pressure
# Where it does: a thermometer near the ground against the air above it on a clear night, and a
# barometer or a weather report brought to the site's height (common practice, no source).
GIVEN_TEMPERATURE_SIGMA_C = 3.0
GIVEN_PRESSURE_SIGMA = 0.003
# What A tan z + B tan^3 z lacks against a ray followed through a hydrostatic atmosphere:
# 0.3" at 12, 1.4" at 9, 5" at 7, 24" at 5 degrees, nearly as tan^5 z; the same integral stands in
# tests/sky/test_air_spread.py. Always too little, so it counts here with its full size.
FORM_ARCSEC = 1.3e-4
# Higher than this, air of -15 degrees Celsius and 1035 hPa that the kit doesn't know of turns
# frames by a few arcseconds, less than what frames tell; at 15 to 30 degrees it doesn't.
LOW_ALTITUDE_DEG = 30.0


def refraction_parts_deg(apparent_altitude_deg: ArrayLike, observer: Observer) -> Floats:
    """What one standard deviation of each of `CAUSES` adds to refraction, degrees, (3, ...).

    For warmer air negative, for denser positive; each falls to nothing at the zenith. An
    observer without air (`pressure_hpa=0`) has none.
    """
    h = np.asarray(apparent_altitude_deg, dtype=np.float64)
    if observer.air_pressure_hpa == 0.0:
        return np.zeros((len(CAUSES), *h.shape))
    temperature, pressure = observer.air_temperature_c, observer.air_pressure_hpa
    kelvin = (
        UNKNOWN_TEMPERATURE_SIGMA_C if observer.temperature_c is None else GIVEN_TEMPERATURE_SIGMA_C
    )
    share = UNKNOWN_PRESSURE_SIGMA if observer.pressure_hpa is None else GIVEN_PRESSURE_SIGMA

    def at(temperature_c: float, pressure_hpa: float) -> Floats:
        air = replace(observer, temperature_c=temperature_c, pressure_hpa=pressure_hpa)
        return refraction_from_apparent_deg(h, air)

    # A tenth of the spread stays inside what an observer may be given, at the edges as well.
    part, sign = 0.1, -1.0 if temperature > 0.0 else 1.0
    here = at(temperature, pressure)
    warmer = (at(temperature + sign * part * kelvin, pressure) - here) / (sign * part)
    denser = here * share
    tan_z = np.tan(np.radians(90.0 - np.clip(h, JOIN_ALTITUDE_DEG, 90.0)))
    return np.stack([warmer, denser, FORM_ARCSEC / 3600.0 * tan_z**5])


def refraction_sigma_deg(apparent_altitude_deg: ArrayLike, observer: Observer) -> Floats:
    """One standard deviation of `refraction_from_apparent_deg`, degrees, same shape.

    Wide where the observer's pressure or temperature is the standard atmosphere's for want of
    a reading, narrow where both were given.
    """
    parts = refraction_parts_deg(apparent_altitude_deg, observer)
    return np.asarray(np.sqrt(np.sum(parts**2, axis=0)))
