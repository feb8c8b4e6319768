"""Is the sky dark enough for each object at each instant?

Public: ``light_allows``, ``planets_sun_down_deg``, ``FAINT_PLANETS_SUN_DEG``. Evening, list of
objects and year ask the same.
"""

from __future__ import annotations

from collections.abc import Sequence

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
    allows = dark_enough_for(candidates.themes, candidates.looks.magnitude, sun_altitude_deg, asked)
    return allows & (-sun_altitude_deg >= planets_sun_down_deg(candidates.ids)[:, np.newaxis])


def planets_sun_down_deg(ids: Sequence[str]) -> Floats:
    """How far the Sun must be down for the planets among these, (objects,); minus infinity for
    everything else."""
    names = np.array(ids, dtype=object)
    least = np.where(np.isin(names, DIM_PLANETS), DIM_THINGS_DEG, -np.inf)
    return np.where(np.isin(names, FAINT_PLANETS), -FAINT_PLANETS_SUN_DEG, least)
