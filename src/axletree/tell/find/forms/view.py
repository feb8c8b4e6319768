"""What does each instrument show, for a program? Keys carry units."""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.find.finding import Finding
from axletree.find.view import FieldView


class ViewData(TypedDict):
    """One field: stars' x (right) and y (up) in field radii and magnitudes, brightest first.

    Angles clockwise from the top. `outline`: middle and half axes in field radii, and the long
    axis' angle (None where unknown or round).
    """

    instrument: str
    label: str
    magnification: float
    field_deg: float
    mirrored: bool
    north_deg: float
    drift_deg: float
    zenith_deg: float
    limit_mag: float
    times_as_many: float
    stars: list[list[float]]
    outline: list[float | None] | None


def views_data(found: Finding) -> list[ViewData]:
    """The fields on the way: bare eye, finder, weakest and planned eyepiece."""
    views = found.views
    all_of_them = (views.bare_eye, views.finder, views.weakest, views.planned)
    return [view_data(view) for view in all_of_them if view is not None]


def view_data(view: FieldView) -> ViewData:
    """One instrument's field."""
    seen = view.outline
    return {
        "instrument": view.instrument.kind.value,
        "label": view.instrument.label,
        "magnification": view.instrument.magnification,
        "field_deg": 2.0 * view.radius_deg,
        "mirrored": view.turned.mirrored,
        "north_deg": view.turned.north_deg,
        "drift_deg": view.turned.drift_deg,
        "zenith_deg": view.turned.zenith_deg,
        "limit_mag": view.limit_mag,
        "times_as_many": view.times_as_many,
        "stars": [
            [round(float(x), 4), round(float(y), 4), round(float(v), 2)]
            for x, y, v in zip(view.x, view.y, view.magnitude_v, strict=True)
        ],
        "outline": None
        if seen is None
        else [seen.x, seen.y, seen.semi_major, seen.semi_minor, seen.major_deg],
    }
