"""What is the mount made of? Lengths of its parts, gears, bolts and limits.

Directions of the head: the polar axis leaves the crossing of the two axes towards the elevated
pole; 'along' is measured on it from the crossing, positive to the pole. The declination axis
leaves the crossing towards the saddle; the shaft with the weights leaves it the other way.
Fields left out are filled from the mount's `size` (see `axletree.kit.parts.defaults`).
"""

import math
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from axletree.kit.parts.circles import Circles
from axletree.kit.parts.part import NotNegative, Number, Part, Positive

Size = Literal["small", "middle", "large"]
UNNAMED = "mount"  # what a mount is called in notes while nobody has given it a name
_SIZES = {"small": "small ", "middle": "middle-sized ", "large": "large "}
Lean = Annotated[float, Field(ge=-10, le=10)]


class Tripod(Part):
    """Three legs from a top plate to the ground, a tray between them, maybe a column above.

    `leg_directions_deg` are horizontal angles from the direction of the elevated pole,
    clockwise seen from above (as azimuths are). By `turned_deg` the whole tripod stands further
    round than that, and by the leans its top leans; the head's bolts keep both from the axis.
    """

    leg_directions_deg: tuple[Number, Number, Number] = (0.0, 120.0, 240.0)
    turned_deg: Annotated[float, Field(ge=-180, le=180)] = 0.0
    lean_to_pole_deg: Lean = 0.0  # to the elevated pole
    lean_to_right_deg: Lean = 0.0  # to the right of whoever faces that pole
    foot_radius_mm: Positive
    top_height_mm: Positive
    top_radius_mm: Positive
    leg_radius_mm: Positive
    column_height_mm: NotNegative = 0.0
    column_radius_mm: Positive
    tray_height_mm: Positive
    tray_radius_mm: NotNegative
    tray_load_kg: NotNegative = 0.0
    bubble_arcmin_per_division: Positive = 30.0  # the level's sensitivity, a division being 2 mm
    bubble_edge_divisions: Positive = 3.0  # how far from the middle the bubble meets its rim
    mass_kg: Positive

    @model_validator(mode="after")
    def _legs_apart(self) -> Self:
        around = sorted(a % 360 for a in self.leg_directions_deg)
        gaps = [b - a for a, b in zip(around, [*around[1:], around[0] + 360], strict=True)]
        if min(gaps) < 20:
            raise ValueError(
                "leg_directions_deg: two legs point the same way (less than 20 degrees apart); "
                "most tripods have 0, 120, 240"
            )
        if max(gaps) >= 180:
            raise ValueError(
                "leg_directions_deg: all legs stand on one side, the tripod cannot stand; "
                "no gap between neighbouring legs may reach 180 degrees"
            )
        return self


class Head(Part):
    """The parts above the tripod, as distances from the crossing of the two axes."""

    pivot_height_mm: NotNegative  # altitude hinge above tripod top or column
    crossing_along_mm: Number  # from the hinge to the crossing, along the polar axis
    crossing_above_mm: NotNegative  # and square to it, upwards
    housing_back_mm: NotNegative  # polar housing below the crossing
    housing_front_mm: NotNegative  # polar housing beyond the crossing
    housing_radius_mm: Positive
    declination_radius_mm: Positive
    saddle_distance_mm: Positive  # crossing to the face the dovetail lies on
    shaft_start_mm: NotNegative  # crossing to where weights can begin
    shaft_length_mm: Positive  # usable length from there
    shaft_radius_mm: Positive
    shaft_mass_kg: NotNegative
    moving_mass_kg: NotNegative  # what turns about the polar axis, without shaft
    fixed_mass_kg: NotNegative  # what does not


class Weight(Part):
    """One counterweight the person owns."""

    mass_kg: Positive
    thickness_mm: Positive = 50.0
    radius_mm: Positive = 55.0
    count: Annotated[int, Field(ge=1, le=20)] = 1


class Gears(Part):
    """Worms and knobs of both axes. An axis that is not geared is pushed by hand, lock open."""

    hour_geared: bool = True
    declination_geared: bool = True
    hour_worm_teeth: Annotated[int, Field(ge=10, le=2000)]
    declination_worm_teeth: Annotated[int, Field(ge=10, le=2000)]
    hour_knob_ratio: Positive = 1.0  # knob turns per worm turn
    declination_knob_ratio: Positive = 1.0
    # Looking at the knob and turning it clockwise, at the kit's own site in either hemisphere:
    # the way the tube goes. The tube side makes no difference. Without an answer: the mount that
    # goes west in the north, and so east in the south.
    hour_knob_clockwise: Literal["west", "east"] | None = None
    # The same on tube side east; the hemisphere makes no difference.
    declination_knob_clockwise: Literal["north", "south"] = "north"
    hour_backlash_deg: NotNegative = 0.0  # of knob
    declination_backlash_deg: NotNegative = 0.0
    periodic_error_arcsec: NotNegative | None = None  # half of peak to peak
    declination_arm: bool = False  # a tangent arm instead of a full worm
    declination_arm_range_deg: Positive | None = None
    declination_arm_deg_per_turn: Positive | None = None  # counted on the mount


