"""What does this kit look like as a rig: every part in its place, balanced?"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.mount.balance.masses import tube_axis_m
from axletree.mount.balance.positions import eyepieces_of, middle_eyepiece, solve
from axletree.mount.balance.weights import Loading
from axletree.mount.rig.parts import GROUND, HEAD, POLAR, Rig, RigPart, vec
from axletree.mount.rig.tripod import add_tripod, leaned
from axletree.mount.rig.tube_parts import eye_end, tube_parts
from axletree.sky.arrays import Floats

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.kit.parts.mount import Weight


@dataclass(frozen=True)
class Slope:
    """Ground that falls by `percent` metres in a hundred towards a true azimuth (degrees)."""

    percent: float
    downhill_azimuth_deg: float = 180.0


LEVEL = Slope(0.0)


def ground_normal(slope: Slope) -> Floats:
    """Upward unit normal (3,) of sloping ground."""
    fall, azimuth = slope.percent / 100.0, math.radians(slope.downhill_azimuth_deg)
    n = vec(fall * math.sin(azimuth), fall * math.cos(azimuth), 1.0)
    return np.asarray(n / np.linalg.norm(n))


def _add_head(parts: list[RigPart], kit: Kit) -> float:
    """Base, polar housing and declination housing; returns the hinge's height above the ground."""
    tripod, head = kit.mount.tripod, kit.mount.head
    foot = (tripod.top_height_mm + tripod.column_height_mm) / 1000
    hinge = foot + head.pivot_height_mm / 1000
    # The base's round end must not stand above the hinge.
    top = max(foot, hinge - tripod.column_radius_mm / 1000)
    parts.append(
        RigPart(
            "mount base",
            GROUND,
            vec(0, 0, foot),
            vec(0, 0, top),
            tripod.column_radius_mm / 1000,
            mass_kg=head.fixed_mass_kg / 2,
        )
    )
    parts.append(
        RigPart(
            "polar housing",
            HEAD,
            vec(0, 0, -head.housing_back_mm / 1000),
            vec(0, 0, head.housing_front_mm / 1000),
            head.housing_radius_mm / 1000,
            mass_kg=head.fixed_mass_kg / 2,
        )
    )
    parts.append(
        RigPart(
            "declination housing",
            POLAR,
            vec(-head.shaft_start_mm / 1000, 0, 0),
            vec(head.saddle_distance_mm / 1000, 0, 0),
            head.declination_radius_mm / 1000,
            flat=True,
            mass_kg=head.moving_mass_kg,
        )
    )
    return hinge


def _add_shaft(parts: list[RigPart], kit: Kit, loading: Loading) -> None:
    head = kit.mount.head
    begin = head.shaft_start_mm / 1000
    end = begin + head.shaft_length_mm / 1000
    parts.append(
        RigPart(
            "counterweight shaft",
            POLAR,
            vec(-begin, 0, 0),
            vec(-end, 0, 0),
            head.shaft_radius_mm / 1000,
            flat=True,
            mass_kg=head.shaft_mass_kg,
        )
    )
    for mass, thickness, at in zip(
        loading.mass_kg, loading.thickness_mm, loading.position_mm, strict=True
    ):
        radius = _weight_radius(kit, mass, thickness)
        near, far = (at - thickness / 2) / 1000, (at + thickness / 2) / 1000
        parts.append(
            RigPart(
                "counterweight",
                POLAR,
                vec(-near, 0, 0),
                vec(-far, 0, 0),
                radius / 1000,
                flat=True,
                mass_kg=mass,
            )
        )


def _weight_radius(kit: Kit, mass_kg: float, thickness_mm: float) -> float:
    """Of the kit's weight that comes nearest: a loading may have been found for another kit."""

    def off(weight: Weight) -> float:
        mass = abs(weight.mass_kg / mass_kg - 1.0)
        return mass + abs(weight.thickness_mm / thickness_mm - 1.0)

    least = min(map(off, kit.mount.weights))
    return max(w.radius_mm for w in kit.mount.weights if off(w) == least)


def _yard_slope(kit: Kit) -> Slope:
    return LEVEL if kit.yard is None else Slope(kit.yard.slope_percent,
                                                kit.yard.downhill_azimuth_deg)  # fmt: skip


def build_rig(
    kit: Kit,
    *,
    ring_turn_deg: float | None = None,
    eyepiece: int = 0,
    camera: bool = False,
    loading: Loading | None = None,
    clamp_from_front_mm: float | None = None,
    slope: Slope | None = None,
) -> Rig:
    """The rig of a kit, balanced for its middle eyepiece, as arrays.

    `ring_turn_deg`, `loading` and `clamp_from_front_mm` replace what the kit says or balance
    asks for; `eyepiece` is the index of the one in the focuser, or the kit's camera goes there.
    The ground slopes as the yard does unless `slope` is given. Refuses, in one
    line, a shaft without weights and an eyepiece or camera that the kit doesn't have.
    """
    if camera and kit.camera is None:
        raise AxletreeError("the kit has no [camera]")
    tube, north = kit.tube, kit.site.latitude_deg >= 0
    turn = tube.ring_turn_deg if ring_turn_deg is None else ring_turn_deg
    normal = ground_normal(_yard_slope(kit) if slope is None else slope)
    parts: list[RigPart] = []
    add_tripod(parts, kit.mount.tripod, north, normal)
    hinge = _add_head(parts, kit)
    parts = leaned(parts, kit.mount.tripod, north, hinge)

    riding, eye = tube_parts(kit, turn, eyepiece, camera)
    # A lens tube stays in its rings: only the diagonal turns, which is left out of the balance.
    turned_by = turn - tube.ring_turn_deg if tube.kind == "newtonian" else 0.0
    balance = solve(kit, middle_eyepiece(eyepieces_of(kit)), turn_deg=turned_by)
    clamp = balance.over_saddle_mm if clamp_from_front_mm is None else clamp_from_front_mm
    loading = balance.loading if loading is None else loading
    offset = tube_axis_m(tube, kit.mount.head)
    shift = vec(offset, 0.0, clamp / 1000)
    _add_shaft(parts, kit, loading)
    parts += [part.shifted(shift) for part in riding]

    head = kit.mount.head
    rig = Rig(
        names=tuple(p.name for p in parts),
        frame=np.array([p.frame for p in parts], dtype=np.int8),
        start_m=np.array([p.start_m for p in parts]),
        end_m=np.array([p.end_m for p in parts]),
        radius_m=np.array([p.radius_m for p in parts]),
        flat=np.array([p.flat for p in parts], dtype=np.bool_),
        mass_kg=np.array([p.mass_kg for p in parts]),
        centre_m=np.array([p.centre_m for p in parts]),
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
    eye = eye_end(kit, ring_turn_deg)
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
