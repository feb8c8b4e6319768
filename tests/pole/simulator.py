"""What would a person read at an imperfect mount? Made without any of the solver's code.

Turns are scipy's `Rotation`; refraction is the Laplace fit to the Pulkovo tables
(57.085 tan z - 0.0666 tan^3 z arcseconds at 1013.25 hPa and 15 C; reference row R, scaled by
P/1013.25 and 288.15/(273.15 + T)); right ascensions come from astropy.

Frames: local x east, y north, z up. Mount frame: z the axis towards the elevated pole, x the
direction in which the tube points with both its circles at nought, y = z cross x.
"""

from __future__ import annotations

import os
from dataclasses import dataclass

import numpy as np
from scipy.spatial.transform import Rotation

# AXLETREE_LONG=1 runs every sample in full (`make long`); else a part of it, within three standard
# deviations of what so few runs can tell beyond the full sample's tolerance.
LONG = bool(os.environ.get("AXLETREE_LONG"))
ARCMIN = np.pi / 10800.0
SIDEREAL = 1.00273790935


def lift_deg(apparent_altitude_deg, pressure_hpa, temperature_c):
    """Refraction in degrees at an apparent altitude; by the Pulkovo fit."""
    t = np.tan(np.radians(90.0 - np.asarray(apparent_altitude_deg)))
    scale = pressure_hpa / 1013.25 * 288.15 / (273.15 + temperature_c)
    return (57.085 * t - 0.0666 * t**3) * scale / 3600.0


@dataclass
class Place:
    """A site, its air, and an axis that is `high` and `east` of the pole as seen through it."""

    latitude_deg: float
    pressure_hpa: float
    temperature_c: float
    high_arcmin: float
    east_arcmin: float

    @property
    def south(self):
        return self.latitude_deg < 0

    def seen(self, true):
        """Local unit vectors as seen, from those without air."""
        alt = np.degrees(np.arcsin(true[..., 2]))
        apparent = alt.copy()
        for _ in range(20):
            apparent = alt + lift_deg(apparent, self.pressure_hpa, self.temperature_c)
        return _at_altitude(true, apparent)

    def unseen(self, seen):
        """Local unit vectors without air, from those seen."""
        alt = np.degrees(np.arcsin(seen[..., 2]))
        return _at_altitude(seen, alt - lift_deg(alt, self.pressure_hpa, self.temperature_c))

    @property
    def pole(self):
        """The elevated pole as seen."""
        a = np.radians(abs(self.latitude_deg))
        return self.seen(np.array([0.0, np.cos(a) * (-1 if self.south else 1), np.sin(a)]))

    @property
    def astray(self):
        """The turn that carries the pole to the mount's axis, along the great circle."""
        pole = self.pole
        east = np.array([1.0, 0.0, 0.0])
        up = np.array([0.0, 0.0, 1.0])
        above = up - (up @ pole) * pole
        above /= np.linalg.norm(above)
        goal = self.high_arcmin * above + self.east_arcmin * east
        size = np.linalg.norm(goal)
        if size == 0:
            return Rotation.identity()
        about = np.cross(pole, goal / size)
        return Rotation.from_rotvec(about * size * ARCMIN)

    @property
    def axis(self):
        return self.astray.apply(self.pole)

    @property
    def mount(self):
        """Mount frame to local frame; circles at nought, the tube is on the meridian."""
        pole = self.pole
        meridian = np.cross([1.0, 0.0, 0.0], pole)  # square to east and the pole
        if meridian[2] < 0:
            meridian = -meridian
        straight = Rotation.from_matrix(np.array([meridian, np.cross(pole, meridian), pole]).T)
        return self.astray * straight


def _at_altitude(vector, altitude_deg):
    alt = np.radians(altitude_deg)
    flat = vector[..., :2] / np.linalg.norm(vector[..., :2], axis=-1, keepdims=True)
    return np.concatenate([flat * np.cos(alt)[..., None], np.sin(alt)[..., None]], axis=-1)


def star(hour_angle_h, declination_deg, latitude_deg):
    """Local unit vectors without air: the sky as a globe turned upright for this latitude."""
    H, d = np.radians(np.asarray(hour_angle_h) * 15.0), np.radians(declination_deg)
    H, d = np.broadcast_arrays(H, d)
    globe = np.stack([np.cos(d) * np.cos(H), -np.cos(d) * np.sin(H), np.sin(d)], axis=-1)
    # Globe: x to the meridian's equator point, y east, z north pole. At the equator of the Earth
    # x is up, y east, z north; further north the globe tips towards the south.
    at_equator = np.stack([globe[..., 1], globe[..., 2], globe[..., 0]], axis=-1)
    flat = at_equator.reshape(-1, 3)
    return Rotation.from_euler("x", latitude_deg, degrees=True).apply(flat).reshape(globe.shape)


def hour_angle_declination(true, latitude_deg):
    """Inverse of `star`."""
    flat = Rotation.from_euler("x", -latitude_deg, degrees=True).apply(true.reshape(-1, 3))
    east, north, up = flat.reshape(true.shape).transpose(-1, *range(true.ndim - 1))
    return np.degrees(np.arctan2(-east, up)) / 15.0, np.degrees(np.arcsin(north))


def drift_arcsec(place, hour_angle_h, declination_deg, seconds):
    """Declination drift of stars held in the middle by the hour axis alone, north positive."""
    distance = []
    for t in (0.0, seconds):
        H = hour_angle_h + np.asarray(t) * SIDEREAL / 3600.0
        s = place.seen(star(H, declination_deg, place.latitude_deg))
        distance.append(np.degrees(np.arccos(s @ place.axis)) * 3600.0)
    change = distance[1] - distance[0]  # away from the elevated pole
    return change if place.south else -change


