"""Turns of both knobs and their chance, against a person simulated by other code."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from simulated_hands import Hands, Told, rigs, share_within

from axletree.axis.model import unmeasured
from axletree.find.person import skill_of
from axletree.find.steps import ChanceFrom, Steps, StepsRefusal, Way, steps
from axletree.find.turning.knobs import LockReason, Mounted
from axletree.find.turning.shafts import SkyPlace
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.observer import Observer

AXIS_ARCMIN = 15.0
FIELD_DEG = 1.2
NARROW_DEG = 0.6  # where chances are neither 0 nor 1, so that every part of the error is felt
# Air like that of the other code's formula: 1013.25 hPa and 15 C.
NORTH = Observer(38.6, -7.9, pressure_hpa=1013.25, temperature_c=15.0)
SOUTH = Observer(-43.9, 170.5, pressure_hpa=1013.25, temperature_c=15.0)
PRACTISED = skill_of("practised")


def mounted(observer: Observer, side: int, kit: Kit | None = None, **changes: object) -> Mounted:
    known = unmeasured(AXIS_ARCMIN, AXIS_ARCMIN)
    basis = Mounted(kit or demo_kit(), observer, known, side, False, PRACTISED, FIELD_DEG, 6.0)
    return replace(basis, **changes)  # type: ignore[arg-type]


def way(
    m: Mounted, star: tuple[float, float], thing: tuple[float, float], magnitude: float = 1.0
) -> Steps:
    found = steps(m, SkyPlace.of(*star), magnitude, SkyPlace.of(*thing))
    assert isinstance(found, Steps)
    return found


def geared(**changes: object) -> Kit:
    kit = demo_kit()
    gears = kit.mount.gears.model_copy(update=changes)
    return kit.model_copy(update={"mount": kit.mount.model_copy(update={"gears": gears})})


WAYS = [
    (NORTH, 1, (-1.5, 38.8), (-1.8, 33.0), False),  # from Vega to the Ring
    (NORTH, -1, (3.0, 45.3), (1.4, 22.7), False),
    (NORTH, 1, (-3.0, 74.2), (-2.0, 69.0), False),  # from Kochab
    (NORTH, -1, (2.0, -26.4), (1.5, -24.4), True),  # low, driven
    (SOUTH, 1, (-2.0, -57.2), (-4.0, -72.1), False),
    (SOUTH, -1, (4.0, -16.7), (2.5, 5.0), False),
]


@pytest.mark.parametrize(("observer", "side", "star", "thing", "driven"), WAYS)
def test_the_chance_is_a_simulated_persons_share(
    observer: Observer, side: int, star: tuple[float, float], thing: tuple[float, float],
    driven: bool,
) -> None:  # fmt: skip
    """20,000 draws: the share's own error is 0.003."""
    m = mounted(observer, side, driven=driven, eyepiece_field_deg=NARROW_DEG)
    found = way(m, star, thing)
    assert found.hour.turns is not None
    assert found.declination.turns is not None
    told = Told(found.hour.turns, found.declination.turns, found.seconds, found.seconds_sigma)
    hands = Hands(
        PRACTISED.count_turns, PRACTISED.miscount, PRACTISED.centre_field * NARROW_DEG / 2.0,
        PRACTISED.wrong_bright_star, 30.0 / 3600.0,
    )  # fmt: skip
    rng = np.random.default_rng(7)
    mounts = rigs(rng, 20_000, observer.latitude_deg, AXIS_ARCMIN, 1.0)
    for radius, chance in ((NARROW_DEG / 2, found.by_turns.eyepiece), (3.0, found.by_turns.finder)):
        share = share_within(rng, mounts, side, star, thing, told, hands, radius, driven)
        assert chance == pytest.approx(share, abs=0.01)


