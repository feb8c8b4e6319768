"""Which stars show the way to each pole, and what are they called?"""

from __future__ import annotations

from functools import cache

import numpy as np

from axletree.sky.catalogue.names import GENITIVES
from axletree.sky.catalogue.star_names import names_of, pole_figures
from axletree.sky.catalogue.stars import StarArrays, stars

# Figures for the naked eye that show the direction of the pole, then the one around the pole star.
_GUIDES = {True: ("Big Dipper", "Cassiopeia"), False: ("Southern Cross", "Achernar")}
_AROUND = {True: "Little Dipper", False: "Sigma Octantis group"}
_SHORT = {genitive: short for short, genitive in GENITIVES.items()}


def short_name(hip: int) -> str:
    """'Polaris', 'δ UMi', or '' for a star without a name."""
    names = names_of(hip)
    if not names:
        return ""
    word, _, genitive = names[0].partition(" ")
    return f"{word} {_SHORT[genitive]}" if genitive in _SHORT else names[0]


@cache
def guide_stars(north: bool) -> tuple[tuple[str, StarArrays], ...]:
    """The figures that show the direction of the pole, each with its stars."""
    bright = stars(limit_mag=4.0, hipparcos_only=True)
    figures = pole_figures(north)
    return tuple(
        (name, bright.take(np.isin(bright.number, [h for chain in figures[name] for h in chain])))
        for name in _GUIDES[north]
    )


def around_pole_star(north: bool) -> tuple[tuple[int, ...], ...]:
    """Lines to recognise around the pole star, as chains of HIP numbers.

    North: the Little Dipper, whose handle ends in Polaris. South: sigma, chi, upsilon and tau
    Octantis, a kite with sigma nearest to the pole.
    """
    return pole_figures(north)[_AROUND[north]]
