"""What is said of the Moon's features: of all well known ones, and true by the list's own places.

The sentences are from memory. What they say of neighbours, shores and the edge of the disc is held
against the coordinates of the Gazetteer of Planetary Nomenclature (IAU, USGS) in the list.
"""

from __future__ import annotations

import re

import numpy as np
import pytest

from axletree.sky.lunar.features import MoonFeature, feature_vectors, moon_features
from axletree.sky.lunar.light import shows_by_shadow
from axletree.tell.eyepiece.moon_features_text import FEATURE_WORDS

MOON_RADIUS_KM = 1737.4
FEATURES = {feature.name: feature for feature in moon_features()}
VECTORS = dict(zip(FEATURES, feature_vectors(), strict=True))
# A neighbour lies no farther than this between the edges of both, degrees of the Moon's surface.
NEAR_DEG = 8.0
# Named for what they are, not as neighbours: rays like those of, thrown out by.
COMPARED = {("Kepler", "Copernicus"), ("Vallis Rheita", "Mare Nectaris")}
# From here on the disc's edge is 'near', from there it is 'the very edge': degrees from the middle.
EDGE_DEG, VERY_EDGE_DEG = 55.0, 70.0


def apart_deg(one: str, other: str) -> float:
    """Between the edges of both."""
    middle = np.degrees(np.arccos(np.clip(VECTORS[one] @ VECTORS[other], -1.0, 1.0)))
    sizes = (FEATURES[name].size_km / 2.0 / MOON_RADIUS_KM for name in (one, other))
    return float(middle - np.degrees(sum(sizes)))


def from_middle_deg(feature: MoonFeature) -> float:
    return float(np.degrees(np.arccos(VECTORS[feature.name][0])))


def named_in(name: str) -> list[str]:
    words = FEATURE_WORDS[name].replace("the Apennines", "Montes Apenninus")
    words = words.replace("The Straight Wall", "").replace("Straight Wall", "Rupes Recta")
    found = [other for other in FEATURES if re.search(rf"\b{re.escape(other)}\b", words)]
    return [other for other in found if other != name and (name, other) not in COMPARED]


def test_all_well_known_features_that_shadows_show_have_words() -> None:
    known = {f.name for f in moon_features() if f.rank <= 2 and shows_by_shadow(f)}
    assert len(known) >= 60
    assert known <= FEATURE_WORDS.keys() <= FEATURES.keys()


@pytest.mark.parametrize("name", sorted(FEATURE_WORDS))
def test_words_are_short_and_neighbours_are_near(name: str) -> None:
    words = FEATURE_WORDS[name]
    assert 25 < len(words) < 150
    assert words[0].isupper()
    assert not words.endswith(".")
    for other in named_in(name):
        assert apart_deg(name, other) < NEAR_DEG, (name, other)


def test_many_neighbours_were_measured() -> None:
    assert sum(len(named_in(name)) for name in FEATURE_WORDS) >= 30


def test_what_is_said_to_lie_at_the_edge_lies_there() -> None:
    near = [name for name, words in FEATURE_WORDS.items() if "near the edge" in words]
    very = [name for name, words in FEATURE_WORDS.items() if "at the very edge" in words]
    assert len(near) >= 5
    assert len(very) >= 3
    for name in near:
        assert from_middle_deg(FEATURES[name]) > EDGE_DEG, name
    for name in very:
        assert from_middle_deg(FEATURES[name]) > VERY_EDGE_DEG, name
    assert from_middle_deg(FEATURES["Sinus Medii"]) < 3.0
    assert abs(FEATURES["Lansberg"].latitude_deg) < 1.0
    assert FEATURES["Eudoxus"].size_km < FEATURES["Aristoteles"].size_km
    assert FEATURES["Autolycus"].size_km < FEATURES["Aristillus"].size_km
