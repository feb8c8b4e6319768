"""Which stars to V 10 stand in this patch of sky?

Public: ``stars_around(ra_deg, dec_deg, radius_deg, limit_mag)``, ``FAINTEST_MAG``.  Three files
are asked: Hipparcos to V 9, Gaia where Hipparcos has gaps, and Gaia to V 10 for all that both
lack.  The last is sorted by zones of one degree of declination, inside a zone by right ascension,
so that a patch is a few slices of it.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from axletree.data import data_path
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.catalogue.stars import StarArrays, gap_table, hipparcos_table, star_arrays

FAINTEST_MAG = 10.0
FAINT_EPOCH_YEAR = 2016.0
ZONES = 180
_DEGREES = 360.0 / 2.0**32  # a unit of the file's angles
_ROUNDING_MAG = 1e-5  # magnitudes are stored in single precision
# Of the fainter stars one in a thousand is brighter than this: those are looked through at once.
_FEW_TO_MAG = 8.0
# To this magnitude the naked eye asks, for the widest patches: a tenth of the bright files.
_NAKED_EYE_TO_MAG = 6.6


@cache
def faint_table() -> NDArray[np.void]:
    """The file of the fainter stars, mapped into memory: nothing is read until it is touched."""
    return np.asarray(np.load(data_path("stars_faint.npy"), mmap_mode="r"))


def stars_around(
    ra_deg: float, dec_deg: float, radius_deg: float, limit_mag: float = FAINTEST_MAG
) -> StarArrays:
    """Every star within `radius_deg` of a place (ICRS, degrees), bright to faint, to `limit_mag`.

    Complete to V 10, and to no fainter limit. A star is counted by its place in the lists (J2000.0,
    the fainter ones J2016.0), so that one that moves fast may stand just over the edge. Numbers of
    the fainter stars are their rows in the file, less than zero and counted from -1; their
    constellation is left empty. Refuses a radius that is not between 0 and 90 degrees.
    """
    if not 0.0 < radius_deg <= 90.0:
        raise AxletreeError(f"a patch of sky of radius {radius_deg:g}° is not between 0 and 90°")
    centre = _unit(np.asarray(ra_deg, dtype=np.float64), np.asarray(dec_deg, dtype=np.float64))
    span = (dec_deg - radius_deg, dec_deg + radius_deg)
    square = _Square(span, ra_deg, _half_width_deg(span, radius_deg))
    kept = []
    for which, table in enumerate(_bright_tables()):
        part = table[_rows(which, square, limit_mag)]
        kept.append(part[_within(part["ra_deg"], part["dec_deg"], centre, radius_deg)])
    return star_arrays(kept).joined(_faint(centre, square, radius_deg, limit_mag))


@dataclass(frozen=True)
class _Square:
    """What holds a circle on the sky: its declinations, its middle, half its width (degrees)."""

    span: tuple[float, float]
    ra_deg: float
    half_deg: float


def _bright_tables() -> tuple[NDArray[np.void], NDArray[np.void]]:
    return hipparcos_table(), gap_table()


@cache
def _by_declination(
    which: int, naked_eye: bool
) -> tuple[Indices, Floats, Floats, NDArray[np.float32]]:
    """Rows of one of the bright files from south to north, where they stand and how bright; only
    the naked eye's, a tenth of them, or all."""
    table = _bright_tables()[which]
    if naked_eye:
        table = table[: np.searchsorted(table["magnitude_v"], _NAKED_EYE_TO_MAG, side="right")]
    dec = np.ascontiguousarray(table["dec_deg"])
    order = np.argsort(dec)
    ra, magnitude = (np.ascontiguousarray(table[name])[order] for name in ("ra_deg", "magnitude_v"))
    return order, ra, dec[order], magnitude


def _rows(which: int, square: _Square, limit_mag: float) -> Indices:
    """Rows inside the circle's square: few, so that whole rows are fetched for few."""
    naked_eye = limit_mag + _ROUNDING_MAG <= _NAKED_EYE_TO_MAG
    order, ra, dec, magnitude = _by_declination(which, naked_eye)
    first, last = np.searchsorted(dec, square.span)
    away = np.abs((ra[first:last] - square.ra_deg + 180.0) % 360.0 - 180.0)
    shows = magnitude[first:last] <= limit_mag + _ROUNDING_MAG
    return order[first:last][shows & (away <= square.half_deg)]


