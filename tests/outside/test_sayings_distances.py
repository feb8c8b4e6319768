"""The distances that are told to visitors, against published ones.

Sources stand at the head of `published_distances.csv`; those of stars are the parallaxes of
Hipparcos, the New Reduction (F. van Leeuwen 2007), in the house's own catalogue. A distance that is
marked as from memory is checked by nobody.
"""

from __future__ import annotations

import csv
from collections import Counter
from pathlib import Path

import pytest

from axletree.sky.catalogue.objects import find
from axletree.tell.sayings.saying import DistanceSource
from axletree.tell.sayings.text import SAYINGS

LIGHT_YEARS_A_PARSEC = 3.26156
GAIA_DR2_ZERO_MAS = 0.04
# Speed of light over a Hubble constant of 70 km/s/Mpc (between the measured 67 and 74).
HUBBLE_MEGAPARSEC = 299_792.458 / 70.0
# How far a told distance may lie from the published one: rounding of what is told, but for
# redshifts, from which neighbours' own motions (some 300 km/s) take a third at these distances.
WITHIN = {
    DistanceSource.STAR_PARALLAX: 0.03,
    DistanceSource.GLOBULARS: 0.04,
    DistanceSource.COMPANIONS: 0.04,
    DistanceSource.MEMBER_PARALLAX: 0.10,
    DistanceSource.REDSHIFT: 0.30,
}
CHECKED = sorted(
    name for name, saying in SAYINGS.items() if saying.known is not DistanceSource.MEMORY
)


def published() -> dict[str, tuple[DistanceSource, float]]:
    with open(Path(__file__).with_name("published_distances.csv"), encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return {row["name"]: (DistanceSource(row["known"]), float(row["value"])) for row in rows}


def light_years(known: DistanceSource, value: float) -> float:
    parsecs = {
        DistanceSource.STAR_PARALLAX: lambda: 1000.0 / value,
        DistanceSource.MEMBER_PARALLAX: lambda: 1000.0 / (value + GAIA_DR2_ZERO_MAS),
        DistanceSource.GLOBULARS: lambda: 1000.0 * value,
        DistanceSource.COMPANIONS: lambda: 1000.0 * value,
        DistanceSource.REDSHIFT: lambda: 1e6 * value * HUBBLE_MEGAPARSEC,
    }[known]()
    return parsecs * LIGHT_YEARS_A_PARSEC


@pytest.mark.parametrize("name", CHECKED)
def test_what_is_told_is_what_was_published(name: str) -> None:
    saying = SAYINGS[name]
    table = published()
    if saying.known is DistanceSource.STAR_PARALLAX:
        value = find(name).parallax_mas
    else:
        known, value = table[name]
        assert known is saying.known
    assert saying.light_years == pytest.approx(
        light_years(saying.known, value), rel=WITHIN[saying.known]
    )


def test_most_distances_were_checked_and_no_row_is_idle() -> None:
    """Five in six; of the others (nebulae above all) nobody's figure is at hand."""
    told = [saying for saying in SAYINGS.values() if saying.light_years is not None]
    counts = Counter(saying.known for saying in told)
    assert set(counts) == set(DistanceSource)
    assert counts[DistanceSource.MEMORY] <= len(told) / 6
    assert published().keys() == {
        name for name in CHECKED if SAYINGS[name].known is not DistanceSource.STAR_PARALLAX
    }
