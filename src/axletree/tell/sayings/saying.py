"""Of what is a saying made?"""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple


class DistanceSource(Enum):
    """What a saying's distance was checked against (tests/outside/test_sayings_distances.py)."""

    MEMORY = "memory"  # nothing: it is from memory
    STAR_PARALLAX = "star_parallax"  # Hipparcos, the New Reduction, as the catalogue has it
    MEMBER_PARALLAX = "member_parallax"  # Gaia DR2, of a cluster's stars or a nebula's own one
    GLOBULARS = "globulars"  # H. Baumgardt and E. Vasiliev 2021
    COMPANIONS = "companions"  # satellite galaxies, A. Helmi and others (Gaia) 2018
    REDSHIFT = "redshift"  # roughly, from how fast it flies away


class Saying(NamedTuple):
    """`what` it is, how far (light years, None where that changes or is poorly known), one
    `fact` (from memory), and against what the distance was checked."""

    what: str
    light_years: float | None
    fact: str
    known: DistanceSource = DistanceSource.MEMORY
