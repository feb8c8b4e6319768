"""The compiled clearance map against the one in numpy: the same to the last bit."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from machines import KITS, at_latitude
from test_any_rig import kits

from axletree.kit.kit import Kit, demo_kit
from axletree.mount.clearance.map import clearance_map
from axletree.mount.clearance.nearest import Bodies, bodies
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align


def same_both_ways(b: Bodies) -> None:
    """Fails where one bit of the two maps differs."""
    one, other = (clearance_map(b, way) for way in ("numpy", "compiled"))
    for field in ("hours", "declinations", "distance_m", "pair"):
        a, c = getattr(one, field), getattr(other, field)
        assert a.dtype == c.dtype
        assert np.array_equal(a, c), field


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("latitude", [-80.0, -44.0, 3.0, 38.57, 90.0])
def test_the_demo_kits_have_the_same_map_both_ways(name: str, latitude: float) -> None:
    rig = build_rig(at_latitude(demo_kit(name), latitude))
    same_both_ways(bodies(rig, align(latitude)))


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(kit=kits(), high=st.floats(-90, 90), cone=st.floats(-60, 60), lean=st.floats(-60, 60))
def test_any_rig_has_the_same_map_both_ways(
    kit: Kit, high: float, cone: float, lean: float
) -> None:
    axes = align(kit.site.latitude_deg, high_arcmin=high, cone_arcmin=cone, lean_arcmin=lean)
    same_both_ways(bodies(build_rig(kit), axes))