def shafts(side, hour_angle_h, declination_deg):
    """Angles of both shafts (degrees) that bring a true mount's tube to a place on a side.

    The declination shaft stands at the declination on side east (+1); on side west (-1) the hour
    shaft has gone half round and the declination shaft over the pole, to 180 less.
    """
    over = np.asarray(side) < 0
    hour_shaft = 15.0 * (np.asarray(hour_angle_h) + np.where(over, 12.0, 0.0))
    return hour_shaft, np.where(over, 180.0 - np.asarray(declination_deg), declination_deg)


def shown(hour_shaft_deg, dec_shaft_deg, slip_hour_h=0.0, slip_dec_deg=0.0):
    """What circles show that slipped by so much on their shafts: hours, and degrees to 90.

    The hour circle is read as it stands, 12 h off beyond the pole. The declination circle is
    numbered to 90 both ways, as arcs that rise and fall again with the shaft's sine.
    """
    at = np.radians(np.asarray(dec_shaft_deg) + slip_dec_deg)
    hours = (np.asarray(hour_shaft_deg) / 15.0 + slip_hour_h + 12.0) % 24.0 - 12.0
    return hours, np.degrees(np.arctan2(np.sin(at), np.abs(np.cos(at))))


def tube_on(place, hour_shaft_deg, dec_shaft_deg, cone_arcmin, lean_arcmin, stray=None):
    """Hour angle (h) and declination (degrees), without air, of the star in the tube's middle.

    The machine is turned as its shafts turn it, from the inside out, and knows of no side: the
    tube leans `cone` out of the square towards its end of the declination shaft; the shaft turns;
    it leans `lean` towards the elevated pole; the hour shaft turns everything. With both shafts
    at nought the tube is on the meridian and its end of the declination shaft points east.
    `stray`: a last turn, in the mount frame (the star is not quite in the middle).
    """
    lead = -1.0 if place.south else 1.0  # y of the mount frame, z cross x, is east in the north
    west, north = np.radians(hour_shaft_deg), np.radians(dec_shaft_deg)
    zeros = np.zeros(np.broadcast(west, north).shape)
    cone = Rotation.from_rotvec(np.stack([zeros, zeros, zeros + lead * cone_arcmin * ARCMIN], -1))
    # The shaft turns the tube to the north, which is the elevated pole's side in the north only.
    swing = Rotation.from_rotvec(np.stack([zeros, zeros - lead * north, zeros], axis=-1))
    lean = Rotation.from_rotvec(np.stack([zeros + lead * lean_arcmin * ARCMIN, zeros, zeros], -1))
    hour = Rotation.from_rotvec(np.stack([zeros, zeros, zeros - lead * west], axis=-1))
    tube = (hour * lean * swing * cone).apply(np.array([1.0, 0.0, 0.0]))
    if stray is not None:
        tube = Rotation.from_rotvec(stray).apply(tube)
    return hour_angle_declination(place.unseen(place.mount.apply(tube)), place.latitude_deg)


def centred_star(place, side, hour_circle_h, dec_circle_deg, cone_arcmin, lean_arcmin, stray=None):
    """Star that the tube is on when circles that are set right show this, on sides +1 or -1."""
    both = shafts(side, hour_circle_h, dec_circle_deg)
    return tube_on(place, *both, cone_arcmin, lean_arcmin, stray)


def random_place(rng, size_arcmin=60.0, least_latitude_deg=15.0):
    """A site in either hemisphere with some weather, and an axis off by up to `size_arcmin`."""
    latitude = rng.uniform(least_latitude_deg, 68.0) * rng.choice([-1.0, 1.0])
    high, east = rng.normal(0.0, size_arcmin / 3.0, 2)
    return Place(latitude, rng.uniform(700.0, 1030.0), rng.uniform(-15.0, 25.0), high, east)


def random_stars(rng, place, count, lowest_deg=20.0):
    """Hour angles (h) and declinations (degrees) of stars that stand higher than `lowest_deg`."""
    H, d = rng.uniform(-6.5, 6.5, 60 * count), rng.uniform(-70.0, 70.0, 60 * count)
    up = np.flatnonzero(star(H, d, place.latitude_deg)[:, 2] > np.sin(np.radians(lowest_deg)))
    return H[up[:count]], d[up[:count]]


def of_runs(full, short):
    """How many runs: all of them in the long run."""
    return full if LONG else short


def tolerance(points, nominal, runs):
    """How far a share (percent) of so many runs may lie from the nominal one."""
    share = np.asarray(nominal) / 100.0
    chance = 0.0 if LONG else 300.0 * np.sqrt(share * (1.0 - share) / runs)
    return np.maximum(points, chance)


def coverage(errors, covariances):
    """Share of runs in which the error (runs, 2) lies within 1 and 1.96 sigma on each axis, and
    within the 68 % and 95 % ellipse: (axis68, axis95, ellipse68, ellipse95), in percent."""
    errors, covariances = np.asarray(errors), np.asarray(covariances)
    each = np.abs(errors) / np.sqrt(np.diagonal(covariances, axis1=1, axis2=2))
    distance2 = np.einsum("ni,nij,nj->n", errors, np.linalg.inv(covariances), errors)
    # Chi-square with two degrees of freedom: -2 ln(1 - p).
    inside = [(distance2 < -2.0 * np.log(1.0 - p)).mean() for p in (0.6827, 0.95)]
    return np.array([(each < 1.0).mean(), (each < 1.95996).mean(), *inside]) * 100.0
