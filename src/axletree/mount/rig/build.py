"""What does this kit look like as a rig: every part in its place, balanced?

Sizes that no kit asks for are common practice, with no source: a focuser 64 mm, an eyepiece
44 mm and a camera 84 mm across.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.mount.balance.masses import EYEPIECE_BEFORE_EYE_MM, focuser_middle_mm, tube_axis_m
from axletree.mount.balance.positions import eyepieces_of, middle_eyepiece, solve
from axletree.mount.balance.weights import Loading
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, POLAR, Rig, Rows, vec
from axletree.sky.arrays import Floats

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.kit.parts.mount import Tripod

FOCUSER_RADIUS_M = 0.032
EYEPIECE_RADIUS_M = 0.022
EYEPIECE_LENGTH_M = 0.06
CAMERA_RADIUS_M = 0.042
CAMERA_LENGTH_M = 0.08
TRAY_THICKNESS_M = 0.02

COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


def leg_azimuths_deg(tripod: Tripod, north: bool) -> tuple[float, ...]:
    """True azimuths of the three legs when the tripod's zero points to the elevated pole."""
    return tuple(((0.0 if north else 180.0) + d) % 360.0 for d in tripod.leg_directions_deg)


def leg_name(direction_deg: float, azimuth_deg: float) -> str:
    """'leg towards the pole' or 'south-east leg'."""
    off = abs((direction_deg + 180.0) % 360.0 - 180.0)
    if off < 15.0:
        return "leg towards the pole"
    return f"{COMPASS[round((azimuth_deg % 360.0) / 45.0) % 8]} leg"


def ground_normal(slope_percent: float, downhill_azimuth_deg: float) -> Floats:
    """Upward unit normal of ground that falls `slope_percent` towards a true azimuth."""
    fall, azimuth = slope_percent / 100.0, math.radians(downhill_azimuth_deg)
    n = vec(fall * math.sin(azimuth), fall * math.cos(azimuth), 1.0)
    return np.asarray(n / np.linalg.norm(n))


def around(angle_deg: float) -> Floats:
    """Direction from the tube's axis at an angle around the tube, in the DECLINATION frame.

    Seen from behind, looking to the sky, clockwise; 0 is the side away from the saddle.
    """
    a = math.radians(angle_deg)
    return vec(math.cos(a), math.sin(a), 0.0)


def _add_tripod(rows: Rows, tripod: Tripod, north: bool, normal: Floats) -> None:
    top = tripod.top_height_mm / 1000
    azimuths = leg_azimuths_deg(tripod, north)
    for direction, azimuth in zip(tripod.leg_directions_deg, azimuths, strict=True):
        a = math.radians(azimuth)
        out = vec(math.sin(a), math.cos(a), 0.0)
        foot = out * tripod.foot_radius_mm / 1000
        foot[2] = -(normal[0] * foot[0] + normal[1] * foot[1]) / normal[2]
        hip = out * tripod.top_radius_mm / 1000 + vec(0, 0, top)
        name = leg_name(direction, azimuth)
        rows.add(name, GROUND, hip, foot, tripod.leg_radius_mm / 1000, mass=tripod.mass_kg / 3)
        rows.add("tripod top", GROUND, vec(0, 0, top), hip, tripod.leg_radius_mm / 1000)
    height, radius = tripod.tray_height_mm / 1000, tripod.tray_radius_mm / 1000
    if radius > 0 or tripod.tray_load_kg > 0:
        # A disc as three crossed bars: no tube can slip between them far enough to matter.
        for i, azimuth in enumerate((0.0, 60.0, 120.0)):
            a = math.radians(azimuth + azimuths[0])
            out = vec(math.sin(a), math.cos(a), 0.0) * radius
            rows.add("tray", GROUND, vec(0, 0, height) - out, vec(0, 0, height) + out,
                     TRAY_THICKNESS_M / 2, mass=tripod.tray_load_kg if i == 0 else 0.0)  # fmt: skip
    if tripod.column_height_mm > 0:
        rows.add("column", GROUND, vec(0, 0, top), vec(0, 0, top + tripod.column_height_mm / 1000),
                 tripod.column_radius_mm / 1000)  # fmt: skip


