"""In which direction does a landmark stand, when both positions are known?

The direction is that of the geodesic on WGS-84, by the package `geographiclib` (C. F. F. Karney
2013, Algorithms for geodesics, J. Geodesy 87, 43). A line of sight differs from it by less than
0.01 arcseconds within 50 km.
"""

from __future__ import annotations

import math
import re

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.place.coordinates import parse_location

NEAREST_M = 1.0
EARTH_RADIUS_M = 6371008.8
REFRACTION_COEFFICIENT = 0.13  # of lines of sight near the ground; a surveyor's usual value


@dataclass(frozen=True)
class Landmark:
    """Something in sight whose place is known: coordinates, and a name if it has one.

    `sigma_m`: one standard deviation of each coordinate, None where nobody said.
    """

    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None = None
    sigma_m: float | None = None
    name: str | None = None


@dataclass(frozen=True)
class Bearing:
    """Towards a landmark: true azimuth, its standard deviation, distance along the ground.

    `altitude_deg` is where it is seen, curvature and usual refraction included, or None where a
    height is unknown.
    """

    azimuth_deg: float
    sigma_deg: float
    distance_m: float
    altitude_deg: float | None = None


def typed_landmark(text: str, name: str | None = None) -> Landmark:
    """A landmark from coordinates or a geo URI, whose u= is its uncertainty in metres.

    Refuses what `parse_location` refuses.
    """
    latitude, longitude, elevation = parse_location(text)
    given = re.search(r";u=(\d+(?:\.\d+)?)", text)
    return Landmark(latitude, longitude, elevation, float(given[1]) if given else None, name)


def direction_to(
    latitude_deg: float,
    longitude_deg: float,
    mark_latitude_deg: float,
    mark_longitude_deg: float,
    *,
    site_sigma_m: float = 5.0,
    mark_sigma_m: float = 5.0,
    rise_m: float | None = None,
) -> Bearing:
    """Direction from a site to a mark, and how far errors of both positions turn it.

    `site_sigma_m`, `mark_sigma_m`: one standard deviation of each coordinate; across the line
    they add in quadrature and turn it by their angle at the distance. `rise_m`: the mark's
    height above the instrument. Refuses a mark nearer than a metre, and latitudes beyond 90.
    """
    if not (abs(latitude_deg) <= 90.0 and abs(mark_latitude_deg) <= 90.0):
        raise AxletreeError("a latitude must lie between -90 and 90 degrees")
    if abs(latitude_deg) == 90.0:
        raise AxletreeError("at a pole every direction is the same one: nothing to find north by")
    if not (site_sigma_m >= 0.0 and mark_sigma_m >= 0.0):
        raise AxletreeError("a position's uncertainty must be 0 m or more")
    from geographiclib.geodesic import Geodesic

    line = Geodesic.WGS84.Inverse(
        latitude_deg, longitude_deg, mark_latitude_deg, mark_longitude_deg
    )
    distance = float(line["s12"])
    if distance < NEAREST_M:
        raise AxletreeError(
            "the landmark stands where you stand; choose one some hundred metres away or more"
        )
    across = math.hypot(site_sigma_m, mark_sigma_m)
    sigma = min(math.degrees(math.atan2(across, distance)), 180.0 / math.sqrt(3.0))
    altitude = None
    if rise_m is not None:
        drop = distance**2 * (1.0 - REFRACTION_COEFFICIENT) / (2.0 * EARTH_RADIUS_M)
        altitude = math.degrees(math.atan2(rise_m - drop, distance))
    return Bearing(float(line["azi1"]) % 360.0, sigma, distance, altitude)
