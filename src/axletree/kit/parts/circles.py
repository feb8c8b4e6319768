"""How are the mount's setting circles marked, how do they sit, and how well are they read?"""

from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from axletree.kit.parts.part import Part, Positive

HourMarks = Literal["hour angle", "right ascension"]
HourCircle = Literal["fixed", "slipped", "driven"]

# Error of a reading in parts of a division, one standard deviation, by who reads (our figures,
# from practice: common practice, no source).
READ_DIVISION: dict[str, float] = {"newcomer": 0.35, "practised": 0.20, "expert": 0.15}
# The same of a reading taken with care, for nothing but itself (common practice, no source).
WITH_CARE_DIVISION = 0.1
# Keys that stood in `[mount]` before the circles had a table of their own.
OLDER_KEYS = {
    "hour_circle_step_min": "hour_division_min",
    "declination_circle_step_deg": "declination_division_deg",
}


class Circles(Part):
    """Both setting circles.

    `hour_marks`: what the hour circle's figures count. `hour_circle`: fixed on the housing,
    slipped by hand on its shaft, or slipped by hand and carried by the drive with the sky.
    `read_division`: error of a reading in parts of a division.
    """

    hour_marks: HourMarks
    hour_circle: HourCircle
    hour_division_min: Positive
    declination_division_deg: Positive
    read_division: Annotated[float, Field(ge=0.01, le=2.0)]

    @model_validator(mode="after")
    def _can_be_set(self) -> Self:
        if self.hour_marks == "right ascension" and self.hour_circle == "fixed":
            raise ValueError(
                "an hour circle marked in right ascension has to be set on a star; write "
                'hour_circle = "slipped" or "driven"'
            )
        return self

    @property
    def set_on_star(self) -> bool:
        """Whether the hour circle is turned to its reading on a star before it serves."""
        return self.hour_circle != "fixed"


def circles_defaults(circles: Any, habits: Any) -> dict[str, Any]:
    """What to fill into the raw `[mount.circles]` table.

    Marks of ten minutes and two degrees are usual (common practice, no source). A circle marked in
    right ascension is taken as slipped, another one as fixed.
    """
    marks = circles.get("hour_marks") if isinstance(circles, dict) else None
    observer = habits.get("observer") if isinstance(habits, dict) else None
    return {
        "hour_marks": "hour angle",
        "hour_circle": "slipped" if marks == "right ascension" else "fixed",
        "hour_division_min": 10.0,
        "declination_division_deg": 2.0,
        "read_division": READ_DIVISION.get(str(observer), READ_DIVISION["practised"]),
    }


def with_circles_table(mount: dict[str, Any]) -> dict[str, Any]:
    """The raw `[mount]` table with its older keys of the circles in their own table."""
    older = {new: mount[old] for old, new in OLDER_KEYS.items() if old in mount}
    circles = mount.get("circles", {})
    if not older or not isinstance(circles, dict):
        return mount
    kept = {key: value for key, value in mount.items() if key not in OLDER_KEYS}
    return {**kept, "circles": {**older, **circles}}