def _add_head(rows: Rows, kit: Kit) -> float:
    """Base, polar housing and declination housing; returns the hinge's height above the ground."""
    tripod, head = kit.mount.tripod, kit.mount.head
    foot = (tripod.top_height_mm + tripod.column_height_mm) / 1000
    hinge = foot + head.pivot_height_mm / 1000
    # The base's round end must not stand above the hinge.
    top = max(foot, hinge - tripod.column_radius_mm / 1000)
    rows.add("mount base", GROUND, vec(0, 0, foot), vec(0, 0, top),
             tripod.column_radius_mm / 1000, mass=head.fixed_mass_kg / 2)  # fmt: skip
    rows.add("polar housing", HEAD, vec(0, 0, -head.housing_back_mm / 1000),
             vec(0, 0, head.housing_front_mm / 1000), head.housing_radius_mm / 1000,
             mass=head.fixed_mass_kg / 2)  # fmt: skip
    rows.add("declination housing", POLAR, vec(-head.shaft_start_mm / 1000, 0, 0),
             vec(head.saddle_distance_mm / 1000, 0, 0), head.declination_radius_mm / 1000,
             flat=True, mass=head.moving_mass_kg)  # fmt: skip
    return hinge


def _add_shaft(rows: Rows, kit: Kit, loading: Loading) -> None:
    head = kit.mount.head
    begin = head.shaft_start_mm / 1000
    end = begin + head.shaft_length_mm / 1000
    rows.add("counterweight shaft", POLAR, vec(-begin, 0, 0), vec(-end, 0, 0),
             head.shaft_radius_mm / 1000, flat=True, mass=head.shaft_mass_kg)  # fmt: skip
    for mass, thickness, at in zip(
        loading.mass_kg, loading.thickness_mm, loading.position_mm, strict=True
    ):
        radius = max(
            w.radius_mm
            for w in kit.mount.weights
            if w.mass_kg == mass and w.thickness_mm == thickness
        )
        near, far = (at - thickness / 2) / 1000, (at + thickness / 2) / 1000
        rows.add("counterweight", POLAR, vec(-near, 0, 0), vec(-far, 0, 0), radius / 1000,
                 flat=True, mass=mass)  # fmt: skip


def _yard_normal(
    kit: Kit, slope_percent: float | None, downhill_azimuth_deg: float | None
) -> Floats:
    if slope_percent is None:
        slope_percent = kit.yard.slope_percent if kit.yard else 0.0
    if downhill_azimuth_deg is None:
        downhill_azimuth_deg = kit.yard.downhill_azimuth_deg if kit.yard else 180.0
    return ground_normal(slope_percent, downhill_azimuth_deg)


@dataclass(frozen=True)
class _Eye:
    """Focuser, barrel and eye point, along the tube from its front (z = -from_front)."""

    focuser_start: Floats
    focuser_end: Floats
    eyepiece_start: Floats
    eye_point: Floats
    barrel: Floats


def _eye(kit: Kit, ring_turn_deg: float) -> _Eye:
    tube = kit.tube
    w = around(ring_turn_deg)
    reach, arm = tube.focuser_reach_mm / 1000, tube.diagonal_arm_mm / 1000
    back = vec(0, 0, -1)
    if tube.kind == "newtonian":
        at = back * tube.focuser_from_front_mm / 1000
        wall = tube.diameter_mm / 2000
        barrel, eye, start = w, at + w * max(reach, wall), at + w * wall
    elif tube.diagonal == "none":
        start = back * tube.length_mm / 1000
        barrel, eye = back, start + back * reach
    else:
        start = back * tube.length_mm / 1000
        bend = math.radians(tube.diagonal_angle_deg)
        barrel = math.cos(bend) * back + math.sin(bend) * w
        corner = start + back * reach
        eye = corner + barrel * arm
        return _Eye(start, corner, corner, eye, barrel)
    near = eye - barrel * min(EYEPIECE_LENGTH_M, float(np.linalg.norm(eye - start)))
    return _Eye(start, near, near, eye, barrel)


