"""Ways of aligning that the demo kits don't have: a hollow axis, a ring engraved in the scope."""

from __future__ import annotations

import math

import pytest

from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.mount import PolarScope
from axletree.pole.aim.target import pole_target
from axletree.pole.enough.methods import Method, methods, scope_sigma_arcmin
from axletree.sky.observer import Observer


def ways(
    scope: PolarScope, distance_arcmin: float, in_view: bool | None = None
) -> dict[str, Method]:
    kit: Kit = demo_kit()
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"polar_scope": scope})})
    target = pole_target(Observer(38.6, -7.9))
    found = methods(kit, target, distance_arcmin, 0.4, 30.0, pole_in_view=in_view)
    return {m.name: m for m in found}


def test_a_hollow_axis_serves_while_the_star_stays_in_its_bore() -> None:
    hollow = PolarScope(kind="hollow", bore_diameter_mm=20.0, bore_length_mm=180.0)
    name = "pole star through the hollow axis"
    near = ways(hollow, 38.0)[name]
    assert near.possible
    assert "judged to a tenth" in near.why
    # A bore of 20 mm by 180 mm shows a circle of some degrees, never one of twenty.
    far = ways(hollow, 1200.0)[name]
    assert not far.possible
    assert not far.enough
    assert "stays outside the bore's field" in far.why
    hidden = ways(hollow, 38.0, in_view=False)[name]
    assert (hidden.possible, hidden.why) == (False, "the pole is hidden here")


def test_a_ring_is_set_to_a_twentieth_of_its_radius() -> None:
    ring = PolarScope(kind="scope", ring_radius_arcmin=40.0)
    # 2 arcminutes beside the 3 of a scope that is not square to its axis (our figures).
    assert scope_sigma_arcmin(ring) == pytest.approx(math.hypot(2.0, 3.0))
    assert "star placed to 2.0′ on its ring" in ways(ring, 38.0)["pole star in the polar scope"].why
