"""Which stars and clusters may the Moon and the planets meet?

Stars of the belt that the Moon wanders through, by brightness; clusters of our own choosing, those
that a small telescope shows beside a bright neighbour.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.sky.catalogue.objects import find
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.catalogue.stars import stars as catalogue_stars
from axletree.sky.directions import vector_from_angles
from axletree.sky.positions.ephemeris import PLANETS
from axletree.sky.positions.stars import Stars
from axletree.sky.special.watch import Neighbours

# The Moon's centre reaches 5.3 degrees from the ecliptic; a degree of parallax, a radius.
_BELT_DEG = 6.7
_ECLIPTIC_POLE = np.array([0.0, -0.397777, 0.917482])  # of J2000.0
# Who stands beside a bright neighbour and is still something to look at (ours).
CLUSTERS = ("M45", "M44", "M35", "M8", "M22")
# Beside the Moon only the two that its light leaves something of (ours).
CLUSTERS_BESIDE_MOON = ("M45", "M44")
MEETING_STAR_LIMIT_MAG = 2.2
OCCULTED_STAR_LIMIT_MAG = 4.0


@cache
def occulted(limit_mag: float = OCCULTED_STAR_LIMIT_MAG) -> Neighbours:
    """The planets, and the stars of the belt to this magnitude."""
    names, stars, _ = belt_stars(limit_mag)
    return Neighbours(PLANETS, stars, PLANETS + names)


@cache
def met(limit_mag: float = MEETING_STAR_LIMIT_MAG) -> Neighbours:
    """The planets, the brightest stars of the belt, and the clusters."""
    names, stars, _ = belt_stars(limit_mag)
    places = [find(name) for name in CLUSTERS]
    both = Stars.of(
        np.concatenate([stars.ra_deg, [p.ra_deg for p in places]]),
        np.concatenate([stars.dec_deg, [p.dec_deg for p in places]]),
    )
    return Neighbours(PLANETS, both, (*PLANETS, *names, *CLUSTERS))


@cache
def belt_stars(limit_mag: float) -> tuple[tuple[str, ...], Stars, tuple[float, ...]]:
    """Names, places and magnitudes of the stars within the Moon's reach, from bright to faint."""
    if limit_mag > 6.5:
        raise AxletreeError(f"stars to magnitude 6.5 are asked for, not {limit_mag:g}")
    every = catalogue_stars(limit_mag)
    high = np.degrees(np.arcsin(vector_from_angles(every.ra_deg, every.dec_deg) @ _ECLIPTIC_POLE))
    chosen = every.take(np.abs(high) < _BELT_DEG)
    names = tuple(
        (names_of(int(n)) or (f"HIP {n}",))[0] if not gaia else f"Gaia {n}"
        for n, gaia in zip(chosen.number, chosen.from_gaia, strict=True)
    )
    stars = Stars.of(
        chosen.ra_deg,
        chosen.dec_deg,
        pm_ra_cosdec_mas_yr=chosen.pm_ra_cosdec_mas_yr,
        pm_dec_mas_yr=chosen.pm_dec_mas_yr,
        parallax_mas=chosen.parallax_mas,
        radial_velocity_km_s=chosen.radial_velocity_km_s,
        epoch_year=chosen.epoch_year,
    )
    return names, stars, tuple(float(v) for v in chosen.magnitude_v)
