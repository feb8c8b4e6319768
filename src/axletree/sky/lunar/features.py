"""Which features of the Moon are shown, and where do they lie?

Names of the IAU. Places and sizes of craters and seas of 50 km and more from the Gazetteer of
Planetary Nomenclature, to 0.01 degrees; the others from memory, to 0.5 degrees (see
data/SOURCES.md). The choice and the rank are ours.
"""

from __future__ import annotations

import csv
import functools
from enum import Enum

import numpy as np

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import vector_from_angles


class FeatureKind(Enum):
    """What a feature of the Moon is."""

    SEA = "sea"
    BAY = "bay"
    CRATER = "crater"
    MOUNTAINS = "mountains"
    MOUNTAIN = "mountain"
    CAPE = "cape"
    VALLEY = "valley"
    RILLE = "rille"
    SCARP = "scarp"
    RIDGE = "ridge"
    BRIGHT_SPOT = "bright spot"


@dataclass(frozen=True)
class MoonFeature:
    """One feature: selenographic latitude and longitude (mean-Earth axes, east positive) of its
    middle, degrees, with their error; size across, km; `rank` 1 (everybody's) to 3."""

    name: str
    kind: FeatureKind
    latitude_deg: float
    longitude_deg: float
    error_deg: float
    size_km: float
    rank: int


@functools.cache
def moon_features() -> tuple[MoonFeature, ...]:
    """All features of the list, in its order."""
    with open(data_path("moon_features.csv"), encoding="utf-8", newline="") as file:
        return tuple(
            MoonFeature(
                name=row["name"],
                kind=FeatureKind(row["kind"]),
                latitude_deg=float(row["latitude_deg"]),
                longitude_deg=float(row["longitude_deg"]),
                error_deg=0.01 if row["source"] == "gazetteer" else 0.5,
                size_km=float(row["size_km"]),
                rank=int(row["rank"]),
            )
            for row in csv.DictReader(file)
        )


@functools.cache
def feature_vectors() -> Floats:
    """Unit vectors (features, 3) from the Moon's centre, mean-Earth axes, in the list's order."""
    features = moon_features()
    return vector_from_angles(
        np.array([f.longitude_deg for f in features]), np.array([f.latitude_deg for f in features])
    )