def _tube_rows(kit: Kit, ring_turn_deg: float, eyepiece: int, camera: bool) -> tuple[Rows, _Eye]:
    """Everything that turns with the tube, with x and y from the tube's axis, z from its front."""
    tube, rows = kit.tube, Rows()
    length, radius = tube.length_mm / 1000, tube.diameter_mm / 2000
    # A Newtonian turns in its rings with all that rides on it; elsewhere only the diagonal turns.
    carried = ring_turn_deg - tube.ring_turn_deg if tube.kind == "newtonian" else 0.0
    sideways = tube.focuser_mass_kg / tube.mass_kg * focuser_middle_mm(tube) / 1000
    own = around(ring_turn_deg) * sideways - vec(0, 0, tube.balance_from_front_mm / 1000)
    rows.add("tube", DECLINATION, vec(0, 0, 0), vec(0, 0, -length), radius, flat=True,
             mass=tube.mass_kg, centre=own)  # fmt: skip
    if tube.dew_shield_length_mm > 0:
        rows.add("dew shield", DECLINATION, vec(0, 0, tube.dew_shield_length_mm / 1000),
                 vec(0, 0, 0), tube.dew_shield_diameter_mm / 2000, flat=True)  # fmt: skip
    if tube.dovetail_height_mm > 0:
        half = min(tube.dovetail_length_mm, tube.length_mm) / 2000
        thick = tube.dovetail_height_mm / 2000
        middle = vec(-radius - thick, 0, -tube.balance_from_front_mm / 1000)
        rows.add("dovetail", DECLINATION, middle + vec(0, 0, half), middle - vec(0, 0, half),
                 thick, flat=True)  # fmt: skip
    if tube.finder is not None:
        f = tube.finder
        middle = around(f.angle_deg + carried) * f.offset_mm / 1000
        middle[2] = -f.from_front_mm / 1000
        half = f.length_mm / 2000
        rows.add("finder", DECLINATION, middle + vec(0, 0, half), middle - vec(0, 0, half),
                 f.radius_mm / 1000, flat=True, mass=f.mass_kg)  # fmt: skip
    for a in tube.accessories:
        at = around(a.angle_deg + carried) * a.offset_mm / 1000
        at[2] = -a.from_front_mm / 1000
        rows.add(a.name, DECLINATION, at, at, a.radius_mm / 1000, mass=a.mass_kg)
    eye = _eye(kit, ring_turn_deg)
    rows.add("focuser", DECLINATION, eye.focuser_start, eye.focuser_end, FOCUSER_RADIUS_M,
             flat=True)  # fmt: skip
    glass = eye.eye_point - eye.barrel * EYEPIECE_BEFORE_EYE_MM / 1000
    if camera:
        mass = kit.camera.mass_kg if kit.camera else 0.0
        rows.add("camera", DECLINATION, eye.eyepiece_start,
                 eye.eyepiece_start + eye.barrel * CAMERA_LENGTH_M, CAMERA_RADIUS_M,
                 flat=True, mass=mass, centre=glass)  # fmt: skip
    else:
        rows.add("eyepiece", DECLINATION, eye.eyepiece_start, eye.eye_point, EYEPIECE_RADIUS_M,
                 flat=True, mass=kit.eyepieces[eyepiece].mass_kg, centre=glass)  # fmt: skip
    return rows, eye


