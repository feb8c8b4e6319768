"""Can this rig tip over, or be pushed over, in any pose or while it is being put up?

Masses and places are those of the `Rig`; the statics are those of `support`. Poses are all
that look at the sky above the kit's lowest altitude, on both tube sides.
"""

from __future__ import annotations

from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import (
    SIDE_WORDS,
    SIDES,
    Axes,
    align,
    axis_angles,
    centres_of_mass,
    crossing_m,
    frames,
)
from axletree.mount.rig.parts import DECLINATION, GROUND, Rig
from axletree.mount.steady.support import (
    extra_mass_kg,
    margins_m,
    pull_down_n,
    push_n,
    tipping_angle_deg,
)
from axletree.sky.arrays import Floats, Ints
from axletree.sky.directions import rotate_about, vector_from_hour_angle


class Built(Enum):
    """What of the rig is up: all of it, or a half of it while it is put up."""

    WHOLE = "whole"
    WEIGHTS_ONLY = "weights only"
    TUBE_ONLY = "tube only"


# A leaning child: our own figure, no standard gives one.
LEANING_CHILD_N = 50.0
TRAY_HEIGHT_M = 0.45  # where no kit tells it


@dataclass(frozen=True)
class Poses:
    """Poses to try, arrays (n,): tube side (+1 east), hour angle, declination, axis angles."""

    side: Ints
    hour_angle_h: Floats
    declination_deg: Floats
    tube_end_h: Floats
    swing_deg: Floats


def poses_above(axes: Axes, lowest_deg: float, step_h: float = 0.5, step_deg: float = 5.0) -> Poses:
    """All poses that look higher than `lowest_deg`, on both sides, on an even grid."""
    hours = np.arange(-12.0 + step_h, 12.0 + step_h / 2, step_h)
    declinations = np.arange(-90.0, 90.0 + step_deg / 2, step_deg)
    side, H, d = (
        a.ravel() for a in np.meshgrid(np.array(SIDES), hours, declinations, indexing="ij")
    )
    up = vector_from_hour_angle(H, d, axes.latitude_deg)[..., 2] >= np.sin(np.radians(lowest_deg))
    side, H, d = side[up], H[up], d[up]
    tube_end, swing = axis_angles(axes, side, H, d)
    return Poses(side, H, d, tube_end, swing)


@dataclass(frozen=True)
class StandingRig:
    """A rig on its feet: feet (3, 3), total mass, centre of mass and eye point (n, 3), metres."""

    feet_m: Floats
    mass_kg: float
    centre_m: Floats
    eye_m: Floats
    tray_m: Floats


@dataclass(frozen=True)
class TrayLoad:
    """What lies in the tray, so high above the ground."""

    mass_kg: float
    height_m: float = TRAY_HEIGHT_M


def standing(
    rig: Rig,
    axes: Axes,
    tube_end_h: Floats,
    swing_deg: Floats,
    *,
    part: Built = Built.WHOLE,
    tray: TrayLoad | None = None,
    lean: tuple[float, float] | None = None,
) -> StandingRig:
    """Feet, centre of mass and eye point of a rig, or of what is up while it is being built.

    `tray` replaces the load that the rig has in its tray. `lean` is (slope in degrees,
    downhill azimuth) of a tripod that leans with the ground instead of being levelled on it;
    the polar axis is on the pole all the same.
    """
    kept = np.ones(len(rig.names), dtype=np.bool_)
    names = np.array(rig.names)
    if part is Built.WEIGHTS_ONLY:
        kept &= rig.frame != DECLINATION
    elif part is Built.TUBE_ONLY:
        kept &= names != "counterweight"
    mass = np.where(kept, rig.mass_kg, 0.0)
    if tray is not None:
        mass = np.where(names == "tray", 0.0, mass)
    centres = centres_of_mass(rig, axes, tube_end_h, swing_deg)
    cross = crossing_m(rig, axes)
    tube = frames(axes, tube_end_h, swing_deg)[1]
    eye = cross + np.einsum("...ij,j->...i", tube, rig.eye_point_m)
    legs = np.array([n == "leg towards the pole" or n.endswith(" leg") for n in rig.names])
    feet = rig.end_m[legs]
    tray_m = np.array([0.0, 0.0, TRAY_HEIGHT_M if tray is None else tray.height_m])
    if lean is not None:
        slope, azimuth = lean
        a = np.radians(azimuth + 90.0)  # to lean downhill is to turn about the line across it
        across = np.array([np.sin(a), np.cos(a), 0.0])
        hinge = np.array([0.0, 0.0, rig.hinge_height_m])
        shift = rotate_about(hinge, across, -slope) - hinge
        ground = rig.frame == GROUND
        centres = np.where(
            ground[:, np.newaxis], rotate_about(centres, across, -slope), centres + shift
        )
        flat = feet * np.array([1.0, 1.0, 0.0])
        feet = rotate_about(flat, across, -slope)
        tray_m = rotate_about(tray_m, across, -slope)
        eye = eye + shift
    total = float(np.sum(mass))
    moment = np.einsum("n,...nj->...j", mass, centres)
    if tray is not None:
        total += tray.mass_kg
        moment = moment + tray.mass_kg * tray_m
    return StandingRig(feet, total, moment / total, eye, tray_m)


@dataclass(frozen=True)
class TippingPose:
    """The pose in which the rig stands worst: tube side, place of the tube, eyepiece's height."""

    side: str
    hour_angle_h: float
    declination_deg: float
    eye_height_mm: float


