"""How far do two theories of Jupiter's moons lie apart, in space and in time?

Ours (V. Lainey, L. Duriez and A. Vienne 2006, shortened) beside J. H. Lieske's E5 as another
library has it, 2026-36, both as seen from the Earth. Prints for each moon the rms and the largest
difference along the orbit and across it, and what the former makes in time.

    python benchmarks/moon_theories.py
"""

from __future__ import annotations

import numpy as np
from pymeeus.Epoch import Epoch
from pymeeus.JupiterMoons import JupiterMoons

from axletree.sky.moons.before_the_disc import before_disc
from axletree.sky.moons.sight import sight
from axletree.sky.moons.systems import JUPITER
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.time.instants import Instants

E5_RADIUS_KM = 71418.0  # E5's unit: with it the mean distances agree to 1e-5
DAYS = 3.37 / 12  # no moon's period is a simple part of it


def main() -> None:
    count = int(3652 / DAYS)
    instants = Instants.from_tt_jd(2461041.5, np.arange(count) * DAYS)
    seen = sight("jupiter", instants, load_ephemeris(), np.zeros(3))
    tt = instants.tt1 + instants.tt2
    theirs = np.array([JupiterMoons.rectangular_positions_jovian_equatorial(Epoch(t)) for t in tt])
    for moon, name in enumerate(JUPITER.names):
        line = before_disc(JUPITER, np.full(count, moon), np.zeros(count, dtype=bool), seen)
        ours = np.column_stack([line.x, line.y, -line.z])
        difference = theirs[:, moon] * E5_RADIUS_KM - ours
        # Before and behind the disc, where phenomena happen; moons run to the west before it.
        near = np.abs(line.x) < 1.2 * 71492.0
        along = difference[near, 0] * np.sign(line.z[near])
        across = difference[near, 1]
        speed = JUPITER.speed_km_s[moon]
        print(
            f"{name:10s} {near.sum():5d} places, along {np.sqrt((along**2).mean()):4.0f} km rms,"
            f" most {np.abs(along).max():5.0f} = {np.abs(along).max() / speed:4.0f} s;"
            f" across {np.sqrt((across**2).mean()):4.0f} km rms, most {np.abs(across).max():4.0f}"
        )


if __name__ == "__main__":
    main()