def build_rig(
    kit: Kit,
    *,
    ring_turn_deg: float | None = None,
    eyepiece: int = 0,
    camera: bool = False,
    loading: Loading | None = None,
    clamp_from_front_mm: float | None = None,
    slope_percent: float | None = None,
    downhill_azimuth_deg: float | None = None,
) -> Rig:
    """The rig of a kit, balanced for its middle eyepiece, as arrays.

    `ring_turn_deg`, `loading` and `clamp_from_front_mm` replace what the kit says or balance
    asks for; `eyepiece` is the index of the one in the focuser, or the kit's camera goes there.
    The slope is the yard's unless given (its downhill azimuth taken as true). Refuses, in one
    line, a shaft without weights and an eyepiece or camera that the kit doesn't have.
    """
    if not 0 <= eyepiece < len(kit.eyepieces):
        raise AxletreeError(f"no eyepiece {eyepiece + 1}: the kit has {len(kit.eyepieces)}")
    if camera and kit.camera is None:
        raise AxletreeError("the kit has no [camera]")
    tube, north = kit.tube, kit.site.latitude_deg >= 0
    turn = tube.ring_turn_deg if ring_turn_deg is None else ring_turn_deg
    normal = _yard_normal(kit, slope_percent, downhill_azimuth_deg)
    rows = Rows()
    _add_tripod(rows, kit.mount.tripod, north, normal)
    hinge = _add_head(rows, kit)

    riding, eye = _tube_rows(kit, turn, eyepiece, camera)
    # A lens tube stays in its rings: only the diagonal turns, which is left out of the balance.
    turned_by = turn - tube.ring_turn_deg if tube.kind == "newtonian" else 0.0
    balance = solve(kit, middle_eyepiece(eyepieces_of(kit)), turn_deg=turned_by)
    clamp = balance.over_saddle_mm if clamp_from_front_mm is None else clamp_from_front_mm
    loading = balance.loading if loading is None else loading
    offset = tube_axis_m(tube, kit.mount.head)
    shift = vec(offset, 0.0, clamp / 1000)
    _add_shaft(rows, kit, loading)
    for name, row in zip(riding.names, riding.rows, strict=True):
        frame, start, end, radius, flat, mass, middle = row
        rows.add(name, frame, start + shift, end + shift, radius, flat=flat, mass=mass,
                 centre=middle + shift)  # fmt: skip

    head = kit.mount.head
    rig = Rig(
        names=tuple(rows.names),
        frame=np.array([r[0] for r in rows.rows], dtype=np.int8),
        start_m=np.array([r[1] for r in rows.rows]),
        end_m=np.array([r[2] for r in rows.rows]),
        radius_m=np.array([r[3] for r in rows.rows]),
        flat=np.array([r[4] for r in rows.rows], dtype=np.bool_),
        mass_kg=np.array([r[5] for r in rows.rows]),
        centre_m=np.array([r[6] for r in rows.rows]),
        latitude_deg=kit.site.latitude_deg,
        hinge_height_m=hinge,
        crossing_along_m=head.crossing_along_mm / 1000,
        crossing_above_m=head.crossing_above_mm / 1000,
        ground_normal=normal,
        tube_offset_m=offset,
        clamp_from_front_m=clamp / 1000,
        eye_point_m=eye.eye_point + shift,
        barrel=eye.barrel,
        loading=loading,
        guessed=tuple(g for g in kit.guessed if g.startswith(("mount.", "tube."))),
    )
    for array in (rig.frame, rig.start_m, rig.end_m, rig.radius_m, rig.flat, rig.mass_kg,
                  rig.centre_m, rig.ground_normal, rig.eye_point_m, rig.barrel):  # fmt: skip
        array.setflags(write=False)
    return rig


def eye_at(kit: Kit, rig: Rig, ring_turn_deg: float) -> tuple[Floats, Floats]:
    """Eye point (metres) and outward barrel (unit), (3,) each, in the DECLINATION frame.

    Of a rig whose focuser or diagonal is turned around the tube, clamped as it is.
    """
    eye = _eye(kit, ring_turn_deg)
    return eye.eye_point + vec(rig.tube_offset_m, 0.0, rig.clamp_from_front_m), eye.barrel


def turned(kit: Kit, rig: Rig, ring_turn_deg: float) -> Rig:
    """The same rig, clamp and weights where they are, with the focuser turned around the tube."""
    return replace(
        build_rig(
            kit,
            ring_turn_deg=ring_turn_deg,
            loading=rig.loading,
            clamp_from_front_mm=rig.clamp_from_front_m * 1000,
        ),
        ground_normal=rig.ground_normal,
    )
