"""Two sentences to say to visitors: of known objects, their distances as the catalogue has them."""

from __future__ import annotations

import re

import pytest

from axletree.evening.objects.candidates import FIRST_LOOKS
from axletree.sky.catalogue.objects import find
from axletree.tell.sayings.saying import Saying
from axletree.tell.sayings.text import SAYINGS, distance_words, sayings_of

LIGHT_YEARS_A_PARSEC = 3.26156
# Largest distances at which Hipparcos knows a parallax to some tenth.
_NEAR_LY = 1_500.0


def test_most_first_looks_have_a_saying() -> None:
    assert len(SAYINGS) >= 90
    named = {name[:1].upper() + name[1:] for name in FIRST_LOOKS}
    assert len(named & SAYINGS.keys()) >= 0.85 * len(named)


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


STARS = {name: saying for name, saying in SAYINGS.items() if (find(name).parallax_mas or 0.0) > 1.0}


@pytest.mark.parametrize("name", sorted(STARS))
def test_a_stars_distance_is_that_of_its_parallax(name: str) -> None:
    """Hipparcos, new reduction (van Leeuwen 2007), within the rounding told (3 %)."""
    saying: Saying = STARS[name]
    assert saying.light_years is not None
    assert saying.light_years < _NEAR_LY
    reckoned = 1000.0 / find(name).parallax_mas * LIGHT_YEARS_A_PARSEC
    assert saying.light_years == pytest.approx(reckoned, rel=0.03)


def test_stars_were_checked() -> None:
    assert len(STARS) >= 15


def test_globular_clusters_and_galaxies_lie_where_such_things_lie() -> None:
    """From memory: galaxies beyond two million light years (but our companions), globular clusters
    5,000 to 100,000, open clusters below 15,000."""
    bounds = {
        "globular cluster": (5_000, 100_000),
        "open cluster": (100, 15_000),
        "planetary nebula": (300, 10_000),
    }
    seen = set()
    for name, saying in SAYINGS.items():
        kind = find(name).kind
        low, high = bounds.get(kind, (2e6, 1e8) if kind.startswith("galaxy") else (0, 0))
        if high:
            assert saying.light_years is not None
            assert low <= saying.light_years <= high, name
            seen.add(kind)
    assert seen >= set(bounds)


def test_distances_are_told_short() -> None:
    assert distance_words(8.6) == "about 8.6 light years"
    assert distance_words(430) == "about 430 light years"
    assert distance_words(37_000) == "about 37,000 light years"
    assert distance_words(2.5e6) == "about 2.5 million light years"
    assert sayings_of("HIP 1") == ()
