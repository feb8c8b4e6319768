"""Which fainter stars are there?  Gaia to V 10, less what the two files of brighter stars hold.

``stars_faint.npy``: ten bytes a star, so that 265,000 of them cost little to ship: right
ascension and declination of J2016.0 as parts of a turn (2**32 a turn, 0.3 mas), V in thousandths.
Sorted by zones of one degree of declination from the south, inside a zone by right ascension, so
that a patch of sky is a few slices. No proper motions: the package has none (its columns of
that name hold BP and RP magnitudes); the faintest stars rarely go 0.1 arcseconds a year.

V from G as in `stars.py`.  A Gaia star counts as one that is shipped already where it stands within
3 arcseconds of it, or within 15 and not 1.5 mag fainter (a wobbling pair seen as one).
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from scipy.spatial import cKDTree
from stars import (
    GAIA_EPOCH,
    MATCH_ARCSEC,
    gap_stars,
    hipparcos_at,
    hipparcos_stars,
    read_gaia,
    read_hipparcos,
    unit_vectors,
    v_from_g,
    without_false_twins,
)

FAINTEST = 10.0
SAME_ARCSEC, SAME_MAG = 3.0, 1.5
TURN = 2.0**32
RECORD = np.dtype([("ra", "<u4"), ("dec", "<i4"), ("v", "<u2")])


def shipped(columns: dict[str, np.ndarray], gaia: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Unit vectors at 2016.0 and V of every star of the two files of brighter stars."""
    stars, gaps = hipparcos_stars(columns), gap_stars(columns, gaia)
    at = {int(hip): k for k, hip in enumerate(columns["hip"])}
    rows = np.array([at[int(number)] for number in stars["number"]])
    ra, dec, *_ = hipparcos_at(columns, GAIA_EPOCH)
    theirs = unit_vectors(np.radians(gaps["ra_deg"]), np.radians(gaps["dec_deg"]))
    places = np.concatenate([unit_vectors(ra[rows], dec[rows]), theirs])
    return places, np.concatenate([stars["magnitude_v"], gaps["magnitude_v"]])


def faint_stars(columns: dict[str, np.ndarray], gaia: np.ndarray) -> np.ndarray:
    v = v_from_g(gaia)
    gaia, v = gaia[v <= FAINTEST], v[v <= FAINTEST]
    places, their_v = shipped(columns, gaia)
    here = unit_vectors(np.radians(gaia["ra"]), np.radians(gaia["dec"]))
    known = np.zeros(len(gaia), bool)
    tree = cKDTree(here)
    for place, bright in zip(places, their_v, strict=True):
        near = tree.query_ball_point(place, np.radians(MATCH_ARCSEC / 3600.0))
        apart = np.linalg.norm(here[near] - place, axis=-1)
        close = apart < np.radians(SAME_ARCSEC / 3600.0)
        known[near] |= close | (v[near] < bright + SAME_MAG)
    gaia, v = gaia[~known], v[~known]
    out = np.zeros(len(gaia), RECORD)
    out["ra"] = np.round(gaia["ra"] / 360.0 * TURN).astype(np.int64) % 2**32
    out["dec"] = np.round(gaia["dec"] / 360.0 * TURN)
    out["v"] = np.round(v * 1000.0)
    zone = np.floor(out["dec"] * (360.0 / TURN) + 90.0).astype(int)
    return out[np.lexsort((out["v"], out["ra"], zone))]


def main(out: Path) -> None:
    gaia = read_gaia()
    np.save(out / "stars_faint.npy", faint_stars(without_false_twins(read_hipparcos(), gaia), gaia))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
