"""What hangs on the mount? The tube, what sits on it, and what the eye or camera looks through.

Positions 'from_front_mm' run along the tube from its front end (where light enters) to its
back. Angles around the tube are seen from behind, looking forward to the sky, clockwise from
the side away from the saddle (0 is opposite the saddle, 90 to the right).
"""

from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from axletree.kit.parts.part import NotNegative, Number, Part, Positive

# Ordinary apparent fields end here (common practice, no source).
WIDEST_APPARENT_DEG = 80.0
# Filters in front of the eyepiece that pass the light of nebulae: both lines of oxygen and the blue
# one of hydrogen, those of oxygen alone, that of hydrogen alone.
LineFilter = Literal["narrow band", "O III", "H-beta"]
UNNAMED = "tube"  # what a tube is called in notes while nobody has given it a name
_KINDS = {"newtonian": "Newtonian"}  # how a kind is written, where not as its key
FinderLook = Literal["upright", "upside down", "mirrored"]


class Finder(Part):
    """A finder or any other tube riding on the tube.

    Either it magnifies (`aperture_mm`, `magnification`, `field_deg`, and how things look in it), or
    it is a plain sight without power, whose rings or marks lie `rings_deg` from its middle.
    """

    from_front_mm: Number
    length_mm: Positive = 200.0
    radius_mm: Positive = 25.0
    offset_mm: Positive  # axis of the tube to axis of the finder
    angle_deg: Number = 45.0
    mass_kg: NotNegative = 0.3
    solar_filter: bool = False  # a filter made for the Sun over its front
    aperture_mm: Annotated[float, Field(ge=5, le=200)] | None = None
    magnification: Annotated[float, Field(ge=1.5, le=60)] | None = None
    field_deg: Annotated[float, Field(gt=0, le=50)] | None = None  # sky from edge to edge
    look: FinderLook | None = None
    plain_sight: bool = False
    rings_deg: tuple[Annotated[float, Field(gt=0, le=20)], ...] = ()  # radii, from the inside out

    @model_validator(mode="after")
    def _optics(self) -> Self:
        given = [
            key
            for key in ("aperture_mm", "magnification", "field_deg", "look")
            if getattr(self, key) is not None
        ]
        if self.plain_sight:
            if given:
                raise ValueError(f"a plain sight has no {given[0]}; leave it or plain_sight out")
            if not self.rings_deg:
                raise ValueError(
                    "a plain sight needs rings_deg, the radii of its rings or marks in degrees, "
                    "such as [0.5, 2]"
                )
            if any(b <= a for a, b in pairwise(self.rings_deg)):
                raise ValueError("rings_deg grow from the inside out, such as [0.5, 2]")
        elif self.rings_deg:
            raise ValueError(
                "rings_deg belong to a plain sight; write plain_sight = true with them"
            )
        elif self.magnification is not None and self.field_deg is None:
            raise ValueError(
                f"a finder of {self.magnification:g} times without its field_deg; write how much "
                "sky it shows from edge to edge, such as 7"
            )
        elif self.magnification is not None and self.field_deg is not None:
            apparent = self.magnification * self.field_deg
            if apparent > WIDEST_APPARENT_DEG:
                raise ValueError(
                    f"field_deg {self.field_deg:g} at {self.magnification:g} times would fill "
                    f"{apparent:.0f} degrees of the eye's view; at most "
                    f"{WIDEST_APPARENT_DEG / self.magnification:.1f} degrees are ordinary"
                )
        return self


class Accessory(Part):
    """Anything with mass fixed to the tube: camera, dew heater, battery."""

    name: str = "accessory"
    mass_kg: Positive
    from_front_mm: Number
    offset_mm: NotNegative = 0.0
    angle_deg: Number = 0.0
    radius_mm: NotNegative = 0.0


