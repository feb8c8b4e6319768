"""Which double stars are worth showing?

Public: ``DoubleArrays``, ``doubles()``, ``row_of_hip(hip)``, ``row_named(text)``.  Two files
feed it: ``doubles_gaia.csv``, measured in the Gaia DR3 list (separation, angle and magnitudes of
2016.0), and ``doubles_own.csv``, pairs too bright or too close for it, written down from memory.
"""

from __future__ import annotations

import csv
from dataclasses import fields
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Texts
from axletree.sky.catalogue.names import fold, fold_designation
from axletree.sky.catalogue.star_names import names_of as star_names_of
from axletree.sky.catalogue.stars import hipparcos_table, star_index

FILES = ("doubles_gaia.csv", "doubles_own.csv")


@dataclass(frozen=True)
class DoubleArrays:
    """Double stars as parallel arrays, ordered by right ascension; NaN is 'not known'.

    ``name`` is the one to print, ``names`` all of them joined by semicolons.
    ``ra_deg, dec_deg``: the brighter star, ICRS, J2000.0; with its proper motion.
    ``hip``: 0 where the brighter star has none.  ``magnitude_v``: of the brighter star alone.
    ``position_angle_deg``: from the brighter to the fainter star, from north through east.
    ``year``: of the separation and the angle.  ``note``: what a person sees, or ''.
    """

    name: Texts
    names: Texts
    hip: Ints
    ra_deg: Floats
    dec_deg: Floats
    pm_ra_cosdec_mas_yr: Floats
    pm_dec_mas_yr: Floats
    constellation: Texts
    magnitude_v: Floats
    companion_magnitude_v: Floats
    separation_arcsec: Floats
    position_angle_deg: Floats
    colour_bv: Floats
    companion_colour_bv: Floats
    year: Floats
    note: Texts

    def __len__(self) -> int:
        return len(self.ra_deg)

    def take(self, which: NDArray[Any] | slice) -> DoubleArrays:
        """The pairs at these indices, or where this mask is true, in that order."""
        return DoubleArrays(**{f.name: getattr(self, f.name)[which] for f in fields(self)})


@cache
def doubles() -> DoubleArrays:
    """All double stars, brighter star V 7.0 at faintest, separation 1.8 to 63 arcseconds."""
    rows = sorted(_rows(), key=lambda row: (float(row["ra_deg"]), row["name"]))

    def words(name: str) -> Texts:
        return np.array([row[name] for row in rows], dtype=object)

    def numbers(name: str) -> Floats:
        return np.array([float(row[name]) if row[name] else np.nan for row in rows])

    texts = {"name", "names", "constellation", "note"}
    columns: dict[str, Any] = {
        f.name: words(f.name) if f.name in texts else numbers(f.name) for f in fields(DoubleArrays)
    }
    columns["hip"] = np.nan_to_num(columns["hip"]).astype(np.int64)
    return DoubleArrays(**columns)


def row_of_hip(hip: int) -> int | None:
    """Row of the pair whose brighter star has this HIP number."""
    if hip <= 0 or not any(f"\n{hip}," in _text(name) for name in FILES):
        return None
    return int(np.flatnonzero(doubles().hip == hip)[0])


def row_named(text: str) -> int | None:
    """Row whose name or designation means the same as this text."""
    wanted = {fold(text), fold_designation(text)} - {None}
    for at, names in enumerate(doubles().names):
        if any(wanted & {fold(name), fold_designation(name)} for name in names.split(";")):
            return at
    return None


@cache
def _text(file_name: str) -> str:
    return data_path(file_name).read_text(encoding="utf-8")


def _rows() -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for file_name in FILES:
        found += csv.DictReader(_text(file_name).splitlines())
    for row in found:
        hip = int(row["hip"] or 0)
        if not row["ra_deg"]:
            row.update(_place(hip))
        # The star's own name goes before the name of the pair; a bare number gives way to both.
        own = [name for name in row["name"].split(";") if not name.startswith("HIP ")]
        names = list(dict.fromkeys([*star_names_of(hip)[:1], *own])) or [row["name"]]
        row["name"], row["names"] = names[0], ";".join(names)
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
