"""The sums of the ephemeris' series against jplephem, the library that reads such files."""

from __future__ import annotations

import numpy as np
import pytest
from jplephem.spk import SPK

from axletree.data import data_path
from axletree.sky.positions.ephemeris import (
    AU_KM,
    BODIES,
    BeyondEphemerisError,
    load_ephemeris,
)

# Centre and target of each step from the barycentre (NAIF's numbers).
STEPS = {"moon": ((0, 3), (3, 301)), "earth": ((0, 3), (3, 399)), "sun": ((0, 10),)}
STEPS |= {name: ((0, k),) for k, name in enumerate(("mercury", "venus"), 1)}
STEPS |= {name: ((0, k),) for k, name in enumerate(BODIES[4:], 4)}
# Neptune's coordinates are 4.5e9 km: their last binary digit is a millimetre.
TOLERANCE_KM = 2e-6


@pytest.mark.parametrize("name", sorted(STEPS))
@pytest.mark.parametrize("count", [1, 40, 700])  # cosines for a few, the recurrence for many
def test_places_to_the_millimetre(name: str, count: int) -> None:
    random = np.random.default_rng(count)
    kernel = load_ephemeris()
    days = np.floor(random.uniform(kernel.start_jd + 1.0, kernel.stop_jd - 1.0, count)) + 0.5
    part = random.uniform(-0.5, 0.5, count)
    with SPK.open(str(data_path("planets.bsp"))) as spk:
        wanted = sum(spk[pair].compute(days, part) for pair in STEPS[name]).T
    found = kernel.barycentric_au(name, days, part) * AU_KM
    assert np.abs(found - wanted).max() < TOLERANCE_KM


def test_both_ends_of_the_file_and_none_beyond() -> None:
    kernel = load_ephemeris()
    ends, none = np.array([kernel.start_jd, kernel.stop_jd]), np.zeros(2)
    with SPK.open(str(data_path("planets.bsp"))) as spk:
        wanted = sum(spk[pair].compute(ends, none) for pair in STEPS["moon"]).T
    found = kernel.barycentric_au("moon", ends, none) * AU_KM
    assert np.abs(found - wanted).max() < TOLERANCE_KM
    for beyond in (-0.01, 0.01):
        with pytest.raises(BeyondEphemerisError):
            kernel.barycentric_au("moon", ends + beyond, none)
