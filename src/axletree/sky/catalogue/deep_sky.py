"""Which clusters, nebulae and galaxies are there?

Public: ``DeepSkyArrays``, ``deep_sky()``, ``find_row(text)``, ``row(at)``, ``all_names()``.
The file is OpenNGC with its slips mended (CC BY-SA 4.0, see data/SOURCES.md).
"""

from __future__ import annotations

import csv
import re
from dataclasses import fields
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Texts
from axletree.sky.catalogue.names import fold, fold_designation


@dataclass(frozen=True)
class DeepSkyArrays:
    """Deep-sky objects as parallel arrays, ordered by catalogue identifier; NaN is 'not known'.

    ``ra_deg, dec_deg``: ICRS, J2000.0.  ``position_angle_deg``: of the long axis, from north
    through east.  ``surface_brightness_mag_arcsec2``: galaxies, mean within the 25 mag/arcsec2
    isophote.  ``magnitude_v`` is as catalogued; ``magnitude_v_guess`` fills its gaps with
    B minus the median B-V of objects of the same kind (scatter about 0.3 mag for galaxies).
    ``messier``: 'M31' or ''.  ``names`` and ``aliases``: texts joined by semicolons.
    """

    catalogue_id: Texts
    kind: Texts
    ra_deg: Floats
    dec_deg: Floats
    constellation: Texts
    size_major_arcmin: Floats
    size_minor_arcmin: Floats
    position_angle_deg: Floats
    magnitude_b: Floats
    magnitude_v: Floats
    surface_brightness_mag_arcsec2: Floats
    hubble_type: Texts
    central_star_magnitude_v: Floats
    messier: Texts
    names: Texts
    aliases: Texts
    magnitude_v_guess: Floats

    def __len__(self) -> int:
        return len(self.ra_deg)

    def take(self, which: NDArray[Any] | slice) -> DeepSkyArrays:
        """The objects at these indices, or where this mask is true, in that order."""
        return DeepSkyArrays(**{f.name: getattr(self, f.name)[which] for f in fields(self)})


@cache
def deep_sky() -> DeepSkyArrays:
    """The whole catalogue, about 13,400 objects (60 ms the first time, then at once)."""
    columns = list(zip(*_rows(), strict=True))
    values: dict[str, Any] = {}
    for field, column in zip(fields(DeepSkyArrays), columns, strict=True):
        if field.type == "Texts":
            values[field.name] = np.array(column, dtype=object)
        else:
            values[field.name] = np.array([float(text) if text else np.nan for text in column])
    return DeepSkyArrays(**values)


def row(at: int) -> list[str]:
    """Row `at` of ``deep_sky()`` as the file's texts, in the order of ``DeepSkyArrays``' fields."""
    return _rows()[at]


def find_row(text: str) -> list[str] | None:
    """The row of 'NGC 7000', 'IC 434', 'M31', any alias or everyday name, however spaced.

    Of several objects with one name the Messier object wins, then the brighter.
    """
    return (
        _by_designation(text)
        or _by_name().get(fold(text))
        or _by_name().get(fold_designation(text) or "")
    )


def all_names() -> list[str]:
    """Every everyday name in the catalogue."""
    return [name for row in _rows() for name in row[14].split(";") if name]


def _by_designation(text: str) -> list[str] | None:
    """Found by searching the file's text, so that one object costs 2 ms and not 40."""
    match = re.fullmatch(r"\s*([A-Za-z]+)[\s-]*0*(\d+)\s*(.*?)\s*", text)
    if match is None:
        return None
    word = {"messier": "M", "mel": "Mel", "melotte": "Mel", "cr": "Cr", "collinder": "Cr"}.get(
        match[1].casefold(), match[1].upper()
    )
    rest = f" {match[3].upper()}" if match[3][1:] else match[3].upper()
    wanted = [rf"\n{re.escape(f'{word} {match[2]}{rest}')},"]
    if word == "M" and not rest:
        wanted.insert(0, rf",M{match[2]},")
    wanted.append(rf"[,;]{re.escape(f'{word} {match[2]}{rest}')}[;,]")
    raw = _raw()
    for pattern in wanted:
        if found := re.search(pattern, raw):
            start = raw.rfind("\n", 0, found.start() + 1) + 1
            return next(csv.reader([raw[start : raw.index("\n", start)]]))
    return None


@cache
def _raw() -> str:
    return data_path("deep_sky.csv").read_text(encoding="utf-8")


@cache
def _rows() -> list[list[str]]:
    return list(csv.reader(_raw().splitlines()))[1:]


@cache
def _by_name() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    named = sorted((row for row in _rows() if row[14]), key=_prominence)
    for row in named:
        for name in row[14].split(";"):
            found.setdefault(fold(name), row)
            # 'Omega Centauri' and '47 Tucanae' are clusters that bear a star's designation.
            if short := fold_designation(name):
                found.setdefault(short, row)
    for row in named:
        found.setdefault(fold(row[0]), row)
    return found


def _prominence(row: list[str]) -> tuple[bool, float]:
    return (not row[13], float(row[16] or 99.0))
