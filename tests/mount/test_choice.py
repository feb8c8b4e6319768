"""Both sides of one object and the better one; balance before clearance; the parts' masses."""

from __future__ import annotations

import numpy as np
import pytest
from machines import KITS, at_latitude, kit_with

from axletree.kit.kit import demo_kit
from axletree.mount.balance.masses import head_masses, tube_masses
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, axis_angles, centres_of_mass, crossing_m
from axletree.mount.rig.parts import DECLINATION, POLAR
from axletree.mount.room.better_side import SideReason
from axletree.mount.room.choice import Following, choose, weights_clock_deg
from axletree.mount.room.ends import NOT_RISEN
from axletree.mount.room.side_answer import SideCaution, SideWarning
from axletree.mount.room.table import room_table
from axletree.tell.side.text import side_reason_words

TABLES = {name: (demo_kit(name), room_table(demo_kit(name))) for name in KITS}


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize(
    ("H", "side"), [(-3.0, "west"), (-1.5, "west"), (1.5, "east"), (3.0, "east")]
)
def test_the_tube_goes_opposite_to_its_object(name, H, side):
    # Common practice, no source: then the weights hang low.
    kit, table = TABLES[name]
    found = choose(kit, table, H, 0.0)
    assert found.better == side
    chosen = found.chosen
    assert chosen is not None
    assert not chosen.weights_up
    assert side_reason_words(found).endswith(".")
    other = found.east if side == "west" else found.west
    assert other.weights_up or not other.usable
    if other.usable and other.room_h >= 0.5:
        assert found.reason is SideReason.WEIGHTS_DOWN
    else:
        assert found.reason in (SideReason.ONLY_ONE, SideReason.LASTS)


def test_circles_and_the_place_of_the_weights():
    kit, table = TABLES["courtyard"]
    found = choose(kit, table, -2.0, 30.0)
    for a in found.sides:
        assert a.hour_circle_h == pytest.approx(22.0)
        assert a.declination_circle_deg == pytest.approx(30.0)
    # Seen from behind the mount, facing north: tube west and low, so the weights hang to the
    # right; at the meridian the shaft is level, at 3 and 9 o'clock.
    axes = table.axes
    assert weights_clock_deg(axes, 6.0) == pytest.approx(90.0)
    assert weights_clock_deg(axes, -6.0) == pytest.approx(270.0)
    assert weights_clock_deg(axes, 0.0) == pytest.approx(180.0)
    south = align(-44.0)
    # In the south one faces south: the east is on the left.
    assert weights_clock_deg(south, -6.0) == pytest.approx(90.0)
    assert found.west.weights_clock_deg == pytest.approx(90.0 + 30.0)


def test_warnings_say_what_can_fall_and_swing():
    kit, table = TABLES["courtyard"]
    found = choose(kit, table, 1.0, 40.0)
    assert found.west.weights_up
    assert SideCaution(SideWarning.WEIGHTS_UP) in found.west.cautions
    assert SideCaution(SideWarning.BARREL_DOWN) in found.west.cautions
    assert found.east.cautions == ()
    assert not found.east.can_fall


def test_neither_side_below_the_horizon_and_when_it_opens():
    kit, table = TABLES["courtyard"]
    found = choose(kit, table, -9.0, 10.0)
    assert found.better == ""
    assert found.chosen is None
    assert found.east.ends.by is NOT_RISEN
    assert found.reason is SideReason.NEITHER_FOR_ONE_REASON
    assert found.west.opens_in_s is not None
    later = choose(kit, table, -9.0 + found.west.opens_in_s / 3600 * 1.00274, 10.0)
    assert later.west.usable
    never = choose(kit, table, 0.0, -80.0)
    assert never.east.opens_in_s is None


def test_longer_wishes_can_change_the_side():
    kit, table = TABLES["courtyard"]
    short = choose(kit, table, -0.4, 10.0, Following(0.25))
    assert short.better == "west"
    long = choose(kit, table, -0.4, 10.0, Following(4.0))
    assert long.better == "east"
    assert long.reason is SideReason.LASTS
    assert long.east.weights_up
    assert "although the weights are up there" in side_reason_words(long)


@pytest.mark.parametrize("name", KITS)
def test_balance_comes_before_clearance(name):
    """The tube's centre of mass, with all on it, lies over the declination axis."""
    kit = demo_kit(name)
    rig = build_rig(kit)
    on_tube = rig.frame == DECLINATION
    centre = rig.mass_kg[on_tube] @ rig.centre_m[on_tube] / rig.mass_kg[on_tube].sum()
    # The eyepiece in the focuser isn't always the one that was balanced with: a few mm.
    assert centre[2] == pytest.approx(0.0, abs=0.02)
    heavier = kit_with(name, ("[tube.finder]\n", "[tube.finder]\nfrom_front_mm = 40\n"))
    assert build_rig(heavier).clamp_from_front_m < rig.clamp_from_front_m
    turning = rig.frame >= POLAR
    moment = rig.mass_kg[turning] @ rig.centre_m[turning]
    # Weights on one side, tube on the other: nothing left along the declination axis.
    assert moment[0] == pytest.approx(0.0, abs=0.12)
    assert rig.mass_kg[turning].sum() > 10


@pytest.mark.parametrize("name", KITS)
def test_masses_of_the_rig_are_those_of_balance(name):
    kit = demo_kit(name)
    rig = build_rig(kit)
    tube = tube_masses(kit, kit.eyepieces[0].mass_kg, rig.clamp_from_front_m * 1000)
    own = rig.frame == DECLINATION
    x, y, z = rig.mass_kg[own] @ rig.centre_m[own]
    np.testing.assert_allclose([y, z, x], tube.moment_kg_m, atol=1e-9)
    assert rig.mass_kg[own].sum() == pytest.approx(tube.total_kg)
    head = head_masses(kit)
    parts = [rig.index("declination housing"), rig.index("counterweight shaft")]
    np.testing.assert_allclose(
        rig.mass_kg[parts] @ rig.centre_m[parts, 0], head.moment_kg_m[2], atol=1e-9
    )


def test_centres_of_mass_stay_on_a_balanced_axis():
    # A balanced rig: the whole moving mass stays put while the hour axis turns.
    kit = at_latitude(demo_kit("paddock"), -30.0)
    rig, axes = build_rig(kit, camera=True), align(-30.0)
    turning = rig.frame >= POLAR
    m = rig.mass_kg[turning]
    for H in (-4.0, 0.0, 5.0):
        places = centres_of_mass(rig, axes, *axis_angles(axes, "east", H, -60.0))[turning]
        middle = m @ places / m.sum() - crossing_m(rig, axes)
        off = middle - (middle @ axes.pole) * axes.pole
        assert np.linalg.norm(off) < 0.03