@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("observer", [NORTH, SOUTH])
def test_a_mount_without_errors_arrives_in_the_middle(observer: Observer, side: int) -> None:
    """Counted and timed without error, the turns told lead onto the object: 0.01 degrees."""
    d = np.sign(observer.latitude_deg)
    star, thing = (-2.0 * side, 40.0 * d), (-1.0 * side, 10.0 * d)
    found = way(mounted(observer, side), star, thing)
    assert found.hour.turns is not None
    assert found.declination.turns is not None
    told = Told(found.hour.turns, found.declination.turns, found.seconds, 0.0)
    rng = np.random.default_rng(1)
    mounts = rigs(rng, 1, observer.latitude_deg, 0.0, 1.0)
    mounts.cone[:] = mounts.lean[:] = 0.0
    hands = Hands(0.0, 0.0, 0.0, 0.0, 0.0)
    assert share_within(rng, mounts, side, star, thing, told, hands, 0.01) == 1.0


def test_the_skys_turn_is_in_the_count() -> None:
    """144 teeth: 0.10 turn a minute, 360 / 144 = 2.5 degrees a turn (by hand)."""
    m = mounted(NORTH, 1)
    still, followed = (
        way(replace(m, driven=driven), (-1.5, 20.0), (-2.5, 20.0)) for driven in (False, True)
    )
    assert still.hour.turns is not None
    assert followed.hour.turns is not None
    minutes = still.seconds / 60.0
    # The star stands further east by then: less is to be turned to the east.
    assert still.hour.turns - followed.hour.turns == pytest.approx(0.1003 * minutes, abs=0.002)
    assert still.later_turns_per_minute == pytest.approx(0.1003, abs=1e-4)
    assert followed.later_turns_per_minute == 0.0
    assert still.hour.circle_deg == pytest.approx(followed.hour.circle_deg)


def test_the_declination_knob_turns_the_other_way_on_the_other_side() -> None:
    """Clockwise is north on tube side east (the kit's answer), so south on side west."""
    east, west = (way(mounted(NORTH, side), (1.0, 20.0), (1.0, 30.0)) for side in (1, -1))
    assert east.declination.turns == pytest.approx(4.0, abs=0.01)
    assert west.declination.turns == pytest.approx(-4.0, abs=0.01)
    assert east.declination.last_move is west.declination.last_move is Way.NORTH
    assert east.declination.last_move_clockwise
    assert not west.declination.last_move_clockwise


def test_only_a_way_to_the_east_goes_past_the_place_and_back() -> None:
    m = mounted(NORTH, 1, geared(hour_backlash_deg=36.0))
    east, west = way(m, (1.0, 20.0), (0.0, 20.0)), way(m, (0.0, 20.0), (1.0, 20.0))
    assert east.hour.last_move is west.hour.last_move is Way.WEST
    assert east.hour.overshoot_turns == pytest.approx(0.25 + 0.1)
    assert west.hour.overshoot_turns == 0.0


@pytest.mark.parametrize(
    ("changes", "declination_deg", "reason"),
    [
        ({"declination_arm": True, "declination_arm_range_deg": 12.0,
          "declination_arm_deg_per_turn": 0.5}, 27.0, LockReason.BEYOND_THE_ARM),
        ({"declination_arm": True, "declination_arm_range_deg": 12.0,
          "declination_arm_deg_per_turn": 0.5}, 25.0, None),
        ({"declination_arm": True}, 21.0, LockReason.TURNS_NOT_COUNTED),
        ({"declination_geared": False}, 21.0, LockReason.NO_KNOB),
        ({}, 75.0, LockReason.TOO_MANY_TURNS),
        ({}, 65.0, None),
    ],
)  # fmt: skip
def test_locks_are_opened_where_no_knob_leads(
    changes: dict[str, object], declination_deg: float, reason: LockReason | None
) -> None:
    found = way(mounted(NORTH, 1, geared(**changes)), (1.0, 20.0), (1.0, declination_deg))
    assert found.declination.lock is reason
    assert (found.declination.turns is None) == (reason is not None)


def test_circles_lead_into_the_finder_where_turns_lead_into_the_eyepiece() -> None:
    """Marks every five degrees, read to a fifth: hardly ever within 0.6 degrees, mostly in 3."""
    kit = demo_kit()
    coarse = {"hour_division_min": 20.0, "declination_division_deg": 5.0, "read_division": 0.2}
    circles = kit.mount.circles.model_copy(update=coarse)
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"circles": circles})})
    found = way(mounted(NORTH, 1, kit), (-1.5, 38.8), (-1.8, 33.0))
    assert found.by_turns.eyepiece > 0.9
    assert found.by_circles.eyepiece < 0.2
    assert found.by_circles.finder is not None
    assert found.by_circles.finder > 0.8


