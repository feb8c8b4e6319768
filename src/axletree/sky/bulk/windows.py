"""When is each object of the whole catalogue above an altitude, on every night of a year?

In closed form: one apparent place an object and night, at the night's middle, and the hour angle
at which that declination passes the altitude. Within a second of time of watching the altitude
step by step (a star's place changes by a fraction of an arcsecond in half a day).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.air.refraction import true_altitude_deg
from axletree.sky.arrays import Floats, Mask, Singles
from axletree.sky.bulk.matrices import equatorial_matrices, unit_vectors
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import StarLike, places_at_j2000
from axletree.sky.time.instants import SIDEREAL_DAYS_PER_DAY, Instants
from axletree.sky.time.nights import Night
from axletree.sky.time.orientation import orientation

SIDEREAL_TURN_H = 24.0 / SIDEREAL_DAYS_PER_DAY
_NIGHTS_PER_PLACE = 30  # proper motion and parallax move a star by less than 1" in a month
_CHUNK = 40_000


@dataclass(frozen=True)
class Windows:
    """When objects are up, arrays of shape (nights, objects), float32 hours after `start`.

    `transit_h` is the passage of the upper meridian nearest the night's middle, `rise_h` and
    `set_h` the window around it (they may lie before the start or after the end); the window
    comes back every `SIDEREAL_TURN_H`. Always up: the window is as long as that. Never up: nan.
    """

    nights: tuple[Night, ...]
    rise_h: Singles
    transit_h: Singles
    set_h: Singles

    @property
    def never_up(self) -> Mask:
        """True where the object doesn't reach the altitude."""
        return np.isnan(self.rise_h)

    @property
    def always_up(self) -> Mask:
        """True where the object doesn't sink below the altitude."""
        return np.asarray(self.set_h - self.rise_h >= np.float32(SIDEREAL_TURN_H - 1e-4))


def windows(
    stars: StarLike,
    nights: Sequence[Night],
    observer: Observer,
    altitude_deg: ArrayLike = 0.0,
) -> Windows:
    """`Windows` of all stars in all nights above an apparent altitude, one for all or (objects,).

    Altitudes outside -1 to 89.9 degrees are refused.
    """
    apparent = np.asarray(altitude_deg, dtype=np.float64)
    if not np.all((apparent >= -1.0) & (apparent <= 89.9)):
        wrong = apparent.ravel()[~((apparent >= -1.0) & (apparent <= 89.9)).ravel()][0]
        raise AxletreeError(f"altitude_deg is {wrong}: it must lie between -1 and 89.9 degrees")
    count = len(stars.ra_deg)
    rise, transit, down = (np.empty((len(nights), count), np.float32) for _ in range(3))
    result = Windows(tuple(nights), rise, transit, down)
    if count == 0 or not nights:
        return result
    half_h = np.array([n.length_s for n in nights]) / 7200.0
    instants = Instants.from_datetimes([n.start for n in nights]).plus(half_h * 3600.0)
    astrom = orientation(instants, observer).astrom
    axes_first = np.swapaxes(equatorial_matrices(astrom), 0, 1)
    matrices = np.ascontiguousarray(axes_first, dtype=np.float32)  # (3, nights, 4)
    sin_a = np.sin(np.radians(true_altitude_deg(apparent, observer))).astype(np.float32)
    places = places_at_j2000(stars)
    for first in range(0, len(nights), _NIGHTS_PER_PLACE):
        rows = slice(first, min(first + _NIGHTS_PER_PLACE, len(nights)))
        middle = astrom[(rows.start + rows.stop - 1) // 2]
        vectors = unit_vectors(places, middle)
        four = np.concatenate([vectors.T, np.ones((1, count))]).astype(np.float32)
        step = max(1, _CHUNK // count)
        for a in range(rows.start, rows.stop, step):
            part = slice(a, min(a + step, rows.stop))
            _fill(result, part, matrices[:, part], four, sin_a, half_h[part], observer)
    return result


def _fill(
    result: Windows,
    rows: slice,
    matrices: Singles,
    four: Singles,
    sin_a: Singles,
    half_h: Floats,
    observer: Observer,
) -> None:
    """The closed form for a few nights, all objects; J. Meeus 1998, ch. 15, cos H0."""
    to_meridian, west, pole = np.matmul(matrices, four)
    per_h = np.float32(12.0 / np.pi / SIDEREAL_DAYS_PER_DAY)
    transit = result.transit_h[rows]
    np.arctan2(west, to_meridian, out=transit)
    np.multiply(transit, -per_h, out=transit)
    transit += half_h.astype(np.float32)[:, np.newaxis]
    np.multiply(to_meridian, to_meridian, out=to_meridian)
    np.multiply(west, west, out=west)
    across = np.add(to_meridian, west, out=to_meridian)
    length = np.multiply(pole, pole, out=west)
    np.add(length, across, out=length)
    np.sqrt(length, out=length)  # aberration's column leaves vectors not quite of unit length
    np.sqrt(across, out=across)
    np.multiply(length, sin_a, out=length)
    np.multiply(pole, np.float32(np.sin(observer.latitude_rad)), out=pole)
    cos_H = np.subtract(length, pole, out=length)
    np.multiply(across, np.float32(np.cos(observer.latitude_rad)), out=across)
    with np.errstate(divide="ignore", invalid="ignore"):
        np.divide(cos_H, across, out=cos_H)
        np.maximum(cos_H, np.float32(-1.0), out=cos_H)
        half = np.arccos(cos_H, out=cos_H)
    np.multiply(half, per_h, out=half)
    np.subtract(transit, half, out=result.rise_h[rows])
    np.add(transit, half, out=result.set_h[rows])
