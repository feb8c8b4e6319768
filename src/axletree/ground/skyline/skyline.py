"""How high do obstacles stand around the spot, in every direction?

A `Horizon` is a line of straight pieces through azimuth, closed through 360, with upright steps
where something begins, and with gaps where nobody measured. Built from measured points, from a
walk with compass and inclinometer, or by `axletree.ground.skyline.yard` from a yard plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.ground.magnetism import Zone
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, distinct
from axletree.sky.directions import wrap_180, wrap_360

# A wall between two points can span half a circle at most; what lies behind it isn't told by them.
WIDEST_JOIN_DEG = 180.0


@dataclass(frozen=True)
class SkylineGap:
    """Azimuths, clockwise, between which nothing is known, and the altitude taken there, degrees.

    `from_deg` equals `to_deg` where all but one direction is unknown.
    """

    from_deg: float
    to_deg: float
    taken_deg: float

    @property
    def width_deg(self) -> float:
        """How wide it is, above 0, at most 360."""
        return (self.to_deg - self.from_deg) % 360.0 or 360.0

    @property
    def middle_deg(self) -> float:
        """Where one measured point would tell most."""
        return (self.from_deg + self.width_deg / 2.0) % 360.0


@dataclass(frozen=True)
class Horizon:
    """Altitude of the obstacles, in degrees, by true azimuth.

    `azimuth_deg` (n,) rises from 0 to 360, its first knot repeated at the end; two equal
    azimuths are an upright step. In `gaps` nothing is known and an altitude was taken;
    `open_altitude_deg` is the least that may be. `compass_zone`: in which magnetic zone its
    bearings were taken by compass, None where they are true ones.
    """

    azimuth_deg: Floats
    altitude_deg: Floats
    gaps: tuple[SkylineGap, ...] = ()
    open_altitude_deg: float = 0.0
    compass_zone: Zone | None = None

    @property
    def measured(self) -> bool:
        """False where no point was given and one altitude was taken all round."""
        return len(self.azimuth_deg) > 2 or not self.gaps

    def altitude_at(self, azimuth_deg: ArrayLike) -> Floats:
        """Altitude of the skyline at any azimuths, any shape; at a step the higher side counts."""
        x = wrap_360(azimuth_deg)
        height = self.limit(x, "right")
        # Both sides differ at knots alone, and few azimuths are just one.
        k = self.azimuth_deg
        knot = (k[np.minimum(np.searchsorted(k, x), len(k) - 1)] == x) | (x == 0.0)
        if knot.any():
            height[knot] = np.maximum(self.limit(x[knot], "left"), height[knot])
        return height

    def limit(self, azimuth_deg: Floats, side: Literal["left", "right"]) -> Floats:
        """The altitude as azimuths within 0-360 are approached from one side."""
        k, y = self.azimuth_deg, self.altitude_deg
        if side == "left":  # 0 is approached from below 360
            x = np.where(azimuth_deg <= 0.0, 360.0, azimuth_deg)
            after = np.searchsorted(k, x, side="left")
        else:
            x = np.where(azimuth_deg >= 360.0, 0.0, azimuth_deg)
            after = np.searchsorted(k, x, side="right")
        after = np.minimum(np.maximum(after, 1), len(k) - 1)
        before = after - 1
        width = k[after] - k[before]
        part = np.where(width > 0.0, (x - k[before]) / np.where(width > 0.0, width, 1.0), 0.0)
        part = np.minimum(np.maximum(part, 0.0), 1.0)
        return np.asarray(y[before] + part * (y[after] - y[before]))

    def known_at(self, azimuth_deg: ArrayLike) -> NDArray[np.bool_]:
        """True where the skyline was measured, false within a gap."""
        x = wrap_360(azimuth_deg)
        known = np.ones(np.shape(x), dtype=bool)
        for gap in self.gaps:
            into = wrap_360(x - gap.from_deg)
            known &= ~((into > 0.0) & (into < gap.width_deg))
        return known

    def highest_within(self, azimuth_deg: ArrayLike, half_width_deg: float) -> Floats:
        """The highest altitude within a window centred on each azimuth (n,)."""
        x = np.atleast_1d(np.asarray(azimuth_deg, dtype=np.float64))
        best = np.maximum(
            self.altitude_at(x - half_width_deg), self.altitude_at(x + half_width_deg)
        )
        for knot, altitude in zip(self.azimuth_deg, self.altitude_deg, strict=True):
            inside = np.abs(wrap_180(x - knot)) <= half_width_deg
            best = np.where(inside, np.maximum(best, altitude), best)
        return np.asarray(best)


def open_horizon(altitude_deg: float = 0.0) -> Horizon:
    """The same altitude all round, such as the sea's."""
    return Horizon(np.array([0.0, 360.0]), np.full(2, float(altitude_deg)), (), float(altitude_deg))


