"""The rig that is drawn and kept from touching stands where the circles say.

Both laws were derived apart: here the axis angles of parts in space, there those of the circles.
"""

from __future__ import annotations

import numpy as np
import pytest

from axletree.axis.model import unmeasured
from axletree.axis.shown import instrument_angles
from axletree.axis.unknowns import UNKNOWNS
from axletree.mount.rig.kinematics import align, axis_angles, circle_readings
from axletree.sky.observer import Observer


@pytest.mark.parametrize("latitude", [47.0, -33.0])
@pytest.mark.parametrize("side", ["east", "west"])
def test_circles_of_the_rig_and_of_the_model(latitude, side):
    rng = np.random.default_rng(31)
    observer = Observer(latitude, 0.0, pressure_hpa=0.0)
    for _ in range(20):
        values = rng.uniform(-180.0, 180.0, 6)
        high, east, _, _, cone, lean = values
        model = unmeasured(0.0, 0.0).with_values(values, np.zeros((len(UNKNOWNS),) * 2))
        axes = align(latitude, high_arcmin=high, east_arcmin=east, cone_arcmin=cone,
                     lean_arcmin=lean)  # fmt: skip
        H, d = rng.uniform(-6, 6, 5), rng.uniform(-75, 75, 5)
        drawn = circle_readings(axes, *axis_angles(axes, side, H, d))
        own = instrument_angles(model, H, d, 1.0 if side == "east" else -1.0, observer)
        assert np.mod(own[0] - drawn[0] + 12.0, 24.0) == pytest.approx(12.0, abs=1e-6)
        assert own[1] == pytest.approx(drawn[1], abs=1e-6)
