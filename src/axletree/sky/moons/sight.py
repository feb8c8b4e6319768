"""Along which lines do the Earth and the Sun see a planet, and how late?

All from the Earth's centre: elsewhere on the ground the moons stand within 20 km of the same
place before the planet, which changes no time by more than two seconds.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.positions.ephemeris import AU_KM, LIGHT_AU_PER_DAY, Ephemeris
from axletree.sky.time.instants import J2000_JD, Instants

LIGHT_KM_PER_S = LIGHT_AU_PER_DAY * AU_KM / 86400.0


@dataclass(frozen=True)
class Sight:
    """A planet at the moment when the light that is seen leaves it; arrays (n,) and (n, 3).

    `days` of dynamical time from J2000.0 of that moment; vectors from the planet's centre, ICRS,
    km: to the observer (when the light comes in), to the Sun (when the light that falls on the
    planet left it); `velocity_km_s` of the planet about the Solar System's barycentre.
    """

    days: Floats
    to_observer_km: Floats
    to_sun_km: Floats
    velocity_km_s: Floats


def sight(planet: str, instants: Instants, kernel: Ephemeris, from_earth_au: Floats) -> Sight:
    """The planet as seen at these instants by an observer `from_earth_au` (n, 3) from its centre.

    Light times of both lines to 0.001 s. Dates outside the kernel are refused.
    """
    kernel.check(instants)
    tt1, tt2 = instants.tt1, instants.tt2
    here = kernel.barycentric_au("earth", tt1, tt2) + from_earth_au
    late = np.zeros(len(instants))
    for _ in range(3):
        body = kernel.barycentric_au(planet, tt1, tt2 - late)
        late = np.linalg.norm(here - body, axis=-1) / LIGHT_AU_PER_DAY
    later = kernel.barycentric_au(planet, tt1, tt2 - late + 0.05)
    earlier = kernel.barycentric_au(planet, tt1, tt2 - late - 0.05)
    sun = kernel.barycentric_au("sun", tt1, tt2 - late)
    from_sun = np.linalg.norm(body - sun, axis=-1) / LIGHT_AU_PER_DAY
    sun = kernel.barycentric_au("sun", tt1, tt2 - late - from_sun)
    return Sight(
        days=(tt1 - J2000_JD) + tt2 - late,
        to_observer_km=(here - body) * AU_KM,
        to_sun_km=(sun - body) * AU_KM,
        velocity_km_s=(later - earlier) * (AU_KM / 0.1 / 86400.0),
    )


@dataclass(frozen=True)
class SmoothSight:
    """A planet's sight over a span, one row a day, from which any second is read by a cubic.

    `row` 0 is the day before second 0. Within 1 km and 0.001 s of `sight`.
    """

    planet: str
    start_days: float
    rows: Floats

    def at(self, seconds: Floats) -> Sight:
        """The sight at `seconds` (n,) after the span's start."""
        x = np.asarray(seconds, dtype=np.float64) / 86400.0
        k = np.clip(np.floor(x).astype(np.int64), 0, len(self.rows) - 4)
        f = (x - k)[:, np.newaxis]
        # Lagrange's cubic through the days -1, 0, 1, 2.
        row = -f * (f - 1.0) * (f - 2.0) / 6.0 * self.rows[k]
        row += (f + 1.0) * (f - 1.0) * (f - 2.0) / 2.0 * self.rows[k + 1]
        row -= (f + 1.0) * f * (f - 2.0) / 2.0 * self.rows[k + 2]
        row += (f + 1.0) * f * (f - 1.0) / 6.0 * self.rows[k + 3]
        return Sight(self.start_days + x - row[:, 0], row[:, 1:4], row[:, 4:7], row[:, 7:10])


def smooth_sight(planet: str, base: Instants, length_s: float, kernel: Ephemeris) -> SmoothSight:
    """The planet's sight from the Earth's centre over `length_s` seconds from `base` (1,)."""
    days = np.arange(-1.0, np.ceil(length_s / 86400.0) + 2.5)
    instants = base.plus(days * 86400.0)
    seen = sight(planet, instants, kernel, np.zeros(3))
    start = float((base.tt1[0] - J2000_JD) + base.tt2[0])
    late = start + days - seen.days
    rows = np.column_stack([late, seen.to_observer_km, seen.to_sun_km, seen.velocity_km_s])
    return SmoothSight(planet, start, rows)
