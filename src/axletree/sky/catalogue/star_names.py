"""What are the stars called?

Public: ``hip_of(text)``, ``names_of(hip)``, ``all_names()``, ``coloured_hips()``,
``figures()`` (constellation lines as HIP numbers), ``pole_figures(north)``.
Hand-kept lists of our own: ``star_names.csv`` and ``star_figures.json``.
"""

from __future__ import annotations

import csv
import json
from dataclasses import fields
from functools import cache

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.catalogue.names import GENITIVES, GREEK, fold, fold_designation
from axletree.sky.catalogue.pole_star import SIGMA_OCTANTIS_HIP


@dataclass(frozen=True)
class StarName:
    """One row of the list: what one star is called, '' where it has no such name."""

    hip: int
    proper: str
    letter: str
    flamsteed: str
    constellation: str
    variable: str
    coloured: bool


@cache
def star_names() -> tuple[StarName, ...]:
    """The whole list, in the file's order."""
    with data_path("star_names.csv").open(encoding="utf-8", newline="") as file:
        rows = csv.reader(file)
        if next(rows) != [one.name for one in fields(StarName)]:
            raise ValueError("star_names.csv has other columns than a StarName")
        return tuple(
            StarName(int(hip), proper, letter, flamsteed, constellation, variable, bool(coloured))
            for hip, proper, letter, flamsteed, constellation, variable, coloured in rows
        )


def hip_of(text: str) -> int | None:
    """HIP number of the star of this proper name, Bayer letter or Flamsteed number, or None."""
    index = _index()
    designation = fold_designation(text)
    if designation in index:
        return index[designation]
    if designation and len(designation) == 4:
        # 'n car' typed small may mean N Carinae; a capital, as in 'U Car', is meant as one.
        capital = designation[0].upper() + designation[1:]
        found = index.get(capital) if designation.islower() else None
        return found or index.get(fold(text) if len(fold(text)) > 4 else capital)
    return index.get(fold(text))


def names_of(hip: int) -> tuple[str, ...]:
    """What this star is called, the name to print first: ('Vega', 'α Lyrae', '3 Lyrae')."""
    star = _by_hip().get(hip)
    if star is None:
        return ()
    proper = tuple(star.proper.split(";") if star.proper else [])
    if hip == SIGMA_OCTANTIS_HIP:  # everywhere by its letter, as the pole's star is called
        return _designations(star) + proper
    return proper + _designations(star)


def all_names() -> list[str]:
    """Every proper name in the list."""
    return [name for star in star_names() for name in star.proper.split(";") if name]


def coloured_hips() -> list[int]:
    """HIP numbers of the stars worth showing for their colour."""
    return [star.hip for star in star_names() if star.coloured]


@cache
def figures() -> dict[str, tuple[tuple[int, ...], ...]]:
    """Lines of the constellation figures: for each constellation, chains of HIP numbers."""
    data = json.loads(data_path("star_figures.json").read_text(encoding="utf-8"))
    return {
        name: tuple(tuple(chain) for chain in chains)
        for name, chains in data["constellations"].items()
    }


@cache
def pole_figures(north: bool) -> dict[str, tuple[tuple[int, ...], ...]]:
    """Figures that lead to the pole: Big Dipper and Cassiopeia, or Southern Cross and others."""
    data = json.loads(data_path("star_figures.json").read_text(encoding="utf-8"))
    return {
        name: tuple(tuple(chain) for chain in chains)
        for name, chains in data["north" if north else "south"].items()
    }


def _designations(star: StarName) -> tuple[str, ...]:
    genitive = GENITIVES[star.constellation]
    words = []
    if star.letter:
        word, figure = (
            star.letter.rstrip("0123456789"),
            star.letter.lstrip("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"),
        )
        words.append(f"{GREEK.get(word, word)}{figure.translate(_RAISED)} {genitive}")
    if star.flamsteed:
        words.append(f"{star.flamsteed} {genitive}")
    if star.variable:
        words.append(f"{star.variable} {genitive}")
    return tuple(words)


_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


@cache
def _by_hip() -> dict[int, StarName]:
    return {star.hip: star for star in star_names()}


@cache
def _index() -> dict[str, int]:
    """Folded spelling -> HIP; a brighter star (earlier row) keeps a shared spelling."""
    found: dict[str, int] = {}
    for star in star_names():
        short = star.constellation.casefold()
        for name in star.proper.split(";"):
            found.setdefault(fold(name), star.hip)
        if star.letter:
            found.setdefault(star.letter + short, star.hip)
            # 'alpha Cen' means the brighter of alpha1 and alpha2.
            found.setdefault(star.letter.rstrip("0123456789") + short, star.hip)
        if star.flamsteed:
            found.setdefault(star.flamsteed + short, star.hip)
        if star.variable:
            # Never shorter than two letters, or with the genitive: no clash with 'r Car'.
            found.setdefault(star.variable + short, star.hip)
            found.setdefault(fold(star.variable + GENITIVES[star.constellation]), star.hip)
            if len(star.variable) > 1:
                found.setdefault(fold(star.variable) + short, star.hip)
    found.pop("", None)
    return found
