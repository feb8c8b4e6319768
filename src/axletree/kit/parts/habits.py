"""How does the person observe, and for whom?"""

from datetime import time
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from axletree.kit.parts.part import NotNegative, Part, Positive

Theme = Literal[
    "anything",
    "clusters",
    "nebulae",
    "galaxies",
    "doubles",
    "colours",
    "moon and planets",
    "first looks",
]

Audience = Literal["alone", "family", "class", "public"]

MOST_HOURS = 16.0  # the longest session that can be asked for


class Break(Part):
    """A pause in the evening."""

    at: time
    minutes: Positive


class Satellite(Part):
    """A satellite of known brightness: its catalogue number and its magnitude at 1,000 km, lit
    from the side."""

    number: Annotated[int, Field(ge=1, le=339_999)]
    magnitude: Annotated[float, Field(ge=-10, le=20)]


class Weights(Part):
    """How much each part of an object's worth counts, against the others."""

    shows: NotNegative = 16.0
    rewards: NotNegative = 52.0
    tonight: NotNegative = 12.0
    differs: NotNegative = 12.0
    comfort: NotNegative = 8.0

    @model_validator(mode="after")
    def _some(self) -> Self:
        if not self.total > 0:
            raise ValueError("at least one weight must be more than 0")
        return self

    @property
    def total(self) -> float:
        """All five together."""
        return self.shows + self.rewards + self.tonight + self.differs + self.comfort


class Habits(Part):
    """Choices that are the person's own."""

    units: Literal["metric", "us"] = "metric"
    observer: Literal["newcomer", "practised", "expert"] = "practised"
    visitors: Annotated[int, Field(ge=0, le=2000)] = 0
    audience: Audience | None = None
    weights: Weights = Weights()
    seconds_per_visitor: Positive = 45.0
    minutes_per_stop: Positive | None = None
    find_bright_min: Positive | None = None
    find_easy_min: Positive | None = None
    find_faint_min: Positive | None = None
    talk_min: NotNegative | None = None
    slack_part: Annotated[float, Field(ge=0, le=1)] | None = None
    most_stops: Annotated[int, Field(ge=1, le=60)] | None = None
    eye_height_min_mm: Positive = 900.0
    eye_height_max_mm: Positive = 1700.0
    clearance_margin_mm: NotNegative = 20.0
    touch_chance_percent: Annotated[float, Field(ge=0, le=100)] | None = None
    sun_distance_deg: Annotated[float, Field(ge=10, le=90)] = 30.0
    lowest_altitude_deg: Annotated[float, Field(ge=0, le=60)] = 15.0
    start: time | None = None
    stop: time | None = None
    hours: Annotated[float, Field(gt=0, le=MOST_HOURS)] = 3.0
    bedtime: time | None = None
    children_until: time | None = None
    nudge_every_s: Positive = 60.0
    themes: tuple[Theme, ...] = ("anything",)
    must_see: tuple[str, ...] = ()
    exclude: tuple[str, ...] = ()
    own_objects_file: str | None = None
    elements_files: Annotated[tuple[str, ...], Field(max_length=8)] = ()
    satellite_files: Annotated[tuple[str, ...], Field(max_length=8)] = ()
    satellites: Annotated[tuple[Satellite, ...], Field(alias="satellite", max_length=200)] = ()
    breaks: tuple[Break, ...] = Field(default=(), alias="break")
    arrive_before_dark_min: Positive | None = None
    set_up_min: Positive | None = None

    @model_validator(mode="after")
    def _heights_ordered(self) -> Self:
        if self.eye_height_min_mm >= self.eye_height_max_mm:
            raise ValueError("eye_height_min_mm must be smaller than eye_height_max_mm")
        return self


def audience_of(habits: Habits) -> Audience:
    """For whom: as the kit says, else nobody or the public, as visitors are named or not."""
    if habits.audience is not None:
        return habits.audience
    return "public" if habits.visitors else "alone"
