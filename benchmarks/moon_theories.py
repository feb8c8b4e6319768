"""How far do two theories of Jupiter's moons lie apart, in space and in time?

Ours (V. Lainey, L. Duriez and A. Vienne 2006, shortened) beside J. H. Lieske's E5 as another
library has it, 2026-36. First the places before and behind the disc, along the orbit and across it;
then the times of 300 passages of each moon, with how often the error that we tell covers them.

    python benchmarks/moon_theories.py
"""

from __future__ import annotations

import numpy as np
from pymeeus.Epoch import Epoch
from pymeeus.JupiterMoons import JupiterMoons

from axletree.sky.moons.before_the_disc import before_disc, from_edge_km
from axletree.sky.moons.phenomena import phenomena_table
from axletree.sky.moons.sight import LIGHT_KM_PER_S, sight, smooth_sight
from axletree.sky.moons.systems import JUPITER
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.time.instants import Instants

E5_RADIUS_KM = 71418.0  # E5's unit: with it the mean distances agree to 1e-5
START_JD = 2461041.5
LENGTH_DAYS = 3652.0
STEP_DAYS = 3.37 / 12  # no moon's period is a simple part of it


def places() -> None:
    count = int(LENGTH_DAYS / STEP_DAYS)
    instants = Instants.from_tt_jd(START_JD, np.arange(count) * STEP_DAYS)
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


def times() -> None:
    base, length_s = Instants.from_tt_jd(START_JD), LENGTH_DAYS * 86400.0
    table = phenomena_table("jupiter", base, length_s)
    smooth = smooth_sight("jupiter", base, length_s, load_ephemeris())
    whole = np.flatnonzero(np.isfinite(table.seconds).all(axis=1))
    chance = np.random.default_rng(2)
    for moon, name in enumerate(JUPITER.names):
        mine = whole[table.moon[whole] == moon]
        apart, shares = [], []
        for k in chance.choice(mine, min(300, len(mine)), replace=False):
            j = int(chance.choice([1, 4]))  # the middle, coming in or going out
            here = smooth.at(table.seconds[k, j : j + 1])
            from_sun = bool(table.event[k] % 2)
            # Its view from the Sun starts from the observer's moment and leaves the Sun's light
            # time in; so it is asked at the moment that puts Jupiter where it was.
            path = here.to_sun_km if from_sun else here.to_observer_km
            light_days = np.linalg.norm(path) / LIGHT_KM_PER_S / 86400.0
            x, y, _ = JupiterMoons.rectangular_positions_jovian_equatorial(
                Epoch(here.days[0] + 2451545.0 + light_days), solar=from_sun
            )[moon]
            x, y = np.array([x]) * E5_RADIUS_KM, np.array([y]) * E5_RADIUS_KM
            line = before_disc(JUPITER, np.array([moon]), np.array([from_sun]), here)
            edge = from_edge_km("jupiter", x, y, line.tilt_rad)
            own = from_edge_km("jupiter", line.x, line.y, line.tilt_rad)
            speed = JUPITER.speed_km_s[moon] * np.abs(x) / np.hypot(x, y)
            apart.append(float(np.abs(edge - own)[0] / speed[0]))
            shares.append(apart[-1] / table.doubt_s[k, j] / np.sqrt(2.0))  # both theories err
        seconds, share = np.array(apart), np.array(shares)
        print(
            f"{name:10s} {len(seconds)} passages, {np.sqrt((seconds**2).mean()):4.0f} s rms,"
            f" 90 % within {np.quantile(seconds, 0.9):4.0f} s, most {seconds.max():4.0f} s;"
            f" {100 * (share < 1).mean():3.0f} % within one error,"
            f" {100 * (share < 2).mean():3.0f} % within two"
        )


if __name__ == "__main__":
    places()
    times()
