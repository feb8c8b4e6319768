"""How fast does a magnetic model go astray outside its five years?

Each World Magnetic Model that `pygeomag` carries is taken past its end and held against its
successor, and before its start against its predecessor: root mean square over 400 random places
of the horizontal field's sideways error. 2026-11-25:
  past the end, 0..5 years:   52 68 84 100 116 132 | 14 24 34 43 53 63 | 51 61 71 83 96 109 nT
  before the start, 0..5:     52 36 22  12  18  32 | 14  5  6 15 25 35 | 51 45 43 46 52  62 nT
so 10 to 16 nT a year are added; axletree.ground.magnetism takes 20.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
from pygeomag import GeoMag

MODELS = [("WMM_2010", 2010), ("WMM_2015v2", 2015), ("WMM_2020", 2020), ("WMM_2025", 2025)]


def sideways_nt(a: GeoMag, b: GeoMag, year: float) -> float:
    """Root mean square of H times the difference in declination."""
    rng = np.random.default_rng(1)
    errors = []
    for sine, longitude in zip(rng.uniform(-1, 1, 400), rng.uniform(-180, 180, 400), strict=True):
        at = (math.degrees(math.asin(sine)), longitude, 0.0, year)
        one = a.calculate(*at, allow_date_outside_lifespan=True)
        two = b.calculate(*at, allow_date_outside_lifespan=True)
        turn = (one.d - two.d + 180.0) % 360.0 - 180.0
        errors.append(math.radians(turn) * math.sqrt(one.h * two.h))
    return float(np.sqrt(np.mean(np.square(errors))))


def main() -> None:
    """Print the table of the docstring."""
    models = [(GeoMag(coefficients_file=f"wmm/{name}.COF"), year) for name, year in MODELS]
    for (old, _), (new, start) in itertools.pairwise(models):
        past = [f"{sideways_nt(old, new, start + k):4.0f}" for k in range(6)]
        before = [f"{sideways_nt(new, old, start - k):4.0f}" for k in range(6)]
        print(f"{start}: past the end {' '.join(past)} nT; before the start {' '.join(before)} nT")


if __name__ == "__main__":
    main()
