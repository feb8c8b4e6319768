"""How is the Moon turned in space, 2020-2050?  An excerpt of the lunar angles of JPL DE421.

Chebyshev coefficients of the three Euler angles of the Moon's principal axes. The even spin is
taken out of the third angle, so that single precision holds the rest to 0.01 arcseconds.
"""

from __future__ import annotations

import sys
from importlib.util import find_spec
from pathlib import Path

import numpy as np

# As planets.bsp: a month of margin at both ends.
FIRST_JD, LAST_JD = 2458818.5, 2469866.5


def main(out: Path) -> None:
    folder = Path(find_spec("de421").submodule_search_locations[0])
    constants = {k.decode(): float(v) for k, v in np.load(folder / "constants.npy")}
    angles = np.load(folder / "jpl-librations.npy")
    start, stop = constants["jalpha"], constants["jomega"]
    days = (stop - start) / len(angles)
    first, last = (int((jd - start) // days) for jd in (FIRST_JD, LAST_JD))
    cut = angles[first : last + 1].copy()
    start += first * days
    # The middle of each row on the even spin; a Chebyshev row's own slope is its second number.
    middle = start + days * (np.arange(len(cut)) + 0.5) - 2451545.0
    # Rounded, so that every machine subtracts the same.
    rate = round((cut[-1, 2, 0] - cut[0, 2, 0]) / (middle[-1] - middle[0]), 9)
    spin = round(float(np.mean(cut[:, 2, 0] - rate * middle)), 6)
    cut[:, 2, 0] -= spin + rate * middle
    cut[:, 2, 1] -= rate * days / 2.0
    np.savez(
        out / "moon_turn.npz",
        start_jd=np.float64(start),
        days=np.float64(days),
        spin_rad=np.float64(spin),
        spin_rad_per_day=np.float64(rate),
        angles_rad=cut.astype(np.float32),
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
