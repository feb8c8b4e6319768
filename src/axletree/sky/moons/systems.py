"""Which moons does a small telescope show beside their planets?

Radii: B. A. Archinal et al. 2018, Celest. Mech. Dyn. Astr. 130, 22, table 5 (mean radii; of Titan
the solid body: its haze makes it 200 km larger). V(1,0): Explanatory Supplement to the
Astronomical Almanac, 3rd ed. 2013, chapter 10 (from memory, good to 0.1 mag).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints
from axletree.sky.moons.four_of_jupiter import jovicentric_km
from axletree.sky.moons.titan import titan_km

# Moon numbers and days from J2000.0, (n,), to places (km) and velocities (km/s), (n, 3).
MoonState = Callable[[Ints, Floats], tuple[Floats, Floats]]


@dataclass(frozen=True)
class MoonSystem:
    """One planet's moons; arrays (moons,).

    `state(moon, days)` gives places in km and velocities in km/s from the planet's centre, ICRS
    axes, at dynamical `days` from J2000.0. `along_km` and `across_km` are the errors of those
    places (one standard deviation) along the orbit and across it; `speed_km_s` the mean speed.
    """

    planet: str
    names: tuple[str, ...]
    state: MoonState
    radius_km: Floats
    period_days: Floats
    speed_km_s: Floats
    along_km: Floats
    across_km: Floats
    magnitude_v10: Floats


# Errors: the rms difference from J. H. Lieske's E5 before and behind the disc in 2026-36, shared
# evenly between the two theories (docs/decisions/moons-and-lunar-angles.md).
JUPITER = MoonSystem(
    planet="jupiter",
    names=("io", "europa", "ganymede", "callisto"),
    state=jovicentric_km,
    radius_km=np.array([1821.5, 1560.8, 2631.2, 2410.3]),
    period_days=np.array([1.769138, 3.551181, 7.154553, 16.689018]),
    speed_km_s=np.array([17.334, 13.743, 10.880, 8.204]),
    along_km=np.array([115.0, 370.0, 500.0, 615.0]),
    across_km=np.array([40.0, 47.0, 120.0, 200.0]),
    magnitude_v10=np.array([-1.68, -1.41, -2.09, -1.05]),
)
SATURN = MoonSystem(
    planet="saturn",
    names=("titan",),
    state=titan_km,
    radius_km=np.array([2575.0]),
    period_days=np.array([15.945448]),
    speed_km_s=np.array([5.573]),
    along_km=np.array([1000.0]),
    across_km=np.array([500.0]),
    magnitude_v10=np.array([-1.28]),
)
SYSTEMS = {"jupiter": JUPITER, "saturn": SATURN}
