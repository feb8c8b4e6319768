"""When does anything come near anything else, to a minute of arc and from the Earth's centre?

The sieve before the measuring: even steps through the span, light time and aberration left out
(they move a planet by half a minute of arc). What passes is measured again by those who ask.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices
from axletree.sky.directions import vector_from_angles
from axletree.sky.positions.ephemeris import BODIES
from axletree.sky.positions.stars import StarLike
from axletree.sky.special.watch import Watch

STEP_S = 3.0 * 3600.0
# Beyond the ends, so that what is closest just outside is not lost: it may be seen within.
_OVER_S = 86400.0


@dataclass(frozen=True)
class RoughSky:
    """Unit vectors (n, 3) of the Sun, the Moon and the planets at `seconds` (n,) of a watch."""

    seconds: Floats
    towards: dict[str, Floats]

    def apart_deg(self, a: Floats, b: Floats) -> Floats:
        """Angle between directions (..., n, 3), quickly: good to 0.001 degrees below 90."""
        chord = np.sqrt(np.maximum(2.0 - 2.0 * np.sum(a * b, axis=-1), 0.0))
        return np.asarray(np.degrees(2.0 * np.arcsin(np.clip(0.5 * chord, 0.0, 1.0))))

    def low_points(self, apart: Floats, below: float) -> tuple[Indices, Floats]:
        """Where rows (m, n) of angles have a least value under `below`: row, seconds."""
        row, k = np.nonzero(
            (apart[:, 1:-1] <= apart[:, :-2])
            & (apart[:, 1:-1] < apart[:, 2:])
            & (apart[:, 1:-1] < below + _slack_deg(apart))
        )
        before, here, after = (apart[row, k + j] ** 2 for j in range(3))
        curve = before - 2.0 * here + after
        shift = 0.5 * (before - after) / np.where(curve > 0.0, curve, np.inf)
        least = here - 0.25 * (before - after) * shift
        near = least < below**2
        return row[near], self.seconds[k[near] + 1] + STEP_S * shift[near]


def _slack_deg(apart: Floats) -> float:
    """What a least value may hide between two steps: half of the largest change in one."""
    return 0.5 * float(np.max(np.abs(np.diff(apart, axis=1)))) if apart.size else 0.0


def rough_sky(watch: Watch) -> RoughSky:
    """Every body at even steps, a day beyond both ends as far as the kernel goes."""
    kernel = watch.kernel
    jd = float((watch.base.tt1 + watch.base.tt2)[0])
    first = max(-_OVER_S, (kernel.start_jd + 2.0 - jd) * 86400.0)
    last = min(watch.length_s + _OVER_S, (kernel.stop_jd - 1.0 - jd) * 86400.0)
    seconds = np.arange(first, last + STEP_S, STEP_S)
    tt1 = np.full(seconds.shape, watch.base.tt1[0])
    tt2 = watch.base.tt2[0] + seconds / 86400.0
    earth = kernel.barycentric_au("earth", tt1, tt2)
    towards = {}
    for name in BODIES:
        away = kernel.barycentric_au(name, tt1, tt2) - earth
        towards[name] = away / np.linalg.norm(away, axis=-1, keepdims=True)
    return RoughSky(seconds, towards)


def star_directions(stars: StarLike) -> Floats:
    """Unit vectors (n, 3) of catalogue places; their motion of some decades doesn't matter here."""
    return vector_from_angles(stars.ra_deg, stars.dec_deg)


def new_and_full_moons_s(sky: RoughSky) -> tuple[Floats, Floats]:
    """Seconds at which the Moon is nearest to the Sun and to the point opposite, to an hour."""
    moon, sun = sky.towards["moon"], sky.towards["sun"]
    _, new = sky.low_points(sky.apart_deg(moon, sun)[np.newaxis], 8.0)
    _, full = sky.low_points(sky.apart_deg(moon, -sun)[np.newaxis], 8.0)
    return new, full
