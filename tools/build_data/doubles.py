"""Which double stars are worth showing?  Pairs measured in the Gaia list, by a stated rule.

``doubles_gaia.csv``: separation, position angle and V magnitudes at 2016.0.  Stars: Gaia DR3 to
V 9.5, and Hipparcos stars carried to 2016.0 where Gaia has none (the very bright).  Of each star
to V 6.5 the brightest companion at 2-63 arcseconds is kept if people can see it well: the closer
the pair, the nearer alike the two must be, and a wide companion must be bright in itself.
Pairs that our own list (``doubles_own.csv``) describes are left to it.
"""

from __future__ import annotations

import csv
import math
import sys
from pathlib import Path

import numpy as np
from scipy.spatial import cKDTree
from stars import (
    bv_from_bprp,
    constellations,
    hipparcos_at,
    hipparcos_stars,
    read_gaia,
    read_hipparcos,
    unit_vectors,
    v_from_g,
    v_from_hp,
    without_false_twins,
)

FAINTEST, FAINTEST_COMPANION = 6.5, 8.6
CLOSEST_ARCSEC, WIDEST_ARCSEC = 2.0, 63.0
SAME_STAR_ARCSEC, SAME_STAR_MAG = 5.0, 1.2
# Gaia pairs this near to a pair of our own list are the same pair.
OWN_ARCSEC = 30.0
HEADER = (
    "hip", "name", "ra_deg", "dec_deg", "pm_ra_cosdec_mas_yr", "pm_dec_mas_yr", "constellation",
    "magnitude_v", "companion_magnitude_v", "separation_arcsec", "position_angle_deg",
    "colour_bv", "companion_colour_bv", "year", "note",
)  # fmt: skip


def worth_showing(brighter: float, fainter: float, separation_arcsec: float) -> bool:
    """Rule of our own: what an 80 mm telescope shows to a visitor without coaxing."""
    difference = fainter - brighter
    allowed = min(1.0 + 1.2 * math.log2(separation_arcsec), 4.5)
    wide = separation_arcsec > 30.0
    return (
        brighter <= FAINTEST
        and fainter <= (7.5 if wide else FAINTEST_COMPANION)
        and difference <= (3.0 if wide else allowed)
    )


def everything(columns: dict[str, np.ndarray], gaia: np.ndarray) -> dict[str, np.ndarray]:
    """Gaia to V 9.5 and the Hipparcos stars that it lacks, as one set at 2016.0."""
    gaia = gaia[v_from_g(gaia) <= 9.5]
    gaia_v = v_from_g(gaia)
    gaia_xyz = unit_vectors(np.radians(gaia["ra"]), np.radians(gaia["dec"]))
    ra, dec, *_ = hipparcos_at(columns, 2016.0)
    unknown = (columns["bv"] == 0) & (columns["bv_error"] == 0)
    bv = np.where(unknown, np.nan, columns["bv"])
    v = v_from_hp(columns["hp"], bv)
    xyz = unit_vectors(ra, dec)
    hip = np.zeros(len(gaia), int)
    extra = np.zeros(len(v), bool)
    tree = cKDTree(gaia_xyz)
    # Bright stars first, so that of two entries for one star the brighter has the choice.
    for i in np.argsort(v, kind="stable"):
        if v[i] > FAINTEST_COMPANION:
            break
        near = tree.query_ball_point(xyz[i], math.radians(SAME_STAR_ARCSEC / 3600))
        # Hipparcos may give the joint light of a pair: the star itself is up to 0.8 mag fainter.
        same = [j for j in near if abs(gaia_v[j] - v[i]) < SAME_STAR_MAG and hip[j] == 0]
        if same:
            hip[min(same, key=lambda j: (gaia_v[j], j))] = int(columns["hip"][i])
        else:
            extra[i] = v[i] <= FAINTEST
    return {
        "hip": np.concatenate([hip, columns["hip"][extra].astype(int)]),
        "v": np.concatenate([gaia_v, v[extra]]),
        "bv": np.concatenate([bv_from_bprp(gaia), bv[extra]]),
        "ra": np.concatenate([np.radians(gaia["ra"]), ra[extra]]),
        "dec": np.concatenate([np.radians(gaia["dec"]), dec[extra]]),
        "xyz": np.concatenate([gaia_xyz, xyz[extra]]),
    }


