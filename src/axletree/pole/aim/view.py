"""How does the sky around the pole look through this polar scope, now and in the next hours?

Everything is in the picture that the eye sees: `right_arcmin` and `up_arcmin` from the point
that the axis should meet, on the plane that touches the sky there; a clock face around it, 12 at
the top. A scope that inverts shows it turned by half a turn; one that mirrors swaps left and
right. `PoleView` holds plain numbers and words only, so that a page can draw and turn it itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.pole.aim.axis_view import AxisView
from axletree.pole.aim.scope_orientation import (
    Look,
    clock_hour,
    in_picture,
    plane_arcmin,
    turn_deg_per_h,
)
from axletree.pole.aim.stars_near_pole import around_pole_star, guide_stars, short_name
from axletree.pole.aim.target import PoleTarget, pole_star, pole_target
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.stars import StarArrays, pole_stars
from axletree.sky.directions import (
    angle_between_deg,
    vector_from_azimuth_altitude,
    wrap_360,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Positions, StarLike, star_positions
from axletree.sky.time.instants import SIDEREAL_DAY_S, Instants

Skyline = Callable[[ArrayLike], Floats]

_ORDINARY_SCOPE = AxisView()
_QUARTER_H = 0.25
_QUARTERS = 8
_RING_POINTS = 145
# The pole moves over the list's J2000.0 coordinates by half a degree in a century.
_BEYOND_RIM_DEG = 1.0
_FIGURE_RADIUS_DEG, _FIGURE_MAG = 6.0, 6.5


@dataclass(frozen=True)
class StarPlace:
    """The pole star at one moment, in the picture. `clock_hour` within (0, 12]."""

    at: str
    right_arcmin: float
    up_arcmin: float
    distance_arcmin: float
    clock_hour: float


@dataclass(frozen=True)
class FieldStar:
    """Another star of the field. `name` is '' for most; `hip` 0 for a star without that number."""

    hip: int
    name: str
    magnitude_v: float
    right_arcmin: float
    up_arcmin: float
    distance_arcmin: float


@dataclass(frozen=True)
class Guide:
    """A figure for the naked eye: its direction from the pole in the picture, its place outside.

    `clear` is None where no skyline was given.
    """

    name: str
    clock_hour: float
    azimuth_deg: float
    altitude_deg: float
    up: bool
    clear: bool | None


@dataclass(frozen=True)
class PoleView:
    """The picture and what the hand does with it.

    `pole_distance_arcmin`: from the target to the star as seen now. `star_hour_angle_h` west
    positive. `ring`: the star's daily path in the picture as (right, up) arcminutes, with the
    first point repeated at the end. `turn_deg_per_h`: how fast the picture turns, clockwise
    positive. `figure`: lines between points of the picture, in arcminutes.
    """

    at: str
    north: bool
    target_altitude_deg: float
    target_azimuth_deg: float
    refracted: bool
    look: Look
    rotation_deg: float
    field_deg: float
    limit_mag: float
    star: str
    star_magnitude_v: float
    pole_distance_arcmin: float
    star_hour_angle_h: float
    star_altitude_deg: float
    star_azimuth_deg: float
    clock_hour: float
    now: StarPlace
    quarters: tuple[StarPlace, ...]
    ring: tuple[tuple[float, float], ...]
    engraved_ring_arcmin: float | None
    stars: tuple[FieldStar, ...]
    figure: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    guides: tuple[Guide, ...]
    turn_deg_per_h: float

    def as_data(self) -> dict[str, Any]:
        """All of it as plain lists and dictionaries."""
        return asdict(self)


def pole_view(
    observer: Observer,
    at: datetime,
    view: AxisView = _ORDINARY_SCOPE,
    *,
    true_pole: bool = False,
    skyline: Skyline | None = None,
) -> PoleView:
    """The sky around the pole as it looks along the axis at an aware moment.

    Apparent places with refraction, so that low poles show their flattened circles. Stars to the
    view's limit that fall into its field; the pole star now and at the next eight quarter hours.
    """
    look, rotation_deg, field_deg = view.look, view.rotation_deg, view.field_deg
    target = pole_target(observer, true_pole)
    north = target.north
    star = pole_star(north)
    now = Instants.from_datetime(at)

    def picture(seen: Positions, row: Any) -> tuple[Floats, Floats, Floats]:
        azimuth, altitude = seen.azimuth_deg[row], seen.altitude_deg[row]
        x, y = in_picture(*plane_arcmin(azimuth, altitude, target), look, rotation_deg)
        away = angle_between_deg(vector_from_azimuth_altitude(azimuth, altitude), target.vector)
        return x, y, away * 60.0

    moments = now.plus(np.arange(_QUARTERS + 1) * _QUARTER_H * 3600.0)
    seen = star_positions(star.place, moments, observer)
    places = star_places(
        observer,
        moments.to_datetimes(at.tzinfo or UTC),
        target,
        look=look,
        rotation_deg=rotation_deg,
    )
    day = now.plus(np.linspace(0.0, SIDEREAL_DAY_S, _RING_POINTS))
    ring_x, ring_y, _ = picture(star_positions(star.place, day, observer), 0)
    radius = field_deg / 2.0 + _BEYOND_RIM_DEG
    field = _field_stars(pole_stars(north, radius, view.limit_mag), now, observer, picture)
    inside = [s for s in field if s.distance_arcmin <= field_deg * 30.0]
    return PoleView(
        at=at.isoformat(),
        north=north,
        target_altitude_deg=target.altitude_deg,
        target_azimuth_deg=target.azimuth_deg,
        refracted=target.refracted,
        look=look,
        rotation_deg=rotation_deg,
        field_deg=field_deg,
        limit_mag=view.limit_mag,
        star=star.name,
        star_magnitude_v=star.magnitude_v,
        pole_distance_arcmin=places[0].distance_arcmin,
        star_hour_angle_h=float(seen.hour_angle_h[0, 0]),
        star_altitude_deg=float(seen.altitude_deg[0, 0]),
        star_azimuth_deg=float(seen.azimuth_deg[0, 0]),
        clock_hour=places[0].clock_hour,
        now=places[0],
        quarters=places[1:],
        ring=tuple((float(a), float(b)) for a, b in zip(ring_x, ring_y, strict=True)),
        engraved_ring_arcmin=view.engraved_ring_arcmin,
        stars=tuple(s for s in inside if s.hip != star.hip),
        figure=_figure(north, now, observer, picture),
        guides=_guides(target, now, observer, look, rotation_deg, skyline),
        turn_deg_per_h=turn_deg_per_h(north, look),
    )


def star_places(
    observer: Observer,
    moments: Sequence[datetime],
    target: PoleTarget,
    *,
    look: Look = "inverted",
    rotation_deg: float = 0.0,
) -> tuple[StarPlace, ...]:
    """Where the pole star stands in the picture at aware moments."""
    place = pole_star(target.north).place
    seen = star_positions(place, Instants.from_datetimes(moments), observer)
    azimuth, altitude = seen.azimuth_deg[0], seen.altitude_deg[0]
    x, y = in_picture(*plane_arcmin(azimuth, altitude, target), look, rotation_deg)
    away = angle_between_deg(vector_from_azimuth_altitude(azimuth, altitude), target.vector) * 60.0
    hours = clock_hour(x, y)
    return tuple(
        StarPlace(t.isoformat(), float(x[i]), float(y[i]), float(away[i]), float(hours[i]))
        for i, t in enumerate(moments)
    )


Picture = Callable[[Positions, Any], tuple[Floats, Floats, Floats]]


def _field_stars(
    catalogue: StarArrays, now: Instants, observer: Observer, picture: Picture
) -> list[FieldStar]:
    x, y, away = picture(star_positions(catalogue, now, observer), (slice(None), 0))
    return [
        FieldStar(
            hip=0 if catalogue.from_gaia[i] else int(catalogue.number[i]),
            name="" if catalogue.from_gaia[i] else short_name(int(catalogue.number[i])),
            magnitude_v=round(float(catalogue.magnitude_v[i]), 2),
            right_arcmin=float(x[i]),
            up_arcmin=float(y[i]),
            distance_arcmin=float(away[i]),
        )
        for i in range(len(catalogue))
    ]


def _figure(
    north: bool, now: Instants, observer: Observer, picture: Picture
) -> tuple[tuple[tuple[float, float], tuple[float, float]], ...]:
    """Lines of the figure whose ends both lie within 6 degrees of the pole."""
    near = pole_stars(north, _FIGURE_RADIUS_DEG, _FIGURE_MAG)
    x, y, _ = picture(star_positions(near, now, observer), (slice(None), 0))
    at = {int(n): i for i, n in enumerate(near.number) if not near.from_gaia[i]}
    lines = []
    for chain in around_pole_star(north):
        for a, b in pairwise(chain):
            if a in at and b in at:
                i, j = at[a], at[b]
                lines.append(((float(x[i]), float(y[i])), (float(x[j]), float(y[j]))))
    return tuple(lines)


def _guides(
    target: PoleTarget,
    now: Instants,
    observer: Observer,
    look: Look,
    rotation_deg: float,
    skyline: Skyline | None,
) -> tuple[Guide, ...]:
    found = []
    for name, members in guide_stars(target.north):
        azimuth, altitude = _middle(members, now, observer)
        right, up = in_picture(*_direction(azimuth, altitude, target), look, rotation_deg)
        found.append(
            Guide(
                name=name,
                clock_hour=float(clock_hour(right, up)),
                azimuth_deg=azimuth,
                altitude_deg=altitude,
                up=altitude > 0.0,
                clear=None if skyline is None else bool(altitude > skyline(azimuth)),
            )
        )
    return tuple(found)


def _middle(members: StarLike, now: Instants, observer: Observer) -> tuple[float, float]:
    """Azimuth and apparent altitude of the middle of a figure."""
    seen = star_positions(members, now, observer)
    vectors = vector_from_azimuth_altitude(seen.azimuth_deg[:, 0], seen.altitude_deg[:, 0])
    east, north, up = vectors.sum(axis=0)
    return (
        float(wrap_360(np.degrees(np.arctan2(east, north)))),
        float(np.degrees(np.arctan2(up, np.hypot(east, north)))),
    )


def _direction(azimuth: float, altitude: float, target: PoleTarget) -> tuple[float, float]:
    """Which way from the target something lies, right and up to the naked eye, however far."""
    v = vector_from_azimuth_altitude(azimuth, altitude)
    right = vector_from_azimuth_altitude(target.azimuth_deg + 90.0, 0.0)
    up = vector_from_azimuth_altitude(target.azimuth_deg, target.altitude_deg + 90.0)
    return float(v @ right), float(v @ up)
