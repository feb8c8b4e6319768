"""How do the phone's tables look as plain data: short, rounded no more than the eye could tell?"""

from __future__ import annotations

import math
from datetime import datetime
from typing import Any

import numpy as np

from axletree.axis.circles_read import SetOnStar
from axletree.evening.sheet.tables import EYE_EVERY, NightTables
from axletree.evening.stops.own_circles import CirclesOff
from axletree.evening.stops.room_ahead import SIDE_NAMES
from axletree.pole.aim.view import PoleView
from axletree.sky.arrays import Floats
from axletree.tell.side.text import end_words, picture_words, posture_words
from axletree.tell.stop.circles_text import set_on_words


def tables_data(tables: NightTables, units: str) -> dict[str, Any]:
    """The tables as plain, short data for JSON; unwrapped hours, units as in the classes."""
    return {
        "begin": tables.begin.isoformat(),
        "begin_unix_s": tables.begin.timestamp(),
        "step_s": float(tables.seconds[1] - tables.seconds[0]),
        "samples": len(tables.seconds),
        "eye_every": EYE_EVERY,
        "sidereal_h": round(tables.sidereal_h, 9),
        "latitude_deg": tables.latitude_deg,
        "axis_altitude_deg": tables.axis_altitude_deg,
        "view_words": picture_words(tables.picture),
        "breaks": [list(b) for b in tables.breaks],
        "moving_s": [[int(v) for v in row] for row in tables.moving_s],
        "postures": [posture_words(one, units) for one in tables.places.postures]
        if tables.places
        else [],
        "pole": _pole_data(tables.pole),
        "objects": [_object_data(tables, k) for k in range(len(tables.objects))],
    }


def _circles(off: CirclesOff) -> dict[str, Any] | None:
    """What this mount's circles show more; None where the tube doesn't reach all of the way."""
    if not np.isfinite(off.hour_min).all():
        return None
    return {
        "hour_min": _list(off.hour_min, 2),
        "declination_deg": _list(off.declination_deg, 3),
        "hour_sigma_min": _list(off.hour_sigma_min, 2),
        "declination_sigma_deg": _list(off.declination_sigma_deg, 3),
    }


def _set_on(setting: SetOnStar) -> dict[str, Any]:
    """The hour circle set on a star for the side that wasn't planned."""
    sigma = setting.sigma_min
    return {
        "at": setting.at.isoformat(),
        "hour_reading_h": round(setting.object_reading_h, 5),
        "hour_circle_sigma_min": None if sigma is None else round(sigma, 2),
        "words": set_on_words(setting),
    }


def _object_data(tables: NightTables, k: int) -> dict[str, Any]:
    own, places = tables.objects[k], tables.places
    assert places is not None
    sides = {}
    for s, side in enumerate(SIDE_NAMES):
        face = places.face_azimuth_deg[s, k]
        sides[side] = {
            "height_mm": _list(places.height_mm[s, k], 0),
            "face_azimuth_deg": [None if np.isnan(v) else round(float(v)) for v in face],
            "barrel_altitude_deg": _list(places.barrel_altitude_deg[s, k], 1),
            "north_deg": _list(places.north_deg[s, k], 0),
            "drift_deg": _list(places.drift_deg[s, k], 0),
            "posture": [int(v) for v in places.posture[s, k]],
        }
        circles = None if own.off is None else _circles(own.off[s])
        if circles is not None:
            sides[side]["circles"] = circles
        if own.other is not None and side == own.other.side:
            sides[side]["set_on"] = _set_on(own.other.told)
    return {
        "key": own.key,
        "queue_s": own.queue_s,
        "hour_angle_h": _list(own.hour_angle_h, 6),
        "declination_deg": _list(own.declination_deg, 4),
        "lift_arcmin": _list(own.lift_arcmin, 2),
        "hour_circle_h": _list(own.hour_circle_h, 5),
        "declination_circle_deg": _list(own.declination_circle_deg, 3),
        "openings": [
            {
                "side": o.side,
                # Whole seconds, and never outside.
                "begin_s": math.ceil(o.begin_s),
                "end_s": None if o.end_s is None else math.floor(o.end_s),
                "shows_until_s": None if o.shows_until_s is None else math.floor(o.shows_until_s),
                "ends_by": end_words(o.ends_by),
                "ends_code": o.ends_by.by.key,
            }
            for o in own.openings
        ],
        "sides": sides,
    }


def _pole_data(view: PoleView) -> dict[str, Any]:
    data = view.as_data()
    data["at_unix_s"] = datetime.fromisoformat(view.at).timestamp()
    data["ring"] = [[round(x, 4), round(y, 4)] for x, y in view.ring]
    data["figure"] = [[[round(v, 1) for v in end] for end in line] for line in view.figure]
    data["stars"] = [
        [round(s.right_arcmin, 1), round(s.up_arcmin, 1), s.magnitude_v, s.name] for s in view.stars
    ]
    del data["quarters"]
    return data


def _list(values: Floats, places: int) -> list[float]:
    if places == 0:
        return [round(float(v)) for v in values]
    return [round(float(v), places) for v in values]
