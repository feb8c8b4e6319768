"""How is each planet turned in space, and how flat is it?

Poles and prime meridians: B. A. Archinal et al. 2018, Celest. Mech. Dyn. Astr. 130, 22 (IAU
WGCCRE 2015), tables 1 and 4; of Mars the simpler, equally good lines of the report of 2009
(Archinal et al. 2011, Celest. Mech. Dyn. Astr. 109, 101). From memory, checked by tests against
published tables. Terms below 0.01 degrees are left out.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.sky.arrays import Floats
from axletree.sky.directions import vector_from_angles

# Equatorial and polar radii, km: the same report, tables 4-6; the Sun's of IAU 2015 resolution B3.
RADIUS_KM = {
    "sun": 695700.0,
    "moon": 1737.4,
    "mercury": 2440.53,
    "venus": 6051.8,
    "mars": 3396.19,
    "jupiter": 71492.0,
    "saturn": 60268.0,
    "uranus": 25559.0,
    "neptune": 24764.0,
}
POLAR_RADIUS_KM = {
    **RADIUS_KM,
    "mercury": 2438.26,
    "mars": 3376.20,
    "jupiter": 66854.0,
    "saturn": 54364.0,
    "uranus": 24973.0,
    "neptune": 24341.0,
}
# North pole (ICRS degrees: right ascension and its change a Julian century, declination and its
# change), prime meridian from the ascending node (degrees at J2000.0, degrees a day).
# Jupiter, Saturn, Uranus: the turn of their magnetic fields (System III); Neptune: of features that
# last in its clouds.
_AXES = {
    "mercury": (281.0103, -0.0328, 61.4155, -0.0049, 329.5988, 6.1385108),
    "venus": (272.76, 0.0, 67.16, 0.0, 160.20, -1.4813688),
    "mars": (317.68143, -0.1061, 52.88650, -0.0609, 176.630, 350.89198226),
    "jupiter": (268.056595, -0.006499, 64.495303, 0.002413, 284.95, 870.5360000),
    "saturn": (40.589, -0.036, 83.537, -0.004, 38.90, 810.7939024),
    "uranus": (257.311, 0.0, -15.175, 0.0, 203.81, -501.1600928),
    "neptune": (299.36, 0.0, 43.46, 0.0, 249.978, 541.1397757),
}


def _axis(name: str) -> tuple[float, float, float, float, float, float]:
    if name not in _AXES:
        raise AxletreeError(f"no axis is known of {name!r}; known are {', '.join(_AXES)}")
    return _AXES[name]


def north_pole(name: str, days: Floats) -> Floats:
    """Unit vectors (n, 3), ICRS, of a planet's north pole (as the IAU defines it).

    `days` (n,) of dynamical time from J2000.0, when the light leaves the planet. Errors below
    0.02 degrees.
    """
    ra, ra_century, dec, dec_century, _, _ = _axis(name)
    T = np.asarray(days, dtype=np.float64) / 36525.0
    if name == "neptune":
        N = np.radians(357.85 + 52.316 * T)
        return vector_from_angles(ra + 0.70 * np.sin(N), dec - 0.51 * np.cos(N))
    return vector_from_angles(ra + ra_century * T, dec + dec_century * T)


def prime_meridian_deg(name: str, days: Floats) -> Floats:
    """Angle W (n,), degrees, from the node of the planet's equator on the ICRS equator to its
    prime meridian, eastward along its equator; not wrapped. `days` as in `north_pole`."""
    d = np.asarray(days, dtype=np.float64)
    _, _, _, _, W0, rate = _axis(name)
    W = W0 + rate * d
    if name == "neptune":
        W = W - 0.48 * np.sin(np.radians(357.85 + 52.316 * d / 36525.0))
    return np.asarray(W)


def turns_backward(name: str) -> bool:
    """True where the prime meridian runs westward (Venus and Uranus)."""
    return _axis(name)[5] < 0.0


def latitude_longitude_deg(name: str, days: Floats, toward: Floats) -> tuple[Floats, Floats]:
    """Planetocentric latitude and east longitude 0-360 (n,), degrees, under directions.

    `toward` (n, 3) from the planet's centre, ICRS, any length; `days` as in `north_pole`.
    """
    pole = north_pole(name, days)
    u = toward / np.linalg.norm(toward, axis=-1, keepdims=True)
    latitude = np.degrees(np.arcsin(np.clip(np.sum(pole * u, axis=-1), -1.0, 1.0)))
    node = np.stack([-pole[:, 1], pole[:, 0], np.zeros(len(pole))], axis=-1)
    node /= np.linalg.norm(node, axis=-1, keepdims=True)
    ahead = np.cross(pole, node)
    along = np.degrees(np.arctan2(np.sum(u * ahead, axis=-1), np.sum(u * node, axis=-1)))
    return latitude, np.mod(along - prime_meridian_deg(name, days), 360.0)
