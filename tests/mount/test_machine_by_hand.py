"""Single figures of the machine by hand: levers, circles, small turns and counts."""

from __future__ import annotations

import enum
import itertools
from typing import Any

import numpy as np
import pytest
from astropy import units as u
from scipy.spatial.transform import Rotation

from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.mount import Weight
from axletree.mount.balance.masses import tube_masses
from axletree.mount.balance.weights import loading_at, loadings, longer_shaft_mm, place
from axletree.mount.follow.gearing import turns_per_minute
from axletree.mount.follow.place import equator_place, object_place
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.eyepiece import eye_place
from axletree.mount.rig.field_orientation import upright_head
from axletree.mount.rig.kinematics import align, axis_angles, centres_of_mass
from axletree.mount.rig.parts import DECLINATION
from axletree.mount.room.choice import STARS, USUAL_MINUTES
from axletree.mount.room.ends import End
from axletree.mount.steady.swing import freed_declination
from axletree.mount.steady.tipping import slope_of, tipping
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants


def with_tripod(kit: Kit, **changes: Any) -> Kit:
    tripod = kit.mount.tripod.model_copy(update=changes)
    return kit.model_copy(update={"mount": kit.mount.model_copy(update={"tripod": tripod})})


def test_a_knob_on_the_worm_itself_turns_once_for_each_tooth_of_a_sidereal_day() -> None:
    """86164.0905 s: Explanatory Supplement (2013), mean sidereal day; 144 teeth, no knob gears."""
    assert float(turns_per_minute(144)) == pytest.approx(60.0 * 144 / 86164.0905, rel=1e-9)


def _nearest_order(chosen: list[tuple[float, float]], start: float, length: float,
                   need: float) -> float:  # fmt: skip
    """Least moment left over by any order: between its block at the head and at the shaft's end."""
    left = np.inf
    for order in itertools.permutations(chosen):
        mass, thick = np.array(order).T
        near = mass @ (start + np.cumsum(thick) - thick / 2) / 1000
        far = near + mass.sum() * (length - thick.sum()) / 1000
        left = min(left, max(near - need, need - far, 0.0))
    return left


def test_no_order_of_three_weights_comes_nearer() -> None:
    """Statics by hand over all orders, on shafts that the weights nearly fill: the heavy thick one
    doesn't always belong next to the head."""
    rng = np.random.default_rng(12)
    for _ in range(300):
        chosen = [(float(rng.uniform(0.5, 8.0)), float(rng.uniform(20.0, 120.0))) for _ in range(3)]
        length = sum(t for _, t in chosen) + float(rng.uniform(0.0, 20.0))
        low = _nearest_order(chosen, 80.0, length, 0.0)
        high = -_nearest_order([(-m, t) for m, t in chosen], 80.0, length, 0.0)
        need = low + float(rng.uniform(-0.1, 1.2)) * max(high - low, 0.5)
        owned = [Weight(mass_kg=m, thickness_mm=t) for m, t in chosen]
        found = next(one for one in loadings(owned, 80.0, length, need) if len(one.mass_kg) == 3)
        best = _nearest_order(chosen, 80.0, length, need)
        assert abs(found.leftover_kg_m) == pytest.approx(best, abs=1e-9)


def test_fourteen_weights_are_ordered_without_trying_all_orders() -> None:
    """14! orders would never end. Of seven thin and seven thick weights of 1 kg that fill the
    shaft, one of the two extreme orders comes within half of what lies between them."""
    owned = [Weight(mass_kg=1.0, thickness_mm=t, count=7) for t in (20.0, 30.0)]
    moments = []
    for order in ([20.0] * 7 + [30.0] * 7, [30.0] * 7 + [20.0] * 7):
        thick = np.array(order)
        moments.append(float(np.sum(80.0 + np.cumsum(thick) - thick / 2)) / 1000)
    low, high = moments
    need = low + 0.4 * (high - low)
    found = next(one for one in loadings(owned, 80.0, 350.0, need) if len(one.mass_kg) == 14)
    assert found.moment_kg_m == pytest.approx(low)
    assert abs(found.leftover_kg_m) == pytest.approx(0.4 * (high - low))


