"""Balance: torques by direct summation, weights by brute force, and every remedy by doing it."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from axletree.commands.shared.quantities import on_shaft, reading_kg, scale_reading
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.kit.parts.mount import Weight
from axletree.kit.parts.tube import Accessory, Barlow
from axletree.mount.balance.masses import head_masses, tube_masses, weight_masses
from axletree.mount.balance.positions import (
    STANDARD_GRAVITY_M_S2,
    declination_torque_nm,
    eyepieces_of,
    hour_torque_nm,
    middle_eyepiece,
    solve,
    swaps,
    torques_nm,
)
from axletree.mount.balance.scale_reading import Axis, LeverEnd, ScaleReading, correct
from axletree.mount.balance.trim import certainty, trim
from axletree.mount.balance.weights import (
    Loading,
    combinations,
    loadings,
    longer_shaft_mm,
    missing_at_end_kg,
    place,
)
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, axis_angles, frames
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, POLAR

KITS = ("courtyard", "paddock")


def _solved(name, **extra):
    kit = demo_kit(name)
    return kit, solve(kit, middle_eyepiece(eyepieces_of(kit)), **extra)


def _changed(kit, **tube):
    return kit.model_copy(update={"tube": kit.tube.model_copy(update=tube)})


# --- torques


@pytest.mark.parametrize("name", KITS)
def test_torques_against_direct_summation_over_random_poses(name):
    # Independent: every part's centre of mass is turned by scipy's Rotation about the two axes,
    # starting from a rig put together with the polar axis upright, and r x F summed part by part.
    kit = demo_kit(name)
    kit = _changed(kit, accessories=(
        Accessory(name="battery", mass_kg=0.7, from_front_mm=300, offset_mm=120, angle_deg=100),
    ))  # fmt: skip
    rig = build_rig(kit, eyepiece=1)
    latitude = kit.site.latitude_deg
    axes = align(latitude)
    rng = np.random.default_rng(11)
    side = rng.choice([1, -1], 200)
    H, d = rng.uniform(-12, 12, 200), rng.uniform(-89, 89, 200)
    turn, swing = axis_angles(axes, side, H, d)
    pole = np.array([0, np.sign(latitude) * np.cos(np.radians(latitude)),
                     np.sin(np.radians(abs(latitude)))])  # fmt: skip
    weight = np.array([0, 0, -STANDARD_GRAVITY_M_S2])
    for i in range(200):
        # Upright: the axis along z, the tube's end of the declination axis along x.
        along_d = Rotation.from_rotvec([-np.radians(swing[i]), 0, 0])
        tilt = Rotation.align_vectors([pole], [[0, 0, 1.0]])[0]
        # The turn about the pole that puts x on the right hour angle, from the zenith's side.
        up = np.array([0, 0, 1.0]) - pole[2] * pole
        x_now = tilt.apply([1.0, 0, 0])
        start = np.arctan2(pole @ np.cross(x_now, up), x_now @ up)
        west = -np.sign(latitude)  # hour angle grows against the right hand about the north pole
        about = Rotation.from_rotvec(pole * (start + west * turn[i] * np.pi / 12))
        torque_p = torque_a = 0.0
        a_axis = about.apply(tilt.apply([1.0, 0, 0]))
        for frame, mass, centre in zip(rig.frame, rig.mass_kg, rig.centre_m, strict=True):
            if frame in (GROUND, HEAD):
                continue
            own = along_d.apply(centre.copy()) if frame == DECLINATION else centre.copy()
            arm = about.apply(tilt.apply(own))
            torque = np.cross(arm, mass * weight)
            torque_p += pole @ torque
            torque_a += a_axis @ torque if frame == DECLINATION else 0.0
        D, T = frames(axes, turn[i], swing[i])[0][:, 0], frames(axes, turn[i], swing[i])[1][:, 2]
        assert a_axis == pytest.approx(D, abs=1e-9)
        hour = head_masses(kit) + weight_masses(
            np.array(rig.loading.mass_kg), np.array(rig.loading.position_mm)
        )
        tube = tube_masses(kit, kit.eyepieces[1].mass_kg, rig.clamp_from_front_m * 1000)
        got_p, got_a = torques_nm(hour, tube, axes.pole, D, T)
        assert got_p == pytest.approx(torque_p, abs=1e-9)
        assert got_a == pytest.approx(torque_a, abs=1e-9)


@pytest.mark.parametrize("name", KITS)
def test_worst_torque_is_the_greatest_over_all_poses(name):
    kit, balance = _solved(name)
    tube = tube_masses(kit, 0.5, balance.over_saddle_mm + 12.0)  # deliberately wrong
    hour = balance.masses_on_hour_axis
    axes = align(kit.site.latitude_deg)
    turn, swing = np.meshgrid(np.linspace(-12, 12, 361), np.linspace(-180, 180, 361))
    polar, declination = frames(axes, turn, swing)
    about_p, about_a = torques_nm(hour, tube, axes.pole, polar[..., 0], declination[..., 2])
    worst_p = hour_torque_nm(hour, tube, axes.altitude_deg)
    worst_a = declination_torque_nm(tube)
    assert np.max(np.abs(about_p)) == pytest.approx(worst_p, rel=1e-3)
    assert np.max(np.abs(about_a)) == pytest.approx(worst_a, rel=1e-3)
    assert np.max(np.abs(about_p)) <= worst_p * (1 + 1e-12)


def test_an_upright_polar_axis_feels_no_weight():
    # Statics: gravity along an axis has no moment about it.
    _, balance = _solved("courtyard")
    assert hour_torque_nm(balance.masses_on_hour_axis, balance.tube, 90.0) == pytest.approx(0)


@pytest.mark.parametrize("name", KITS)
def test_masses_are_those_of_the_rig(name):
    # Two statements of one rig: sums of mass and moment in each moving frame.
    kit, balance = _solved(name)
    labels = [e.label for e in kit.eyepieces]
    rig = build_rig(kit, eyepiece=labels.index(balance.eyepiece))
    for frame, mine, order in (
        (DECLINATION, balance.tube, (2, 0, 1)),  # (r, t, a) as the rig's (a, r, t)
        (POLAR, balance.masses_on_hour_axis, (2, 1, 0)),  # (p, b, a) as (a, b, p)
    ):
        rows = rig.frame == frame
        assert np.sum(rig.mass_kg[rows]) == pytest.approx(mine.total_kg)
        moment = rig.mass_kg[rows] @ rig.centre_m[rows]
        assert moment == pytest.approx(mine.moment_kg_m[list(order)], abs=1e-12)


# --- first placement


@pytest.mark.parametrize("name", KITS)
def test_balanced_but_for_what_lies_crosswise(name):
    _, balance = _solved(name)
    tube, hour = balance.tube.moment_kg_m, balance.masses_on_hour_axis.moment_kg_m
    assert tube[1] == pytest.approx(0, abs=1e-12)
    assert tube[2] + hour[2] == pytest.approx(0, abs=1e-12)
    cross = STANDARD_GRAVITY_M_S2 * abs(tube[0])
    assert balance.declination_torque_nm == pytest.approx(cross)
    assert balance.load.carried_kg < balance.load.limit_kg


def test_slide_is_counted_from_where_the_tube_is():
    kit, balance = _solved("courtyard")
    _, again = _solved("courtyard", present_mm=balance.over_saddle_mm - 30.0)
    assert again.slide_forward_mm == pytest.approx(30.0)
    # A heavy camera at the back asks for the tube to go forward.
    heavy = _changed(kit, accessories=(Accessory(mass_kg=0.8, from_front_mm=650),))
    moved = solve(heavy, middle_eyepiece(eyepieces_of(heavy)))
    assert moved.slide_forward_mm > balance.slide_forward_mm


def test_a_dovetail_too_short_says_what_is_missing():
    kit = demo_kit("courtyard")
    kit = _changed(kit, dovetail_length_mm=20.0)
    balance = solve(kit, ("eyepiece", 0.17))
    assert balance.short_of_slide_mm < -10
    assert abs(balance.over_saddle_mm - kit.tube.balance_from_front_mm) == pytest.approx(10)
    assert balance.declination_torque_nm > 5.0 * 9.8 * 0.01


def test_a_shaft_with_no_weights_and_a_tube_without_mass_are_refused_in_one_line():
    text = demo_text("courtyard")
    first = text.index("[[mount.weight]]")
    cut = text[:first] + text[text.index("[tube]") :]
    kit, problems = check_text(cut.replace('motion = "hand"', 'motion = "hand"\nweight = []', 1))
    assert kit is not None, problems
    with pytest.raises(AxletreeError, match=r"no counterweights .*") as error:
        solve(kit, ("eyepiece", 0.17))
    assert "\n" not in str(error.value)
    nothing = _changed(demo_kit("courtyard"), mass_kg=0.0, focuser_mass_kg=0.0, finder=None)
    with pytest.raises(AxletreeError, match="nothing on the saddle has a mass"):
        solve(nothing, ("eyepiece", 0.0))


# --- weights


def _brute_force(weights, start, length, need):
    """Least moment left over by any choice, any order, slid in steps of a tenth of a millimetre."""
    each = [(w.mass_kg, w.thickness_mm) for w in weights for _ in range(w.count)]
    best = abs(need)
    for n in range(1, len(each) + 1):
        for order in set(itertools.permutations(each, n)):
            slack = length - sum(t for _, t in order)
            if slack < 0:
                continue
            face, moment, mass = start, 0.0, 0.0
            for m, t in order:
                moment += m * (face + t / 2) / 1000
                mass += m
                face += t
            slides = np.append(np.arange(0.0, slack, 0.1), slack)
            best = min(best, float(np.min(np.abs(need - moment - mass * slides / 1000))))
    return best


@settings(max_examples=40, deadline=None)
@given(
    weights=st.lists(
        st.builds(
            Weight,
            mass_kg=st.floats(0.5, 8.0),
            thickness_mm=st.floats(20.0, 120.0),
            count=st.integers(1, 2),
        ),
        min_size=1,
        max_size=2,
    ),
    need=st.floats(0.05, 6.0),
    length=st.floats(100.0, 420.0),
)
def test_weights_against_brute_force(weights, need, length):
    found = loadings(weights, 80.0, length, need)
    heaviest = sum(w.mass_kg * w.count for w in weights)
    step = heaviest * 0.05 / 1000  # half a step of the brute force
    assert abs(found[0].leftover_kg_m) <= _brute_force(weights, 80.0, length, need) + 1e-12
    assert abs(found[0].leftover_kg_m) >= _brute_force(weights, 80.0, length, need) - step - 1e-12
    for loading in found:
        # Nothing overlaps, nothing stands off the shaft, the moment is as it says.
        edges = [(p - t / 2, p + t / 2) for p, t in
                 zip(loading.position_mm, loading.thickness_mm, strict=True)]  # fmt: skip
        assert all(b[0] >= a[1] - 1e-9 for a, b in itertools.pairwise(edges))
        assert all(low >= 80.0 - 1e-9 and high <= 80.0 + length + 1e-9 for low, high in edges)
        assert loading.moment_kg_m + loading.leftover_kg_m == pytest.approx(need)


def test_an_order_in_between_is_found_where_the_shaft_is_nearly_full():
    # Three weights with 4 mm to spare: only the order 2, 1, 4 kg reaches this moment.
    owned = [Weight(mass_kg=m, thickness_mm=50.0) for m in (1.0, 2.0, 4.0)]
    need = (2.0 * 105 + 1.0 * 155 + 4.0 * 205 + 7.0 * 2) / 1000
    found = loadings(owned, 80.0, 154.0, need)
    assert found[0].exact
    assert found[0].mass_kg == (2.0, 1.0, 4.0)
    assert _brute_force(owned, 80.0, 154.0, need) < 1e-3


def test_every_combination_is_tried():
    # Counting: (2 + 1)(1 + 1)(1 + 1) choices, all of which fit.
    owned = [Weight(mass_kg=1, count=2), Weight(mass_kg=2), Weight(mass_kg=3)]
    assert len(list(combinations(owned, 1000.0))) == 12
    assert len(list(combinations(owned, 100.0))) == 8  # 50 mm each: two at most


def test_too_little_and_too_much_weight():
    little = loadings([Weight(mass_kg=2.0)], 80.0, 300.0, 2.0)[0]
    assert little.leftover_kg_m == pytest.approx(2.0 - 2.0 * 0.355)
    # Doing it: the mass hung at the end, or the longer shaft, closes the gap.
    assert missing_at_end_kg(little, 80.0, 300.0) * 0.380 == pytest.approx(little.leftover_kg_m)
    more = longer_shaft_mm(little)
    assert loadings([Weight(mass_kg=2.0)], 80.0, 300.0 + more, 2.0)[0].exact
    much = place([(5.0, 50.0)], 80.0, 300.0, 0.3)
    assert much.leftover_kg_m == pytest.approx(0.3 - 5.0 * 0.105)
    assert missing_at_end_kg(much, 80.0, 300.0) == 0.0
    # With so little to hold, no weight at all comes nearer than one that is too heavy.
    assert loadings([Weight(mass_kg=5.0)], 80.0, 300.0, 0.2)[0].mass_kg == ()
    # Already too heavy on the shaft's side: nothing fits better.
    assert loadings([Weight(mass_kg=5.0)], 80.0, 300.0, -0.1)[0].mass_kg == ()


def test_more_weights_than_can_be_tried_are_refused():
    owned = [Weight(mass_kg=1 + i / 10, thickness_mm=1.0, count=20) for i in range(5)]
    with pytest.raises(AxletreeError, match="too many different weights"):
        loadings(owned, 80.0, 300.0, 1.0)


# --- trim, swaps, certainty


@pytest.mark.parametrize("name", KITS)
def test_a_trim_takes_the_crosswise_part_away(name):
    kit, balance = _solved(name)
    ways = trim(kit, balance)
    eyepiece = middle_eyepiece(eyepieces_of(kit))
    for turn in (ways.turn_deg, ways.turn_under_deg):
        turned = solve(kit, eyepiece, turn_deg=turn)
        assert turned.declination_torque_nm < 1e-9
        assert turned.hour_torque_nm < 1e-9
    # Facing the saddle, the heavy side asks for less counterweight.
    over, under = (solve(kit, eyepiece, turn_deg=t) for t in (ways.turn_deg, ways.turn_under_deg))
    assert under.need_kg_m < over.need_kg_m
    # Or the mass: placed where it says, nothing is left, once the weights have gone out.
    bar = Accessory(mass_kg=ways.mass_kg, from_front_mm=balance.over_saddle_mm,
                    offset_mm=ways.radius_mm, angle_deg=ways.mass_angle_deg)  # fmt: skip
    with_bar = _changed(kit, accessories=(*kit.tube.accessories, bar))
    again = solve(with_bar, eyepiece)
    assert again.declination_torque_nm < 1e-9
    if len(again.loading.mass_kg) == len(balance.loading.mass_kg):
        moved = again.loading.position_mm[0] - balance.loading.position_mm[0]
        assert moved == pytest.approx(ways.weights_outward_mm)


def test_rings_that_do_not_turn_get_a_mass_only():
    kit = _changed(demo_kit("courtyard"), ring_turn_fixed=True)
    ways = trim(kit, solve(kit, ("eyepiece", 0.17)))
    assert ways.turn_deg is None
    assert ways.mass_kg > 0


def test_a_catadioptric_has_no_rings():
    """Common practice, no source: its dovetail is bolted to the two ends of the tube."""
    kit = _changed(demo_kit("courtyard"), kind="catadioptric")
    ways = trim(kit, solve(kit, ("eyepiece", 0.17)))
    assert ways.turn_deg is None
    assert ways.turn_under_deg is None
    assert ways.mass_kg > 0


@pytest.mark.parametrize("name", KITS)
def test_swapping_eyepieces(name):
    kit, balance = _solved(name)
    rows = swaps(kit, balance)
    assert [r.eyepiece for r in rows] == [label for label, _ in eyepieces_of(kit)]
    for row in rows:
        # Doing it: moved as it says, only the crosswise part is left.
        tube = tube_masses(kit, row.mass_kg, balance.over_saddle_mm + row.slide_forward_mm)
        assert tube.moment_kg_m[1] == pytest.approx(0, abs=1e-12)
        places = np.array(balance.loading.position_mm) + row.weights_outward_mm
        hour = head_masses(kit) + weight_masses(np.array(balance.loading.mass_kg), places)
        assert hour.moment_kg_m[2] + tube.moment_kg_m[2] == pytest.approx(0, abs=1e-12)
        if row.eyepiece == balance.eyepiece:
            assert row.declination_torque_nm == pytest.approx(balance.declination_torque_nm)
            assert row.slide_forward_mm == pytest.approx(0, abs=1e-9)

    # The one chosen to balance with is the one that leaves the least after the worst swap.
    def worst(choice):
        return max(abs(r.mass_kg - choice[1]) for r in rows)

    choices = eyepieces_of(kit)
    assert worst(middle_eyepiece(choices)) == min(worst(c) for c in choices)


def test_a_barlow_is_a_swap_too():
    kit = demo_kit("courtyard").model_copy(update={"barlows": (Barlow(mass_kg=0.2),)})
    balance = solve(kit, middle_eyepiece(eyepieces_of(kit)))
    rows = {r.eyepiece: r for r in swaps(kit, balance)}
    assert rows["25 mm with 2x Barlow"].mass_kg == pytest.approx(0.17 + 0.2)
    assert len(rows) == 6


def test_a_measured_kit_is_certain_and_a_guessed_one_is_not():
    kit, balance = _solved("courtyard")
    eyepiece = middle_eyepiece(eyepieces_of(kit))
    sure = certainty(kit.model_copy(update={"guessed": ()}), eyepiece, balance)
    assert sure.tube_sigma_mm == 0
    assert sure.weights_sigma_mm == 0
    guess = certainty(kit, eyepiece, balance)
    assert 5 < guess.tube_sigma_mm < 80
    assert 2 < guess.weights_sigma_mm < 60
    assert "tube.balance_from_front_mm" in guess.guessed
    assert "tube.mass_kg" not in guess.guessed  # the kit gives it


# --- the luggage scale


def test_a_scale_on_the_declination_axis():
    # A tube clamped 20 mm wrong, level, shaft level: what the scale would read is M g x / d.
    kit, balance = _solved("courtyard")
    tube = tube_masses(kit, 0.16, balance.over_saddle_mm - 20.0)
    moment = tube.moment_kg_m[1]
    assert moment < 0  # the back is heavy: more of the tube hangs behind
    reading = ScaleReading(Axis.DECLINATION, LeverEnd.BACK, -moment / 0.3, 300.0)
    assert reading.torque_nm == pytest.approx(-moment * STANDARD_GRAVITY_M_S2)
    fix = correct(kit, reading, None, tube.total_kg)
    assert fix.slide_forward_mm == pytest.approx(20.0)
    assert fix.sigma_mm > 0


def test_a_scale_on_an_upright_tube_finds_the_crosswise_part():
    # With the tube upright the torque about the declination axis is that of the crosswise part.
    kit, balance = _solved("courtyard")
    axes = align(kit.site.latitude_deg)
    D, T = np.array([1.0, 0, 0]), np.array([0, 0, 1.0])
    _, about_a = torques_nm(balance.masses_on_hour_axis, balance.tube, axes.pole, D, T)
    moment = float(about_a) / STANDARD_GRAVITY_M_S2
    # A pull to the right at the top, d T x F R with R = T x D, is a torque of -d F about D.
    pull = moment / 0.35
    end = LeverEnd.RIGHT if pull > 0 else LeverEnd.LEFT
    fix = correct(kit, ScaleReading(Axis.DECLINATION, end, abs(pull), 350.0), None, 5.8)
    expected = trim(kit, balance)
    assert fix.trim_kg == pytest.approx(expected.mass_kg)
    assert fix.trim_angle_deg == expected.mass_angle_deg


def test_a_scale_on_the_hour_axis():
    kit, balance = _solved("courtyard")
    head = kit.mount.head
    # The 5.1 kg weight against the head: its end is too light by what is still needed.
    at = (head.shaft_start_mm + 30.0) / 1000
    short = balance.need_kg_m - 5.1 * at
    reading = ScaleReading(Axis.HOUR, LeverEnd.TUBE, short / 0.25, 250.0)
    fix = correct(kit, reading, on_shaft("5.1@0"), 5.8)
    assert fix.weights_outward_mm == pytest.approx(short * 1000 / 5.1)
    assert fix.loadings[0].exact
    assert fix.loadings[0].position_mm == pytest.approx(balance.loading.position_mm)
    # Without places, only the slide can be said; too heavy weights go inwards.
    other = correct(
        kit, ScaleReading(Axis.HOUR, LeverEnd.WEIGHTS, 0.4, 250.0), on_shaft("5.1 3.4"), 5.8
    )
    assert other.weights_outward_mm == pytest.approx(-0.1 * 1000 / 8.5)
    assert other.loadings == ()


@pytest.mark.parametrize(
    ("text", "kg"),
    [("0.85kg", 0.85), ("850 g", 0.85), ("8.3357N", 0.85), ("1.8739lb", 0.85), ("29.983oz", 0.85)],
)
def test_readings_in_units(text, kg):
    # SI and international pound: definitions (0.45359237 kg; 9.80665 m/s2).
    assert reading_kg(text) == pytest.approx(kg, rel=1e-4)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: reading_kg("0.85"), "with a unit"),
        (lambda: reading_kg("-1kg"), "not a scale reading"),
        (lambda: scale_reading("roll", "front", "1kg", "300mm"), "neither"),
        (lambda: scale_reading("hour", "up", "1kg", "300mm"), "none of tube, weights"),
        (lambda: ScaleReading(Axis.HOUR, LeverEnd.TUBE, 1, 0), "at some distance"),
        (lambda: ScaleReading(Axis.HOUR, LeverEnd.FRONT, 1, 300), "tube, weights"),
        (lambda: on_shaft("5.1@x"), "5.1@120"),
        (lambda: on_shaft("0@5"), "kilograms and the gap"),
    ],
)
def test_scale_readings_that_make_no_sense(make, says):
    with pytest.raises(AxletreeError, match=says):
        make()


def test_a_weight_that_the_kit_does_not_own():
    kit = demo_kit("courtyard")
    with pytest.raises(AxletreeError, match=r"no weight of 2 kg in the kit; it has 3\.4, 5\.1 kg"):
        correct(kit, ScaleReading(Axis.HOUR, LeverEnd.TUBE, 1, 300), on_shaft("2@10"), 5.8)


def test_loading_is_frozen():
    loading = loadings([Weight(mass_kg=5.0)], 80.0, 300.0, 1.0)[0]
    assert isinstance(loading, Loading)
    with pytest.raises(AttributeError):
        loading.leftover_kg_m = 0.0  # type: ignore[misc]
