"""The evening rehearsed by day: every step follows the last, and the page plays them.

Poses are held against directions of the sky by spherical trigonometry (J. Meeus, Astronomical
Algorithms, 2nd ed. 1998, ch. 13), the head's turns against rotations by hand; the order of weights
and tube, and which bolt of a pair yields first, are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from desks import Live, answered, until
from looks import colours

from axletree.app.web.pages import edition
from axletree.evening.sheet import plan
from axletree.kit.kit import demo_kit
from axletree.mount.clearance.paths import DECLINATION_FIRST
from axletree.mount.rig.eyepiece import eye_place
from axletree.mount.rig.kinematics import align, axis_angles, direction, frames
from axletree.pole.correct.bolts import BoltAction, BoltStep
from axletree.sky.observer import observer_of
from axletree.stages.night.rehearsal import Act, Rehearsal, RehearsalRequest, rehearsal
from axletree.stages.night.rehearsed_turns import AxesStand, Lock, OpenLockTurn, Turning
from axletree.stages.night.rig_built import BuiltLeg
from axletree.tell.rehearse.data import rehearsal_data

DAY = date(2026, 12, 5)
NIGHT = "rehearse?day=2026-12-05&at=2026-12-05T12:00Z"


@cache
def planned(name: str) -> plan.Planned:
    kit = demo_kit(name)
    made_at = datetime(2026, 12, 5, 12, tzinfo=kit.site.zone)
    return plan.plan_whole(kit, observer_of(kit.site), plan.EveningRequest(DAY, made_at=made_at))


@cache
def rehearsed(name: str) -> Rehearsal:
    night = planned(name)
    return rehearsal(RehearsalRequest(night.evening, night.evening.stops, night.ground.table))


@pytest.fixture(params=["courtyard", "paddock"])
def whole(request: pytest.FixtureRequest) -> Rehearsal:
    return rehearsed(request.param)


def test_each_step_begins_where_the_last_one_ended(whole: Rehearsal) -> None:
    steps = whole.steps
    assert len(steps) > 40
    assert len({step.key for step in steps}) == len(steps)
    for before, after in pairwise(steps):
        assert after.start == before.finish
    assert (steps[-1].finish.tube_end_h, steps[-1].finish.swing_deg) == (0.0, 0.0)


def test_a_turn_moves_one_axis_and_keeps_the_weights_low(whole: Rehearsal) -> None:
    turns = [s for s in whole.steps if isinstance(s.detail, OpenLockTurn)]
    assert len(turns) > 12
    for step in turns:
        hour = step.start.tube_end_h != step.finish.tube_end_h
        assert hour != (step.start.swing_deg != step.finish.swing_deg)
        # Straight from one to the other, so never through 12 h, where the weights stand on end.
        assert max(abs(step.start.tube_end_h), abs(step.finish.tube_end_h)) < 12.0
        assert not step.detail.near_sun
        assert step.detail.too_near == ()


def test_no_lock_is_opened_for_an_axis_that_the_motor_turns(whole: Rehearsal) -> None:
    """Common practice, no source: a clutch that is opened loses what the motor's keys reach."""
    motor = whole.evening.kit.mount.motor
    data = [s for s in rehearsal_data(whole)["steps"] if s["act"] == Act.TURN.value]
    assert data
    for step in data:
        words = " ".join(step["done"])
        assert step["driven"] == (motor is not None and motor.slew_deg_per_s is not None)
        assert ("lock open" in words) != step["driven"]
        assert ("stay shut" in step["hold"]) == step["driven"]


def test_the_turns_are_those_that_the_plan_looked_at(whole: Rehearsal) -> None:
    """The plan's warnings are of the same ways, begun where the stop before ended."""
    for number, stop in enumerate(whole.evening.stops):
        way = (stop.choice.east if stop.chosen.side == "east" else stop.choice.west).way
        turns = [
            s.detail for s in whole.steps
            if s.stop is not None and s.stop.number == number + 1
            and isinstance(s.detail, OpenLockTurn)
        ]  # fmt: skip
        order = [t.lock for t in turns]
        assert order == sorted(order, key=lambda lock: lock is not Lock.HOUR) or (
            way.order is DECLINATION_FIRST
        )
        for lock, turned in (
            (Lock.HOUR, way.hour_turn_deg),
            (Lock.DECLINATION, way.swing_turn_deg),
        ):
            made = sum(t.turn_deg for t in turns if t.lock is lock)
            assert made == pytest.approx(turned, abs=0.51)  # smaller turns are not told


