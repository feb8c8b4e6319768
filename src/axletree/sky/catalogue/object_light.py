"""How does the light of a catalogued object gather: half of it within what, and which stars first?

Public: ``Light``, ``light_of(ids)``.  Two files are read: object_light.csv (galaxies, globular
clusters, nebulae; CC BY-SA 4.0) and cluster_stars.csv (open clusters; CC BY-SA 3.0 IGO), see
data/SOURCES.md for what is measured, what is solved for and what is from memory.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from functools import cache

import numpy as np

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats


@dataclass(frozen=True)
class Light:
    """What is known of the light of n objects, arrays (n,); nan where nothing is.

    ``magnitude_v``: V where it is mended.  ``half_light_arcmin``: long diameter of the part that
    holds half of the light; ``axis_ratio``: its short over its long one.  ``profile_index``: Sersic
    index.  ``tenth_star_v``: V of the tenth star of an open cluster.  ``in_lines``: 1 where a
    nebula shines in lines, 0 where it mirrors the light of stars.
    """

    magnitude_v: Floats
    half_light_arcmin: Floats
    axis_ratio: Floats
    profile_index: Floats
    tenth_star_v: Floats
    in_lines: Floats


def light_of(ids: Sequence[str]) -> Light:
    """The light of catalogued objects by identifier ('NGC 224'), in that order."""
    row_of, table = _table()
    rows = [row_of.get(name, -1) for name in ids]
    return Light(*table[:, rows])


@cache
def _table() -> tuple[dict[str, int], Floats]:
    """The column of each identifier, and the columns (6, n + 1), the last one of nothing known."""
    known = _known()
    columns = np.array([*known.values(), (np.nan,) * 6], dtype=np.float64).T
    return {name: k for k, name in enumerate(known)}, np.ascontiguousarray(columns)


def _known() -> dict[str, tuple[float, ...]]:
    found: dict[str, tuple[float, ...]] = {}
    with data_path("cluster_stars.csv").open(encoding="utf-8", newline="") as file:
        for name, _, tenth, half in list(csv.reader(file))[1:]:
            found[name] = (np.nan, 2.0 * _number(half), 1.0, np.nan, _number(tenth), np.nan)
    with data_path("object_light.csv").open(encoding="utf-8", newline="") as file:
        for name, *figures, _ in list(csv.reader(file))[1:]:
            v, radius, ratio, index, lines = map(_number, figures)
            tenth_v = found[name][4] if name in found else np.nan
            found[name] = (v, 2.0 * radius, ratio, index, tenth_v, lines)
    return found


def _number(text: str) -> float:
    return float(text) if text else np.nan
