"""Which bright stars with names stand well for a measurement now?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.catalogue.stars import stars
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import star_positions
from axletree.sky.time.instants import Instants

Clear = Callable[[Floats, Floats], Any]  # azimuth, altitude (degrees) -> True where the sky is free

LIMIT_MAG = 3.0
LOWEST_ALTITUDE_DEG = 20.0
HIGHEST_ALTITUDE_DEG = 85.0  # higher up nobody can look through a finder
FARTHEST_DECLINATION_DEG = 70.0
FARTHEST_HOUR_ANGLE_H = 7.0  # beyond it a star is low under the pole
DARK_ENOUGH_SUN_DEG = -6.0  # bright stars show from civil dusk on
ABOVE_SKYLINE_DEG = 2.0


@dataclass(frozen=True)
class MeasurableStars:
    """Stars as parallel arrays, brightest first; places of date at the moment asked for.

    `number` is that of Hipparcos.
    """

    names: tuple[str, ...]
    hour_angle_h: Floats
    declination_deg: Floats
    azimuth_deg: Floats
    altitude_deg: Floats
    number: Ints
    magnitude_v: Floats

    def __len__(self) -> int:
        return len(self.names)


def candidates(
    instant: Instants, observer: Observer, clear: Clear | None = None, limit_mag: float = LIMIT_MAG
) -> MeasurableStars:
    """Named stars to magnitude `limit_mag`, 20 to 85 degrees high, within 7 h of the meridian.

    `clear` says where obstacles leave the sky free. May be empty.
    """
    listed = stars(limit_mag, hipparcos_only=True)
    place = star_positions(listed, instant, observer)
    altitude, azimuth = place.altitude_deg[:, 0], place.azimuth_deg[:, 0]
    declination = place.declination_deg[:, 0]
    good = (
        (altitude >= LOWEST_ALTITUDE_DEG)
        & (altitude <= HIGHEST_ALTITUDE_DEG)
        & (np.abs(declination) <= FARTHEST_DECLINATION_DEG)
        & (np.abs(place.hour_angle_h[:, 0]) <= FARTHEST_HOUR_ANGLE_H)
    )
    if clear is not None:
        good &= np.asarray(clear(azimuth, altitude), dtype=bool)
    rows = [k for k in np.flatnonzero(good) if names_of(int(listed.number[k]))]
    return MeasurableStars(
        names=tuple(names_of(int(listed.number[k]))[0] for k in rows),
        hour_angle_h=place.hour_angle_h[rows, 0],
        declination_deg=declination[rows],
        azimuth_deg=azimuth[rows],
        altitude_deg=altitude[rows],
        number=listed.number[rows],
        magnitude_v=listed.magnitude_v[rows],
    )


def stars_now(
    moment: datetime, observer: Observer, skyline: Callable[[Floats], Any]
) -> MeasurableStars | None:
    """MeasurableStars clear of the skyline (azimuth to altitude, degrees) at an aware moment.

    None by day, and outside the years of the ephemeris.
    """
    instant = Instants.from_datetime(moment)
    try:
        sun = body_positions(["sun"], instant, observer)
    except AxletreeError:
        return None
    if float(sun.altitude_true_deg[0, 0]) > DARK_ENOUGH_SUN_DEG:
        return None
    return candidates(instant, observer, lambda az, alt: alt > skyline(az) + ABOVE_SKYLINE_DEG)
