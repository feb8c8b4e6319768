"""Where do a body and its neighbour stand, at any moments of one span, from one place?

The measuring that all special nights share: directions of bodies and stars at seconds from one
beginning, the closest approaches of pairs, and the contacts around each.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, tzinfo

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.air.refraction import apparent_altitude_deg
from axletree.sky.arrays import Floats, Ints
from axletree.sky.events.crossings import narrow
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import Seen, see_bodies, see_body
from axletree.sky.positions.ephemeris import Ephemeris
from axletree.sky.positions.stars import StarLike, places_at_j2000
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.sky.time.orientation import Orientation, orientation

_erfa = erfa.ufunc

Pair = Callable[[Floats, Ints], Floats]


@dataclass(frozen=True)
class Watch:
    """A span of nights at one place: `base` the first night's noon, `length_s` to the last's end.

    Without `observer` all directions are geocentric.
    """

    base: Instants
    length_s: float
    zone: tzinfo
    observer: Observer | None
    kernel: Ephemeris

    def geocentric(self) -> Watch:
        """The same span from the Earth's centre."""
        return Watch(self.base, self.length_s, self.zone, None, self.kernel)

    def at(self, seconds: Floats) -> tuple[Instants, Orientation]:
        """Moments (n,) and how the Earth is turned then."""
        instants = self.base.plus(seconds)
        return instants, orientation(instants, self.observer)

    def see(self, names: Sequence[str], seconds: Floats) -> list[Seen]:
        """Some bodies with light time, deflection and aberration."""
        instants, turned = self.at(seconds)
        return see_bodies(names, instants, turned, self.kernel)

    def times(self, seconds: Floats) -> list[datetime]:
        """Aware moments in the place's zone."""
        return self.base.plus(np.atleast_1d(seconds)).to_datetimes(self.zone)

    def night(self, moment: datetime) -> Night:
        """The night around a moment."""
        return Night.containing(moment, self.zone)


@dataclass(frozen=True)
class Neighbours:
    """Things beside the Moon: planets by name first, then stars (fixed places)."""

    planets: tuple[str, ...]
    stars: StarLike
    names: tuple[str, ...]

    def cirs(self, which: Ints, instants: Instants, turned: Orientation, k: Ephemeris) -> Floats:
        """Apparent directions (n, 3), each of the target `which` (n,) at its own moment."""
        out = np.empty((len(instants), 3))
        fixed = which >= len(self.planets)
        if fixed.any():
            row = which[fixed] - len(self.planets)
            columns = [column[row] for column in places_at_j2000(self.stars)]
            out[fixed] = _erfa.s2c(*_erfa.atciq(*columns, turned.astrom[fixed]))
        for number, name in enumerate(self.planets):
            mine = which == number
            if mine.any():
                out[mine] = see_body(name, instants[mine], part_of(turned, mine), k).cirs
        return out


def part_of(turned: Orientation, which: np.ndarray | slice) -> Orientation:
    """The orientation at some of its moments."""
    return Orientation(turned.astrom[which], turned.origins_rad[which], turned.observer_au[which])


def altitude_azimuth_deg(
    cirs: Floats, turned: Orientation, observer: Observer
) -> tuple[Floats, Floats]:
    """Apparent altitude and azimuth (n,) of directions (n, 3), degrees."""
    ra, dec = _erfa.c2s(cirs)
    azimuth, zenith, *_ = _erfa.atioq(ra, dec, turned.astrom)
    true = 90.0 - np.degrees(zenith)
    return np.asarray(apparent_altitude_deg(true, observer)), np.mod(np.degrees(azimuth), 360.0)


def approach(
    squared: Pair, guess_s: Floats, reach_s: float, step_s: float
) -> tuple[Floats, Floats]:
    """When pairs are closest within `reach_s` of a guess (n,), and how close: seconds, distance.

    `squared(seconds, pair)` is the square of the distance, which near its least value is a
    parabola of time: sampled every `step_s`, then the parabola is drawn ever narrower (to 5 s:
    the time is good to a hundredth of that).
    """
    count = len(guess_s)
    pairs = np.arange(count)
    if not count:
        return np.empty(0), np.empty(0)
    offsets = np.arange(-reach_s, reach_s + 0.5 * step_s, step_s)
    grid = guess_s[:, np.newaxis] + offsets
    values = squared(grid.ravel(), np.repeat(pairs, len(offsets))).reshape(grid.shape)
    k = np.clip(np.argmin(values, axis=1), 1, len(offsets) - 2)
    t, h = grid[pairs, k], step_s
    before, here, after = (values[pairs, k + j] for j in (-1, 0, 1))
    for _ in range(4):
        curve = before - 2.0 * here + after
        safe = np.where(curve > 0.0, curve, np.inf)
        t = t + h * np.clip(0.5 * (before - after) / safe, -1.0, 1.0)
        h = max(h / 8.0, 5.0)
        around = t[:, np.newaxis] + np.array([-h, 0.0, h])
        v = squared(around.ravel(), np.repeat(pairs, 3)).reshape(-1, 3)
        before, here, after = v.T
    return t, np.sqrt(np.maximum(here, 0.0))


def contacts(
    gap: Pair, closest_s: Floats, reach_s: float, tolerance_s: float = 0.05
) -> tuple[Floats, Floats]:
    """When each pair's `gap` closes and opens around its closest approach; nan where it doesn't.

    `gap(seconds, pair)` is positive while the two are apart; they must be so `reach_s` before and
    after. Seconds (n,), (n,).
    """
    pairs = np.arange(len(closest_s))
    found = []
    inner = gap(closest_s, pairs)
    for sign in (-1.0, 1.0):
        outer_s = closest_s + sign * reach_s
        outer = gap(outer_s, pairs)
        meets = np.flatnonzero((inner < 0.0) & (outer > 0.0))
        seconds = np.full(len(closest_s), np.nan)

        def value(s: Floats, rows: Ints = meets) -> Floats:
            return gap(s, rows)

        seconds[meets] = narrow(
            value, closest_s[meets], outer_s[meets], inner[meets], outer[meets], tolerance_s
        )
        found.append(seconds)
    return found[0], found[1]


def rate_per_s(gap: Pair, seconds: Floats, pairs: Sequence[int] | Ints) -> Floats:
    """How fast a gap changes, its own unit a second, without sign."""
    which = np.asarray(pairs)
    return np.abs(gap(seconds + 5.0, which) - gap(seconds - 5.0, which)) / 10.0
