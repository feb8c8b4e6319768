"""Ways of aligning that the demo kits don't have: a hollow axis, a ring engraved in the scope."""

from __future__ import annotations

import math

import pytest

from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.mount import PolarScope
from axletree.pole.aim.target import pole_target
from axletree.pole.enough.methods import (
    AligningMethod,
    Method,
    Obstacle,
    methods,
    scope_placing,
    scope_sigma_arcmin,
)
from axletree.sky.observer import Observer


def ways(
    scope: PolarScope, distance_arcmin: float, in_view: bool | None = None
) -> dict[AligningMethod, Method]:
    kit: Kit = demo_kit()
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"polar_scope": scope})})
    target = pole_target(Observer(38.6, -7.9))
    found = methods(kit, target, distance_arcmin, 0.4, 30.0, pole_in_view=in_view)
    return {m.method: m for m in found}


def test_a_hollow_axis_serves_while_the_star_stays_in_its_bore() -> None:
    hollow = PolarScope(kind="hollow", bore_diameter_mm=20.0, bore_length_mm=180.0)
    method = AligningMethod.HOLLOW_AXIS
    near = ways(hollow, 38.0)[method]
    assert near.possible
    # A bore of 20 mm by 180 mm shows a circle of some degrees, never one of twenty.
    far = ways(hollow, 1200.0)[method]
    assert not far.possible
    assert not far.enough
    assert far.obstacle is Obstacle.STAR_OUTSIDE_BORE
    hidden = ways(hollow, 38.0, in_view=False)[method]
    assert (hidden.possible, hidden.obstacle) == (False, Obstacle.POLE_HIDDEN)


def test_a_ring_is_set_to_a_twentieth_of_its_radius() -> None:
    ring = PolarScope(kind="scope", ring_radius_arcmin=40.0)
    # 2 arcminutes beside the 3 of a scope that is not square to its axis (our figures).
    assert scope_sigma_arcmin(ring) == pytest.approx(math.hypot(2.0, 3.0))
    assert scope_placing(ring).sigma_arcmin == pytest.approx(2.0)
    assert scope_placing(ring).field_deg is None
    assert ways(ring, 38.0)[AligningMethod.POLAR_SCOPE].basis == scope_placing(ring)