def _unit(ra_deg: Floats, dec_deg: Floats) -> Floats:
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    return np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], axis=-1)


def _within(ra_deg: Floats, dec_deg: Floats, centre: Floats, radius_deg: float) -> Mask:
    """Which stand inside the circle; a chord is exact where a cosine isn't."""
    across = _unit(ra_deg, dec_deg) - centre
    chord2 = np.einsum("ij,ij->i", across, across)
    return np.asarray(chord2 <= (2.0 * np.sin(np.radians(radius_deg) / 2.0)) ** 2)


@cache
def _zone_starts() -> Indices:
    """Where each zone of one degree begins in the file, and its end last (ZONES + 1,)."""
    zone = np.floor(np.asarray(faint_table()["dec"]) * _DEGREES + 90.0)
    return np.searchsorted(zone, np.arange(ZONES + 1))


@cache
def _few_bright() -> Indices:
    """Rows of the fainter stars' file to `_FEW_TO_MAG`."""
    return np.flatnonzero(faint_table()["v"] <= 1000.0 * _FEW_TO_MAG)


def _faint(centre: Floats, square: _Square, radius_deg: float, limit_mag: float) -> StarArrays:
    table = faint_table()
    rows = _few_bright() if limit_mag <= _FEW_TO_MAG else _in_zones(table["ra"], square)
    part = table[rows]
    ra, dec = part["ra"] * _DEGREES, part["dec"] * _DEGREES
    inside = _within(ra, dec, centre, radius_deg) & (part["v"] <= 1000.0 * limit_mag)
    count = int(inside.sum())
    none = np.zeros(count)
    return StarArrays(
        number=-1 - rows[inside],
        from_gaia=np.ones(count, dtype=bool),
        ra_deg=ra[inside],
        dec_deg=dec[inside],
        pm_ra_cosdec_mas_yr=none,
        pm_dec_mas_yr=none,
        parallax_mas=none,
        radial_velocity_km_s=none,
        epoch_year=np.full(count, FAINT_EPOCH_YEAR),
        magnitude_v=part["v"][inside] / 1000.0,
        colour_bv=np.full(count, np.nan),
        constellation=np.full(count, "", dtype="U3"),
    )


def _in_zones(ra: NDArray[np.uint32], square: _Square) -> Indices:
    """Rows inside the circle's square, all magnitudes."""
    starts, (south, north) = _zone_starts(), square.span
    first = max(int(np.floor(south + 90.0)), 0)
    last = min(int(np.floor(north + 90.0)), ZONES - 1)
    found = [
        rows
        for zone in range(first, last + 1)
        for rows in _slices(ra, int(starts[zone]), int(starts[zone + 1]), square)
    ]
    return np.concatenate(found)


def _half_width_deg(span: tuple[float, float], radius_deg: float) -> float:
    """Half the width in right ascension of a circle; all of it where a pole lies inside."""
    if span[0] <= -90.0 or span[1] >= 90.0:
        return 180.0
    middle = np.radians((span[0] + span[1]) / 2.0)
    return float(np.degrees(np.arcsin(np.sin(np.radians(radius_deg)) / np.cos(middle)))) + 1e-6


def _slices(ra: NDArray[np.uint32], start: int, end: int, square: _Square) -> list[Indices]:
    """Rows of one zone whose right ascension lies within the square's width."""
    if square.half_deg >= 180.0:
        return [np.arange(start, end)]
    west, east = ((square.ra_deg + way * square.half_deg) % 360.0 for way in (-1.0, 1.0))
    parts = [(west, east)] if west <= east else [(west, 360.0), (0.0, east)]
    zone = ra[start:end]
    out = []
    for low, high in parts:
        edges = np.minimum(np.array([low, high]) / _DEGREES, 2.0**32 - 1.0).astype(np.uint32)
        first, last = np.searchsorted(zone, edges)
        out.append(np.arange(start + first, start + last))
    return out
