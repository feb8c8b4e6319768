"""Air that low stars are really seen through, made without any of the product's code.

`refco_lift`: ERFA's two constants for any pressure and temperature. `ray_lift`: a ray followed
through a hydrostatic atmosphere with a lapse of 6.5 K a kilometre up to 11 km, by the integral
of L. H. Auer and E. M. Standish 2000, AJ 119, 2472 (r dn/dr over n + r dn/dr), dry air of
n - 1 = 277.96e-6 at 15 C and 1013.25 hPa (refractivity at 0.55 um; from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import erfa
import numpy as np
import simulator as sim
from scipy.interpolate import CubicSpline

_EARTH_M = 6371000.0


def refco_lift(pressure_hpa, temperature_c):
    """A function from apparent altitudes to refraction, both in degrees."""
    a, b = erfa.refco(pressure_hpa, temperature_c, 0.0, 0.55)

    def lift(altitude_deg):
        t = np.tan(np.radians(90.0 - np.asarray(altitude_deg)))
        return np.degrees(a * t + b * t**3)

    return lift


def ray_arcsec(altitude_deg, pressure_hpa, temperature_c, lapse=0.0065, inversion_c=0.0):
    """Refraction in arcseconds at one apparent altitude. `inversion_c`: how much warmer than by
    the lapse the air is above the first few hundred metres."""
    z = np.concatenate([np.linspace(0, 2000, 1001), np.linspace(2000, 80000, 5201)[1:]])
    kelvin = temperature_c + 273.15 - lapse * np.minimum(z, 11000.0)
    kelvin = kelvin + inversion_c * (1.0 - np.exp(-z / 300.0))
    slope = 9.80665 / (287.05 * kelvin) * (_EARTH_M / (_EARTH_M + z)) ** 2
    fall = np.concatenate([[0.0], np.cumsum(0.5 * (slope[1:] + slope[:-1]) * np.diff(z))])
    n = 1.0 + 277.96e-6 / 1.2250 * pressure_hpa * 100.0 * np.exp(-fall) / (287.05 * kelvin)
    sine = n[0] * _EARTH_M * np.cos(np.radians(altitude_deg)) / (n * (_EARTH_M + z))
    tan = sine / np.sqrt(1.0 - sine**2)
    bend = -np.sum(0.5 * (tan[1:] + tan[:-1]) * np.diff(np.log(n)))
    return float(np.degrees(bend) * 3600.0)


def ray_lift(pressure_hpa, temperature_c):
    """As `refco_lift`, by the ray."""
    nodes = np.concatenate([np.arange(2.0, 12.0, 0.5), np.arange(12.0, 89.0, 4.0)])
    tan = np.tan(np.radians(90.0 - nodes))
    ratio = [ray_arcsec(h, pressure_hpa, temperature_c) for h in nodes] / tan / 3600.0
    curve = CubicSpline(nodes, ratio)

    def lift(altitude_deg):
        h = np.clip(np.asarray(altitude_deg), 2.0, 89.9)
        return curve(np.minimum(h, 88.0)) * np.tan(np.radians(90.0 - h))

    return lift


@dataclass
class AiryPlace(sim.Place):
    """A `Place` that is seen through the air of `lift`."""

    lift: object = field(default=None)

    def seen(self, true):
        alt = np.degrees(np.arcsin(true[..., 2]))
        apparent = alt.copy()
        for _ in range(20):
            apparent = alt + self.lift(apparent)
        return sim._at_altitude(true, apparent)

    def unseen(self, seen):
        alt = np.degrees(np.arcsin(seen[..., 2]))
        return sim._at_altitude(seen, alt - self.lift(alt))
