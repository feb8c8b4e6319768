"""By which methods is the elevated pole's direction found, here and now?"""

from __future__ import annotations

import math

from axletree.ground.magnetism import MagneticField
from axletree.ground.north.by_day import moon_methods, sun_methods
from axletree.ground.north.by_night import pole_star_methods, star_methods
from axletree.ground.north.landmark import Bearing
from axletree.ground.north.method import (
    USELESS_DEG,
    ClosedMethod,
    NorthMethod,
    NorthMethodKind,
    Rank,
    RankReason,
)
from axletree.ground.north.pointers import ErrorCause, ErrorParts, NorthSearch, total_deg
from axletree.kit.parts.mount import PolarScope
from axletree.sky.directions import wrap_180

_FIELD_REASON = {
    "usual": RankReason.MODEL_AND_READING,
    "caution": RankReason.WEAK_FIELD,
    "blackout": RankReason.BLACKOUT_ZONE,
}


def sky_methods(
    search: NorthSearch, scope: PolarScope, eye_limit_mag: float | None
) -> tuple[list[NorthMethod], list[ClosedMethod]]:
    """What Sun, Moon and stars offer now and in the next day, and what isn't open, unranked.

    Refuses moments outside the ephemeris.
    """
    methods: list[NorthMethod] = []
    closed: list[ClosedMethod] = []
    for found, shut in (
        sun_methods(search),
        moon_methods(search),
        star_methods(search),
        pole_star_methods(search, scope, eye_limit_mag),
    ):
        methods += found
        closed += shut
    return methods, closed


def near_enough_deg(scope: PolarScope) -> float | None:
    """Half the field that is seen along the polar axis, degrees."""
    if scope.kind == "scope" and scope.field_deg is not None:
        return scope.field_deg / 2.0
    if scope.kind == "hollow" and scope.bore_diameter_mm and scope.bore_length_mm:
        return math.degrees(math.atan2(scope.bore_diameter_mm / 2.0, scope.bore_length_mm))
    return None


def compass_method(field: MagneticField, search: NorthSearch) -> NorthMethod:
    """The compass, with the model's and the reading's error."""
    parts: ErrorParts = (
        (ErrorCause.MAGNETIC_MODEL, field.declination_sigma_deg),
        (ErrorCause.COMPASS_READING, search.errors.compass_deg),
    )
    sigma = total_deg(parts)
    figure = sigma if field.zone == "usual" else field.horizontal_nt
    return NorthMethod(
        kind=NorthMethodKind.COMPASS,
        at=search.at,
        now=True,
        azimuth_deg=search.pole_azimuth_deg,
        line_deg=search.pole_azimuth_deg,
        turn_to_pole_deg=0.0,
        sigma_deg=sigma,
        parts=parts,
        rank=Rank(_FIELD_REASON[field.zone], figure),
        usable=field.zone != "blackout" and sigma <= USELESS_DEG,
    )


def landmark_method(mark: Bearing, name: str | None, search: NorthSearch) -> NorthMethod:
    """A landmark in a known direction, sighted by eye."""
    parts: ErrorParts = (
        (ErrorCause.POSITIONS, mark.sigma_deg),
        (ErrorCause.SIGHTING, search.errors.sighting_deg),
    )
    sigma = total_deg(parts)
    return NorthMethod(
        kind=NorthMethodKind.LANDMARK,
        at=search.at,
        now=True,
        azimuth_deg=mark.azimuth_deg,
        line_deg=mark.azimuth_deg,
        turn_to_pole_deg=float(wrap_180(search.pole_azimuth_deg - mark.azimuth_deg)),
        sigma_deg=sigma,
        parts=parts,
        rank=Rank(RankReason.POSITIONS, mark.distance_m),
        usable=sigma <= USELESS_DEG,
        altitude_deg=mark.altitude_deg,
        object_name=name,
    )