def test_weights_hang_by_their_middles_where_somebody_put_them() -> None:
    """Faces at 10 and 70 mm of a shaft that begins 80 mm from the crossing, 50 mm thick."""
    chosen = [(Weight(mass_kg=4.0, thickness_mm=50.0), 10.0),
              (Weight(mass_kg=2.0, thickness_mm=50.0), 70.0)]  # fmt: skip
    found = loading_at(chosen, 80.0, 300.0)
    assert found.position_mm == (115.0, 175.0)
    assert found.moment_kg_m == pytest.approx(4.0 * 0.115 + 2.0 * 0.175)


def test_a_shaft_that_balances_is_long_enough() -> None:
    assert longer_shaft_mm(place([(5.0, 50.0)], 80.0, 300.0, 5.0 * 0.2)) == 0.0


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_a_rig_of_light_stuff_balances_where_a_heavy_one_does(name: str) -> None:
    """A centre of mass doesn't ask for the unit: the same rig with a tenth of all masses."""
    kit = demo_kit(name)
    assert kit.tube.finder is not None
    finder = kit.tube.finder.model_copy(update={"mass_kg": kit.tube.finder.mass_kg / 10})
    extras = [a.model_copy(update={"mass_kg": a.mass_kg / 10}) for a in kit.tube.accessories]
    light = kit.tube.model_copy(update={
        "mass_kg": kit.tube.mass_kg / 10, "focuser_mass_kg": 0.08, "finder": finder,
        "accessories": extras,
    })  # fmt: skip
    heavy = kit.tube.model_copy(update={"focuser_mass_kg": 0.8})
    assert light.mass_kg < 1.0
    of = [
        tube_masses(kit.model_copy(update={"tube": tube}), eyepiece, 400.0)
        for tube, eyepiece in ((heavy, 0.3), (light, 0.03))
    ]
    centres = [one.moment_kg_m / one.total_kg for one in of]
    assert centres[1] == pytest.approx(centres[0], abs=1e-12)


def test_what_rides_on_a_tube_in_rings_turns_with_it() -> None:
    """Rotation by scipy, about the tube's axis, clockwise for who looks from behind to the sky;
    a diagonal turns alone."""
    for name, rides in (("courtyard", True), ("paddock", False)):
        kit = demo_kit(name)
        turn = 40.0
        still, turned = (
            build_rig(kit, ring_turn_deg=kit.tube.ring_turn_deg + by) for by in (0.0, turn)
        )
        axis = np.array([still.tube_offset_m, 0.0, 0.0])
        about = Rotation.from_rotvec([0.0, 0.0, np.radians(turn)])
        k = still.index("finder")
        seen = [((r.start_m[k] + r.end_m[k]) / 2 - axis)[:2] for r in (still, turned)]
        moved = about.apply([*seen[0], 0.0])[:2]
        assert seen[1] == pytest.approx(moved if rides else seen[0], abs=1e-12)
        assert turned.barrel == pytest.approx(about.apply(still.barrel.copy()), abs=1e-12)


def tray(kit: Kit) -> tuple[np.ndarray, np.ndarray, float]:
    """Both ends of the tray's bars (n, 3), metres, and what it weighs."""
    rig = build_rig(kit)
    rows = [k for k, name in enumerate(rig.names) if name == "tray"]
    return rig.start_m[rows], rig.end_m[rows], float(rig.mass_kg[rows].sum())


def test_a_tray_is_as_wide_and_high_as_the_kit_says() -> None:
    kit = with_tripod(
        demo_kit("courtyard"), tray_height_mm=455.0, tray_radius_mm=180.0, tray_load_kg=0.0,
        lean_to_pole_deg=0.0, lean_to_right_deg=0.0,
    )  # fmt: skip
    start, end, mass = tray(kit)
    assert len(start) > 0
    assert mass == 0.0
    assert np.hypot(end[:, 0], end[:, 1]) == pytest.approx(np.full(len(end), 0.18), abs=1e-12)
    assert start[:, 2] == pytest.approx(np.full(len(start), 0.455), abs=1e-12)
    assert start + end == pytest.approx(np.tile([0.0, 0.0, 0.91], (len(end), 1)), abs=1e-12)
    # A load of half a kilogram without a tray to speak of still weighs.
    assert tray(with_tripod(kit, tray_radius_mm=0.0, tray_load_kg=0.5))[2] == 0.5


def test_a_load_in_the_tray_moves_the_centre_by_the_law_of_the_lever() -> None:
    """m (c' - c) = 20 kg (tray - c'), on a levelled tripod: the height that it asks for."""
    kit = with_tripod(demo_kit("courtyard"), tray_height_mm=640.0)
    empty, loaded = (tipping(kit, tray_kg=kg) for kg in (0.0, 20.0))
    moment = loaded.centre_path_m * loaded.mass_kg - empty.centre_path_m * empty.mass_kg
    assert loaded.mass_kg - empty.mass_kg == pytest.approx(20.0)
    assert moment / 20.0 == pytest.approx(np.tile([0.0, 0.0, 0.64], (len(moment), 1)), abs=1e-9)


