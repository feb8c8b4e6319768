"""Which stars stand around a direction, and where, as the sky shows them?

The air lifts what stands low more than what stands above it, so a patch near the horizon is
flatter than a chart: places here are those seen through the air.
"""

from __future__ import annotations

from dataclasses import replace

import erfa
import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.sky.air.refraction import true_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.stars import StarArrays
from axletree.sky.catalogue.stars_around import FAINTEST_MAG, stars_around
from axletree.sky.directions import (
    hour_angle_from_vector,
    tangent_plane,
    vector_from_azimuth_altitude,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

_MOST_LIFT_DEG = 0.3  # by how much the air can change a place inside a patch against its middle's


@dataclass(frozen=True)
class Patch:
    """Stars around a direction at one instant, bright to faint; arrays (n,).

    `azimuth_deg`, `altitude_deg` (seen through the air), `hour_angle_h` and `declination_deg` (of
    the place as the air shows it) are the middle's. `east_deg` and `north_deg` are each star's
    place on the tangent plane about the middle, degrees, east and north on the sky there;
    `airmass` the middle's. `limit_mag` is the limit of the list, not of any instrument.
    """

    azimuth_deg: float
    altitude_deg: float
    hour_angle_h: float
    declination_deg: float
    stars: StarArrays
    east_deg: Floats
    north_deg: Floats
    star_azimuth_deg: Floats
    star_altitude_deg: Floats
    limit_mag: float

    def __len__(self) -> int:
        return len(self.stars)

    def to(self, limit_mag: float) -> Patch:
        """The stars of it to a limit of magnitude."""
        last = int(np.searchsorted(self.stars.magnitude_v, limit_mag, side="right"))
        return replace(
            self, stars=self.stars.take(slice(last)), limit_mag=min(limit_mag, self.limit_mag),
            east_deg=self.east_deg[:last], north_deg=self.north_deg[:last],
            star_azimuth_deg=self.star_azimuth_deg[:last],
            star_altitude_deg=self.star_altitude_deg[:last],
        )  # fmt: skip


def patch_around(
    azimuth_deg: float,
    altitude_deg: float,
    radius_deg: float,
    instants: Instants,
    observer: Observer,
    limit_mag: float = FAINTEST_MAG,
) -> Patch:
    """The stars within `radius_deg` of a direction as seen through the air, at the first instant.

    `altitude_deg` is the apparent one; azimuth from true north through east. Places are apparent,
    good to the refraction's own error. Stars below the horizon belong to it as well: the ground
    is not this function's business.
    """
    ra_deg, dec_deg = _catalogue_place(azimuth_deg, altitude_deg, instants, observer)
    stars = stars_around(ra_deg, dec_deg, min(radius_deg + _MOST_LIFT_DEG, 90.0), limit_mag)
    places = star_positions(stars, instants[:1], observer)
    star_azimuth, star_altitude = places.azimuth_deg[:, 0], places.altitude_deg[:, 0]
    hour_angle, declination = _as_seen(azimuth_deg, altitude_deg, observer)
    east, north = offsets_deg(
        star_azimuth, star_altitude, float(hour_angle), float(declination), observer
    )
    inside = np.hypot(east, north) <= np.degrees(np.tan(np.radians(radius_deg)))
    return Patch(
        azimuth_deg=azimuth_deg,
        altitude_deg=altitude_deg,
        hour_angle_h=float(hour_angle),
        declination_deg=float(declination),
        stars=stars.take(inside),
        east_deg=east[inside],
        north_deg=north[inside],
        star_azimuth_deg=star_azimuth[inside],
        star_altitude_deg=star_altitude[inside],
        limit_mag=limit_mag,
    )


def offsets_deg(
    azimuth_deg: ArrayLike,
    altitude_deg: ArrayLike,
    hour_angle_h: float,
    declination_deg: float,
    observer: Observer,
) -> tuple[Floats, Floats]:
    """Places on the tangent plane about a middle, east and north, degrees, through the air."""
    h, d = _as_seen(azimuth_deg, altitude_deg, observer)
    return tangent_plane(-15.0 * h, d, -15.0 * hour_angle_h, declination_deg)


def _as_seen(
    azimuth_deg: ArrayLike, altitude_deg: ArrayLike, observer: Observer
) -> tuple[Floats, Floats]:
    """Hour angle (h) and declination (deg) of directions as the air shows them."""
    vector = vector_from_azimuth_altitude(azimuth_deg, altitude_deg)
    return hour_angle_from_vector(vector, observer.latitude_deg)


def _catalogue_place(
    azimuth_deg: float, altitude_deg: float, instants: Instants, observer: Observer
) -> tuple[float, float]:
    """ICRS right ascension and declination (deg) of a direction seen through the air."""
    astrom = orientation(instants[:1], observer).astrom
    zenith = 90.0 - float(true_altitude_deg(altitude_deg, observer))
    ra, dec = erfa.ufunc.atoiq("A", np.radians(azimuth_deg), np.radians(zenith), astrom)
    ra, dec = erfa.ufunc.aticq(ra, dec, astrom)
    return float(np.degrees(ra[0])), float(np.degrees(dec[0]))
