"""Many imperfect mounts at once, turned as their shafts turn them. None of the product's code.

Turns are scipy's `Rotation`, from the inside out: the tube leans `cone` towards its end of the
declination shaft; that shaft turns; it leans `lean` to the elevated pole; the hour shaft turns;
the head stands astray. Local x east, y north, z up. Refraction is the Laplace fit to the Pulkovo
tables (57.085 tan z - 0.0666 tan^3 z arcseconds at 1013.25 hPa and 15 C).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial.transform import Rotation

ARCMIN = np.pi / 10800.0


def about(axis, angle_rad):
    """Turns about one fixed axis of the frame that is turned."""
    return Rotation.from_rotvec(np.multiply.outer(angle_rad, np.asarray(axis, dtype=float)))


def lift_deg(apparent_deg, scale):
    t = np.tan(np.radians(90.0 - apparent_deg))
    return (57.085 * t - 0.0666 * t**3) * scale / 3600.0


@dataclass
class Rigs:
    """Mounts (n,) at latitudes of one sign: errors in arcminutes, slips of the circles too.

    `air`: refraction in units of that at 1013.25 hPa and 15 C. `azimuth_arcmin`: the whole head
    turned about the vertical, north through east, after all the rest.
    """

    latitude_deg: np.ndarray
    high: np.ndarray
    east: np.ndarray
    slip_hour: np.ndarray
    slip_declination: np.ndarray
    cone: np.ndarray
    lean: np.ndarray
    air: float = 0.0
    azimuth_arcmin: float = 0.0

    @property
    def lead(self):
        return 1.0 if self.latitude_deg[0] >= 0 else -1.0

    def pole_altitude_deg(self):
        true = np.abs(self.latitude_deg)
        seen = true.copy()
        for _ in range(20):
            seen = true + (lift_deg(seen, self.air) if self.air else 0.0)
        return seen

    def head(self):
        """From the mount's frame (x meridian, z axis, y = z cross x) to the local one."""
        a = np.radians(self.pole_altitude_deg())
        zero = np.zeros_like(a)
        up = np.stack([zero, -self.lead * np.sin(a), np.cos(a)], -1)
        pole = np.stack([zero, self.lead * np.cos(a), np.sin(a)], -1)
        straight = Rotation.from_matrix(np.stack([up, np.cross(pole, up), pole], -1))
        goal = self.high[:, None] * up + self.east[:, None] * np.array([1.0, 0.0, 0.0])
        astray = Rotation.from_rotvec(np.cross(pole, goal) * ARCMIN)
        turned = about([0, 0, -1.0], np.full_like(a, self.azimuth_arcmin) * ARCMIN)
        return turned * astray * straight

    def stars_at(self, hour_shaft_deg, declination_shaft_deg):
        """Hour angle (h), declination and altitude (degrees) of the stars in the tubes."""
        west, north = np.radians(hour_shaft_deg), np.radians(declination_shaft_deg)
        turns = (
            about([0, 0, -self.lead], west)
            * about([self.lead, 0, 0], self.lean * ARCMIN)
            * about([0, -self.lead, 0], north)
            * about([0, 0, self.lead], self.cone * ARCMIN)
        )
        seen = self.head().apply(turns.apply([1.0, 0.0, 0.0]))
        altitude = np.degrees(np.arcsin(np.clip(seen[:, 2], -1, 1)))
        true = np.radians(altitude - (lift_deg(altitude, self.air) if self.air else 0.0))
        flat = seen[:, :2] / np.linalg.norm(seen[:, :2], axis=-1, keepdims=True)
        local = np.concatenate([flat * np.cos(true)[:, None], np.sin(true)[:, None]], -1)
        globe = about([1, 0, 0], -np.radians(self.latitude_deg)).apply(local)
        hour = np.degrees(np.arctan2(-globe[:, 0], globe[:, 2])) / 15.0
        return hour, np.degrees(np.arcsin(np.clip(globe[:, 1], -1, 1))), altitude

    def shown(self, hour_shaft_deg, declination_shaft_deg):
        """What circles show that slipped: hours as they stand, degrees of the shaft."""
        return (
            hour_shaft_deg / 15.0 + self.slip_hour / 900.0,
            declination_shaft_deg + self.slip_declination / 60.0,
        )


def shafts(side, hour_h, declination_deg):
    """Shaft angles (degrees) of a true mount: on side west half round, and over the pole."""
    over = np.asarray(side) < 0
    return (
        15.0 * np.asarray(hour_h) + np.where(over, 180.0, 0.0),
        np.where(over, 180.0 - np.asarray(declination_deg), declination_deg),
    )


def up_to_90(counted_deg):
    """A declination circle's numbers, which rise and fall with the shaft's sine."""
    at = np.radians(counted_deg)
    return np.degrees(np.arctan2(np.sin(at), np.abs(np.cos(at))))


def hours_apart(a, b):
    return (np.asarray(a) - b + 12.0) % 24.0 - 12.0


def random_rigs(rng, count, latitude_sign, size_arcmin, air=0.0):
    """Any latitudes from 15 to 65 degrees, all errors even within plus and minus `size`."""
    latitude = latitude_sign * rng.uniform(15.0, 65.0, count)
    return Rigs(latitude, *rng.uniform(-size_arcmin, size_arcmin, (6, count)), air)