def separation_and_angle(s: dict[str, np.ndarray], i: int, j: int) -> tuple[float, float]:
    """Arcseconds, and degrees from north through east, of star j seen from star i."""
    chord = float(np.linalg.norm(s["xyz"][i] - s["xyz"][j]))
    dra = s["ra"][j] - s["ra"][i]
    y = math.sin(dra) * math.cos(s["dec"][j])
    x = math.cos(s["dec"][i]) * math.sin(s["dec"][j])
    x -= math.sin(s["dec"][i]) * math.cos(s["dec"][j]) * math.cos(dra)
    separation = math.degrees(2 * math.asin(chord / 2)) * 3600
    return separation, math.degrees(math.atan2(y, x)) % 360.0


def choose(s: dict[str, np.ndarray]) -> list[tuple[int, int, float, float]]:
    """(brighter, fainter, separation, angle) of the pairs kept; each star stands in one pair."""
    radius = 2 * math.sin(math.radians(WIDEST_ARCSEC / 3600) / 2)
    tree = cKDTree(s["xyz"])
    taken: set[int] = set()
    found = []
    for i in np.argsort(s["v"], kind="stable"):
        if s["v"][i] > FAINTEST:
            break
        if i in taken:
            continue
        for j in sorted(tree.query_ball_point(s["xyz"][i], radius), key=lambda k: (s["v"][k], k)):
            if j == i or j in taken or s["v"][j] < s["v"][i]:
                continue
            separation, angle = separation_and_angle(s, int(i), int(j))
            if separation < CLOSEST_ARCSEC:
                continue
            if worth_showing(float(s["v"][i]), float(s["v"][j]), separation):
                found.append((int(i), int(j), separation, angle))
                taken |= {int(i), int(j)}
                break
    return found


def own_place(row: dict[str, str], places: dict[int, np.void]) -> np.ndarray:
    """Unit vector of a pair in our own list, at 2016.0 near enough."""
    ra, dec, pmra, pmdec = (
        (float(row["ra_deg"]), float(row["dec_deg"]), 0.0, 0.0)
        if row["ra_deg"]
        else (float(places[int(row["hip"])][k]) for k in
              ("ra_deg", "dec_deg", "pm_ra_cosdec_mas_yr", "pm_dec_mas_yr"))
    )  # fmt: skip
    dec_rad = math.radians(dec + pmdec * 16 / 3.6e6)
    return unit_vectors(math.radians(ra + pmra * 16 / 3.6e6 / math.cos(dec_rad)), dec_rad)


def text(value: float, digits: int) -> str:
    return "" if math.isnan(value) else f"{value:.{digits}f}"


def main(out: Path, kept: Path) -> None:
    gaia = read_gaia()
    columns = without_false_twins(read_hipparcos(), gaia)
    s = everything(columns, gaia)
    places = {int(r["number"]): r for r in hipparcos_stars(columns)}
    with (kept / "doubles_own.csv").open(encoding="utf-8", newline="") as file:
        own = np.array([own_place(row, places) for row in csv.DictReader(file)])
    with (kept / "double_notes.csv").open(encoding="utf-8", newline="") as file:
        notes = {int(row["hip"]): row for row in csv.DictReader(file)}
    rows = []
    for i, j, separation, angle in choose(s):
        hip = int(s["hip"][i])
        if np.linalg.norm(own - s["xyz"][i], axis=1).min() < math.radians(OWN_ARCSEC / 3600):
            continue
        place = places.get(hip)
        # A brighter star that Hipparcos did not list is known by its companion's number.
        hip = hip or int(s["hip"][j])
        ra = float(place["ra_deg"]) if place is not None else math.degrees(s["ra"][i])
        dec = float(place["dec_deg"]) if place is not None else math.degrees(s["dec"][i])
        pm = [float(place[k]) if place is not None else 0.0
              for k in ("pm_ra_cosdec_mas_yr", "pm_dec_mas_yr")]  # fmt: skip
        short = constellations(np.array([ra]), np.array([dec]))[0]
        note = notes.get(hip, {"name": "", "note": ""})
        name = note["name"] or (f"HIP {hip}" if hip else f"Pair at {ra / 15:.2f} h {dec:+.1f} deg")
        rows.append((
            hip or "", name, f"{ra:.6f}", f"{dec:.6f}", f"{pm[0]:.1f}", f"{pm[1]:.1f}", short,
            text(s["v"][i], 2), text(s["v"][j], 2), f"{separation:.2f}", f"{angle:.1f}",
            text(s["bv"][i], 2), text(s["bv"][j], 2), "2016.0", note["note"],
        ))  # fmt: skip
    rows.sort(key=lambda row: (float(row[2]), row[1]))
    with (out / "doubles_gaia.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADER)
        writer.writerows(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
