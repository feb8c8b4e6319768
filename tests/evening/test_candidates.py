"""What the candidates hold, and which of them count as first looks."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.evening.objects.twins import without_twins
from axletree.evening.objects.worth import varied
from axletree.evening.offered.catalogues import BODIES, all_candidates
from axletree.evening.offered.own import own_candidates
from axletree.evening.offered.well_known import FIRST_LOOKS, SHOWPIECE
from axletree.kit.kit import demo_kit
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.sky.catalogue.objects import SkyObject

CANDIDATES = all_candidates()


def test_every_first_look_is_an_object_of_the_candidates() -> None:
    """A name that the catalogues write otherwise would never be preferred, without a word."""
    known = {*CANDIDATES.names, *CANDIDATES.ids, *BODIES}
    assert sorted(FIRST_LOOKS - known) == []


# Showpieces of the southern sky and the northern winter: common practice, no source.
@pytest.mark.parametrize(
    "name",
    ["NGC 104", "NGC 5139", "NGC 3372", "NGC 4755", "NGC 3532", "Double Cluster", "NGC 7662",
     "ε² Lyrae", "γ² Velorum", "NGC 253", "NGC 5128", "NGC 6397", "NGC 6752"],
)  # fmt: skip
def test_showpieces_without_a_messier_number_count_as_such(name: str) -> None:
    fame = [f for n, f in zip(CANDIDATES.names, CANDIDATES.fame, strict=True) if n == name]
    assert max(fame) >= SHOWPIECE


# Great-circle distances of these places by the cosine rule: in degrees 0.0044, 0.008, 0.04, 0.03.
@pytest.mark.parametrize(
    ("one", "other", "twins"),
    [
        ((10.0, 89.5), (10.5, 89.5), True),
        ((359.995, 20.0), (0.0035, 20.0), True),
        ((83.0, 0.0), (83.04, 0.0), False),
        ((83.0, 10.0), (83.0, 10.03), False),
    ],
)
def test_twins_are_near_on_the_sphere_wherever_they_stand(
    one: tuple[float, float], other: tuple[float, float], twins: bool
) -> None:
    """A box in right ascension and declination is wide at the equator, a hair at the pole, and
    torn at the first point of Aries."""
    pair = own_candidates(
        [SkyObject(f"Entry {k}", "star", *at) for k, at in enumerate((one, other))]
    )
    for order in ([0, 1], [1, 0]):
        kept = without_twins(pair, np.array(order)).tolist()
        assert kept == (order[:1] if twins else order)


def test_of_many_the_best_known_stays_and_no_more_than_asked_for() -> None:
    order = np.argsort(-CANDIDATES.fame, kind="stable")
    kept = without_twins(CANDIDATES, order)
    assert len(set(kept.tolist())) == len(kept) < len(order)
    assert set(range(len(BODIES))) <= set(kept.tolist())
    assert without_twins(CANDIDATES, order, 5).tolist() == kept[:5].tolist()


def test_variety_takes_from_the_next_of_a_theme_and_from_no_planet() -> None:
    themes = np.array(["galaxies", "galaxies", "moon and planets", "moon and planets", "doubles"],
                      dtype=object)  # fmt: skip
    values = np.array([[50.0, 60.0, 90.0, 80.0, -np.inf], [0.6, 60.0, 90.0, 80.0, 7.0]])
    # The second of a theme loses a quarter of the 12 points that being different is worth.
    assert varied(demo_kit(), values, themes).tolist() == [
        [47.0, 60.0, 90.0, 80.0, -np.inf],
        [0.5, 60.0, 90.0, 80.0, 7.0],
    ]


def test_no_bright_galaxy_is_fainter_by_eye_than_in_blue() -> None:
    """B-V of galaxies lies between 0.3 and 1.1 (common practice, no source): V a whole magnitude
    fainter than B is a slip, as the source has it for NGC 253, 4565 and 4945. NGC 676 has a star
    before it, which B counts in."""
    listed = deep_sky()
    bright = (listed.kind == "galaxy") & (listed.magnitude_b < 10.5)
    odd = bright & (listed.magnitude_v > listed.magnitude_b + 0.7)
    assert set(listed.catalogue_id[odd]) == {"NGC 676"}