def test_at_a_stop_the_tube_looks_where_the_sky_has_it(whole: Rehearsal) -> None:
    looks = [s for s in whole.steps if s.act is Act.LOOK]
    kit, axes = whole.evening.kit, align(whole.evening.kit.site.latitude_deg)
    assert len(looks) == len(whole.evening.stops)
    f = math.radians(kit.site.latitude_deg)
    for step in looks:
        assert step.stop is not None
        H = math.radians(step.stop.start.hour_angle_h * 15.0)
        d = math.radians(step.stop.start.declination_deg)
        # Meeus, eqs. 13.5 and 13.6, azimuth from the south turned to the north.
        altitude = math.asin(math.sin(f) * math.sin(d) + math.cos(f) * math.cos(d) * math.cos(H))
        azimuth = math.pi + math.atan2(
            math.sin(H), math.cos(H) * math.sin(f) - math.tan(d) * math.cos(f)
        )
        sky = (math.sin(azimuth) * math.cos(altitude), math.cos(azimuth) * math.cos(altitude),
               math.sin(altitude))  # fmt: skip
        tube = direction(axes, step.finish.tube_end_h, step.finish.swing_deg)
        # The axis stands on the refracted pole, two minutes of arc higher.
        assert math.degrees(math.acos(min(1.0, float(tube @ sky)))) < 0.05


def test_the_rig_is_put_together_and_taken_down_in_the_safe_order(whole: Rehearsal) -> None:
    acts = [step.act for step in whole.steps]
    order = [Act.LEG, Act.HEAD, Act.WEIGHT, Act.TUBE, Act.FREE, Act.TURN, Act.LOOK, Act.TUBE_OFF,
             Act.WEIGHTS_OFF]  # fmt: skip
    first = [acts.index(act) for act in order]
    assert first == sorted(first)
    built = [step.built for step in whole.steps]
    peak = built.index(whole.built.whole)
    assert built[:peak] == sorted(built[:peak])
    assert built[-2:] == [whole.built.whole - 1, whole.built.with_head]
    assert sorted(set(whole.built.group)) == list(range(1, whole.built.whole + 1))


def test_legs_are_as_long_as_the_slope_asks() -> None:
    legs = [s.detail for s in rehearsed("courtyard").steps if isinstance(s.detail, BuiltLeg)]
    kit = demo_kit("courtyard")
    tripod, yard = kit.mount.tripod, kit.yard
    assert yard is not None
    assert yard.slope_percent > 0
    want = []
    for direction_deg in tripod.leg_directions_deg:
        off = math.radians(direction_deg - yard.downhill_azimuth_deg)
        out = tripod.foot_radius_mm
        fall = out * yard.slope_percent / 100.0 * math.cos(off)
        want.append(math.hypot(out - tripod.top_radius_mm, tripod.top_height_mm + fall))
    assert [leg.longer_mm for leg in legs] == pytest.approx([v - min(want) for v in want], abs=0.05)


def test_bolts_bring_the_axis_home(whole: Rehearsal) -> None:
    steps = [s for s in whole.steps if s.act in (Act.SCALE, Act.BOLT)]
    rough, bolts = whole.rough, whole.evening.kit.mount.bolts
    off = steps[0].finish
    altitude = math.radians(abs(whole.evening.kit.site.latitude_deg))
    # As far off as compass, level and scale may leave it; along the horizon more, by 1 / cos.
    assert off.raise_deg * 60.0 == pytest.approx(-rough.high_sigma_arcmin, rel=0.03)
    east = -rough.east_sigma_arcmin / math.cos(altitude)
    assert off.move_east_deg * 60.0 == pytest.approx(east, rel=0.03)
    assert (steps[-1].finish.raise_deg, steps[-1].finish.move_east_deg) == (0.0, 0.0)
    turned = [s.detail for s in steps if isinstance(s.detail, BoltStep)]
    assert turned[0].turns == pytest.approx(-off.raise_deg * bolts.altitude_turns_per_degree)
    assert [t.verb for t in turned[1:]] == [BoltAction.LOOSEN, BoltAction.TIGHTEN]
    assert [t.clockwise for t in turned[1:]] == [False, True]
    # Of the pair the head moves with the bolt that pushes, not with the one that yields.
    assert steps[2].start.move_east_deg == steps[2].finish.move_east_deg == off.move_east_deg


