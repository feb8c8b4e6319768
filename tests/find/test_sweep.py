"""The search around a place, against a walk of the same legs on the sphere by other code."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from simulated_hands import SKY_DEG_PER_S, apart_deg
from test_steps import NORTH, SOUTH, geared, mounted

from axletree.axis.model import unmeasured
from axletree.find.steps import Steps, steps
from axletree.find.turning.shafts import SkyPlace
from axletree.find.turning.sweep import ENOUGH, Sweep, SweepRefusal, SweptBy, sweep
from axletree.sky.observer import Observer

BACKLASH_DEG = 30.0  # of either knob


def searched(
    observer: Observer, side: int, star: tuple[float, float], thing: tuple[float, float],
    driven: bool = False,
) -> tuple[Steps, Sweep]:  # fmt: skip
    kit = geared(hour_backlash_deg=BACKLASH_DEG, declination_backlash_deg=BACKLASH_DEG)
    airless = replace(observer, pressure_hpa=0.0)
    m = mounted(airless, side, kit, driven=driven, eyepiece_field_deg=0.5,
                model=unmeasured(10.0, 10.0))  # fmt: skip
    places = SkyPlace.of(*star), SkyPlace.of(*thing)
    way = steps(m, places[0], 1.0, places[1])
    assert isinstance(way, Steps)
    found = sweep(m, *places, way.by_turns)
    assert isinstance(found, Sweep)
    return way, found


class Walk:
    """A true mount, its knobs' backlash taken up to the west and as the declination knob went."""

    def __init__(self, observer, side, place, last_declination, driven):
        self.h, self.d = 15.0 * place[0], place[1]
        self.sense = 1.0 if observer.latitude_deg >= 0 else -1.0, float(side)
        self.last = [1.0, last_declination]
        self.driven, self.seconds = driven, 0.0

    def rest(self, seconds):
        self.seconds += seconds
        if self.driven:
            self.h += SKY_DEG_PER_S * seconds

    def turn(self, k, turns, seconds):
        """Places on the way (h, d, seconds since the beginning), 60 of them."""
        way = np.sign(turns) * self.sense[k]
        moved = abs(turns) - (BACKLASH_DEG / 360.0 if way != self.last[k] else 0.0)
        self.last[k] = way
        assert moved >= 0.0
        steps_of = []
        for _ in range(60):
            if k == 0:
                self.h += 2.5 * way * moved / 60
            else:
                self.d += 2.5 * way * moved / 60
            self.rest(seconds / 60)
            steps_of.append((self.h, self.d, self.seconds))
        return np.array(steps_of)


CASES = [
    (NORTH, 1, (-1.0, 30.0), (-2.0, 62.0), False),
    (NORTH, -1, (2.0, 20.0), (1.0, -10.0), True),
    (SOUTH, 1, (1.0, -40.0), (2.0, -70.0), False),
    (SOUTH, -1, (-1.0, -10.0), (0.5, 5.0), False),
]


@pytest.mark.parametrize(("observer", "side", "star", "thing", "driven"), CASES)
def test_the_walk_sees_as_much_as_is_said_and_ends_at_the_star(
    observer: Observer, side: int, star: tuple[float, float], thing: tuple[float, float],
    driven: bool,
) -> None:  # fmt: skip
    way, found = searched(observer, side, star, thing, driven)
    rng = np.random.default_rng(3)
    east, north = rng.multivariate_normal([0, 0], way.by_turns.covariance_deg2, 4000).T
    d0 = thing[1] + north
    h0 = 15.0 * thing[0] - east / np.cos(np.radians(d0))
    last = 1.0 if way.declination.degrees >= 0.0 else -1.0
    walk = Walk(observer, side, thing, last, driven)
    seen = apart_deg(walk.h / 15.0, walk.d, h0 / 15.0, d0) <= 0.25
    assert found.chance_before == pytest.approx(seen.mean(), abs=0.025)
    walk.rest(15.0)
    for leg in found.legs:
        k = 0 if leg.by is SweptBy.HOUR else 1
        for h, d, seconds in walk.turn(k, leg.turns, leg.seconds):
            there = (h0 + SKY_DEG_PER_S * seconds) / 15.0
            seen |= apart_deg(h / 15.0, d, there, d0) <= 0.25
        assert leg.chance == pytest.approx(seen.mean(), abs=0.025)
    assert found.chance >= ENOUGH
    assert found.seconds == pytest.approx(walk.seconds)
    # Back: the star has gone on since the object was to be in view.
    assert found.back_hour_turns is not None
    assert found.back_declination_turns is not None
    back_s = 15.0 + sum(
        10.0 + 2.0 * abs(t) for t in (found.back_hour_turns, found.back_declination_turns)
    )
    walk.turn(0, found.back_hour_turns, 0.0)
    walk.turn(1, found.back_declination_turns, 0.0)
    walk.rest(back_s)
    star_h = star[0] + SKY_DEG_PER_S * walk.seconds / 15.0
    assert float(apart_deg(walk.h / 15.0, walk.d, star_h, star[1])) < 0.03


def test_the_hour_knob_turns_further_towards_the_pole() -> None:
    """1 / cos 62 degrees = 2.13, by hand; the legs are a little less than the field apart."""
    _, found = searched(NORTH, 1, (-1.0, 30.0), (-2.0, 62.0), driven=True)
    assert found.step_deg == pytest.approx(0.4)
    first, second = found.legs[:2]
    assert first.by is SweptBy.HOUR
    assert abs(first.turns) * 2.5 / abs(first.sky_deg) == pytest.approx(2.13, abs=0.02)
    assert abs(second.turns) * 2.5 / abs(second.sky_deg) == pytest.approx(1.0, abs=0.01)
    assert not found.carried


def test_without_a_knob_there_is_no_search_by_turns() -> None:
    m = mounted(NORTH, 1, geared(declination_geared=False))
    star, thing = SkyPlace.of(-1.0, 30.0), SkyPlace.of(-2.0, 40.0)
    way = steps(m, star, 1.0, thing)
    assert isinstance(way, Steps)
    assert sweep(m, star, thing, way.by_turns) is SweepRefusal.NO_KNOB


def test_an_arm_ends_the_search() -> None:
    """An arm of two degrees in all, half of it used on the way."""
    kit = geared(declination_arm=True, declination_arm_range_deg=2.0,
                 declination_arm_deg_per_turn=0.5)  # fmt: skip
    m = mounted(NORTH, 1, kit, eyepiece_field_deg=0.5)
    star, thing = SkyPlace.of(-1.0, 30.0), SkyPlace.of(-2.0, 30.9)
    way = steps(m, star, 1.0, thing)
    assert isinstance(way, Steps)
    found = sweep(m, star, thing, way.by_turns)
    assert isinstance(found, Sweep)
    assert [leg.by for leg in found.legs] == [SweptBy.HOUR]


def test_the_hour_knob_goes_on_with_the_sky() -> None:
    """Undriven it turns as much more to the west as the sky has since its last leg."""
    places = (-1.0, 30.0), (-2.0, 62.0)
    _, still = searched(NORTH, 1, *places)
    _, followed = searched(NORTH, 1, *places, driven=True)
    assert still.carried
    assert len(still.legs) >= 3
    since = 15.0  # the first look
    for one, other in zip(still.legs, followed.legs, strict=False):
        assert one.sky_deg == other.sky_deg
        since += one.seconds
        if one.by is SweptBy.HOUR:
            assert one.turns - other.turns == pytest.approx(since * SKY_DEG_PER_S / 2.5, abs=1e-6)
            since = 0.0
        else:
            assert one.turns == pytest.approx(other.turns, abs=1e-3)
