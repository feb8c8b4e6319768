"""How many points is each object worth on each of many nights, and how many do the stops make?

The points of `worth`, times what an object still shows of its best look from here: under a Moon
a nebula keeps its name, not its wings.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.ground_here import Ground
from axletree.evening.hosting.pace import show_seconds
from axletree.evening.objects.candidates import BODIES, Candidates
from axletree.evening.objects.choosing import SHOWN_MARGIN
from axletree.evening.objects.worth import any_theme, body_share, varied, weighed, worth_of
from axletree.evening.seeing.visibility import PAIR, POINT, SURE
from axletree.evening.year.night_samples import NAMES, NightSamples
from axletree.evening.year.sights import (
    Sights,
    best_of_nights,
    map_row,
    map_step,
    room_for_a_stop,
)
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices, Mask

# What an object loses of its points with each magnitude below its own best from here (ours).
GLOW_LOSS_PER_MAG, STAR_LOSS_PER_MAG, LEAST_SHARE = 0.25, 0.08, 0.25


@dataclass(frozen=True)
class NightPoints:
    """Moon and planets, then the fixed objects: arrays (sessions, objects).

    `values` are points, minus infinity where the object does not show; `heights` the greatest
    in the session. `must` marks what must be seen; `lost` of those never show from here.
    """

    bodies: Candidates
    values: Floats
    heights: Floats
    must: Mask
    lost: int


def night_points(
    kit: Kit, ground: Ground, sights: Sights, samples: NightSamples, seen_ids: frozenset[str]
) -> NightPoints:
    """Points of everything in every session."""
    margin, height = best_of_nights(sights, samples, ground.table)
    clear, height_deg = margin.astype(np.float64), height.astype(np.float64)
    everything = sights.requested.candidates
    bodies = everything.take(np.flatnonzero(everything.source == 0))
    body_height, share = _bodies(kit, ground, samples)
    sure = np.full(body_height.shape, SURE)
    moving = weighed(kit, worth_of(kit, bodies, sure, body_height, seen_ids, share))
    fixed = weighed(kit, worth_of(kit, sights.candidates, clear, height_deg, seen_ids))
    fixed = fixed * _of_its_best(sights, clear)
    allowed = ~np.isin(np.array(bodies.ids, dtype=object), list(sights.requested.excluded))
    shows = np.concatenate([(body_height > 0.0) & allowed, margin >= SHOWN_MARGIN], axis=1)
    values = np.where(shows, np.concatenate([moving, fixed], axis=1), -np.inf)
    if any_theme(kit):
        values = varied(kit, values, np.concatenate([bodies.themes, sights.candidates.themes]))
    wanted = sights.requested.must_rows
    held = np.array([row in wanted for row in range(len(bodies))])
    must = np.concatenate([held, sights.must])
    heights = np.concatenate([body_height, height_deg], axis=1)
    return NightPoints(bodies, values, heights, must, len(wanted) - int(must.sum()))


def worth_of_nights(found: NightPoints, fitting: Floats, wanted: int) -> tuple[Floats, Indices]:
    """Score (sessions,) of 100 and the objects of each session, best first.

    What must be seen comes first, and leaves its place empty where it can't be seen. `fitting`
    stops fit into each session, the last one perhaps in part; `wanted` is the full number.
    """
    shown = np.where(np.isfinite(found.values), found.values, 0.0)
    rank = np.where(found.must, shown + 1000.0, found.values)
    order = np.argsort(-rank, axis=1, kind="stable")[:, :wanted]
    best = np.take_along_axis(shown, order, axis=1)
    place = np.arange(best.shape[1])
    counted = np.clip(fitting[:, np.newaxis] - found.lost - place, 0.0, 1.0)
    return np.asarray((best * counted).sum(axis=1) / wanted), order


def _bodies(kit: Kit, ground: Ground, samples: NightSamples) -> tuple[Floats, Floats]:
    """Moon and planets: greatest open height (m, bodies) and share of their fame."""
    m, k = samples.shape
    bodies = samples.bodies
    alt, azimuth = bodies.altitude_deg[1:], bodies.azimuth_deg[1:]
    lowest = np.maximum(kit.habits.lowest_altitude_deg, ground.horizon.altitude_at(azimuth))
    room = room_for_a_stop(ground.table, show_seconds(kit))
    at = map_row(ground.table, bodies.declination_deg[1:])
    clear = room[at, map_step(ground.table, bodies.hour_angle_h[1:])]
    height = np.where((alt > lowest) & clear, alt, 0.0).reshape(len(BODIES), m, k).max(axis=2)
    share = body_share(bodies)[1:].reshape(len(BODIES), m, k).mean(axis=2)
    assert bodies.names == NAMES
    return height.T, share.T


def _of_its_best(sights: Sights, margin: Floats) -> Floats:
    """What of its best look from here each object has in each session, (m, n), at most 1.

    A glow or a cluster loses more of itself with each magnitude of margin than a star does.
    """
    stars = np.isin(sights.candidates.looks.sort, (POINT, PAIR))
    per_mag = np.where(stars, STAR_LOSS_PER_MAG, GLOW_LOSS_PER_MAG)
    lost = np.maximum(sights.at_best - margin, 0.0)
    return np.asarray(np.maximum(1.0 - per_mag * lost, LEAST_SHARE))
