"""How bright is a comet or a minor planet, and how wide is a comet's coma?

Public: ``magnitudes``, ``coma_arcmin``, ``COMET_SIGMA_MAG``, ``MINOR_PLANET_SIGMA_MAG``,
``COMA_KM``,
``COMA_FACTOR``, ``COMET_SIGHT_SIGMA_MAG``, ``COMA_HALF_PART``, ``COMA_INDEX``.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.sky.arrays import Floats
from axletree.sky.orbits.orbit import Orbit

AU_KM = 149597870.7
USUAL_G = 0.15  # where a minor planet's G isn't given: IAU commission 20, 1985
USUAL_K = 4.0  # where a comet's k isn't given: the old r^-4 law
# How far magnitudes from published H and G, g and k lie from what is seen (from memory: minor
# planets turn and H is uneven; comets brighten and fade as they like).
MINOR_PLANET_SIGMA_MAG, COMET_SIGMA_MAG = 0.3, 1.0
# A coma's width in small telescopes, and the factor within which it is known (common practice, no
# source): some 10^5 km. The elements say nothing of it.
COMA_KM, COMA_FACTOR = 150_000.0, 2.0
# So the margin by which a comet shows is known no better than this (ours: its light, its width).
COMET_SIGHT_SIGMA_MAG = 1.5
# Dust that streams out evenly dims as one over the distance from the middle: half of the light lies
# in half of the width, gathered as by this Sersic index.
COMA_HALF_PART, COMA_INDEX = 0.5, 3.0
MOST_PHASE_DEG = 150.0


def magnitudes(
    orbits: Sequence[Orbit], from_sun_au: Floats, distance_au: Floats, sun_distance_au: Floats
) -> Floats:
    """Total visual magnitudes (n, m) before extinction; nan where the elements give none.

    `from_sun_au` r and `distance_au` Delta from the observer (n, m), `sun_distance_au` R of the
    observer from the Sun (m,). Comets: m1 = g + 5 log Delta + 2.5 k log r. Minor planets: the H-G
    law, E. Bowell et al. 1989, Asteroids II, p. 524, equations A4 and A5, its band taken as V.
    """
    comet = np.array([orbit.comet for orbit in orbits], dtype=np.bool_)[:, np.newaxis]
    H = _column([orbit.absolute_magnitude for orbit in orbits], np.nan)
    slope = np.where(comet, USUAL_K, USUAL_G)
    slope = np.where(
        [[orbit.slope is not None] for orbit in orbits],
        _column([orbit.slope for orbit in orbits], 0.0), slope,
    )  # fmt: skip
    r, delta, R = from_sun_au, distance_au, sun_distance_au
    cosine = np.clip((r * r + delta * delta - R * R) / (2.0 * r * delta), -1.0, 1.0)
    # The law is held against phases up to 120 degrees; beyond nobody looks so near the Sun.
    half = np.tan(0.5 * np.minimum(np.arccos(cosine), np.radians(MOST_PHASE_DEG)))
    phi1, phi2 = np.exp(-3.33 * half**0.63), np.exp(-1.87 * half**1.22)
    shares = np.where(comet, 1.0, np.maximum((1.0 - slope) * phi1 + slope * phi2, 1e-6))
    as_comet = 5.0 * np.log10(delta) + 2.5 * slope * np.log10(r)
    as_stone = 5.0 * np.log10(r * delta) - 2.5 * np.log10(shares)
    return np.asarray(H + np.where(comet, as_comet, as_stone))


def _column(values: Sequence[float | None], missing: float) -> Floats:
    return np.array([missing if v is None else v for v in values], dtype=np.float64)[:, np.newaxis]


def coma_arcmin(distance_au: float) -> float:
    """The assumed width of a comet's coma as seen from this distance, within `COMA_FACTOR`."""
    return float(np.degrees(COMA_KM / (distance_au * AU_KM))) * 60.0