class Tube(Part):
    """The optical tube with rings, dovetail and focuser, without eyepiece, finder and camera."""

    name: str = UNNAMED
    kind: Literal["newtonian", "refractor", "catadioptric"]
    aperture_mm: Annotated[float, Field(ge=20, le=1000)]
    focal_length_mm: Annotated[float, Field(ge=100, le=10000)]
    obstruction_mm: NotNegative
    transmission: Annotated[float, Field(gt=0, le=1)]
    length_mm: Positive
    diameter_mm: Positive
    mass_kg: Positive
    balance_from_front_mm: Positive  # bare tube's own balance point
    dovetail_height_mm: NotNegative  # saddle face to tube wall
    dovetail_length_mm: Positive  # how much of it can slide in the saddle
    dew_shield_length_mm: NotNegative = 0.0
    dew_shield_diameter_mm: Positive
    focuser_from_front_mm: Number  # newtonian: where the focuser sits
    focuser_reach_mm: Positive  # tube axis (newtonian) or tube end to the eye point
    focuser_radius_mm: Positive = 32.0  # half the thickness of its body
    focuser_mass_kg: NotNegative = 0.0  # newtonian: the share of mass_kg that stands to the side
    diagonal: Literal["none", "mirror", "prism", "erecting"]
    diagonal_angle_deg: Literal[45, 90] = 90
    diagonal_arm_mm: Positive  # from the optical axis to the eye point
    ring_turn_deg: Number = 0.0  # turn of the focuser (or diagonal) around the tube
    ring_turn_fixed: bool = False
    cool_down_min: NotNegative
    solar_filter: bool = False  # a filter made for the Sun over the front of the tube
    line_filters: tuple[LineFilter, ...] = ()  # screwed into the eyepiece for nebulae
    finder: Finder | None = None
    accessories: tuple[Accessory, ...] = Field(default=(), alias="accessory")

    @property
    def label(self) -> str:
        """The name the person gave, or '114 mm f/7.9 Newtonian'."""
        if self.name != UNNAMED:
            return self.name
        ratio = round(self.focal_length_mm / self.aperture_mm, 1)
        return f"{self.aperture_mm:g} mm f/{ratio:g} {_KINDS.get(self.kind, self.kind)}"

    @model_validator(mode="after")
    def _sense(self) -> Self:
        if self.focuser_mass_kg >= self.mass_kg:
            raise ValueError("focuser_mass_kg is a share of mass_kg and must be smaller")
        ratio = self.focal_length_mm / self.aperture_mm
        if not 1.5 <= ratio <= 30:
            raise ValueError(
                f"focal_length_mm / aperture_mm is f/{ratio:.1f}; both in millimetres, "
                "an ordinary tube lies between f/3 and f/16"
            )
        if self.obstruction_mm >= self.aperture_mm:
            raise ValueError("obstruction_mm must be smaller than aperture_mm")
        if self.diagonal != "none" and self.kind == "newtonian":
            raise ValueError('a Newtonian has no diagonal; write diagonal = "none" or leave it out')
        if self.balance_from_front_mm > self.length_mm:
            raise ValueError("balance_from_front_mm lies behind the tube (length_mm)")
        return self


class Eyepiece(Part):
    """One eyepiece."""

    name: str | None = None
    focal_length_mm: Annotated[float, Field(ge=1.5, le=100)]
    apparent_field_deg: Annotated[float, Field(ge=20, le=120)] = 50.0
    field_stop_mm: Annotated[float, Field(gt=0, le=60)] | None = None
    mass_kg: NotNegative = 0.15
    radius_mm: Positive = 22.0
    length_mm: Positive = 60.0  # what stands out of the focuser, to the eye point

    @property
    def label(self) -> str:
        """The name the person gave, or the focal length."""
        return self.name or f"{self.focal_length_mm:g} mm"

    def label_with(self, barlow: float) -> str:
        """Its name with a Barlow lens of this factor before it; 1 is none."""
        return self.label if barlow == 1.0 else f"{self.label} with {barlow:g}x Barlow"


class Barlow(Part):
    """A lens that multiplies the focal length."""

    factor: Annotated[float, Field(gt=1, le=6)] = 2.0
    mass_kg: NotNegative = 0.1


class Camera(Part):
    """A camera at the focus instead of the eye."""

    name: str = "camera"
    pixel_um: Annotated[float, Field(gt=0.5, le=30)]
    width_px: Annotated[int, Field(ge=16, le=40000)]
    height_px: Annotated[int, Field(ge=16, le=40000)]
    exposure_s: Positive = 30.0
    guided: bool = False
    mass_kg: NotNegative = 0.6
    radius_mm: Positive = 42.0
    length_mm: Positive = 80.0  # what stands out of the focuser
