"""When is an object too low or behind the skyline, on its way round the pole?

Between two corners of a skyline its height above the object's way is smooth; at a corner it bends,
at the edge of a post it jumps. So the hours at which an object stands over each corner are sampled
beside an even grid, and every turning point between samples that could reach the edge as well:
a post of any width is met, and each passage is closed in on within its own smooth piece.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.mount.room.arcs import Arcs, find_arcs, halved
from axletree.sky.air.refraction import apparent_altitude_deg
from axletree.sky.arrays import Floats, distinct
from axletree.sky.directions import azimuth_altitude

if TYPE_CHECKING:
    from axletree.sky.observer import Observer

Ints = NDArray[np.intp]
Skyline = Callable[[Floats], Floats]

# The two sides of a corner or step: a third of a millisecond apart.
BESIDE_H = 1e-7
# Where an object stands just after an end, which is good to a fortieth of a second.
PAST_H = 2e-5
_HALVINGS = 12
# A turning point further from the edge than this at both ends of a step of half a degree of hour
# angle isn't looked for: no altitude changes by more than half a degree in it.
_NEAR_DEG = 3.0
_SLOPE_H = 1e-5
_GOLDEN = (np.sqrt(5.0) - 1.0) / 2.0


@runtime_checkable
class Outline(Protocol):
    """A skyline that knows its corners, such as `ground.skyline.Horizon`."""

    @property
    def azimuth_deg(self) -> Floats:
        """Azimuths of the corners, ascending."""
        ...

    @property
    def altitude_deg(self) -> Floats:
        """Their altitudes, joined by straight lines."""
        ...

    def altitude_at(self, azimuth_deg: Floats) -> Floats:
        """Altitude at any azimuths."""
        ...


@dataclass(frozen=True)
class OpenSky:
    """The part of the sky that is used: above a lowest altitude and a skyline, as seen in air.

    `corners_deg` are the azimuths at which the skyline bends or jumps; without `observer` there
    is no air.
    """

    latitude_deg: float
    lowest_altitude_deg: float
    skyline: Skyline | None
    corners_deg: Floats
    observer: Observer | None

    def limit_deg(self, azimuth_deg: Floats) -> Floats:
        """The lowest usable altitude at azimuths."""
        lowest = np.full(np.shape(azimuth_deg), self.lowest_altitude_deg)
        if self.skyline is None:
            return lowest
        return np.asarray(np.maximum(lowest, self.skyline(azimuth_deg)))

    def above_deg(self, hour_angle_h: Floats, declination_deg: Floats) -> Floats:
        """How far an object stands above the limit; the air is left out a degree and more off."""
        azimuth, altitude = azimuth_altitude(hour_angle_h, declination_deg, self.latitude_deg)
        return self._seen_above(altitude, self.limit_deg(azimuth))

    def above_lowest_deg(self, hour_angle_h: Floats, declination_deg: Floats) -> Floats:
        """How far an object stands above the lowest altitude alone."""
        altitude = azimuth_altitude(hour_angle_h, declination_deg, self.latitude_deg)[1]
        return self._seen_above(altitude, np.full(altitude.shape, self.lowest_altitude_deg))

    def _seen_above(self, altitude: Floats, limit: Floats) -> Floats:
        above = np.asarray(altitude - limit)
        if self.observer is not None:
            close = np.abs(above) < 1.0
            above[close] = apparent_altitude_deg(altitude[close], self.observer) - limit[close]
        return above


def corners_of(outline: Outline, lowest_altitude_deg: float) -> Floats:
    """Azimuths where a skyline bends or jumps, or passes the lowest altitude; ascending."""
    x, y = outline.azimuth_deg, outline.altitude_deg - lowest_altitude_deg
    passes = y[:-1] * y[1:] < 0.0
    part = y[:-1][passes] / (y[:-1] - y[1:])[passes]
    between = x[:-1][passes] + part * np.diff(x)[passes]
    return np.asarray(distinct(np.mod(np.concatenate([x, between]), 360.0)))


def _hours_over(azimuth_deg: Floats, declination_deg: Floats, latitude_deg: float) -> Floats:
    """Hour angles (n, 2 c) at which n declinations stand over c azimuths; nan where never.

    Worked out here: the object lies in the upright plane of azimuth A where
    cos d (sin A sin b cos H - cos A sin H) = sin A sin d cos b, on A's side of the zenith.
    """
    A, b = np.radians(azimuth_deg), np.radians(latitude_deg)
    d = np.radians(declination_deg)[:, np.newaxis]
    to_cos, to_sin = np.cos(d) * np.sin(A) * np.sin(b), -np.cos(d) * np.cos(A)
    right = np.sin(A) * np.sin(d) * np.cos(b)
    with np.errstate(divide="ignore", invalid="ignore"):
        half = np.arccos(right / np.hypot(to_cos, to_sin))
    middle = np.arctan2(to_sin, to_cos)
    H = np.concatenate([middle - half, middle + half], axis=1)
    north = np.sin(d) * np.cos(b) - np.cos(d) * np.sin(b) * np.cos(H)
    east = -np.cos(d) * np.sin(H)
    both = np.tile(A, 2)
    hours = np.where(north * np.cos(both) + east * np.sin(both) > 0.0, H * 12.0 / np.pi, np.nan)
    return np.asarray(hours)


def closed_arcs(sky: OpenSky, declination_deg: Floats, hours: Floats) -> Arcs:
    """Where each declination (n,) is behind the skyline or too low.

    `hours` (m,) are even steps through the whole circle from -12 on.
    """

    def value(rows: Ints, at: Floats) -> Floats:
        return sky.above_deg(at, declination_deg[rows])

    def refine(rows: Ints, low: Floats, high: Floats, at_low: Floats, at_high: Floats) -> Floats:
        return halved(value, rows, low, high, _HALVINGS)

    t = np.broadcast_to(hours, (len(declination_deg), len(hours)))
    if sky.skyline is not None and len(sky.corners_deg):
        over = _hours_over(sky.corners_deg, declination_deg, sky.latitude_deg)
        t = _merged(t, np.concatenate([over - BESIDE_H, over + BESIDE_H], axis=1))
    f = sky.above_deg(t, declination_deg[:, np.newaxis])
    rows, extra = _turning_points(value, t, f)
    if rows.size:
        place = rows, np.arange(len(rows)) - np.searchsorted(rows, rows)
        each = np.ones(int(place[1].max()) + 1)
        more, values = t[:, :1] * each, f[:, :1] * each
        more[place], values[place] = np.mod(extra + 12.0, 24.0) - 12.0, value(rows, extra)
        t, f = np.concatenate([t, more], axis=1), np.concatenate([f, values], axis=1)
        order = t.argsort(axis=1, kind="stable")
        t, f = np.take_along_axis(t, order, axis=1), np.take_along_axis(f, order, axis=1)
    return find_arcs(f, t, refine)


def _merged(t: Floats, more: Floats) -> Floats:
    """Rows of hours with more of them, ascending in -12 to 12; the first is doubled for a nan."""
    more = np.sort(np.mod(more + 12.0, 24.0) - 12.0, axis=1)
    used = int(np.isfinite(more).sum(axis=1).max(initial=0))
    more = np.where(np.isnan(more[:, :used]), t[:, :1], more[:, :used])
    return np.sort(np.concatenate([t, more], axis=1), axis=1)


def _turning_points(
    value: Callable[[Ints, Floats], Floats], t: Floats, f: Floats
) -> tuple[Ints, Floats]:
    """Rows, ascending, and hours of what turns back between two samples of one sign.

    A smooth piece that reaches zero unseen falls at its beginning and rises at its end (or the
    other way), so steeply that its tangents meet beyond zero.
    """
    a, b = t, np.concatenate([t[:, 1:], t[:, :1] + 24.0], axis=1)
    fa, fb = f, np.roll(f, -1, axis=1)
    close = (np.abs(fa) < _NEAR_DEG) & (np.abs(fb) < _NEAR_DEG) & ((fa < 0.0) == (fb < 0.0))
    rows, columns = np.nonzero(close & (b - a > 4.0 * _SLOPE_H))
    if not rows.size:
        return rows, np.zeros(0)
    a, b, fa, fb = (x[rows, columns] for x in (a, b, fa, fb))
    sign = np.where(fa < 0.0, -1.0, 1.0)
    fa, fb = sign * fa, sign * fb
    at_a = (sign * value(rows, a + _SLOPE_H) - fa) / _SLOPE_H
    at_b = (fb - sign * value(rows, b - _SLOPE_H)) / _SLOPE_H
    turns = (at_a < 0.0) & (at_b > 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        into = (fb - fa - at_b * (b - a)) / (at_a - at_b)
        keep = turns & (fa + at_a * into < 0.0)
    rows, a, b, sign = rows[keep], a[keep], b[keep], sign[keep]
    if not rows.size:
        return rows, np.zeros(0)
    left, right = b - _GOLDEN * (b - a), a + _GOLDEN * (b - a)
    at_left, at_right = sign * value(rows, left), sign * value(rows, right)
    for _ in range(24):  # golden section: two minutes become a millisecond
        lower = at_left < at_right
        a, b = np.where(lower, a, left), np.where(lower, right, b)
        # Of the two points inside, one is where one stood before.
        new = np.where(lower, b - _GOLDEN * (b - a), a + _GOLDEN * (b - a))
        at_new = sign * value(rows, new)
        left, right = np.where(lower, new, right), np.where(lower, left, new)
        at_left, at_right = (
            np.where(lower, at_new, at_right), np.where(lower, at_left, at_new),
        )  # fmt: skip
    return rows, 0.5 * (a + b)
