"""How bright are the stars of the open clusters, and how closely do they stand?

``cluster_stars.csv`` (CC BY-SA 3.0 IGO, made from the star lists to V 10): the cluster's first and
tenth star in V, and the radius in arcminutes that holds half of its listed stars.  The stars are
those within half of the catalogued size, less what the ring around (1.3 to 2.2 times as wide) holds
of the field, star by star from the brightest on; no star that outshines the whole cluster counts.
Clusters with fewer than ten listed stars have no tenth, those with fewer than twelve no radius.
"""

from __future__ import annotations

import csv
import math
import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

KINDS = ("open cluster", "cluster with nebula")
RING = (1.3, 2.2)  # of the cluster's radius
TURN = 360.0 / 2.0**32  # the unit of angles in stars_faint.npy
HEADER = ("id", "first_star_v", "tenth_star_v", "half_arcmin")


def all_stars(out: Path) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Unit vectors (n, 3) and V (n,) of every listed star, bright to faint."""
    ra, dec, v = [], [], []
    for name in ("stars.npy", "stars_gaps.npy"):
        table = np.load(out / name)
        ra.append(table["ra_deg"])
        dec.append(table["dec_deg"])
        v.append(table["magnitude_v"].astype(float))
    faint = np.load(out / "stars_faint.npy")
    ra.append(faint["ra"] * TURN)
    dec.append(faint["dec"] * TURN)
    v.append(faint["v"] / 1000.0)
    a, d = np.radians(np.concatenate(ra)), np.radians(np.concatenate(dec))
    magnitude = np.concatenate(v)
    order = np.argsort(magnitude, kind="stable")
    unit = np.stack([np.cos(d) * np.cos(a), np.cos(d) * np.sin(a), np.sin(d)], axis=-1)
    return unit[order], magnitude[order]


def members(
    away: NDArray[np.float64], v: NDArray[np.float64], radius: float, total_v: float
) -> NDArray[np.intp]:
    """Indices of the stars that stand for the cluster, bright to faint."""
    inside = (away <= radius) & ~(v < total_v - 0.1)
    ring = (away > RING[0] * radius) & (away <= RING[1] * radius)
    share = 1.0 / (RING[1] ** 2 - RING[0] ** 2)
    kept: list[int] = []
    owed, seen = 0.0, 0.0  # field stars expected so far that were not yet taken away
    field = np.cumsum(ring) * share
    for k in np.flatnonzero(inside):
        owed += float(field[k]) - seen
        seen = float(field[k])
        if owed >= 1.0:
            owed -= 1.0
        else:
            kept.append(int(k))
    return np.array(kept, dtype=np.intp)


def main(out: Path) -> None:
    unit, v = all_stars(out)
    rows = []
    with (out / "deep_sky.csv").open(encoding="utf-8", newline="") as file:
        clusters = [r for r in csv.DictReader(file) if r["kind"] in KINDS and r["major_arcmin"]]
    for row in clusters:
        a, d = math.radians(float(row["ra_deg"])), math.radians(float(row["dec_deg"]))
        centre = np.array([math.cos(d) * math.cos(a), math.cos(d) * math.sin(a), math.sin(d)])
        radius = math.radians(float(row["major_arcmin"]) / 120.0)
        near = np.flatnonzero(unit @ centre > math.cos(min(RING[1] * radius * 1.01, 3.0)))
        away = 2.0 * np.arcsin(np.linalg.norm(unit[near] - centre, axis=1) / 2.0)
        total = float(row["magnitude_v"] or row["magnitude_v_guess"] or "-9")
        kept = members(away, v[near], radius, total)
        if len(kept) == 0:
            continue
        tenth = f"{v[near][kept[9]]:.1f}" if len(kept) >= 10 else ""
        half = f"{math.degrees(np.median(away[kept])) * 60.0:.3g}" if len(kept) >= 12 else ""
        rows.append((row["id"], f"{v[near][kept[0]]:.1f}", tenth, half))
    with (out / "cluster_stars.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADER)
        writer.writerows(sorted(rows))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
