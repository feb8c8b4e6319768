"""Which listed stars stand where, as seen through the air, when a picture was taken?"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.catalogue.stars import StarArrays, stars
from axletree.sky.catalogue.stars_around import FAINTEST_MAG, stars_around
from axletree.sky.directions import (
    angles_from_vector,
    vector_from_azimuth_altitude,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.time.instants import Instants

# Stars to this magnitude over the whole sky, from J. N. Bahcall and R. M. Soneira 1980, ApJS 44,
# 73, as counted in our own files: 4.9 thousand to V 6, 2.8 times as many a magnitude.
_TO_SIXTH = 5000.0
_PER_MAG = 2.75
_SKY_DEG2 = 41253.0
BRIGHTEST_LIMIT_MAG = 4.0


@dataclass(frozen=True)
class ListedStars:
    """Stars from bright to faint: local directions (n, 3) as seen at one instant; the rows of the
    lists that they are, and the magnitude to which the list goes."""

    seen: Floats
    stars: StarArrays
    limit_mag: float

    def __len__(self) -> int:
        return len(self.seen)

    def take(self, which: Indices | Mask | slice) -> ListedStars:
        """Some of them."""
        return ListedStars(self.seen[which], self.stars.take(which), self.limit_mag)

    def near(self, direction: Floats, radius_deg: float) -> ListedStars:
        """Those within a circle."""
        return self.take(self.seen @ direction >= np.cos(np.radians(radius_deg)))

    def at(self, moment: Instants, observer: Observer) -> ListedStars:
        """The same stars at another instant."""
        return ListedStars(seen_at(self.stars, moment, observer), self.stars, self.limit_mag)


def seen_at(found: StarArrays, moment: Instants, observer: Observer) -> Floats:
    """Local directions (n, 3) of stars as seen through the air at one instant."""
    place = star_positions(found, moment, observer)
    return vector_from_azimuth_altitude(place.azimuth_deg[:, 0], place.altitude_deg[:, 0])


def limit_for(field_deg2: float, wanted: float) -> float:
    """To which magnitude the sky has `wanted` stars in a field of this size, on the average."""
    total = wanted / field_deg2 * _SKY_DEG2
    mag = 6.0 + np.log(total / _TO_SIXTH) / np.log(_PER_MAG)
    return float(np.clip(mag, BRIGHTEST_LIMIT_MAG, FAINTEST_MAG))


def listed_around(
    direction: Floats, radius_deg: float, limit_mag: float, at: Instants, observer: Observer
) -> ListedStars:
    """Listed stars within `radius_deg` of a local direction (3,), all of the sky from 90 on.

    `at`: one instant. Those below the horizon come along, without air.
    """
    if radius_deg >= 90.0:
        found = _whole_sky(limit_mag)
    else:
        ra, dec = _icrs(direction, at, observer)
        found = stars_around(ra, dec, min(radius_deg + 1.0, 90.0), limit_mag)
    listed = ListedStars(seen_at(found, at, observer), found, limit_mag)
    return listed if radius_deg >= 90.0 else listed.near(direction, radius_deg)


def _whole_sky(limit_mag: float) -> StarArrays:
    if limit_mag <= 8.0:
        return stars(limit_mag)
    poles = [stars_around(0.0, dec, 90.0, limit_mag) for dec in (90.0, -90.0)]
    return poles[0].joined(poles[1])


def _icrs(direction: Floats, at: Instants, observer: Observer) -> tuple[float, float]:
    """About where a local direction is among the stars; to arcminutes, for a patch of the list."""
    # Three fixed directions tell the turn from the sky to the ground at this instant.
    ra, dec = np.array([0.0, 90.0, 0.0]), np.array([0.0, 0.0, 90.0])
    place = star_positions(Stars.of(ra, dec), at, observer)
    local = vector_from_azimuth_altitude(place.azimuth_deg[:, 0], place.altitude_true_deg[:, 0])
    sky = local @ direction
    lon, lat = angles_from_vector(sky / np.linalg.norm(sky))
    return float(lon), float(lat)


def thinned(listed: ListedStars, cell_deg: float, each: int) -> ListedStars:
    """The `each` brightest stars of every cell of the sky about `cell_deg` wide."""
    rows = np.floor(np.degrees(np.arcsin(np.clip(listed.seen[:, 2], -1, 1))) / cell_deg)
    width = np.maximum(np.cos(np.radians((rows + 0.5) * cell_deg)), 0.05)
    azimuth = np.degrees(np.arctan2(listed.seen[:, 0], listed.seen[:, 1])) + 180.0
    columns = np.floor(azimuth * width / cell_deg)
    cells = (rows.astype(np.int64) + 1000) * 100_000 + columns.astype(np.int64)
    # Bright to faint inside each cell: the list is in that order already.
    order = np.argsort(cells, kind="stable")
    sorted_cells = cells[order]
    first = np.searchsorted(sorted_cells, sorted_cells, side="left")
    rank = np.arange(len(order)) - first
    return listed.take(np.sort(order[rank < each]))
