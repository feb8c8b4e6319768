"""How do the Sun and the Moon lead to north, now and when they next cross the meridian?"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np

from axletree.ground.north.method import (
    ClosedMethod,
    ClosedReason,
    NorthMethod,
    NorthMethodKind,
    Rank,
    RankReason,
    method_by,
)
from axletree.ground.north.passages import Passage, body_passages
from axletree.ground.north.pointers import (
    NorthSearch,
    Pointer,
    PositionsAt,
    next_clear,
    pointer,
    shadow_parts,
    sight_parts,
)
from axletree.ground.skyline.skyline import Horizon
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.body_day import BodyDay, body_through_day
from axletree.sky.sun_rule import SUN_UP_DEG
from axletree.sky.time.instants import Instants

LOWEST_SHADOW_DEG = 2.0  # lower, the light is too weak and the shadow too long
MOON_SHADOW_LIT = 0.5  # a Moon less lit throws no shadow worth marking
MOON_SHADOW_SUN_DEG = -6.0
MOON_NEAREST_SUN_DEG = 20.0
NEAR_ZENITH_DEG = 10.0
A_DAY_H = 25.0


def sun_methods(search: NorthSearch) -> tuple[list[NorthMethod], list[ClosedMethod]]:
    """The Sun's shadow now, if it throws one, and its next passages of the meridian."""
    place = body_through_day("sun", search.observer, search.at)
    seen = pointer(place, search.at)
    methods: list[NorthMethod] = []
    closed: list[ClosedMethod] = []
    if _clear(seen, search.horizon):
        now = _by_sun(NorthMethodKind.SUN_SHADOW, seen, search)
        until = next_clear(place, search.horizon, search.at, A_DAY_H, rising=False)
        methods.append(replace(now, until=until))
    else:
        closed.append(_closed(NorthMethodKind.SUN_SHADOW, seen, place, search))
    low = False
    for passage in _next_ones(place, search):
        there = _at(passage)
        if _clear(there, search.horizon):
            found = _by_sun(NorthMethodKind.SUN_ON_MERIDIAN, there, search)
            methods.append(replace(found, rank=_passage_rank(passage) or found.rank))
        elif passage.upper:
            low = True
    if low and not any(m.kind is NorthMethodKind.SUN_ON_MERIDIAN for m in methods):
        closed.append(
            ClosedMethod(NorthMethodKind.SUN_ON_MERIDIAN, ClosedReason.PASSES_BELOW_SKYLINE)
        )
    return methods, closed


def _by_sun(kind: NorthMethodKind, seen: Pointer, search: NorthSearch) -> NorthMethod:
    parts = shadow_parts(seen, search.errors)
    return replace(method_by(kind, seen, search, parts, shadow=True), needs_light=True)


def _next_ones(place: BodyDay, search: NorthSearch) -> list[Passage]:
    """The next upper passage of the meridian and the next lower one only."""
    passages = body_passages(place, search.observer, search.at, A_DAY_H, place.hour_angle_h)
    first = {passage.upper: passage for passage in reversed(passages)}
    return sorted(first.values(), key=lambda passage: passage.at)


def _passage_rank(passage: Passage) -> Rank | None:
    from_zenith = 90.0 - passage.altitude_deg
    if from_zenith < NEAR_ZENITH_DEG:
        return Rank(RankReason.NEAR_ZENITH, from_zenith)
    if not passage.upper:
        return Rank(RankReason.MIDNIGHT_SUN, passage.altitude_deg)
    return None


def moon_methods(search: NorthSearch) -> tuple[list[NorthMethod], list[ClosedMethod]]:
    """The Moon now, by its shadow or sighted, and its next passages of the meridian."""
    place = body_through_day("moon", search.observer, search.at)
    seen = pointer(place, search.at)
    methods: list[NorthMethod] = []
    closed: list[ClosedMethod] = []
    if _clear(seen, search.horizon):
        item = _by_moon(NorthMethodKind.MOON, seen, search)
        if item is None:
            closed.append(ClosedMethod(NorthMethodKind.MOON, ClosedReason.NEAR_SUN))
        else:
            methods.append(item)
    else:
        closed.append(_closed(NorthMethodKind.MOON, seen, place, search))
    for passage in _next_ones(place, search):
        there = _at(passage)
        if _clear(there, search.horizon):
            item = _by_moon(NorthMethodKind.MOON_ON_MERIDIAN, there, search)
            if item is not None:
                methods.append(item)
    return methods, closed


def _by_moon(kind: NorthMethodKind, seen: Pointer, search: NorthSearch) -> NorthMethod | None:
    """By its shadow where it throws one, else sighted; None too near to the Sun."""
    both = body_positions(("moon", "sun"), Instants.from_datetime(seen.at), search.observer)
    if float(both.elongation_deg[0, 0]) < MOON_NEAREST_SUN_DEG:
        return None
    sun = float(both.altitude_true_deg[1, 0])
    lit = float(both.lit_fraction[0, 0])
    shadow = lit >= MOON_SHADOW_LIT and sun < MOON_SHADOW_SUN_DEG and seen.altitude_deg > 10.0
    parts = (shadow_parts if shadow else sight_parts)(seen, search.errors)
    found = method_by(kind, seen, search, parts, shadow=shadow)
    return replace(found, needs_light=sun > SUN_UP_DEG)


def _at(passage: Passage) -> Pointer:
    return Pointer(passage.at, passage.azimuth_deg, passage.altitude_deg, passage.rate_deg_per_min)


def _clear(seen: Pointer, horizon: Horizon) -> bool:
    top = float(horizon.altitude_at(seen.azimuth_deg))
    return seen.altitude_deg > max(top, LOWEST_SHADOW_DEG)


def _closed(
    kind: NorthMethodKind, seen: Pointer, place: PositionsAt, search: NorthSearch
) -> ClosedMethod:
    horizon = search.horizon
    lifted = Horizon(horizon.azimuth_deg, np.maximum(horizon.altitude_deg, LOWEST_SHADOW_DEG))
    opens = next_clear(place, lifted, search.at, A_DAY_H)
    below = seen.altitude_deg < 0.0
    reason = ClosedReason.BELOW_HORIZON if below else ClosedReason.BEHIND_SKYLINE
    return ClosedMethod(kind, reason, None if opens is None else opens + timedelta(seconds=1))