@dataclass(frozen=True)
class Tipping:
    """How firmly the rig stands.

    `margin_mm` is the least horizontal distance of the centre of mass inside the triangle of
    the feet (negative: it falls), in `margin_pose`. `lean_deg`: how far it must lean to fall.
    `push_n` is the least level push at the eyepiece that tips it, in `push_pose`, towards
    `push_azimuth_deg`; `pull_down_n` the least downward pull there (inf: none can).
    `centre_path_m` holds the centre of mass (n, 3) in every pose, `feet_m` the feet (3, 3).
    """

    mass_kg: float
    tray_kg: float
    margin_mm: float
    margin_pose: TippingPose
    lean_deg: float
    push_n: float
    push_pose: TippingPose
    push_azimuth_deg: float
    pull_down_n: float
    feet_m: Floats
    centre_path_m: Floats

    @property
    def too_easy(self) -> bool:
        """True when a leaning child could push it over."""
        return self.push_n < LEANING_CHILD_N


def _pose(poses: Poses, eye_m: Floats, i: int) -> TippingPose:
    return TippingPose(
        side=SIDE_WORDS[int(poses.side[i])],
        hour_angle_h=float(poses.hour_angle_h[i]),
        declination_deg=float(poses.declination_deg[i]),
        eye_height_mm=float(eye_m[i, 2]) * 1000,
    )


def judge(stand: StandingRig, poses: Poses, tray_kg: float) -> Tipping:
    """The least margin, push and pull of a rig over its poses."""
    margin = np.min(margins_m(stand.feet_m, stand.centre_m), axis=-1)
    force, direction = push_n(stand.feet_m, stand.mass_kg, stand.centre_m, stand.eye_m)
    pull = pull_down_n(stand.feet_m, stand.mass_kg, stand.centre_m, stand.eye_m)
    low = int(np.argmin(margin))
    i, edge = np.unravel_index(int(np.argmin(force)), force.shape)
    east, north = direction[i, edge]
    lowest_foot = float(np.min(stand.feet_m[:, 2]))
    return Tipping(
        mass_kg=stand.mass_kg,
        tray_kg=tray_kg,
        margin_mm=float(margin[low]) * 1000,
        margin_pose=_pose(poses, stand.eye_m, low),
        lean_deg=float(
            np.min(tipping_angle_deg(stand.centre_m[:, 2] - lowest_foot, np.maximum(margin, 0.0)))
        ),
        push_n=float(force[i, edge]),
        push_pose=_pose(poses, stand.eye_m, int(i)),
        push_azimuth_deg=float(np.degrees(np.arctan2(east, north)) % 360.0),
        pull_down_n=float(np.min(pull)),
        feet_m=stand.feet_m,
        centre_path_m=stand.centre_m,
    )


def slope_of(kit: Kit) -> tuple[float, float]:
    """Slope of the yard in degrees and its downhill azimuth; level ground without a yard."""
    if kit.yard is None:
        return 0.0, 180.0
    return (
        float(np.degrees(np.arctan(kit.yard.slope_percent / 100.0))),
        kit.yard.downhill_azimuth_deg,
    )


def tipping(
    kit: Kit, *, tray_kg: float | None = None, leaning: bool = False, rig: Rig | None = None
) -> Tipping:
    """How firmly the whole rig stands on its own ground, with `tray_kg` in the tray.

    The tray holds the kit's load unless given. The tripod is levelled on the yard's slope, or
    leans with it.
    """
    axes = align(kit.site.latitude_deg)
    built = build_rig(kit) if rig is None else rig
    poses = poses_above(axes, kit.habits.lowest_altitude_deg)
    load = kit.mount.tripod.tray_load_kg if tray_kg is None else tray_kg
    stand = _stand(kit, built, axes, poses, load, leaning)
    return judge(stand, poses, load)


def _stand(
    kit: Kit, rig: Rig, axes: Axes, poses: Poses, tray_kg: float, leaning: bool = False
) -> StandingRig:
    return standing(
        rig,
        axes,
        poses.tube_end_h,
        poses.swing_deg,
        tray=TrayLoad(tray_kg, kit.mount.tripod.tray_height_mm / 1000),
        lean=slope_of(kit) if leaning else None,
    )


@dataclass(frozen=True)
class HalfBuilt:
    """The worst moment while the rig is put up, over all turns of the hour axis.

    `margin_mm` of the centre of mass inside the feet, negative when it falls over by itself.
    """

    part: Built
    margin_mm: float
    mass_kg: float


def half_built(kit: Kit, part: Built, rig: Rig | None = None) -> HalfBuilt:
    """Weights on and no tube (the right order), or a tube and no weights (the wrong one)."""
    axes = align(kit.site.latitude_deg)
    built = build_rig(kit) if rig is None else rig
    if part is Built.TUBE_ONLY:
        poses = poses_above(axes, kit.habits.lowest_altitude_deg)
        turn, swing = poses.tube_end_h, poses.swing_deg
    else:
        turn = np.arange(-12.0, 12.0, 0.25)
        swing = np.zeros_like(turn)
    stand = standing(built, axes, turn, swing, part=part)
    margin = float(np.min(margins_m(stand.feet_m, stand.centre_m)))
    return HalfBuilt(part, margin * 1000, stand.mass_kg)


def tray_for_push_kg(kit: Kit, wanted_n: float = LEANING_CHILD_N, rig: Rig | None = None) -> float:
    """Mass to add to the tray until it takes `wanted_n` at the eyepiece to tip the rig."""
    axes = align(kit.site.latitude_deg)
    built = build_rig(kit) if rig is None else rig
    poses = poses_above(axes, kit.habits.lowest_altitude_deg)
    stand = _stand(kit, built, axes, poses, kit.mount.tripod.tray_load_kg)
    return extra_mass_kg(
        stand.feet_m, stand.mass_kg, stand.centre_m, stand.eye_m, stand.tray_m, wanted_n
    )
