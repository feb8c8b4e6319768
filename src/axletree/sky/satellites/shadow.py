"""Is a satellite in the Earth's shadow?

Rule: it is in the shadow (umbra) while the Earth's limb hides all of the Sun's disc, by straight
lines, no air. The Earth is the spheroid of WGS-84: stretched along its axis it becomes a sphere,
and the satellite and the Sun with it. The Sun's disc takes some 8 s to go behind the limb for a low
orbit, and the air reddens and dims it about as long before: what is seen fades, it isn't cut off.
"""

from __future__ import annotations

import numpy as np

from axletree.sky.arrays import Floats

EARTH_KM, FLATTENING = 6378.137, 1.0 / 298.257223563
SUN_KM = 695700.0  # IAU 2015 resolution B3
# How long the fading takes on either side of the moment of the rule (ours, for low orbits).
FADING_S = 8.0


def above_shadow_deg(satellite_km: Floats, sun_km: Floats) -> Floats:
    """How far the Sun's edge stands clear of the Earth's limb, degrees, seen from the satellite;
    negative in the umbra.

    `satellite_km` (..., 3) and `sun_km` (broadcast) from the Earth's centre, axes with z to the
    pole.
    """
    stretch = np.array([1.0, 1.0, 1.0 / (1.0 - FLATTENING)])
    place, sun = satellite_km * stretch, sun_km * stretch
    away = sun - place
    r, d = np.linalg.norm(place, axis=-1), np.linalg.norm(away, axis=-1)
    cosine = -np.sum(place * away, axis=-1) / (r * d)
    apart = np.arccos(np.clip(cosine, -1.0, 1.0))
    limb = np.arcsin(np.minimum(EARTH_KM / r, 1.0))
    return np.asarray(np.degrees(apart - limb + np.arcsin(SUN_KM / d)))