def test_levers_are_level_when_their_locks_are_opened(whole: Rehearsal) -> None:
    hour, declination = [s.finish for s in whole.steps if s.act is Act.FREE]
    axes = align(whole.evening.kit.site.latitude_deg)
    polar, tube = frames(axes, *_angles([hour, declination]))
    assert polar[:, 2, 0] == pytest.approx([0.0, 0.0], abs=1e-9)  # the shaft
    assert tube[1, 2, 2] == pytest.approx(0.0, abs=2e-3)  # the tube, on the refracted pole


def _angles(standings: list[AxesStand]) -> tuple[list[float], list[float]]:
    return [s.tube_end_h for s in standings], [s.swing_deg for s in standings]


def sun_of(moment: datetime) -> tuple[float, float]:
    """Right ascension and declination of the Sun, degrees: Meeus ch. 25, low accuracy (0.01°)."""
    T = (moment - datetime(2000, 1, 1, 12, tzinfo=UTC)).total_seconds() / 86400.0 / 36525.0
    L = 280.46646 + 36000.76983 * T
    M = math.radians(357.52911 + 35999.05029 * T)
    lon = math.radians(L + 1.914602 * math.sin(M) + 0.019993 * math.sin(2 * M))
    eps = math.radians(23.4393)
    return (math.degrees(math.atan2(math.cos(eps) * math.sin(lon), math.cos(lon))),
            math.degrees(math.asin(math.sin(eps) * math.sin(lon))))  # fmt: skip


def test_no_turn_by_day_passes_the_sun() -> None:
    """At local noon the Sun stands in the south; a sweep along its own declination is led round it,
    or said to be one that passes."""
    night = planned("courtyard")
    turning, table = Turning.of(night.evening, night.ground.table), night.ground.table
    noon = datetime(2026, 12, 5, 12, 25, tzinfo=UTC)
    _, declination = sun_of(noon)
    poses = [
        AxesStand(*map(float, axis_angles(table.axes, "west", H, declination))) for H in (-3.2, 3.2)
    ]
    assert night.evening.stops
    stop = replace(night.evening.stops[0], begin=noon)
    f, d = math.radians(demo_kit("courtyard").site.latitude_deg), math.radians(declination)
    sun = np.array([0.0, -math.sin(f - d), math.cos(f - d)])

    def nearest(turn: OpenLockTurn) -> float:
        ends = np.linspace(turn.start.tube_end_h, turn.finish.tube_end_h, 90)
        swings = np.linspace(turn.start.swing_deg, turn.finish.swing_deg, 90)
        seen = direction(table.axes, ends, swings)
        return float(np.degrees(np.arccos(np.clip(seen @ sun, -1, 1))).min())

    straight = turning.way(*poses, None)
    assert min(map(nearest, straight)) < 5.0
    by_day = turning.way(*poses, stop)
    assert len(by_day) == 3
    for turn in by_day:
        assert turn.near_sun == (nearest(turn) < 30.0)
    assert min(map(nearest, by_day)) > 30.0


# -- the page -------------------------------------------------------------------------------

browser_only = pytest.mark.browser


@browser_only
def test_the_page_plays_the_evening(visit: Callable[..., Any], browser: Any) -> None:
    page = visit(NIGHT + "&step=turn-2-2", light="red")
    answered(page)
    wire = page.evaluate(
        "['navigation', 'resource'].flatMap(t => [...performance.getEntriesByType(t)])"
        ".filter(e => !e.name.endsWith('.woff2')).reduce((s, e) => s + e.transferSize, 0)"
    )
    assert 3000 < wire < 100_000
    assert page.locator("canvas").count() == 0  # nothing of it needs more than a drawing
    data = page.evaluate("fetch('/answer/rehearse?day=2026-12-05').then(r => r.json())")
    keys = [step["key"] for step in data["steps"]]
    at = keys.index("turn-2-2")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert f"step={keys[at + 2]}&" in page.url + "&"
    page.click("#step-back")
    assert f"step={keys[at + 1]}&" in page.url + "&"
    assert page.inner_text("#answer") == data["steps"][at + 1]["title"]
    assert page.text_content("#behind svg text[font-weight]") == "1.51 m"
    page.check("input[value='16']")
    assert "pace=16" in page.url
    page.keyboard.press("Escape")
    page.click("#play")
    assert page.inner_text("#play") == "Stop"
    until(page, f"() => !location.search.includes('{keys[at + 1]}')")
    page.click("#play")
    assert page.inner_text("#play") == "Play"
    page.locator("#chapters a").last.click()
    assert "step=home-1" in page.url
    # The rig is in view again, from however far below it was asked for.
    until(page, "() => document.querySelector('#drawing').getBoundingClientRect().top >= 0")
    small = page.evaluate(
        "[...document.querySelectorAll('main button, #chapters a, .choices label')]"
        ".filter(b => b.getBoundingClientRect().height < 44).length"
    )
    assert small == 0
    page.evaluate("document.querySelector('.redlight').style.display = 'none'")
    assert colours(browser, page.screenshot(full_page=True))["other"] == 0