def horizon_from_points(
    azimuth_deg: ArrayLike, altitude_deg: ArrayLike, open_altitude_deg: float = 0.0
) -> Horizon:
    """A skyline through measured points (n,), in any order, true azimuths of any turn.

    Neighbours up to 180 degrees apart are joined by straight lines in azimuth, through 360 as
    well. Two points at one azimuth make a step, in the order in which they were walked. Neighbours
    further apart leave a gap, and so do those around an altitude of nan, which says that this
    direction is not known. In a gap the lower of its two neighbours is taken, so that no wall is
    opened that may go on, and never less than `open_altitude_deg`. One point: a gap all round at
    its altitude. No point at all: `open_altitude_deg` all round, and all of it a gap.
    Refuses azimuths that are not finite and altitudes beyond 90.
    """
    raw = np.atleast_1d(np.asarray(azimuth_deg, dtype=np.float64))
    y = np.atleast_1d(np.asarray(altitude_deg, dtype=np.float64))
    if raw.shape != y.shape or raw.ndim != 1:
        raise AxletreeError("a skyline needs as many altitudes as azimuths")
    if not np.all(np.isfinite(raw)):
        raise AxletreeError("a skyline point has no azimuth; write a number of degrees")
    if np.any(np.abs(y) > 90.0):
        raise AxletreeError(
            f"skyline altitude {y[np.nanargmax(np.abs(y))]:g}: it must lie between -90 and 90"
        )
    known = ~np.isnan(y)
    if not known.any():
        return Horizon(
            np.array([0.0, 360.0]),
            np.full(2, float(open_altitude_deg)),
            (SkylineGap(0.0, 0.0, float(open_altitude_deg)),),
            open_altitude_deg,
        )
    turn = wrap_180(np.diff(raw))
    if len(raw) > 2 and turn.sum() < 0.0:  # walked anticlockwise: steps are met the other way
        raw, y, known = raw[::-1], y[::-1], known[::-1]
    x = wrap_360(raw)
    # A point written as 360 is where the circle ends, not where it begins.
    order = np.lexsort((np.arange(len(x)), np.where(raw == 360.0, 0, 1), x))
    x, y, known = x[order], y[order], known[order]
    return _closed(x, y, known, float(open_altitude_deg))


def _closed(x: Floats, y: Floats, known: NDArray[np.bool_], open_altitude: float) -> Horizon:
    """Join sorted points through 360, putting the lower neighbour's altitude into gaps."""
    at = np.flatnonzero(known)
    knots: list[tuple[float, float]] = []
    gaps: list[SkylineGap] = []
    for here, following in zip(at, np.roll(at, -1), strict=True):
        start, stop = float(x[here]), float(x[following])
        width = stop - start if following > here else stop - start + 360.0
        taken = max(open_altitude, float(min(y[here], y[following])))
        unknown_between = (following - here) % len(x) > 1 or (len(at) == 1 and len(x) > 1)
        knots.append((start, float(y[here])))
        if width > WIDEST_JOIN_DEG + 1e-6 or (unknown_between and width > 0.0):
            gaps.append(SkylineGap(start, stop, taken))
            knots += [(start, taken), (start + width, taken)]
    first = (float(x[at[0]]) + 360.0, float(y[at[0]]))
    kx = np.array([k[0] for k in [*knots, first]])
    ky = np.array([k[1] for k in [*knots, first]])
    return _from_north(kx, ky, tuple(gaps), open_altitude)


