"""How open are Saturn's rings, and which face is seen?

Radii of the rings: Explanatory Supplement to the Astronomical Almanac, 3rd ed. 2013, ch. 10 (outer
edge of A 136,775 km, inner edge of B 91,975 km, the wide gap 117,580 to 122,170 km; from memory).
"""

from __future__ import annotations

from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask
from axletree.sky.discs.look import disc
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import Ephemeris
from axletree.sky.positions.poles import RADIUS_KM
from axletree.sky.time.instants import Instants

OUTER_KM, INNER_KM = 136775.0, 91975.0
GAP_INNER_KM, GAP_OUTER_KM = 117580.0, 122170.0


class RingFace(Enum):
    """Which face of the rings is turned to the observer, and whether the Sun shines on it."""

    NORTH_LIT = "north_lit"
    SOUTH_LIT = "south_lit"
    NORTH_DARK = "north_dark"
    SOUTH_DARK = "south_dark"


@dataclass(frozen=True)
class Rings:
    """Saturn's rings; arrays (n,).

    `opening_deg`: the observer's height over the plane of the rings, positive when the north face
    is seen; `sun_deg` the Sun's. `outer_arcsec`, `inner_arcsec`, `gap_arcsec` (its middle) the long
    diameters; `short_over_long` how flat they look; `axis_deg` the position angle of the short
    axis's northern end, from celestial north through east. `lit`: the Sun shines on the face seen.
    """

    opening_deg: Floats
    sun_deg: Floats
    outer_arcsec: Floats
    inner_arcsec: Floats
    gap_arcsec: Floats
    gap_width_arcsec: Floats
    short_over_long: Floats
    axis_deg: Floats
    lit: Mask

    def face(self, k: int = 0) -> RingFace:
        """The face at instant `k`."""
        if self.opening_deg[k] >= 0.0:
            return RingFace.NORTH_LIT if self.lit[k] else RingFace.NORTH_DARK
        return RingFace.SOUTH_LIT if self.lit[k] else RingFace.SOUTH_DARK


def saturn_rings(
    instants: Instants, observer: Observer, ephemeris: Ephemeris | None = None
) -> Rings:
    """The rings as this observer sees them; they lie in the plane of Saturn's equator.

    Errors: opening 0.01 degrees, sizes 0.1 %. Definitions: J. Meeus, Astronomical Algorithms,
    2nd ed. 1998, ch. 45, here from vectors.
    """
    globe = disc("saturn", instants, observer, ephemeris)
    wide = globe.diameter_arcsec / RADIUS_KM["saturn"]
    opening, sun = globe.observer_latitude_deg, globe.sun_latitude_deg
    return Rings(
        opening_deg=opening,
        sun_deg=sun,
        outer_arcsec=wide * OUTER_KM,
        inner_arcsec=wide * INNER_KM,
        gap_arcsec=wide * 0.5 * (GAP_INNER_KM + GAP_OUTER_KM),
        gap_width_arcsec=0.5 * wide * (GAP_OUTER_KM - GAP_INNER_KM),
        short_over_long=np.abs(np.sin(np.radians(opening))),
        axis_deg=globe.axis_deg,
        lit=opening * sun > 0.0,
    )
