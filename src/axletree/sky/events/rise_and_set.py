"""When do things rise, culminate and set tonight? (With the Sun's own night, from `twilight`.)

Rise and set are when the upper edge stands on a flat horizon at sea level: 34 arcminutes of
refraction, for the Sun with 16 of radius, for the Moon with its own radius of the day; or when
the centre passes an apparent altitude of one's choice. Source: definitions of the US Naval
Observatory; J. Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 15.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.events.crossings import find_crossings, passages, spans_of
from axletree.sky.events.twilight import (
    ASTRONOMICAL_DEG,
    CIVIL_DEG,
    NAUTICAL_DEG,
    SUN_HORIZON_DEG,
    Darkness,
    SunEvents,
    darkness,
    darkness_of,
    sun_events,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_altitude_deg, body_positions, sun_altitude_deg
from axletree.sky.positions.ephemeris import Ephemeris
from axletree.sky.positions.stars import Positions, StarLike, one_star, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

__all__ = [
    "ASTRONOMICAL_DEG",
    "CIVIL_DEG",
    "HORIZON_DEG",
    "NAUTICAL_DEG",
    "SUN_HORIZON_DEG",
    "Darkness",
    "ObjectEvents",
    "SunEvents",
    "body_altitude_deg",
    "body_events",
    "darkness",
    "darkness_of",
    "star_events",
    "sun_altitude_deg",
    "sun_events",
]


HORIZON_DEG = -34.0 / 60.0
_STEP_S = 600.0

Place = Callable[[Instants], Positions]


@dataclass(frozen=True)
class ObjectEvents:
    """One object's night: aware datetimes in order; empty tuples where nothing happens.

    `always_up` and `never_up` speak of the level that rise and set refer to.
    """

    rises: tuple[datetime, ...]
    sets: tuple[datetime, ...]
    upper_culminations: tuple[datetime, ...]
    lower_culminations: tuple[datetime, ...]
    always_up: bool
    never_up: bool


def body_events(
    name: str,
    night: Night,
    observer: Observer,
    *,
    altitude_deg: float | None = None,
    ephemeris: Ephemeris | None = None,
) -> ObjectEvents:
    """Rise, culminations and set of the Sun, the Moon or a planet during one night.

    With `altitude_deg`, rise and set are the passages of its centre, as seen through the air,
    through that altitude.
    """

    def place(instants: Instants) -> Positions:
        return body_positions(name, instants, observer, ephemeris=ephemeris)

    def edge(instants: Instants) -> Floats:
        if altitude_deg is not None:
            return np.asarray(place(instants).altitude_deg[0] - altitude_deg)
        if name == "moon":
            moon = body_altitude_deg(name, instants, observer, ephemeris, upper_edge=True)
            return moon - HORIZON_DEG
        level = SUN_HORIZON_DEG if name == "sun" else HORIZON_DEG
        return body_altitude_deg(name, instants, observer, ephemeris) - level

    return _object_events(place, edge, night)


def star_events(
    stars: StarLike, night: Night, observer: Observer, *, altitude_deg: float | None = None
) -> list[ObjectEvents]:
    """Rise, culminations and set of each star, as for `body_events`.

    One star at a time: for a whole catalogue `windows` is the quick way.
    """
    return [
        _object_events(*_star_functions(stars, k, observer, altitude_deg), night)
        for k in range(len(stars.ra_deg))
    ]


def _star_functions(
    stars: StarLike, k: int, observer: Observer, altitude_deg: float | None
) -> tuple[Place, Callable[[Instants], Floats]]:
    star = one_star(stars, k)

    def place(instants: Instants) -> Positions:
        return star_positions(star, instants, observer)

    def edge(instants: Instants) -> Floats:
        seen = place(instants)
        if altitude_deg is None:
            return np.asarray(seen.altitude_true_deg[0] - HORIZON_DEG)
        return np.asarray(seen.altitude_deg[0] - altitude_deg)

    return place, edge


def _object_events(place: Place, edge: Callable[[Instants], Floats], night: Night) -> ObjectEvents:
    base, spans = spans_of([night])
    passes = find_crossings(lambda s: edge(base.plus(s)), *spans, _STEP_S)
    # sin H passes 0 upward on the upper meridian and downward on the lower.
    meridian = find_crossings(
        lambda s: np.sin(np.radians(15.0 * place(base.plus(s)).hour_angle_h[0])), *spans, _STEP_S
    )
    up_at_noon = bool(edge(base)[0] >= 0.0)
    still = passes.seconds.size == 0
    return ObjectEvents(
        rises=passages(passes, base, night, upward=True),
        sets=passages(passes, base, night, upward=False),
        upper_culminations=passages(meridian, base, night, upward=True),
        lower_culminations=passages(meridian, base, night, upward=False),
        always_up=still and up_at_noon,
        never_up=still and not up_at_noon,
    )
