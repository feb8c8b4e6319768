"""How far from the truth may a guess lie, and why?

One standard deviation of each value that stands in for one nobody gave. Estimates of how much
ordinary mounts, tripods and tubes differ among those that the guess can't tell apart (common
practice, no source; nobody measured enough of them for this table). A tube's length follows its
focal length and is known better than a saddle's height, which follows a word for a size.
"""

from __future__ import annotations

from enum import Enum
from typing import Any

from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Mount
from axletree.kit.parts.tube import Tube


class GuessReason(Enum):
    """What was a guess made from?"""

    MOUNT_SIZE = "mount_size"
    LEGS_AS_USUAL = "legs_as_usual"  # how far they are drawn out and spread
    TURNED_BY_HAND = "turned_by_hand"
    LEFT_BY_THE_LEVEL = "left_by_the_level"
    FOCAL_LENGTH = "focal_length"
    APERTURE = "aperture"
    KIND_OF_TUBE = "kind_of_tube"
    TUBE_LENGTH = "tube_length"
    TUBE_DIAMETER = "tube_diameter"
    TUBE_SURFACE = "tube_surface"  # mass of its walls and of mirror or lens
    USUAL_PART = "usual_part"  # what most parts of this kind measure
    PLACE_NAME = "place_name"
    EXPERIENCE = "experience"  # of whoever observes


@dataclass(frozen=True)
class Spread:
    """One standard deviation in the unit of the key, None where a guess is no number; why so."""

    sigma: float | None
    reason: GuessReason


# How well people turn a tripod to the pole before the bolts take over, and how far from the middle
# they leave the bubble (common practice, no source).
TURNED_DEG = 3.0
LEFT_DIVISIONS = 0.5
# A size stands for bigger and smaller mounts: what they all share of a guess's variance (ours).
SIZE_SHARE = 0.3

