"""How is the pole seen through the tube that looks along the polar axis, and can the axis swing?

A finder shows the sky as it always does, the head upright. In an eyepiece the picture lies as the
light's way through the tube has it, with the weights down at the end of the swing.
"""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.clearance.nearest import bodies, least_distance
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.field_orientation import picture
from axletree.mount.rig.kinematics import Axes, align
from axletree.mount.rig.parts import Rig
from axletree.pole.aim.axis_view import DEEPEST_MAG, AxisView, axis_view, limit_with
from axletree.pole.aim.scope_orientation import Look
from axletree.pole.aim.target import PoleTarget, pole_target
from axletree.pole.aim.view import star_places
from axletree.pole.enough.still_point import StillPointView, ThroughTube, still_point_view
from axletree.sky.directions import wrap_180, wrap_360
from axletree.sky.observer import Observer

# The shaft is level at the one end of the swing, the weights hang down at the other.
WEIGHTS_DOWN_H, LEVEL_H = 0.0, 6.0
# The faintest star to the bare eye under an ordinary sky (ours).
NAKED_EYE_MAG = 5.5
# Steps of the swing at which the rig's clearance is taken, a degree each.
_STEPS = 91
_LOOKS: dict[str, Look] = {"upright": "erect", "upside down": "inverted", "mirrored": "mirrored"}


@dataclass(frozen=True)
class SwingRoom:
    """The least distance of any two parts in the quarter turn, mm, tube looking along the axis.

    From a shaft that is level with the tube in the west, or in the east, to weights down.
    """

    from_west_mm: float
    from_east_mm: float

    def clear(self, margin_mm: float) -> bool:
        """Whether the axis swings freely on one side at least."""
        return max(self.from_west_mm, self.from_east_mm) >= margin_mm


def tube_on_pole(kit: Kit, target: PoleTarget) -> tuple[Rig, Axes]:
    """The rig with its polar axis on the target."""
    return build_rig(kit), align(target.latitude_deg, pole_altitude_deg=target.altitude_deg)


def swing_room(rig: Rig, axes: Axes) -> SwingRoom:
    """Whether the tube, looking along the axis, swings freely from level to weights down."""
    hours = np.linspace(WEIGHTS_DOWN_H, LEVEL_H, _STEPS)
    pairs = bodies(rig, axes)
    west, east = (
        1000.0 * float(np.min(least_distance(pairs, ends, 0.0)[0])) for ends in (hours, -hours)
    )
    return SwingRoom(from_west_mm=west, from_east_mm=east)


@lru_cache(maxsize=8)
def swing_room_of(kit: Kit, target: PoleTarget) -> SwingRoom:
    """The same of a kit's rig with its axis on the target, kept for the kits asked about last."""
    return swing_room(*tube_on_pole(kit, target))


@dataclass(frozen=True)
class LookAlongAxis:
    """How the pole is looked at; `still_point` where that is through the tube, else None."""

    axis_view: AxisView
    still_point: StillPointView | None


def look_along(
    kit: Kit, target: PoleTarget, pole_distance_arcmin: float, naked_eye_limit_mag: float
) -> LookAlongAxis:
    """With what the mount has; through the tube where it has nothing, if the star fits there."""
    own = axis_view(kit.mount.polar_scope, naked_eye_limit_mag)
    if own.kind != "none":
        return LookAlongAxis(own, None)
    view = still_point_view(kit, pole_distance_arcmin)
    margin_mm = kit.habits.clearance_margin_mm
    if not view.star_fits or not swing_room_of(kit, target).clear(margin_mm):
        return LookAlongAxis(own, None)
    rig, axes = tube_on_pole(kit, target)
    return LookAlongAxis(view_along_axis(kit, view, rig, axes, naked_eye_limit_mag), view)


def look_tonight(kit: Kit, observer: Observer, at: datetime) -> LookAlongAxis:
    """`look_along` at an aware moment, under an ordinary sky: for sheets and pictures."""
    target = pole_target(observer)
    (star,) = star_places(observer, [at], target)
    return look_along(kit, target, star.distance_arcmin, NAKED_EYE_MAG)


def view_along_axis(
    kit: Kit, view: StillPointView, rig: Rig, axes: Axes, naked_eye_limit_mag: float
) -> AxisView:
    """The look along the axis through the finder or the eyepiece of `view`, its picture as the
    eye meets it with the weights down."""
    finder = kit.tube.finder
    if view.through is ThroughTube.FINDER:
        assert finder is not None
        assert finder.look is not None
        aperture = finder.aperture_mm
        limit = DEEPEST_MAG if aperture is None else limit_with(aperture, naked_eye_limit_mag)
        return AxisView("tube", _LOOKS[finder.look], 0.0, view.field_deg, limit)
    seen = picture(rig, kit.tube, axes, WEIGHTS_DOWN_H, 0.0)
    limit = limit_with(kit.tube.aperture_mm, naked_eye_limit_mag)
    look: Look = "mirrored" if seen.mirrored else "erect"
    # The sky's own top, mirrored or not, has gone so far clockwise from the view's.
    turned = float(wrap_360(seen.zenith_deg))
    if look == "erect" and abs(turned - 180.0) < 0.5:
        look, turned = "inverted", 0.0
    return AxisView("tube", look, turned, view.field_deg, limit)


def sky_rolls_deg(kit: Kit, view: StillPointView, rig: Rig, axes: Axes) -> float:
    """How far the sky turns before the eye while the shaft goes from level, tube in the west, to
    weights down; clockwise positive, -180 to 180.

    The tube rolls about its own middle then. Who looks straight through keeps the head upright and
    sees the sky keep its way up: the axis goes round the middle of the field, at its own distance.
    Where the eye goes round with the eyepiece the sky turns, and the axis stands still.
    """
    if view.through is ThroughTube.FINDER:
        return 0.0
    ends = np.array([LEVEL_H, WEIGHTS_DOWN_H])
    level, down = picture(rig, kit.tube, axes, ends, 0.0).zenith_deg
    return float(wrap_180(down - level))