def test_without_a_yard_the_ground_is_level() -> None:
    kit = demo_kit("courtyard").model_copy(update={"yard": None})
    assert slope_of(kit)[0] == 0.0
    assert tipping(kit, leaning=True).margin_mm == pytest.approx(tipping(kit).margin_mm, abs=1e-9)


def test_a_step_and_a_stoop_end_at_the_persons_eyes() -> None:
    kit = demo_kit("courtyard")
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    poses = axis_angles(axes, "west", -2.0, 20.0)
    high = eye_place(rig, axes, *poses, (700.0, 900.0))
    assert float(high.height_m - high.step_up_m) == pytest.approx(0.9, abs=1e-12)
    low = eye_place(rig, axes, *poses, (2900.0, 3000.0))
    assert float(low.height_m + low.stoop_m) == pytest.approx(2.9, abs=1e-12)
    assert float(high.stoop_m) == float(low.step_up_m) == 0.0


@pytest.mark.parametrize("at", [(1.0, 2.0), (-0.4, 0.3), (0.2, -0.9)])
def test_who_looks_straight_down_faces_the_mount(at: tuple[float, float]) -> None:
    """The top of the view lies towards the tripod's middle; looking down, the right-hand side is a
    quarter turn clockwise from it, seen from above. Common practice, no source."""
    right, top = upright_head(np.array([0.0, 0.0, -1.0]), np.array([*at, 1.4]))
    towards = -np.array([*at, 0.0]) / np.hypot(*at)
    assert top == pytest.approx(towards, abs=1e-12)
    assert right == pytest.approx(Rotation.from_rotvec([0, 0, -np.pi / 2]).apply(top), abs=1e-12)


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_an_opened_declination_axis_turns_as_energy_falls(name: str) -> None:
    """Torque is minus the slope of the potential energy, by small turns, on an upright polar axis:
    the tube level, then upright."""
    rig, axes, step = build_rig(demo_kit(name)), align(90.0), 0.01
    on = rig.frame == DECLINATION

    def slope(swing_deg: float) -> float:
        up = [
            float(rig.mass_kg[on] @ centres_of_mass(rig, axes, np.array(0.0), np.array(w))[on, 2])
            for w in (swing_deg - step, swing_deg + step)
        ]
        return (up[1] - up[0]) / np.radians(2.0 * step)

    free = freed_declination(rig)
    assert slope(90.0) == pytest.approx(-free.along_kg_m, abs=1e-6)
    assert slope(0.0) == pytest.approx(-free.across_kg_m, abs=1e-6)


@pytest.mark.parametrize("latitude", [52.0, -31.0])
def test_a_star_on_the_equator_at_its_highest(latitude: float) -> None:
    """Its altitude is the colatitude, its azimuth south in the north and the other way round."""
    place = equator_place(Observer(latitude, 0.0, 0.0))
    assert (place.hour_angle_h, place.declination_deg, place.diameter_deg) == (0.0, 0.0, 0.0)
    assert place.azimuth_deg == (180.0 if latitude > 0 else 0.0)
    assert place.altitude_deg == pytest.approx(90.0 - abs(latitude))


def test_sizes_of_deep_sky_objects_in_degrees() -> None:
    """By astropy's units."""
    thing, at = find("M31"), Instants.from_utc_jd(2461376.0)
    assert thing.size_major_arcmin is not None
    size = object_place(thing, at, Observer(38.0, 0.0, 0.0)).diameter_deg
    assert size == pytest.approx((thing.size_major_arcmin * u.arcmin).to_value(u.deg), rel=1e-12)
    assert 2.0 < size < 4.0  # common knowledge: six full Moons


def test_every_end_of_a_room_has_its_own_number() -> None:
    """No two names stand for the same: `enum.unique` of the standard library."""
    assert len(enum.unique(End)) == len(End.__members__)
    assert {end.key for end in End} >= {"stop", "skyline", "contact", "low"}


def test_half_an_hour_is_meant_wherever_nobody_says_how_long() -> None:
    assert (USUAL_MINUTES, STARS.need_h) == (30.0, 0.5)
