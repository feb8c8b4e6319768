"""Which double stars are worth showing?

Public: ``DoubleArrays``, ``doubles()``, ``row_of_hip(hip)``, ``row_named(text)``.  Two files
feed it: ``doubles_gaia.csv``, measured in the Gaia DR3 list (separation, angle and magnitudes of
2016.0), and ``doubles_own.csv``, pairs too bright or too close for it, written down from memory.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, fields
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.data import data_path
from axletree.sky.names import fold, fold_designation
from axletree.sky.star_list import hipparcos_table, star_index

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class DoubleArrays:
    """Double stars as parallel arrays, ordered by right ascension; NaN is 'not known'.

    ``ra_deg, dec_deg``: the brighter star, ICRS, J2000.0; with its proper motion.
    ``position_angle_deg``: from the brighter to the fainter star, from north through east.
    ``year``: of the separation and the angle.  ``hip``: 0 where the brighter star has none.
    ``note``: what a person sees, in a few words, or ''.
    """

    name: NDArray[np.object_]
    hip: NDArray[np.int64]
    ra_deg: Floats
    dec_deg: Floats
    pm_ra_cosdec_mas_yr: Floats
    pm_dec_mas_yr: Floats
    constellation: NDArray[np.object_]
    magnitude_v: Floats
    companion_magnitude_v: Floats
    separation_arcsec: Floats
    position_angle_deg: Floats
    colour_bv: Floats
    companion_colour_bv: Floats
    year: Floats
    note: NDArray[np.object_]

    def __len__(self) -> int:
        return len(self.ra_deg)

    def take(self, which: NDArray[Any] | slice) -> DoubleArrays:
        """The pairs at these indices, or where this mask is true, in that order."""
        return DoubleArrays(**{f.name: getattr(self, f.name)[which] for f in fields(self)})


@cache
def doubles() -> DoubleArrays:
    """All double stars, brighter star V 7.0 at faintest, separation 1.8 to 63 arcseconds."""
    rows = sorted(_rows(), key=lambda row: (float(row["ra_deg"]), row["name"]))

    def words(name: str) -> NDArray[np.object_]:
        return np.array([row[name] for row in rows], dtype=object)

    def numbers(name: str) -> Floats:
        return np.array([float(row[name]) if row[name] else np.nan for row in rows])

    texts = {"name", "constellation", "note"}
    columns: dict[str, Any] = {
        f.name: words(f.name) if f.name in texts else numbers(f.name) for f in fields(DoubleArrays)
    }
    columns["hip"] = np.nan_to_num(columns["hip"]).astype(np.int64)
    return DoubleArrays(**columns)


def row_of_hip(hip: int) -> int | None:
    """Row of the pair whose brighter star has this HIP number."""
    at = np.flatnonzero(doubles().hip == hip) if hip else []
    return int(at[0]) if len(at) else None


def row_named(text: str) -> int | None:
    """Row whose name or designation means the same as this text."""
    wanted = {fold(text), fold_designation(text)} - {None}
    for at, names in enumerate(doubles().name):
        for name in names.split(";"):
            if wanted & {fold(name), fold_designation(name)}:
                return at
    return None


def _rows() -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for file_name in ("doubles_gaia.csv", "doubles_own.csv"):
        with data_path(file_name).open(encoding="utf-8", newline="") as file:
            found += csv.DictReader(file)
    for row in found:
        if not row["ra_deg"]:
            row.update(_place(int(row["hip"])))
    return found


def _place(hip: int) -> dict[str, str]:
    """Where a pair of our own list stands: at its Hipparcos star."""
    at = star_index(hip)
    if at is None:
        raise LookupError(f"doubles_own.csv names HIP {hip}, which is not in stars.npy")
    star = hipparcos_table()[at]
    names = ("ra_deg", "dec_deg", "pm_ra_cosdec_mas_yr", "pm_dec_mas_yr")
    return {name: repr(float(star[name])) for name in names} | {
        "constellation": star["constellation"].decode()
    }
