"""Any measures: rigs of every shape and place give finite answers or one line of refusal.

AXLETREE_LONG=1 draws eight times as many.
"""

from __future__ import annotations

import os

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from machines import KITS, at_latitude

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit
from axletree.mount.clearance.map import clearance_map
from axletree.mount.clearance.nearest import bodies, distances, least_distance
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import SIDES, align, axis_angles
from axletree.mount.room.choice import choose
from axletree.mount.room.table import room, room_table
from axletree.tell.side.text import side_reason_words

MORE = 8 if os.environ.get("AXLETREE_LONG") else 1
KIT = """
kit_version = 1
[site]
latitude_deg = {latitude}
longitude_deg = 10.0
time_zone = "UTC"
[mount]
size = "{size}"
payload_limit_kg = 20
[mount.tripod]
leg_directions_deg = {legs}
column_height_mm = {column}
tray_radius_mm = {tray}
top_height_mm = {top}
[mount.head]
saddle_distance_mm = {saddle}
[[mount.weight]]
mass_kg = {weight}
count = 2
[tube]
kind = "{kind}"
aperture_mm = {aperture}
focal_length_mm = {focal}
ring_turn_deg = {ring}
{finder}
{accessory}
[yard]
area_m = [[0, 0], [9, 0], [9, 9]]
slope_percent = {slope}
downhill_azimuth_deg = {downhill}
"""
FINDER = "[tube.finder]\nmass_kg = 0.3\nangle_deg = {angle}\n"
ACCESSORY = """[[tube.accessory]]
name = "box"
mass_kg = 0.5
from_front_mm = 100
offset_mm = 150
angle_deg = {angle}
radius_mm = {radius}
"""


@st.composite
def kits(draw: st.DrawFn) -> Kit:
    """Kits within what people own."""
    aperture = draw(st.floats(60, 250))
    angle = st.floats(-180, 180)
    text = KIT.format(
        latitude=draw(st.sampled_from([-90.0, -66.6, -35.0, -0.5, 0.0, 12.0, 45.0, 70.0, 90.0])),
        size=draw(st.sampled_from(["small", "middle", "large"])),
        legs=draw(st.sampled_from([[0, 120, 240], [60, 180, 300], [10, 140, 220]])),
        column=draw(st.sampled_from([0.0, 250.0])),
        tray=draw(st.sampled_from([0.0, 180.0])),
        top=draw(st.floats(500, 1300)),
        saddle=draw(st.floats(120, 300)),
        weight=draw(st.floats(2, 12)),
        kind=draw(st.sampled_from(["newtonian", "refractor", "catadioptric"])),
        aperture=aperture,
        focal=aperture * draw(st.floats(4, 12)),
        ring=draw(angle),
        finder=draw(st.sampled_from(["", FINDER])).format(angle=draw(angle)),
        accessory=draw(st.sampled_from(["", ACCESSORY])).format(
            angle=draw(angle), radius=draw(st.sampled_from([0.0, 40.0]))
        ),
        slope=draw(st.floats(0, 20)),
        downhill=draw(st.floats(0, 360)),
    )
    kit, problems = check_text(text)
    assert kit is not None, problems
    return kit


@settings(max_examples=20 * MORE, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(kit=kits(), seed=st.integers(0, 2**32 - 1))
def test_any_rig_is_finite_and_its_map_exact(kit, seed):
    rig = build_rig(kit)
    axes = align(kit.site.latitude_deg)
    b = bodies(rig, axes)
    rng = np.random.default_rng(seed)
    found = clearance_map(b)
    i, j, k = rng.integers(0, 2, 300), rng.integers(0, 720, 300), rng.integers(0, 360, 300)
    h, w = axis_angles(axes, np.array(SIDES)[i], found.hours[j], found.declinations[k])
    least, which = least_distance(b, h, w)
    assert np.isfinite(least).all()
    assert (which >= 0).all()
    np.testing.assert_allclose(found.distance_m[i, j, k], least, atol=2e-6)
    np.testing.assert_allclose(distances(b, h, w).min(axis=0), least, atol=1e-12)


@settings(max_examples=12 * MORE, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(kit=kits(), H=st.floats(-12, 12), d=st.floats(-90, 90))
def test_any_rig_answers_or_says_why_not(kit, H, d):
    try:
        table = room_table(kit)
    except AxletreeError as refused:
        words = str(refused)
    else:
        words = ""
    assert "\n" not in words
    if words:
        return
    found = choose(kit, table, H, d)
    assert found.better in ("", "east", "west")
    assert side_reason_words(found).endswith(".")
    for a in found.sides:
        assert np.isfinite(a.eye.height_m)
        assert 0 <= a.room_h <= 24
        assert a.usable == (a.opens_in_s == 0.0)
    here = room(table, H, d)
    assert here.usable[0] == found.east.usable


@pytest.mark.parametrize("latitude", [0.0, 66.6, 89.9, 90.0, -89.9, -90.0])
@pytest.mark.parametrize("name", KITS)
def test_poles_of_the_sky_at_the_edges_of_the_earth(name, latitude):
    kit = at_latitude(demo_kit(name), latitude)
    legs = kit.mount.tripod.model_copy(update={"leg_directions_deg": (60.0, 180.0, 300.0)})
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"tripod": legs})})
    table = room_table(kit)
    found = room(table, np.array([0.0, 6.0, -12.0, 12.0])[:, None], np.array([-90.0, 0.0, 90.0]))
    assert found.room_h.shape == (2, 4, 3)
    assert np.isfinite(found.room_h).all()
    pole = 90.0 if latitude >= 0 else -90.0
    at_pole = choose(kit, table, 0.0, pole)
    if abs(latitude) > 20:
        assert at_pole.better
        assert at_pole.chosen is not None