def _from_north(
    kx: Floats, ky: Floats, gaps: tuple[SkylineGap, ...], open_altitude: float
) -> Horizon:
    """Cut a closed line that begins at its first knot so that it runs from 0 to 360."""
    if kx[0] > 0.0:
        # Whatever lies beyond 360 stands at the first knot, one turn on.
        beyond = kx > 360.0
        after = int(np.argmax(beyond))
        part = (360.0 - kx[after - 1]) / (kx[after] - kx[after - 1])
        north = ky[after - 1] + part * (ky[after] - ky[after - 1])
        within = ~beyond[1:]
        kx = np.concatenate([[0.0], np.full(beyond.sum(), kx[0]), kx[1:][within], [360.0]])
        ky = np.concatenate([[north], ky[beyond], ky[1:][within], [north]])
    return Horizon(kx, ky, gaps, open_altitude)


def horizon_from_walk(
    bearing_deg: ArrayLike,
    incline_deg: ArrayLike,
    declination_deg: float,
    open_altitude_deg: float = 0.0,
) -> Horizon:
    """A skyline from compass bearings and inclinometer readings, corrected for the declination.

    `declination_deg` is positive where the needle points east of true north.
    """
    true = np.asarray(bearing_deg, dtype=np.float64) + declination_deg
    return horizon_from_points(true, incline_deg, open_altitude_deg)


def combined(horizons: Sequence[Horizon]) -> Horizon:
    """The upper edge of several skylines, exactly; a gap remains where all of them have one.

    Its `compass_zone` is None: whoever combines knows whose bearings matter.
    """
    if not horizons:
        return open_horizon()
    result = horizons[0]
    for other in horizons[1:]:
        result = _higher(result, other)
    return result


def _higher(a: Horizon, b: Horizon) -> Horizon:
    knots = distinct(np.concatenate([a.azimuth_deg, b.azimuth_deg]))
    start, stop = knots[:-1], knots[1:]
    a0, b0 = a.limit(start, "right"), b.limit(start, "right")
    a1, b1 = a.limit(stop, "left"), b.limit(stop, "left")
    d0, d1 = a0 - b0, a1 - b1
    crosses = d0 * d1 < 0.0
    part = np.where(crosses, d0 / np.where(crosses, d0 - d1, 1.0), 0.0)
    x = np.stack([start, start + part * (stop - start), stop], axis=1)
    y = np.stack([np.maximum(a0, b0), a0 + part * (a1 - a0), np.maximum(a1, b1)], axis=1)
    keep = np.stack([np.ones_like(crosses), crosses, np.ones_like(crosses)], axis=1)
    x, y = x[keep], y[keep]
    fresh = np.ones(len(x), dtype=bool)
    fresh[1:] = (np.diff(x) != 0.0) | (np.diff(y) != 0.0)
    gaps = tuple(_common(a.gaps, b.gaps))
    open_altitude = max(a.open_altitude_deg, b.open_altitude_deg)
    return Horizon(x[fresh], y[fresh], gaps, open_altitude)


def _common(a: tuple[SkylineGap, ...], b: tuple[SkylineGap, ...]) -> list[SkylineGap]:
    """Stretches of azimuth that lie in a gap of both."""
    found = []
    for one in a:
        for other in b:
            taken = max(one.taken_deg, other.taken_deg)
            for shift in (-360.0, 0.0, 360.0):
                low = max(one.from_deg, other.from_deg + shift)
                high = min(one.from_deg + one.width_deg, other.from_deg + shift + other.width_deg)
                if high - low > 1e-9:
                    found.append(SkylineGap(low % 360.0, high % 360.0, taken))
    return list(dict.fromkeys(found))
