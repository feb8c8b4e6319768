"""Which stars does a person recognise without a chart, to begin a way at, and set a circle on?"""

from __future__ import annotations

from functools import cache

from axletree.find.person import BRIGHT_STAR_MAG, Skill
from axletree.sky.catalogue.star_names import star_names
from axletree.sky.contrast import naked_eye_limit_mag

# How much brighter than the faintest one that shows a star must be, to stand out (our figure).
STANDS_OUT_MAG = 2.0


@cache
def stars_with_own_name() -> frozenset[int]:
    """HIP numbers of the stars that have a name of their own, not a letter alone."""
    return frozenset(star.hip for star in star_names() if star.proper)


def recognised_mag(sky_mag_arcsec2: float, skill: Skill) -> float:
    """The faintest star, dimmed by the air, that this person recognises under this sky."""
    faintest = float(naked_eye_limit_mag(sky_mag_arcsec2, skill.field_factor))
    return min(BRIGHT_STAR_MAG, faintest - STANDS_OUT_MAG)
