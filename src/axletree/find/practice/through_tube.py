"""How is the axis set on the pole through the tube, by the point that stands still in its field?"""

from __future__ import annotations

import math

from axletree.find.practice.along_axis import (
    SwingRoom,
    sky_rolls_deg,
    swing_room_of,
    tube_on_pole,
    view_along_axis,
)
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.aim.axis_view import AxisView
from axletree.pole.aim.scope_orientation import clock_hour, in_picture
from axletree.pole.aim.target import PoleTarget
from axletree.pole.enough.chance import radius_of_chance
from axletree.pole.enough.methods import ENOUGH, LOCKING_SIGMA_ARCMIN
from axletree.pole.enough.still_point import (
    USUAL_ACROSS_ARCMIN,
    StillPointView,
    sky_turn_part,
    still_point_view,
)

# Less than this the sky keeps its way up for whoever looks (ours).
LEAST_ROLL_DEG = 45.0


@dataclass(frozen=True)
class ThroughTubeAnswer:
    """The way through the tube: in what, how well, and whether the rig lets the axis swing.

    `axis_view`: how the pole looks in it. `sigma_arcmin` each way, bolts locked; within
    `within_90_arcmin` nine times in ten. `room`: the least distance in the swing, by its side;
    `clear_west`, `clear_east`: more than the kit's margin. `cone_sigma_arcmin`: how far off the
    middle the point stays, across, on an ordinary mount. `sky_turn_part`: of the axis' own offset,
    what the sky's turn misplaces the point by for each minute that the swing takes.
    `sky_rolls_deg`: how far the sky turns before the eye in the swing.
    """

    view: StillPointView
    axis_view: AxisView
    sigma_arcmin: float
    within_90_arcmin: float
    room: SwingRoom
    margin_mm: float
    cone_sigma_arcmin: float
    sky_turn_part: float
    sky_rolls_deg: float

    @property
    def sky_rolls(self) -> bool:
        """The sky turns before the eye in the swing, so that the point stands still there too."""
        return abs(self.sky_rolls_deg) > LEAST_ROLL_DEG

    @property
    def across_clock_h(self) -> float:
        """Towards which hour of the dial, or the one across, the point lies off the middle once
        declination has brought it near, weights down: along the shaft, which is upright then."""
        right, up = in_picture(0.0, 1.0, self.axis_view.look, self.axis_view.rotation_deg)
        return float(clock_hour(right, up))

    @property
    def clear_west(self) -> bool:
        """Whether the axis swings freely from level, the tube in the west, to weights down."""
        return self.room.from_west_mm >= self.margin_mm

    @property
    def clear_east(self) -> bool:
        """The same from the east."""
        return self.room.from_east_mm >= self.margin_mm

    @property
    def possible(self) -> bool:
        """The star has room in the field, and the axis swings freely on one side at least."""
        return self.view.star_fits and self.room.clear(self.margin_mm)


def through_tube(
    kit: Kit, target: PoleTarget, pole_distance_arcmin: float, naked_eye_limit_mag: float
) -> ThroughTubeAnswer:
    """The way of the still point for this kit, and a pole star so far from the pole."""
    view = still_point_view(kit, pole_distance_arcmin)
    rig, axes = tube_on_pole(kit, target)
    sigma = math.hypot(view.sigma_arcmin, LOCKING_SIGMA_ARCMIN)
    return ThroughTubeAnswer(
        view=view,
        axis_view=view_along_axis(kit, view, rig, axes, naked_eye_limit_mag),
        sigma_arcmin=sigma,
        within_90_arcmin=radius_of_chance(ENOUGH, sigma, sigma),
        room=swing_room_of(kit, target),
        margin_mm=kit.habits.clearance_margin_mm,
        cone_sigma_arcmin=USUAL_ACROSS_ARCMIN,
        sky_turn_part=sky_turn_part(1.0),
        sky_rolls_deg=sky_rolls_deg(kit, view, rig, axes),
    )
