"""Which star leads to each pole, and how bright is the faint one?"""

from __future__ import annotations

POLARIS_HIP, SIGMA_OCTANTIS_HIP = 11767, 104382
SIGMA_OCTANTIS_MAG = 5.45


def pole_star_hip(north: bool) -> int:
    """The Hipparcos number of the star by which the elevated pole is found."""
    return POLARIS_HIP if north else SIGMA_OCTANTIS_HIP


def pole_star_name(north: bool) -> str:
    """Its name."""
    return "Polaris" if north else "σ Octantis"