_S, _U, _L = GuessReason.MOUNT_SIZE, GuessReason.USUAL_PART, GuessReason.LEGS_AS_USUAL
_LONG, _WIDE = GuessReason.TUBE_LENGTH, GuessReason.TUBE_DIAMETER
_KIND, _PLACE = GuessReason.KIND_OF_TUBE, GuessReason.PLACE_NAME
# By key, entries of lists without their number: share of the value, least, reason.
_SPREADS: dict[str, tuple[float, float, GuessReason]] = {
    "site.latitude_deg": (0.0, 0.03, _PLACE), "site.longitude_deg": (0.0, 0.03, _PLACE),
    "site.elevation_m": (0.0, 50.0, _PLACE),
    "mount.payload_limit_kg": (0.25, 0.0, _S),
    "mount.tripod.foot_radius_mm": (0.12, 0.0, _L), "mount.tripod.top_height_mm": (0.12, 0.0, _L),
    "mount.tripod.top_radius_mm": (0.15, 0.0, _S), "mount.tripod.leg_radius_mm": (0.15, 0.0, _S),
    "mount.tripod.column_radius_mm": (0.2, 0.0, _S),
    "mount.tripod.tray_height_mm": (0.2, 0.0, _L), "mount.tripod.tray_radius_mm": (0.2, 0.0, _S),
    "mount.tripod.bubble_arcmin_per_division": (0.3, 0.0, _U),
    "mount.tripod.bubble_edge_divisions": (0.25, 0.0, _U),
    "mount.tripod.leg_directions_deg": (0.0, 1.0, _U), "mount.tripod.mass_kg": (0.25, 0.0, _S),
    "mount.tripod.turned_deg": (0.0, TURNED_DEG, GuessReason.TURNED_BY_HAND),
    "mount.head.pivot_height_mm": (0.2, 0.0, _S), "mount.head.crossing_along_mm": (0.2, 0.0, _S),
    "mount.head.crossing_above_mm": (0.25, 0.0, _S), "mount.head.housing_back_mm": (0.15, 0.0, _S),
    "mount.head.housing_front_mm": (0.25, 0.0, _S), "mount.head.housing_radius_mm": (0.12, 0.0, _S),
    "mount.head.declination_radius_mm": (0.12, 0.0, _S),
    "mount.head.saddle_distance_mm": (0.18, 0.0, _S), "mount.head.shaft_start_mm": (0.2, 0.0, _S),
    "mount.head.shaft_length_mm": (0.15, 0.0, _S), "mount.head.shaft_radius_mm": (0.1, 0.0, _S),
    "mount.head.shaft_mass_kg": (0.2, 0.0, _S), "mount.head.moving_mass_kg": (0.25, 0.0, _S),
    "mount.head.fixed_mass_kg": (0.25, 0.0, _S),
    "mount.weight.mass_kg": (0.1, 0.0, _S), "mount.weight.thickness_mm": (0.15, 0.0, _U),
    "mount.weight.radius_mm": (0.15, 0.0, _U),
    "mount.gears.hour_worm_teeth": (0.2, 0.0, _S),
    "mount.gears.declination_worm_teeth": (0.2, 0.0, _S),
    "mount.bolts.altitude_turns_per_degree": (0.2, 0.0, _S),
    "mount.bolts.azimuth_turns_per_degree": (0.2, 0.0, _S),
    "mount.circles.hour_marks": (0.0, 0.0, _U), "mount.circles.hour_circle": (0.0, 0.0, _U),
    "mount.circles.hour_division_min": (0.4, 0.0, _U),
    "mount.circles.declination_division_deg": (0.4, 0.0, _U),
    "mount.circles.read_division": (0.3, 0.0, GuessReason.EXPERIENCE),
    "tube.obstruction_mm": (0.1, 0.0, GuessReason.APERTURE),
    "tube.transmission": (0.06, 0.0, _KIND),
    "tube.mass_kg": (0.2, 0.0, GuessReason.TUBE_SURFACE),
    "tube.balance_from_front_mm": (0.08, 0.0, _LONG),
    "tube.dovetail_height_mm": (0.25, 0.0, _U), "tube.dovetail_length_mm": (0.25, 0.0, _LONG),
    "tube.dew_shield_diameter_mm": (0.04, 0.0, _WIDE),
    "tube.focuser_from_front_mm": (0.15, 15.0, _LONG), "tube.focuser_reach_mm": (0.12, 0.0, _WIDE),
    "tube.focuser_radius_mm": (0.12, 0.0, _U),
    "tube.focuser_mass_kg": (0.4, 0.0, GuessReason.APERTURE),
    "tube.diagonal_arm_mm": (0.12, 0.0, _U),
    "tube.ring_turn_deg": (0.0, 5.0, GuessReason.TURNED_BY_HAND),
    "tube.cool_down_min": (0.4, 0.0, GuessReason.APERTURE),
    "tube.finder.from_front_mm": (0.2, 0.0, _LONG), "tube.finder.offset_mm": (0.12, 0.0, _WIDE),
    "tube.finder.length_mm": (0.2, 0.0, _U), "tube.finder.radius_mm": (0.2, 0.0, _U),
    "tube.finder.angle_deg": (0.0, 15.0, _U), "tube.finder.mass_kg": (0.35, 0.0, _U),
    "tube.finder.aperture_mm": (0.3, 0.0, _U), "tube.finder.magnification": (0.25, 0.0, _U),
    "tube.finder.field_deg": (0.15, 0.0, _U), "tube.finder.look": (0.0, 0.0, _U),
    "tube.accessory.offset_mm": (0.0, 30.0, _U), "tube.accessory.angle_deg": (0.0, 30.0, _U),
    "tube.accessory.radius_mm": (0.0, 10.0, _U),
    "eyepiece.apparent_field_deg": (0.1, 0.0, _U), "eyepiece.mass_kg": (0.4, 0.0, _U),
    "eyepiece.radius_mm": (0.2, 0.0, _U), "eyepiece.length_mm": (0.25, 0.0, _U),
    "eyepiece.focal_length_mm": (0.0, 5.0, _U),
    "barlow.factor": (0.15, 0.0, _U), "barlow.mass_kg": (0.35, 0.0, _U),
    "camera.mass_kg": (0.35, 0.0, _U), "camera.radius_mm": (0.15, 0.0, _U),
    "camera.length_mm": (0.25, 0.0, _U),
}  # fmt: skip
_BY_KIND: dict[str, dict[str, tuple[float, float, GuessReason]]] = {
    "newtonian": {
        "tube.length_mm": (0.04, 0.0, GuessReason.FOCAL_LENGTH),
        "tube.diameter_mm": (0.04, 0.0, GuessReason.APERTURE),
    },
    "refractor": {
        "tube.length_mm": (0.08, 0.0, GuessReason.FOCAL_LENGTH),
        "tube.diameter_mm": (0.08, 0.0, GuessReason.APERTURE),
        "tube.obstruction_mm": (0.0, 0.0, _KIND),  # a lens has none
        "tube.focuser_reach_mm": (0.2, 0.0, _U),
    },
    "catadioptric": {
        "tube.length_mm": (0.12, 0.0, GuessReason.APERTURE),
        "tube.diameter_mm": (0.06, 0.0, GuessReason.APERTURE),
        "tube.focuser_reach_mm": (0.2, 0.0, _U),
    },
}


def spread_of(key: str, value: Any, mount: Mount, tube: Tube) -> Spread:
    """The spread of one guess; the key without the numbers of entries ('eyepiece.mass_kg').

    What it was made from is taken as right: the error that it takes over from there comes on top.
    """
    if key in ("mount.tripod.lean_to_pole_deg", "mount.tripod.lean_to_right_deg"):
        division_deg = mount.tripod.bubble_arcmin_per_division / 60.0
        return Spread(LEFT_DIVISIONS * division_deg, GuessReason.LEFT_BY_THE_LEVEL)
    known = _BY_KIND[tube.kind].get(key) or _SPREADS.get(key)
    if known is None:
        first = key.split(".")[0]
        reason = {"site": _PLACE, "mount": _S, "tube": _KIND}.get(first, _U)
        return Spread(None, reason)
    share, least, reason = known
    size = abs(value) if isinstance(value, int | float) else 0.0
    return Spread(max(least, share * size) or None, reason)
