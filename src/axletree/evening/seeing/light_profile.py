"""How does the light of a galaxy, a cluster or a nebula gather towards its middle?

Public: ``inner_parts``, ``half_light``, ``light_within``.

A catalogue gives the whole light and the whole size. The eye meets the brightest part first:
for the usual shapes the light within part of the size follows from published profiles.
"""

from __future__ import annotations

import math
from collections.abc import Callable

# Parts of the diameter that are tried, besides the whole.
PARTS = (0.05, 0.1, 0.2, 0.35, 0.6)

# Sizes of galaxies are those of the 25 mag/arcsec2 isophote in B.
# Discs: exponential, central brightness 21.65 (K. C. Freeman 1970, ApJ 160, 811): 3.09 scale
# lengths to that isophote.
_DISC_SCALES = (25.0 - 21.65) / 1.0857
# Bulges of spirals: exponential too, their half-light radius 0.13 of the disc's scale length
# (S. Courteau, R. S. de Jong and A. H. Broeils 1996, ApJ 457, L73; from memory).
_BULGE_SCALES = _DISC_SCALES / (0.13 / 1.678)
# Their share of the light (F. Simien and G. de Vaucouleurs 1986, ApJ 302, 564; from memory).
_BULGE_SHARE = {"early spiral": 0.30, "late spiral": 0.08}
# Ellipticals: the r^1/4 law (G. de Vaucouleurs 1948) with an effective brightness of about 22:
# 3.5 effective radii to the isophote.
_ELLIPTICAL_RADII = 3.5
# Globular clusters: H. C. Plummer 1911, MNRAS 71, 460, its core a quarter of the catalogued size
# (half-light radii of W. E. Harris 1996, AJ 112, 1487, over the sizes of this catalogue for M3,
# M13, M15, M22, M92: 0.14 to 0.5; from memory).
_PLUMMER_CORE = 0.25
# Nebulae lit by a star or a cluster within: brightness falls as the square of the distance from
# it. Flat to a tenth of the radius: ours; half of the light then lies within about 0.3.
_LIT_CORE = 0.1


def _exponential(scales: float) -> float:
    return 1.0 - (1.0 + scales) * math.exp(-scales)


def _fourth_root(radii: float) -> float:
    x = 7.669 * math.sqrt(math.sqrt(radii))
    return 1.0 - math.exp(-x) * sum(x**k / math.factorial(k) for k in range(8))


def _spiral(part: float, bulge: float) -> float:
    disc = _exponential(part * _DISC_SCALES)
    return bulge * _exponential(part * _BULGE_SCALES) + (1.0 - bulge) * disc


_WITHIN: dict[str, Callable[[float], float]] = {
    "late spiral": lambda f: _spiral(f, _BULGE_SHARE["late spiral"]),
    "early spiral": lambda f: _spiral(f, _BULGE_SHARE["early spiral"]),
    "elliptical": lambda f: _fourth_root(f * _ELLIPTICAL_RADII),
    "globular": lambda f: f**2 / (f**2 + _PLUMMER_CORE**2),
    "lit from inside": lambda f: (
        math.log(1.0 + (f / _LIT_CORE) ** 2) / math.log(1.0 + _LIT_CORE**-2)
    ),
}


def light_within(shape: str, part: float) -> float:
    """Share of the whole light within `part` (0 to 1) of the diameter.

    `shape` is "late spiral", "early spiral", "elliptical", "globular" or "lit from inside".
    """
    return _WITHIN[shape](part)


def inner_parts(shape: str) -> tuple[tuple[float, float], ...]:
    """(part of the diameter, share of the light) for the parts that are tried."""
    return tuple((part, light_within(shape, part)) for part in PARTS)


def half_light(shape: str) -> float:
    """The part of the diameter that holds half of the light."""
    low, high = 0.0, 1.5
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if light_within(shape, middle) < 0.5 else (low, middle)
    return (low + high) / 2.0
