"""Is the sky dark enough for each object at each instant?

Public: ``light_allows``, ``FAINT_PLANETS_SUN_DEG``. Evening and list of objects ask the same.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.night.first_light import DIM_THINGS_DEG
from axletree.evening.offered.candidates import Candidates
from axletree.evening.seeing.shows_from import dark_enough_for
from axletree.sky.arrays import Floats, Mask
from axletree.sky.positions.ephemeris import DIM_PLANETS, FAINT_PLANETS

# The Sun's altitude from which on faint planets are lost in twilight (common practice, no source).
FAINT_PLANETS_SUN_DEG = -10.0


def light_allows(
    candidates: Candidates, sun_altitude_deg: Floats, asked: Mask | bool = False
) -> Mask:
    """When twilight lets the objects be found and shown well, (objects, instants), the Sun (m,).

    What was `asked` for by name (objects,) is shown at the darkest in any case.
    """
    ids = np.array(candidates.ids, dtype=object)
    faint, dim = np.isin(ids, FAINT_PLANETS), np.isin(ids, DIM_PLANETS)
    allows = dark_enough_for(candidates.themes, candidates.looks.magnitude, sun_altitude_deg, asked)
    allows &= ~(faint[:, np.newaxis] & (sun_altitude_deg > FAINT_PLANETS_SUN_DEG))
    return allows & ~(dim[:, np.newaxis] & (sun_altitude_deg > -DIM_THINGS_DEG))
