"""Which stars are there, and where were they at J2000.0?

Public: ``StarArrays``, ``stars(limit_mag)``, ``pole_stars(north, radius_deg, limit_mag)``,
``star_arrays(parts)``, ``star_index(hip)``.  Two files feed it: the Hipparcos new reduction to
V 9.0 (V 10.0 within 6 degrees of a pole) and Gaia DR3 where Hipparcos has no star (to V 8.0, at
the poles V 10.0); what else there is to V 10 stands in ``stars_around``.
"""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask


@dataclass(frozen=True)
class StarArrays:
    """Stars as parallel arrays of one length, from bright to faint.

    ``ra_deg, dec_deg``: ICRS at the year ``epoch_year`` (2000.0; for the Gaia stars, whose proper
    motion is not known here, the place is that of 2016.0 and counts for any year).
    ``pm_ra_cosdec_mas_yr``: with the factor cos(dec).  ``radial_velocity_km_s``: 0 where unknown.
    ``colour_bv``: NaN where unknown.  ``number``: HIP number, or the Gaia DR3 source identifier
    where ``from_gaia``.  ``constellation``: three letters, by the boundaries of Roman 1987.
    """

    number: Ints
    from_gaia: Mask
    ra_deg: Floats
    dec_deg: Floats
    pm_ra_cosdec_mas_yr: Floats
    pm_dec_mas_yr: Floats
    parallax_mas: Floats
    radial_velocity_km_s: Floats
    epoch_year: Floats
    magnitude_v: Floats
    colour_bv: Floats
    constellation: NDArray[np.str_]

    def __len__(self) -> int:
        return len(self.number)

    def take(self, which: NDArray[Any] | slice) -> StarArrays:
        """The stars at these indices, or where this mask is true, in that order."""
        return StarArrays(**{f.name: getattr(self, f.name)[which] for f in fields(self)})

    def joined(self, other: StarArrays) -> StarArrays:
        """Both together, from bright to faint."""
        columns = {f.name: (getattr(self, f.name), getattr(other, f.name)) for f in fields(self)}
        together = StarArrays(**{name: np.concatenate(both) for name, both in columns.items()})
        return together.take(np.argsort(together.magnitude_v, kind="stable"))


@cache
def hipparcos_table() -> NDArray[np.void]:
    """The Hipparcos file mapped into memory: nothing is read until it is touched."""
    return np.asarray(np.load(data_path("stars.npy"), mmap_mode="r"))


@cache
def gap_table() -> NDArray[np.void]:
    """The Gaia file mapped into memory."""
    return np.asarray(np.load(data_path("stars_gaps.npy"), mmap_mode="r"))


def stars(limit_mag: float = 6.5, hipparcos_only: bool = False) -> StarArrays:
    """All stars with V at or under `limit_mag`, from bright to faint.

    Complete to about V 8 over the whole sky; beyond V 9 there are stars at the poles only.
    """
    tables = [hipparcos_table()] if hipparcos_only else [hipparcos_table(), gap_table()]
    return star_arrays([table[: _count_to(table, limit_mag)] for table in tables])


def pole_stars(north: bool, radius_deg: float = 6.0, limit_mag: float = 10.0) -> StarArrays:
    """Stars within `radius_deg` of the north or south pole of J2000.0, from bright to faint.

    Complete to V 10 up to 6 degrees away.
    """
    parts = []
    for table in (hipparcos_table(), gap_table()):
        head = table[: _count_to(table, limit_mag)]
        dec = head["dec_deg"] if north else -head["dec_deg"]
        parts.append(head[dec >= 90.0 - radius_deg])
    return star_arrays(parts)


@cache
def _numbers() -> NDArray[Any]:
    """HIP numbers without the columns between them: six times as quick to look through."""
    return np.ascontiguousarray(hipparcos_table()["number"])


def star_index(hip: int) -> int | None:
    """Row of a HIP number in the Hipparcos file, None if the star is too faint to be in it."""
    at = np.flatnonzero(_numbers() == hip)
    return int(at[0]) if len(at) else None


def _count_to(table: NDArray[np.void], limit_mag: float) -> int:
    # A hair over: the magnitudes are stored in single precision.
    return int(np.searchsorted(table["magnitude_v"], np.float32(limit_mag + 1e-5), side="right"))


def star_arrays(parts: list[NDArray[np.void]]) -> StarArrays:
    """Rows of the Hipparcos file and of the gap file, in this order, from bright to faint."""
    table = np.concatenate(parts)
    from_gaia = np.concatenate([np.full(len(p), at > 0) for at, p in enumerate(parts)])
    order = np.argsort(table["magnitude_v"], kind="stable")
    table, from_gaia = table[order], from_gaia[order]

    def column(name: str) -> Floats:
        return np.ascontiguousarray(table[name], dtype=np.float64)

    return StarArrays(
        number=np.ascontiguousarray(table["number"]),
        from_gaia=from_gaia,
        ra_deg=column("ra_deg"),
        dec_deg=column("dec_deg"),
        pm_ra_cosdec_mas_yr=column("pm_ra_cosdec_mas_yr"),
        pm_dec_mas_yr=column("pm_dec_mas_yr"),
        parallax_mas=column("parallax_mas"),
        radial_velocity_km_s=column("radial_velocity_km_s"),
        epoch_year=np.full(len(table), 2000.0),
        magnitude_v=column("magnitude_v"),
        colour_bv=column("colour_bv"),
        constellation=table["constellation"].astype("U3"),
    )