def test_guessed_teeth_and_a_fainter_star_lower_the_chance() -> None:
    m = mounted(NORTH, 1)
    sure = way(m, (-1.5, 38.8), (-1.8, 30.0))
    fainter = way(m, (-1.5, 38.8), (-1.8, 30.0), magnitude=4.0)
    kit = m.kit.model_copy(update={"guessed": ("mount.gears.declination_worm_teeth",)})
    guessed = way(replace(m, kit=kit), (-1.5, 38.8), (-1.8, 30.0))
    near = way(replace(m, kit=kit), (-1.5, 38.8), (-1.8, 37.0))
    assert guessed.declination.lock is LockReason.TURN_UNSURE
    assert near.declination.lock is None
    assert fainter.by_turns.eyepiece < sure.by_turns.eyepiece - 0.02
    assert guessed.by_turns.eyepiece < sure.by_turns.eyepiece - 0.2
    assert sure.chance_from is ChanceFrom.ASSUMED


def test_no_lock_is_opened_where_a_guessed_knob_is_good_enough() -> None:
    """An error of some tenths of a degree is too much for a field of 1.7 degrees, and little in one
    of ten."""
    m = mounted(NORTH, 1)
    kit = m.kit.model_copy(update={"guessed": ("mount.gears.declination_worm_teeth",)})
    wide = replace(m, kit=kit, eyepiece_field_deg=10.0)
    far = (-1.5, 38.8), (-1.8, 32.0)
    assert way(replace(m, kit=kit), *far).declination.lock is LockReason.TURN_UNSURE
    assert way(wide, *far).declination.lock is None


def test_a_turn_smaller_than_its_error_is_left_alone() -> None:
    m = mounted(NORTH, 1)
    same = way(m, (-1.5, 33.02), (-1.8, 33.0))
    assert same.declination.left_alone
    assert not same.hour.left_alone


def test_a_tube_that_leans_never_sees_the_pole() -> None:
    model = replace(unmeasured(1.0, 1.0), cone_arcmin=60.0)
    m = mounted(NORTH, 1, model=model)
    found = steps(m, SkyPlace.of(1.0, 20.0), 1.0, SkyPlace.of(1.0, 89.95))
    assert found is StepsRefusal.OUT_OF_REACH


def test_the_pole_star_is_no_start_for_an_axis_that_is_a_little_off() -> None:
    """Of 0.7 degrees from the pole, 15 arcminutes make 20 degrees of hour angle."""
    found = steps(mounted(NORTH, 1), SkyPlace.of(-3.0, 89.3), 2.0, SkyPlace.of(-2.0, 69.0))
    assert found is StepsRefusal.STAR_AT_THE_POLE


@pytest.mark.parametrize(
    ("marks", "sits", "driven", "expected_deg"),
    [
        ("hour angle", "fixed", False, 15.0),  # an hour further west, and the sky's own turn
        ("right ascension", "slipped", False, -15.0),
        ("hour angle", "fixed", True, 15.0),
        ("right ascension", "driven", True, -15.0),
    ],
)
def test_the_hour_circle_changes_as_it_is_marked(
    marks: str, sits: str, driven: bool, expected_deg: float
) -> None:
    """An object an hour west of its star: an hour less of right ascension. A circle that the drive
    carries shows just that; any other one has lost or won the sky's turn meanwhile."""
    kit = demo_kit()
    circles = kit.mount.circles.model_copy(update={"hour_marks": marks, "hour_circle": sits})
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"circles": circles})})
    m = mounted(replace(NORTH, pressure_hpa=0.0), 1, kit, driven=driven)
    found = way(m, (1.0, 20.0), (2.0, 25.0))
    sky_deg = 0.0 if sits == "driven" else found.seconds * 360.0 / 86164.0905
    sign = 1.0 if expected_deg > 0.0 else -1.0
    assert found.hour.circle_deg == pytest.approx(expected_deg + sign * sky_deg, abs=1e-6)
