"""Which way is the elevated pole, by every method that works here and now?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from axletree.ground.magnetism import MagneticField, bearing_to_pole_deg, magnetic_field
from axletree.ground.north.by_day import moon_ways, sun_ways
from axletree.ground.north.by_night import pole_star_ways, star_ways
from axletree.ground.north.landmark import Bearing
from axletree.ground.north.method import USELESS_DEG, Closed, Way, ranked
from axletree.ground.north.pointers import Hands, total_deg
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.mount import PolarScope
from axletree.sky.directions import wrap_180
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import sun_altitude_deg
from axletree.sky.time.instants import Instants

NEAREST_TO_POLE_DEG = 89.99


@dataclass(frozen=True)
class North:
    """Everything about the direction of the elevated pole at one spot and moment.

    `pole_azimuth_deg` is 0 or 180. `ways` ranked: those that work now by expected error, then
    those later in the next day, then those not to be trusted. `closed`: what isn't open, why,
    and until when. `sun_altitude_deg` is None where the date lies outside the ephemeris.
    `needed_deg`: within this of the pole's direction the pole lies in the field of the polar
    scope or hollow axis (None: there is neither, or its field isn't known).
    """

    at: datetime
    north: bool
    pole_azimuth_deg: float
    field: MagneticField
    compass_bearing_deg: float
    compass_sigma_deg: float
    ways: tuple[Way, ...]
    closed: tuple[Closed, ...]
    sun_altitude_deg: float | None
    hands: Hands
    needed_deg: float | None
    notes: tuple[str, ...]


def find_north(
    observer: Observer,
    at: datetime,
    horizon: Horizon,
    *,
    scope: PolarScope | None = None,
    landmark: Bearing | None = None,
    landmark_name: str = "the landmark",
    eye_limit_mag: float | None = None,
    hands: Hands | None = None,
) -> North:
    """Every way of finding the pole's direction from here at an aware moment, ranked.

    Refuses a spot within 0.01 degrees of a pole. Outside the ephemeris' years (2020-2050) Sun,
    Moon and stars are left out, said in a note.
    """
    if abs(observer.latitude_deg) > NEAREST_TO_POLE_DEG:
        raise AxletreeError(
            "at a pole the axis points straight up and every direction is the same one; "
            "level the tripod and set the axis upright"
        )
    hands = Hands() if hands is None else hands
    pole = 0.0 if observer.north else 180.0
    field = magnetic_field(observer.latitude_deg, observer.longitude_deg, observer.elevation_m, at)
    bearing = bearing_to_pole_deg(observer.latitude_deg, field.declination_deg)
    ways = [compass_way(field, at, pole, hands)]
    if landmark is not None:
        ways.append(landmark_way(landmark, landmark_name, at, pole, hands))
    notes = [field.note] if field.note else []
    notes += list(horizon.notes)
    closed: list[Closed] = []
    sun: float | None = None
    scope = PolarScope() if scope is None else scope
    try:
        sun = float(sun_altitude_deg(Instants.from_datetime(at), observer)[0])
        for found, shut in (
            sun_ways(observer, at, horizon, hands, pole),
            moon_ways(observer, at, horizon, hands, pole),
            star_ways(observer, at, horizon, hands, pole),
            pole_star_ways(observer, at, horizon, hands, pole, scope, eye_limit_mag),
        ):
            ways += found
            closed += shut
    except AxletreeError as error:
        notes.append(f"Sun, Moon and stars are left out: {error}")
    return North(
        at=at,
        north=observer.north,
        pole_azimuth_deg=pole,
        field=field,
        compass_bearing_deg=bearing,
        compass_sigma_deg=ways[0].sigma_deg,
        ways=ranked(ways),
        closed=tuple(closed),
        sun_altitude_deg=sun,
        hands=hands,
        needed_deg=needed_deg(scope),
        notes=tuple(notes),
    )


def needed_deg(scope: PolarScope) -> float | None:
    """Half the field that is seen along the polar axis, degrees."""
    if scope.kind == "scope" and scope.field_deg is not None:
        return scope.field_deg / 2.0
    if scope.kind == "hollow" and scope.bore_diameter_mm and scope.bore_length_mm:
        return math.degrees(math.atan2(scope.bore_diameter_mm / 2.0, scope.bore_length_mm))
    return None


def compass_way(field: MagneticField, at: datetime, pole_azimuth_deg: float, hands: Hands) -> Way:
    """The compass, with the model's and the reading's error."""
    parts = (("magnetic model", field.declination_sigma_deg), ("reading", hands.compass_deg))
    sigma = total_deg(parts)
    reason = {
        "usual": f"model {parts[0][1]:.2f}°, reading {parts[1][1]:.1f}°",
        "caution": f"the level field is weak here ({field.horizontal_nt:.0f} nT): read with care",
        "blackout": f"the level field is only {field.horizontal_nt:.0f} nT: don't use a compass",
    }[field.zone]
    return Way(
        kind="compass",
        name="a compass",
        at=at,
        now=True,
        azimuth_deg=pole_azimuth_deg,
        line_deg=pole_azimuth_deg,
        turn_to_pole_deg=0.0,
        sigma_deg=sigma,
        parts=parts,
        reason=reason,
        usable=field.zone != "blackout" and sigma <= USELESS_DEG,
    )


def landmark_way(
    mark: Bearing, name: str, at: datetime, pole_azimuth_deg: float, hands: Hands
) -> Way:
    """A landmark in a known direction, sighted by eye."""
    parts = (("the two positions", mark.sigma_deg), ("sighting", hands.sighting_deg))
    sigma = total_deg(parts)
    near = f"{mark.distance_m:.0f} m away, the positions turn it by {mark.sigma_deg:.2f}°"
    return Way(
        kind="landmark",
        name=name,
        at=at,
        now=True,
        azimuth_deg=mark.azimuth_deg,
        line_deg=mark.azimuth_deg,
        turn_to_pole_deg=float(wrap_180(pole_azimuth_deg - mark.azimuth_deg)),
        sigma_deg=sigma,
        parts=parts,
        reason=near,
        usable=sigma <= USELESS_DEG,
        altitude_deg=mark.altitude_deg,
    )
