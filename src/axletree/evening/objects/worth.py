"""How many points is a stop worth to this audience?

Points from 0 to 100: what people remember (fame), how well it shows (margin), how high it
stands, the person's themes, and what was shown lately. The points are ours; they only rank. The
evening and the calendar count with the same ones.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.objects.candidates import FIRST_LOOKS, Pool
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats
from axletree.sky.positions.bodies import BodyPositions

SEEN_LATELY = 0.7
# Sizes at which these planets please a newcomer, arcseconds: common practice, no source.
MARS_ARCSEC, VENUS_ARCSEC, RINGS_DEG = 14.0, 25.0, 15.0


def points(
    kit: Kit,
    pool: Pool,
    margin_mag: Floats,
    height_deg: Floats,
    seen_ids: frozenset[str] = frozenset(),
    share: Floats | float = 1.0,
) -> Floats:
    """Points of the pool's objects; margins, heights and shares are (..., objects).

    `share` is what of its fame an object keeps on that night (see `body_share`). `seen_ids` were
    shown on earlier evenings: they lose points, they are not forbidden.
    """
    clear = np.clip(margin_mag, 0.0, 2.0) / 2.0
    high = np.sin(np.radians(np.maximum(height_deg, 0.0)))
    value = 0.62 * pool.fame * share + 14.0 * clear + 12.0 * high
    if kit.habits.observer == "newcomer":
        # Newcomers see what is bright; faint smudges disappoint.
        value = value - 8.0 * np.clip(1.0 - margin_mag, 0.0, 1.0)
    themes = set(kit.habits.themes)
    if "anything" not in themes:
        fits = np.isin(pool.themes, list(themes))
        if "first looks" in themes:
            fits |= np.array([n in FIRST_LOOKS or i in FIRST_LOOKS
                              for n, i in zip(pool.names, pool.ids, strict=True)])  # fmt: skip
        value = np.where(fits, value * 1.3, value * 0.45)
    if seen_ids:
        seen = np.isin(np.array(pool.ids, dtype=object), list(seen_ids))
        value = np.where(seen, value * SEEN_LATELY, value)
    return np.asarray(np.clip(value, 0.5, 100.0))


def body_share(bodies: BodyPositions) -> Floats:
    """What of their fame Moon and planets keep as they look now, (bodies, instants), 0 to 1.

    The Moon is best with long shadows, near the quarters; full it is flat and dazzles. Mars and
    Venus need size, Saturn open rings (common practice, no source; the figures are ours).
    """
    out = np.ones(bodies.diameter_arcsec.shape)
    for k, name in enumerate(bodies.names):
        size = bodies.diameter_arcsec[k]
        if name == "moon":
            out[k] = 0.55 + 0.45 * np.sin(np.radians(bodies.phase_angle_deg[k]))
        elif name == "mars":
            out[k] = np.clip(size / MARS_ARCSEC, 0.35, 1.0)
        elif name == "venus":
            out[k] = np.clip(size / VENUS_ARCSEC, 0.5, 1.0)
        elif name == "saturn":
            open_rings = np.clip(np.abs(bodies.ring_tilt_deg[k]) / RINGS_DEG, 0.0, 1.0)
            out[k] = 0.8 + 0.2 * open_rings
    return out
