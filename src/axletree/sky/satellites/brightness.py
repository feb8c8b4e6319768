"""How bright is a satellite whose standard magnitude somebody gives?"""

from __future__ import annotations

import numpy as np

from axletree.sky.arrays import Floats

# A satellite is no ball: so far from the law are what people see (from memory, no source).
SATELLITE_SIGMA_MAG = 1.0
STANDARD_KM = 1000.0


def satellite_magnitude(standard_mag: float, distance_km: Floats, phase_deg: Floats) -> Floats:
    """V at a distance and a phase angle (Sun-satellite-observer), before extinction; broadcast.

    `standard_mag` is that at 1,000 km and 90 degrees of phase. The light of a dull ball (J. H.
    Lambert 1760): (sin B + (180 - B) cos B) / pi of full, B the phase; it is 1 / pi at 90 degrees.
    """
    phase = np.radians(np.clip(phase_deg, 0.0, 179.0))
    share = np.sin(phase) + (np.pi - phase) * np.cos(phase)
    with np.errstate(divide="ignore"):
        dim = -2.5 * np.log10(np.maximum(share, 1e-9))
    return np.asarray(standard_mag + 5.0 * np.log10(distance_km / STANDARD_KM) + dim)