def turns_per_degree(pitch_mm: float, arm_mm: float) -> float:
    """Bolt turns for one degree: the bolt pushes square to the arm, a turn is atan(pitch/arm)."""
    return 1.0 / math.degrees(math.atan(pitch_mm / arm_mm))


class Bolts(Part):
    """The bolts that move the polar axis.

    Turns per degree can be counted on the mount, or follow from the bolt's thread pitch and the
    distance (arm) from where it pushes to the hinge it turns about.
    """

    altitude_turns_per_degree: Positive
    altitude_pitch_mm: Positive | None = None
    altitude_arm_mm: Positive | None = None
    altitude_clockwise: Literal["raises", "lowers"] = "raises"
    azimuth_turns_per_degree: Positive
    azimuth_pitch_mm: Positive | None = None
    azimuth_arm_mm: Positive | None = None
    azimuth_pair: bool = True  # two opposed bolts: loosen one before tightening the other
    azimuth_clockwise_east_bolt: Literal["axis east", "axis west"] = "axis west"
    latitude_scale_min_deg: NotNegative = 0.0
    latitude_scale_max_deg: Positive = 90.0
    latitude_scale_step_deg: Positive = 1.0
    latitude_scale_offset_deg: Number = 0.0  # what the scale shows too much, if known

    @model_validator(mode="after")
    def _pitch_with_arm(self) -> Self:
        for name in ("altitude", "azimuth"):
            pitch, arm = getattr(self, f"{name}_pitch_mm"), getattr(self, f"{name}_arm_mm")
            if (pitch is None) != (arm is None):
                missing = "pitch" if pitch is None else "arm"
                raise ValueError(f"{name}_{missing}_mm is missing: pitch and arm go together")
            if pitch is None or arm is None:
                continue
            turns = turns_per_degree(pitch, arm)
            given = getattr(self, f"{name}_turns_per_degree")
            if not 0.8 < given / turns < 1.25:
                raise ValueError(
                    f"{name}_turns_per_degree is {given:g}, but pitch and arm make {turns:.2f}; "
                    "give one or the other"
                )
        if self.latitude_scale_min_deg >= self.latitude_scale_max_deg:
            raise ValueError("latitude_scale_min_deg must be smaller than latitude_scale_max_deg")
        return self


class PolarScope(Part):
    """What the person looks along the polar axis with."""

    kind: Literal["scope", "hollow", "none"] = "none"
    field_deg: Positive | None = None
    view: Literal["inverted", "erect", "mirrored"] = "inverted"
    rotation_deg: Number = 0.0
    aperture_mm: Positive | None = None
    ring_radius_arcmin: Positive | None = None  # engraved ring for the pole star, if it has one
    bore_diameter_mm: Positive | None = None
    bore_length_mm: Positive | None = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if self.kind == "hollow" and (self.bore_diameter_mm is None or self.bore_length_mm is None):
            raise ValueError("a hollow axis needs bore_diameter_mm and bore_length_mm")
        return self


class Travel(Part):
    """Stops of the hour axis, as hours that it may go past the pose with the shaft level."""

    weights_up_h: Annotated[float, Field(ge=0, le=12)] | None = None  # stop, weights rising
    weights_down_h: Annotated[float, Field(ge=0, le=12)] | None = None  # the other way, from level


class Motor(Part):
    """The drive, where there is one."""

    axes: Literal["hour", "both"] = "hour"
    rates: tuple[Literal["sidereal", "solar", "lunar", "king"], ...] = ("sidereal",)
    slew_deg_per_s: Positive | None = None
    guided: bool = False


class Mount(Part):
    """An equatorial mount with a counterweight shaft."""

    name: str = UNNAMED
    size: Size = "middle"
    motion: Literal["hand", "motor"] = "hand"
    payload_limit_kg: Positive
    tripod: Tripod
    head: Head
    gears: Gears
    bolts: Bolts
    polar_scope: PolarScope = PolarScope()
    travel: Travel = Travel()
    motor: Motor | None = None
    weights: tuple[Weight, ...] = Field(alias="weight")
    circles: Circles

    @property
    def label(self) -> str:
        """The name the person gave, or 'small hand-driven mount'; its size only if given."""
        if self.name != UNNAMED:
            return self.name
        size = _SIZES[self.size] if "size" in self.model_fields_set else ""
        return f"{size}{self.motion}-driven mount"

    @model_validator(mode="after")
    def _motor_matches(self) -> Self:
        if self.motion == "hand" and self.motor is not None:
            raise ValueError('motion is "hand" beside a [mount.motor]; write motion = "motor"')
        return self
