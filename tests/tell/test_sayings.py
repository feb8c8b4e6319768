"""Two sentences to say to visitors: of known objects, their distances as the catalogue has them."""

from __future__ import annotations

import re

import pytest

from axletree.evening.offered.well_known import FIRST_LOOKS
from axletree.sky.catalogue.objects import find
from axletree.tell.sayings.text import SAYINGS, distance_words, sayings_of


def test_all_first_looks_have_a_saying() -> None:
    assert len(SAYINGS) >= 150
    named = {find(name).name for name in FIRST_LOOKS}
    assert len(named & SAYINGS.keys()) == len(named)


@pytest.mark.parametrize("name", sorted(SAYINGS))
def test_each_is_of_an_object_by_its_own_name_and_short(name: str) -> None:
    assert find(name).name == name
    first, second = sayings_of(name)
    for sentence in (first, second):
        assert 20 < len(sentence) < 190
        assert sentence.endswith(".")
        assert sentence[0].isupper()
    # A sentence each: a full stop ends it and stands nowhere within, but in figures.
    assert not re.search(r"\.\s", first)


def test_globular_clusters_and_galaxies_lie_where_such_things_lie() -> None:
    """From memory: galaxies beyond 150,000 light years, globular clusters
    5,000 to 100,000, open clusters below 15,000."""
    bounds = {
        "globular cluster": (5_000, 100_000),
        "open cluster": (100, 15_000),
        "planetary nebula": (300, 10_000),
    }
    seen = set()
    for name, saying in SAYINGS.items():
        kind = find(name).kind
        low, high = bounds.get(kind, (1.5e5, 1e8) if kind.startswith("galaxy") else (0, 0))
        if high:
            assert saying.light_years is not None
            assert low <= saying.light_years <= high, name
            seen.add(kind)
    assert seen >= set(bounds)


# What the word says of the brighter star's B-V (bounds of common practice, no source: a star of 0.0
# looks white, one of 0.6 yellowish, of 1.0 orange-yellow, of 1.4 orange, beyond red).
COLOURS = {
    "blue": (-0.5, 0.15),
    "white": (-0.4, 0.75),
    "yellow": (0.3, 1.2),
    "golden": (0.8, 1.4),
    "orange": (0.8, 1.7),
    "red": (1.1, 6.0),
}
COLOURED = {
    name: (match[1], find(name).colour_bv)
    for name, saying in SAYINGS.items()
    # Mira's B-V has the light of its hot companion in it.
    if name != "Mira"
    and find(name).kind in ("star", "double star")
    and (
        match := re.search(
            r"\b(blue|white|yellow|golden|orange|red)\b", saying.what.partition(" with ")[0]
        )
    )
}


@pytest.mark.parametrize("name", sorted(COLOURED))
def test_a_stars_colour_is_that_of_the_catalogue(name: str) -> None:
    word, colour = COLOURED[name]
    low, high = COLOURS[word]
    assert colour is not None
    assert low <= colour <= high


def test_many_colours_were_asked_for() -> None:
    assert len(COLOURED) >= 50
    assert {word for word, _ in COLOURED.values()} == set(COLOURS)


def test_twins_are_alike() -> None:
    twins = [name for name, saying in SAYINGS.items() if "alike as twins" in saying.what]
    assert len(twins) >= 4
    for name in twins:
        pair = find(name)
        assert pair.companion_magnitude_v - pair.magnitude_v < 0.4, name


# Where a sentence says how wide a thing is in the sky: arcminutes, from the catalogue's own size.
WIDTHS = {
    "M35": ("nearly as wide in the sky as the Moon", 20.0, 31.0),
    "NGC 3242": ("nearly as wide in the sky as Jupiter", 0.35, 0.8),
    "NGC 7293": ("nearly as wide in the sky as the Moon", 12.0, 31.0),
}


@pytest.mark.parametrize("name", sorted(WIDTHS))
def test_a_width_is_that_of_the_catalogue(name: str) -> None:
    words, low, high = WIDTHS[name]
    assert words in " ".join(sayings_of(name))
    assert low <= find(name).size_major_arcmin <= high


def test_distances_are_told_short() -> None:
    assert distance_words(8.6) == "about 8.6 light years"
    assert distance_words(430) == "about 430 light years"
    assert distance_words(37_000) == "about 37,000 light years"
    assert distance_words(2.5e6) == "about 2.5 million light years"
    assert sayings_of("HIP 1") == ()
