"""Which stars show the way to each pole, and how faint can be seen through the polar scope?"""

from __future__ import annotations

from functools import cache

import numpy as np

from axletree.kit.mount import PolarScope
from axletree.sky.names import GENITIVES
from axletree.sky.star_list import StarArrays, stars
from axletree.sky.star_names import names_of, pole_figures

DEEPEST_MAG = 9.0
NIGHT_PUPIL_MM = 7.0

# Figures for the naked eye that show the direction of the pole, then the one around the pole star.
_GUIDES = {True: ("Big Dipper", "Cassiopeia"), False: ("Southern Cross", "Achernar")}
_AROUND = {True: "Little Dipper", False: "Sigma Octantis group"}
_SHORT = {genitive: short for short, genitive in GENITIVES.items()}


def limit_through(scope: PolarScope, naked_eye_limit_mag: float) -> float:
    """Faintest star that this polar scope shows, never beyond magnitude 9.

    The naked eye's limit plus 5 log10(aperture / 7 mm): light grasp over a dark pupil of 7 mm.
    Along a hollow axis, and beside the head where there is nothing to look through, the naked
    eye's own. A scope whose aperture isn't known draws all stars to magnitude 9.
    """
    if scope.kind != "scope":
        return naked_eye_limit_mag
    if scope.aperture_mm is None:
        return DEEPEST_MAG
    gain = 5.0 * float(np.log10(scope.aperture_mm / NIGHT_PUPIL_MM))
    return min(DEEPEST_MAG, naked_eye_limit_mag + max(gain, 0.0))


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
