"""How far is it from here to the nearest place with a name, and is this land or sea?"""

from __future__ import annotations

import math
import re
from datetime import datetime
from functools import cache
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from axletree.kit.place.find import place_rows, time_zone_at

EARTH_KM = 6371.0  # mean radius (WGS-84)
_PLACE = re.compile(rb"^[^|\n]*\|[^|]*\|\d*\|(-?[\d.]+)\|(-?[\d.]+)\|", re.MULTILINE)
# A year in which both of its halves are asked for, so that summer time is seen.
_MOMENTS = (datetime(2026, 1, 15, 12), datetime(2026, 7, 15, 12))


def distance_km(latitude_deg: float, longitude_deg: float, other_deg: tuple[float, float]) -> float:
    """Along the sphere's great circle to another (latitude, longitude)."""
    there = _vectors(np.array([other_deg]))[0]
    return _arc_km(float(there @ _vectors(np.array([[latitude_deg, longitude_deg]]))[0]))


def nearest_place_km(latitude_deg: float, longitude_deg: float) -> float:
    """To the middle of the nearest place of 5,000 people and more, along the sphere."""
    here = _vectors(np.array([[latitude_deg, longitude_deg]]))[0]
    return _arc_km(float(np.max(_places() @ here)))


def is_sea(latitude_deg: float, longitude_deg: float) -> bool:
    """Whether the point has the zone of whole hours of the open sea (beyond 22 km from a coast)."""
    return _zone(latitude_deg, longitude_deg).startswith("Etc/")


def is_far_inland(latitude_deg: float, longitude_deg: float, far_km: float) -> bool:
    """Whether no point of three rings around this one, the widest `far_km` away, is open sea."""
    for part in (1 / 3, 2 / 3, 1.0):
        north = math.degrees(part * far_km / EARTH_KM)
        if abs(latitude_deg) + north >= 89.0:
            return False
        east = north / math.cos(math.radians(latitude_deg))
        for azimuth in np.radians(np.arange(0.0, 360.0, 22.5)):
            there = (latitude_deg + north * math.cos(azimuth),
                     longitude_deg + east * math.sin(azimuth))  # fmt: skip
            if is_sea(*there):
                return False
    return True


def hours_apart(zone: str, latitude_deg: float, longitude_deg: float) -> float:
    """By how many hours a zone's clock differs from that of a point, in January or July."""
    here, there = ZoneInfo(zone), ZoneInfo(_zone(latitude_deg, longitude_deg))
    seconds = 0.0
    for moment in _MOMENTS:
        a, b = here.utcoffset(moment), there.utcoffset(moment)
        if a is not None and b is not None:
            seconds = max(seconds, abs((a - b).total_seconds()))
    return seconds / 3600.0


def _zone(latitude_deg: float, longitude_deg: float) -> str:
    east = (longitude_deg + 180.0) % 360.0 - 180.0
    return time_zone_at(min(max(latitude_deg, -90.0), 90.0), east)


def _arc_km(cosine: float) -> float:
    return EARTH_KM * math.acos(min(max(cosine, -1.0), 1.0))


@cache
def _places() -> NDArray[np.float64]:
    """Unit vectors (n, 3) of all places of the list."""
    figures = [(float(m[1]), float(m[2])) for m in _PLACE.finditer(place_rows())]
    return _vectors(np.array(figures))


def _vectors(places_deg: NDArray[np.float64]) -> NDArray[np.float64]:
    north, east = np.radians(places_deg).T
    return np.stack(
        [np.cos(north) * np.cos(east), np.cos(north) * np.sin(east), np.sin(north)], axis=1
    )
