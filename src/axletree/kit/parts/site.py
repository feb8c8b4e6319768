"""Where does the person stand, and what stands around them?"""

from typing import Annotated, Literal, Self
from zoneinfo import ZoneInfo, available_timezones

from pydantic import Field, field_validator, model_validator

from axletree.kit.parts.part import Altitude, Azimuth, NotNegative, Number, Part, Positive

# The moonless zenith where the kit is silent: the edge of a village (common practice, no source).
RURAL_ZENITH_MAG = 20.5


class Skyline(Part):
    """Altitude of the obstacles around the spot, by true azimuth.

    `points` are (azimuth_deg, altitude_deg) pairs, joined by straight lines through 360
    where neighbours stand at most 180 degrees apart. Beyond that nothing is known: the lower
    neighbour's altitude is taken, and `open_altitude_deg` at least.
    """

    points: tuple[tuple[Azimuth, Altitude], ...] = ()
    file: str | None = None
    bearings: Literal["true", "magnetic"] = "true"
    open_altitude_deg: Altitude = 0.0


class Site(Part):
    """One place on the Earth. Longitude is positive east; heights are above sea level."""

    name: str = "unnamed site"
    place: str | None = None
    latitude_deg: Annotated[float, Field(ge=-90, le=90)]
    longitude_deg: Annotated[float, Field(ge=-180, le=360)]
    elevation_m: Annotated[float, Field(ge=-450, le=9000)] = 0.0
    time_zone: str
    pressure_hpa: Annotated[float, Field(ge=300, le=1100)] | None = None
    temperature_c: Annotated[float, Field(ge=-60, le=60)] | None = None
    relative_humidity: Annotated[float, Field(ge=0, le=1)] = 0.5
    sky_brightness_mag_arcsec2: Annotated[float, Field(ge=14, le=22.2)] | None = None
    naked_eye_limit_mag: Annotated[float, Field(ge=0, le=8)] | None = None
    seeing_arcsec: Annotated[float, Field(gt=0, le=20)] = 2.5
    extinction_mag_per_airmass: Annotated[float, Field(gt=0, le=2)] | None = None
    skyline: Skyline = Skyline()

    @field_validator("time_zone")
    @classmethod
    def _known_zone(cls, name: str) -> str:
        try:
            ZoneInfo(name)
        except (KeyError, ValueError, OSError):
            if not available_timezones():
                raise ValueError(
                    f"'{name}' cannot be looked up: this machine has no time zone data; install "
                    "the package tzdata"
                ) from None
            raise ValueError(
                f"'{name}' is not an IANA time zone; write one like 'Europe/Lisbon'"
            ) from None
        return name

    @model_validator(mode="after")
    def _one_darkness(self) -> Self:
        if self.sky_brightness_mag_arcsec2 is not None and self.naked_eye_limit_mag is not None:
            raise ValueError(
                "give either sky_brightness_mag_arcsec2 or naked_eye_limit_mag, not both"
            )
        return self

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone."""
        return ZoneInfo(self.time_zone)

    @property
    def north(self) -> bool:
        """True where the north pole is the elevated one; the equator counts as north."""
        return self.latitude_deg >= 0


# A yard plan: x metres east and y metres north of the plan's own origin.


class Post(Part):
    """A pole, a lamp, a chimney: a vertical cylinder."""

    name: str = "post"
    x_m: Number
    y_m: Number
    height_m: Positive
    radius_m: Positive = 0.1


class Wall(Part):
    """A wall, hedge or fence: a vertical sheet along a line of points."""

    name: str = "wall"
    points_m: Annotated[tuple[tuple[Number, Number], ...], Field(min_length=2)]
    height_m: Positive


class Tree(Part):
    """A round crown on a trunk."""

    name: str = "tree"
    x_m: Number
    y_m: Number
    height_m: Positive
    crown_radius_m: Positive
    crown_base_m: NotNegative = 2.0
    trunk_radius_m: Positive = 0.2

    @model_validator(mode="after")
    def _crown_below_top(self) -> Self:
        if self.crown_base_m >= self.height_m:
            raise ValueError("crown_base_m must lie below height_m")
        return self


class Roof(Part):
    """A building: a footprint with an eaves height, and a ridge along its longer axis."""

    name: str = "roof"
    corners_m: Annotated[tuple[tuple[Number, Number], ...], Field(min_length=3)]
    eaves_height_m: Positive
    ridge_height_m: Positive | None = None

    @model_validator(mode="after")
    def _ridge_above_eaves(self) -> Self:
        if self.ridge_height_m is not None and self.ridge_height_m < self.eaves_height_m:
            raise ValueError("ridge_height_m must not lie below eaves_height_m")
        return self


class View(Part):
    """A stretch of the sky that the person wants free, clockwise from one azimuth to another."""

    name: str = "view"
    from_azimuth_deg: Azimuth
    to_azimuth_deg: Azimuth
    above_deg: Annotated[float, Field(ge=0, lt=90)] = 15.0


class Yard(Part):
    """What can be measured with a tape: obstacles, slope, and where a tripod may stand."""

    area_m: Annotated[tuple[tuple[Number, Number], ...], Field(min_length=3)]
    keep_out_m: tuple[Annotated[tuple[tuple[Number, Number], ...], Field(min_length=3)], ...] = ()
    slope_percent: Annotated[float, Field(ge=0, le=60)] = 0.0
    downhill_azimuth_deg: Azimuth = 180.0
    bearings: Literal["true", "magnetic"] = "true"
    posts: tuple[Post, ...] = Field(default=(), alias="post")
    walls: tuple[Wall, ...] = Field(default=(), alias="wall")
    trees: tuple[Tree, ...] = Field(default=(), alias="tree")
    roofs: tuple[Roof, ...] = Field(default=(), alias="roof")
    views: tuple[View, ...] = Field(default=(), alias="view")