@browser_only
def test_the_drawn_pose_is_the_mounts(visit: Callable[..., Any], live: Live) -> None:
    """Head tipped and turned, and the eye's place, against Python's shafts."""
    page = visit("rehearse", reduced_motion="reduce")
    rig = planned("courtyard").ground.table.rig
    latitude = rig.latitude_deg
    plain = {
        "latitude_deg": latitude, "hinge_height_m": rig.hinge_height_m,
        "crossing_along_m": rig.crossing_along_m, "crossing_above_m": rig.crossing_above_m,
        "eye_point_m": rig.eye_point_m.tolist(), "barrel": rig.barrel.tolist(),
    }  # fmt: skip
    poses = [[-4.3, 20.0, 0.0, 0.0], [2.1, -63.0, -0.6, 1.4], [5.5, 100.0, 2.0, -8.0]]
    module = f"/static/{edition()}/pages/rehearse_view.js"
    got = page.evaluate(
        "async ([rig, poses, address]) => { const m = await import(address);"
        " return poses.map(([end, swing, raise, east]) => {"
        "  const f = m.framesOff(rig, { end, swing, raise, east });"
        "  return { pole: f.turn[1][2], tube: f.turn[3][2], ...m.eyeOf(rig, f) }; }); }",
        [plain, poses, module],
    )
    for (end, swing, up, east), found in zip(poses, got, strict=True):
        alt, a = math.radians(latitude + up), math.radians(east)
        pole = (math.cos(alt) * math.sin(a), math.cos(alt) * math.cos(a), math.sin(alt))
        assert found["pole"] == pytest.approx(pole, abs=1e-9)
        about_z = np.array([[math.cos(a), math.sin(a), 0], [-math.sin(a), math.cos(a), 0],
                            [0, 0, 1]])  # fmt: skip
        axes = align(latitude, pole_altitude_deg=latitude + up)
        assert found["tube"] == pytest.approx(about_z @ direction(axes, end, swing), abs=1e-9)
        eye = eye_place(rig, axes, end, swing, (900.0, 1700.0))
        slope = rig.ground_normal[:2] / rig.ground_normal[2]
        flat = np.array([float(eye.east_m), float(eye.north_m)])
        assert found["eye"][2] == pytest.approx(float(eye.height_m) - slope @ flat, abs=1e-6)
        assert found["eye"][:2] == pytest.approx((about_z[:2, :2] @ flat).tolist(), abs=1e-6)


@browser_only
def test_where_motion_is_unwelcome_steps_stand_still(visit: Callable[..., Any]) -> None:
    page = visit(NIGHT + "&step=turn-1-1&pace=16", reduced_motion="reduce")
    answered(page)
    before, after = page.evaluate(
        "() => { const rods = () => [...document.querySelectorAll('#behind g[transform]')]"
        ".map((g) => g.getAttribute('transform')).join(), seen = rods();"
        " document.querySelector('#play').click(); return [seen, rods()]; }"
    )
    assert "rotate" in before
    assert after == before  # as it ends, at once
    until(page, "() => location.search.includes('turn-1-2')")


@browser_only
def test_without_a_plan_the_page_says_why(visit: Callable[..., Any], live: Live) -> None:
    text = live.desk.text.replace("latitude_deg = 38.5712", "latitude_deg = 78.2")
    assert text != live.desk.text
    before, revision = live.desk.text, live.desk.revision
    assert not live.desk.keep_kit(text, revision)
    try:
        page = visit("rehearse?day=2026-06-21&at=2026-06-21T12:00Z")
        answered(page)
        assert page.inner_text("#answer") == "Nothing to rehearse"
        assert len(page.inner_text("#because")) > 20
        assert page.locator("#play:visible").count() == 0
    finally:
        assert not live.desk.keep_kit(before, live.desk.revision)
