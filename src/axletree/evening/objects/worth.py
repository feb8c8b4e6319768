"""How many points is a stop worth to this audience?

Points from 0 to 100: what people remember (fame), how well it shows (margin), how high it
stands, the person's themes, and what was shown lately. The points are ours; they only rank. The
evening and the calendar count with the same ones.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.objects.candidates import FIRST_LOOKS, Candidates
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Texts
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import BodyPositions, body_positions
from axletree.sky.time.instants import Instants

SEEN_LATELY = 0.7
# What each better object of the same theme takes from the next one's value (ours).
VARIETY_POINTS = 1.5
LEAST_POINTS = 0.5
# Sizes at which these planets please a newcomer, arcseconds: common practice, no source.
MARS_ARCSEC, VENUS_ARCSEC, RINGS_DEG = 14.0, 25.0, 15.0


def points(
    kit: Kit,
    candidates: Candidates,
    margin_mag: Floats,
    height_deg: Floats,
    seen_ids: frozenset[str] = frozenset(),
    share: Floats | float = 1.0,
) -> Floats:
    """Points of the candidates' objects; margins, heights and shares are (..., objects).

    `share` is what of its fame an object keeps on that night (see `body_share`). `seen_ids` were
    shown on earlier evenings: they lose points, they are not forbidden.
    """
    clear = np.clip(margin_mag, 0.0, 2.0) / 2.0
    high = np.sin(np.radians(np.maximum(height_deg, 0.0)))
    value = 0.62 * candidates.fame * share + 14.0 * clear + 12.0 * high
    if kit.habits.observer == "newcomer":
        # Newcomers see what is bright; faint smudges disappoint.
        value = value - 8.0 * np.clip(1.0 - margin_mag, 0.0, 1.0)
    themes = set(kit.habits.themes)
    if "anything" not in themes:
        fits = np.isin(candidates.themes, list(themes))
        if "first looks" in themes:
            fits |= np.array(
                [
                    name in FIRST_LOOKS or key in FIRST_LOOKS
                    for name, key in zip(candidates.names, candidates.ids, strict=True)
                ]
            )
        value = np.where(fits, value * 1.3, value * 0.45)
    if seen_ids:
        seen = np.isin(np.array(candidates.ids, dtype=object), list(seen_ids))
        value = np.where(seen, value * SEEN_LATELY, value)
    return np.asarray(np.clip(value, LEAST_POINTS, 100.0))


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


def fame_share(candidates: Candidates, instants: Instants, observer: Observer) -> Floats:
    """What of their fame the objects (n,) keep: all of it, but for Moon and planets.

    Those as they look in the middle of the instants.
    """
    share = np.ones(len(candidates))
    moving = np.flatnonzero(candidates.source == 0)
    if len(moving):
        names = [candidates.ids[i] for i in moving]
        middle = instants[len(instants) // 2]
        share[moving] = body_share(body_positions(names, middle, observer))[:, 0]
    return share


def any_theme(kit: Kit) -> bool:
    """True where the person wants a bit of everything."""
    return bool({"anything", "first looks"} & set(kit.habits.themes))


def varied(values: Floats, themes: Texts) -> Floats:
    """Points (..., objects) less a little for each better object of the same theme.

    Variety pleases a queue. Of what doesn't count (minus infinity) nothing is taken, and it takes
    nothing; nor do Moon and planets.
    """
    out = values.copy()
    for theme in set(themes.tolist()) - {"moon and planets"}:
        columns = np.flatnonzero(themes == theme)
        part = values[..., columns]
        order = np.argsort(-part, axis=-1, kind="stable")
        taken = VARIETY_POINTS * np.arange(len(columns))
        lessened = np.maximum(np.take_along_axis(part, order, axis=-1) - taken, LEAST_POINTS)
        np.put_along_axis(part, order, lessened, axis=-1)
        out[..., columns] = part
    return np.where(np.isfinite(values), out, -np.inf)
