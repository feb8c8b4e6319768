"""How many points is each object worth in each slot of each of many nights?

The points of `worth` under the sky of that slot: its twilight, and the Moon where it stands then.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.ground_here import Ground
from axletree.evening.hosting.pace import show_seconds
from axletree.evening.night.first_light import DIM_THINGS_DEG
from axletree.evening.objects.light_wanted import FAINT_PLANETS_SUN_DEG
from axletree.evening.objects.not_offered import SHOWN_MARGIN
from axletree.evening.objects.worth import body_share, light_share, weighed, worth_of
from axletree.evening.offered.candidates import Candidates
from axletree.evening.offered.catalogues import BODIES
from axletree.evening.seeing.shows_from import sun_down_enough
from axletree.evening.seeing.visibility import SURE
from axletree.evening.year.night_samples import NAMES, NightSamples
from axletree.evening.year.sights import Sights, map_row, map_step, room_for_a_stop
from axletree.evening.year.slot_looks import looks_at
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices, Mask, Singles, Texts
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import DIM_PLANETS, FAINT_PLANETS
from axletree.sky.sun_rule import SunRule

# The Sun can come up in a stop, or just after it, only where it is no lower than this by morning.
_NEAR_SUNRISE_DEG = 12.0


@dataclass(frozen=True)
class SlotPoints:
    """Moon and planets, then the fixed objects that may get a stop: arrays (sessions, slots, n).

    `points` are minus infinity where the object does not show, `heights` degrees. `pleasure` of
    Moon and planets alone: their reward as they look then and stand, 0 to 100. `must` (n,) marks
    what must be seen; `lost` (sessions,) counts what must be seen and isn't there to be.
    """

    bodies: Candidates
    fixed: Candidates
    points: Singles
    heights: Singles
    pleasure: Singles
    must: Mask
    lost: Floats

    @property
    def themes(self) -> Texts:
        """Of all n objects."""
        return np.concatenate([self.bodies.themes, self.fixed.themes])


def slot_points(
    kit: Kit, observer: Observer, ground: Ground, sights: Sights, samples: NightSamples,
    seen_ids: frozenset[str],
) -> SlotPoints:  # fmt: skip
    """Points of everything in `sights`, and of Moon and planets, in every slot."""
    requested = sights.requested
    bodies = requested.candidates.take(np.flatnonzero(requested.candidates.source == 0))
    count, n = len(bodies), len(bodies) + len(sights)
    shape = (samples.shape[0], samples.slots, n)
    points, heights = np.empty(shape, np.float32), np.empty(shape, np.float32)
    body_height, share = _bodies(kit, observer, ground, samples)
    allowed = ~np.isin(np.array(bodies.ids, dtype=object), list(requested.excluded))
    sure = np.full(body_height.shape, SURE)
    worth = worth_of(kit, bodies, sure, body_height, seen_ids, share)
    points[:, :, :count] = np.where((body_height > 0.0) & allowed, weighed(kit, worth), -np.inf)
    heights[:, :, :count] = body_height
    pleasure = np.where(
        np.isfinite(points[:, :, :count]), worth.rewards * worth.comfort / 100.0, -np.inf
    )
    sun_down = -samples.of_body("sun", "altitude_true_deg")
    enough = sun_down_enough(
        sights.candidates.themes,
        sights.candidates.looks.magnitude,
        sun_down.max(axis=1, keepdims=True),
        sights.must,
    )
    for slot in range(samples.slots):  # one at a time: what fits into the cache is done at once
        looks = looks_at(sights, samples, [slot + 1])
        margin, height = looks.margin[:, 0], looks.height[:, 0]
        kept = light_share(sights.candidates.looks.sort, looks.darkest[:, 0] - margin)
        stands = worth_of(kit, sights.candidates, margin, height, seen_ids, kept)
        shows = margin >= SHOWN_MARGIN
        shows &= sun_down[:, slot + 1, np.newaxis] >= enough
        points[:, slot, count:] = np.where(shows, weighed(kit, stands), -np.inf)
        heights[:, slot, count:] = height
    held = np.isin(np.arange(len(bodies)), list(requested.must_rows))
    must = np.concatenate([held, sights.must])
    never = len(requested.must_rows) - int(must.sum())
    unseen = np.isneginf(points).all(axis=1)
    return SlotPoints(
        bodies=bodies,
        fixed=sights.candidates,
        points=points,
        heights=heights,
        pleasure=pleasure.astype(np.float32),
        must=must,
        lost=never + np.asarray(unseen)[:, must].sum(axis=1).astype(np.float64),
    )


def _bodies(
    kit: Kit, observer: Observer, ground: Ground, samples: NightSamples
) -> tuple[Floats, Floats]:
    """Moon and planets: open height (m, slots, bodies), 0 where closed, and share of their fame."""
    bodies = samples.bodies
    assert bodies.names == NAMES
    altitude, azimuth = bodies.altitude_deg[1:], bodies.azimuth_deg[1:]
    lowest = np.maximum(kit.habits.lowest_altitude_deg, ground.horizon.altitude_at(azimuth))
    show_s = show_seconds(kit)
    room = room_for_a_stop(ground.table, show_s)
    at = map_row(bodies.declination_deg[1:])
    clear = room[at, map_step(bodies.hour_angle_h[1:])]
    sun = bodies.altitude_true_deg[0]
    faint = np.isin(np.array(BODIES, dtype=object), FAINT_PLANETS)
    dim = np.isin(np.array(BODIES, dtype=object), DIM_PLANETS)
    lost = np.where(faint[:, np.newaxis], sun > FAINT_PLANETS_SUN_DEG, False)
    lost |= np.where(dim[:, np.newaxis], sun > -DIM_THINGS_DEG, False)
    is_open = np.logical_and(altitude > lowest, clear) & ~lost
    morning = (bodies.hour_angle_h[0] < 0.0) & (sun > -_NEAR_SUNRISE_DEG)
    near = np.flatnonzero(morning | (sun > -_NEAR_SUNRISE_DEG / 6.0))
    if len(near):
        rule = SunRule.of(kit, observer)
        closed = rule.closed(samples.instants[near], azimuth[:, near], altitude[:, near], show_s)
        is_open[:, near] &= ~closed
    m, k = samples.shape
    height = np.where(is_open, altitude, 0.0).reshape(len(BODIES), m, k)[:, :, 1:-1]
    share = body_share(bodies)[1:].reshape(len(BODIES), m, k)[:, :, 1:-1]
    return np.moveaxis(height, 0, 2), np.moveaxis(share, 0, 2)


# Of each theme the best of each hour of right ascension are looked at slot by slot, and the best
# of all: what is worth less never gets a stop (ours; a test holds it).
_OF_EACH_HOUR, _OF_ALL = 4, 140


def promising(kit: Kit, sights: Sights) -> Indices:
    """Rows of the objects that may get a stop on some night, by what they are worth at best."""
    highest = np.where(sights.open, sights.altitude_deg, 0.0).max(axis=1)
    best = sights.darkest.max(axis=1)
    value = weighed(kit, worth_of(kit, sights.candidates, best, highest))
    value = np.where(sights.must, 1000.0, value)
    order = np.argsort(-value, kind="stable")
    kept = set(order[:_OF_ALL].tolist()) | set(np.flatnonzero(sights.must).tolist())
    count: dict[tuple[str, int], int] = {}
    for row in order.tolist():
        key = (str(sights.candidates.themes[row]), int(sights.ra_h[row]))
        if count.get(key, 0) < _OF_EACH_HOUR:
            count[key] = count.get(key, 0) + 1
            kept.add(row)
    return np.array(sorted(kept), dtype=np.intp)
