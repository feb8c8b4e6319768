"""How do the Sun and the Moon lead to north, now and when they next cross the meridian?"""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np

from axletree.ground.north.method import Closed, Way, way
from axletree.ground.north.passages import Passage, body_passages
from axletree.ground.north.pointers import (
    Hands,
    Pointer,
    body_place,
    next_clear,
    pointer,
    shadow_parts,
    sight_parts,
)
from axletree.ground.skyline.skyline import Horizon
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.sun_rule import SUN_UP_DEG
from axletree.sky.time.instants import Instants

LOWEST_SHADOW_DEG = 2.0  # lower, the light is too weak and the shadow too long
MOON_SHADOW_LIT = 0.5  # a Moon less lit throws no shadow worth marking
MOON_SHADOW_SUN_DEG = -6.0
MOON_NEAREST_SUN_DEG = 20.0
A_DAY_H = 25.0


def sun_ways(
    observer: Observer, at: datetime, horizon: Horizon, hands: Hands, pole_azimuth_deg: float
) -> tuple[list[Way], list[Closed]]:
    """The Sun's shadow now, if it throws one, and its next passages of the meridian."""
    place = body_place("sun", observer)
    seen = pointer(place, at)
    ways: list[Way] = []
    closed: list[Closed] = []
    if _clear(seen, horizon):
        ways.append(
            way(
                "sun shadow", "the Sun's shadow", seen, pole_azimuth_deg,
                shadow_parts(seen, hands), now=True, shadow=True, needs_light=True,
                until=next_clear(place, horizon, at, A_DAY_H, rising=False),
            )
        )  # fmt: skip
    else:
        closed.append(_closed("the Sun's shadow", "the Sun", seen, horizon, at, observer, "sun"))
    low = 0
    for passage in _next_ones(body_passages(place, observer, at, A_DAY_H)):
        there = _at(passage)
        if not _clear(there, horizon):
            low += passage.upper
            continue
        ways.append(
            way(
                "sun on the meridian", "the Sun on the meridian", there, pole_azimuth_deg,
                shadow_parts(there, hands), now=False, shadow=True, needs_light=True,
                reason=_passage_reason(passage, there),
            )
        )  # fmt: skip
    if low and not any(w.kind == "sun on the meridian" for w in ways):
        closed.append(
            Closed("the Sun on the meridian", "it crosses below the skyline within the next day")
        )
    return ways, closed


def _next_ones(passages: list[Passage]) -> list[Passage]:
    """The next upper and the next lower one only."""
    first = {passage.upper: passage for passage in reversed(passages)}
    return sorted(first.values(), key=lambda passage: passage.at)


def _passage_reason(passage: Passage, there: Pointer) -> str | None:
    from_zenith = 90.0 - passage.altitude_deg
    if from_zenith < 10.0:
        return f"it passes {from_zenith:.1f}° from the zenith, the shadow is short and turns fast"
    if not passage.upper:
        return "the midnight Sun, below the pole"
    return None


def moon_ways(
    observer: Observer, at: datetime, horizon: Horizon, hands: Hands, pole_azimuth_deg: float
) -> tuple[list[Way], list[Closed]]:
    """The Moon now, by its shadow or sighted, and its next passages of the meridian."""
    place = body_place("moon", observer)
    seen = pointer(place, at)
    ways: list[Way] = []
    closed: list[Closed] = []
    if _clear(seen, horizon):
        item = _moon_way(observer, seen, hands, pole_azimuth_deg, now=True)
        if item is None:
            closed.append(Closed("the Moon", "too near the Sun to be seen"))
        else:
            ways.append(item)
    else:
        closed.append(_closed("the Moon", "the Moon", seen, horizon, at, observer, "moon"))
    for passage in _next_ones(body_passages(place, observer, at, A_DAY_H)):
        there = _at(passage)
        if _clear(there, horizon):
            item = _moon_way(observer, there, hands, pole_azimuth_deg, now=False)
            if item is not None:
                ways.append(item)
    return ways, closed


def _moon_way(
    observer: Observer, seen: Pointer, hands: Hands, pole_azimuth_deg: float, *, now: bool
) -> Way | None:
    both = body_positions(("moon", "sun"), Instants.from_datetime(seen.at), observer)
    if float(both.elongation_deg[0, 0]) < MOON_NEAREST_SUN_DEG:
        return None
    sun = float(both.altitude_true_deg[1, 0])
    lit = float(both.lit_fraction[0, 0])
    shadow = lit >= MOON_SHADOW_LIT and sun < MOON_SHADOW_SUN_DEG and seen.altitude_deg > 10.0
    parts = shadow_parts(seen, hands) if shadow else sight_parts(seen, hands)
    name = "the Moon's shadow" if shadow else "the Moon, sighted"
    return way(
        "moon" if now else "moon on the meridian",
        name if now else "the Moon on the meridian",
        seen, pole_azimuth_deg, parts, now=now, shadow=shadow, needs_light=sun > SUN_UP_DEG,
    )  # fmt: skip


def _at(passage: Passage) -> Pointer:
    return Pointer(passage.at, passage.azimuth_deg, passage.altitude_deg, passage.rate_deg_per_min)


def _clear(seen: Pointer, horizon: Horizon) -> bool:
    top = float(horizon.altitude_at(seen.azimuth_deg))
    return seen.altitude_deg > max(top, LOWEST_SHADOW_DEG)


def _closed(
    name: str, body: str, seen: Pointer, horizon: Horizon, at: datetime, observer: Observer,
    key: str,
) -> Closed:  # fmt: skip
    lifted = Horizon(horizon.azimuth_deg, np.maximum(horizon.altitude_deg, LOWEST_SHADOW_DEG))
    opens = next_clear(body_place(key, observer), lifted, at, A_DAY_H)
    where = "below the horizon" if seen.altitude_deg < 0.0 else "behind the skyline or too low"
    if opens is None:
        return Closed(name, f"{body} is {where} and stays so for the next day")
    return Closed(name, f"{body} is {where}", opens + timedelta(seconds=1))
