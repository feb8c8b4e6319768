"""Yard plans: every obstacle's edge against ray casting, plain geometry and hard cases."""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from axletree.ground.skyline.yard import (
    blockers,
    ridge_ends,
    skyline_tangents,
    within_outline,
    yard_horizon,
    yard_plan,
)
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.site import Post, Roof, Tree, Wall, Yard

_spec = importlib.util.spec_from_file_location(
    "ray_casting", Path(__file__).with_name("ray_casting.py")
)
assert _spec is not None
assert _spec.loader is not None
ray_casting = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(ray_casting)

AREA = ((-20.0, -20.0), (20.0, -20.0), (20.0, 20.0), (-20.0, 20.0))


def yard(**parts: object) -> Yard:
    return Yard.model_validate({"area_m": AREA, **parts})


def altitude(one: Yard, place: tuple[float, float], height: float, azimuth: float) -> float:
    top = skyline_tangents(yard_plan(one), [place], height, [azimuth])[0, 0]
    return math.degrees(math.atan(top))


def test_wall_by_hand() -> None:
    """3 m over the eye, 10 m north: atan(0.3); at 30 degrees aside it is 10/cos 30 away."""
    one = yard(wall=[Wall(points_m=((-9, 10), (9, 10)), height_m=4)])
    assert altitude(one, (0, 0), 1, 0) == pytest.approx(math.degrees(math.atan(0.3)))
    aside = math.degrees(math.atan(3 / (10 / math.cos(math.radians(30)))))
    assert altitude(one, (0, 0), 1, 30) == pytest.approx(aside)
    assert altitude(one, (0, 0), 1, 330) == pytest.approx(aside)
    assert altitude(one, (0, 0), 1, 43) == -90
    assert altitude(one, (0, 0), 1, 180) == -90


def test_post_by_hand() -> None:
    """The near rim counts when it is above the eye, the far rim when it is below."""
    high = yard(post=[Post(x_m=0, y_m=10, height_m=6, radius_m=0.5)])
    assert altitude(high, (0, 0), 1, 0) == pytest.approx(math.degrees(math.atan(5 / 9.5)))
    low = yard(post=[Post(x_m=0, y_m=10, height_m=0.5, radius_m=0.5)])
    assert altitude(low, (0, 0), 1, 0) == pytest.approx(math.degrees(math.atan(-0.5 / 10.5)))
    edge = math.degrees(math.asin(0.5 / 10))
    assert altitude(high, (0, 0), 1, edge - 0.01) > 0
    assert altitude(high, (0, 0), 1, edge + 0.01) == -90


def test_round_crown_by_hand() -> None:
    """A ball of radius 2, middle 5 above the eye and 12 away: elevation plus asin(2/13)."""
    one = yard(tree=[Tree(x_m=12, y_m=0, height_m=8, crown_base_m=4, crown_radius_m=2)])
    expected = math.degrees(math.atan2(5, 12) + math.asin(2 / 13))
    assert altitude(one, (0, 0), 1, 90) == pytest.approx(expected)


def test_under_a_crown_the_zenith_is_blocked() -> None:
    one = yard(tree=[Tree(x_m=0, y_m=0, height_m=8, crown_base_m=3, crown_radius_m=3)])
    for azimuth in (0, 77, 180, 300):
        assert altitude(one, (1.0, 0.5), 1.2, azimuth) == pytest.approx(90.0, abs=30.0)
    assert altitude(one, (1.0, 0.5), 1.2, 297) == pytest.approx(90.0)


def test_inside_a_roof_everything_is_blocked() -> None:
    corners = ((0, 0), (4, 0), (4, 6), (0, 6))
    one = yard(roof=[Roof(corners_m=corners, eaves_height_m=2)])
    assert altitude(one, (2, 3), 1, 45) == pytest.approx(90.0)


def test_standing_in_a_wall_everything_is_blocked() -> None:
    one = yard(wall=[Wall(points_m=((-5, 0), (5, 0)), height_m=3)])
    assert altitude(one, (1.0, 0.0), 1, 200) == pytest.approx(90.0)


def test_sloping_ground() -> None:
    """10 % down to the south: a post 20 m north has its foot 2 m up, so its top 2 m higher."""
    one = yard(slope_percent=10, downhill_azimuth_deg=180, post=[Post(x_m=0, y_m=20, height_m=3)])
    expected = math.degrees(math.atan((3 + 2 - 1) / 19.9))
    assert altitude(one, (0, 0), 1, 0) == pytest.approx(expected)


def test_a_plan_drawn_by_compass_is_turned() -> None:
    one = yard(bearings="magnetic", post=[Post(x_m=0, y_m=10, height_m=6)])
    plan = yard_plan(one, declination_deg=25.0)
    top = skyline_tangents(plan, [(0, 0)], 1.0, [0.0, 25.0])[0]
    assert np.isneginf(top[0])
    assert top[1] > 0.4
    with pytest.raises(AxletreeError, match="declination"):
        yard_plan(one)


RNG = np.random.default_rng(20261205)


def random_yard(rng: np.random.Generator) -> tuple[Yard, list[list[tuple[float, float]]]]:
    """One of everything, somewhere; the roof a turned rectangle whose ridge is known by hand."""
    centre, turn = rng.uniform(-15, 15, 2), rng.uniform(0, math.pi)
    u = np.array([math.cos(turn), math.sin(turn)])
    v = np.array([-u[1], u[0]])
    a, b = rng.uniform(3, 6), rng.uniform(1, 2.9)
    corners = [centre + p * a * u + q * b * v for p, q in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    ridge = [tuple(centre - a * u), tuple(centre + a * u)]
    eaves = rng.uniform(1.0, 4.0)
    base = rng.uniform(0.5, 3.0)
    x, y, height, radius = rng.uniform((-18, -18, 0.5, 0.05), (18, 18, 8, 1))
    post = Post(x_m=x, y_m=y, height_m=height, radius_m=radius)
    x, y, height, radius = rng.uniform((-18, -18, 1, 0.6), (18, 18, 7, 4))
    tree = Tree(
        x_m=x, y_m=y, height_m=base + height, crown_base_m=base, crown_radius_m=radius,
        trunk_radius_m=0.3,
    )  # fmt: skip
    points = tuple(map(tuple, rng.uniform(-18, 18, (3, 2))))
    one = yard(
        slope_percent=rng.uniform(0, 12),
        downhill_azimuth_deg=rng.uniform(0, 360),
        wall=[Wall(points_m=points, height_m=rng.uniform(1, 5))],
        post=[post],
        tree=[tree],
        roof=[
            Roof(
                corners_m=tuple(map(tuple, corners)),
                eaves_height_m=eaves,
                ridge_height_m=eaves + rng.uniform(0.2, 3),
            )
        ],
    )
    return one, [ridge]


@pytest.mark.parametrize("seed", range(10))
def test_against_ray_casting(seed: int) -> None:
    """Ten random yards, 10 directions each, against lines of sight cut with the solids.

    0.002 degrees, the bisection's step; where the eye is inside or under something both say 'up'.
    """
    rng = np.random.default_rng(seed)
    one, ridges = random_yard(rng)
    plan = yard_plan(one)
    place = tuple(rng.uniform(-12, 12, 2))
    azimuths = rng.uniform(0, 360, 10)
    hulls = ray_casting.hulls_of(one, ridges)
    top = np.degrees(np.arctan(skyline_tangents(plan, [place], 1.1, azimuths)[0]))
    for azimuth, mine in zip(azimuths, top, strict=True):
        theirs = ray_casting.skyline(one, place, 1.1, azimuth, hulls)
        if theirs > 89.0 or mine > 89.9:
            assert mine > 89.0
            assert theirs > 89.0
        elif theirs == -90.0:
            assert mine < -19.6
        else:
            assert mine == pytest.approx(theirs, abs=0.002)


def test_float32_is_good_enough_for_the_grid() -> None:
    one, _ = random_yard(np.random.default_rng(3))
    plan = yard_plan(one)
    places = RNG.uniform(-20, 20, (300, 2))
    azimuths = np.arange(0.25, 360, 0.5)
    fine = np.degrees(np.arctan(skyline_tangents(plan, places, 1.1, azimuths, 0.25)))
    quick = np.degrees(
        np.arctan(skyline_tangents(plan, places, 1.1, azimuths, 0.25, dtype=np.float32))
    )
    off = np.abs(fine - quick)
    assert np.quantile(off, 0.999) < 0.01
    assert np.mean(off > 0.1) < 2e-4  # windows that end exactly at an edge


@pytest.mark.parametrize("seed", range(6))
def test_a_window_misses_nothing_in_it(seed: int) -> None:
    """The highest of a window is at least what any direction within it shows, and not far above
    what the window and its neighbours show."""
    one, _ = random_yard(np.random.default_rng(100 + seed))
    plan = yard_plan(one)
    place = [tuple(np.random.default_rng(seed).uniform(-12, 12, 2))]
    middles = np.arange(0.5, 360.0, 1.0)
    wide = skyline_tangents(plan, place, 1.1, middles, 0.5)[0]
    fine = skyline_tangents(plan, place, 1.1, np.arange(0.0, 360.0, 0.02) + 0.01)[0]
    inner = fine.reshape(360, 50).max(axis=1)
    reached = np.degrees(np.arctan(inner))
    given_top = np.degrees(np.arctan(wide))
    assert np.all(given_top >= reached - 0.01)
    around = np.maximum(np.maximum(np.roll(reached, 1), np.roll(reached, -1)), reached)
    assert np.mean(given_top > around + 0.3) < 0.02


def test_horizon_of_one_place_matches_the_tangents() -> None:
    one, _ = random_yard(np.random.default_rng(5))
    plan = yard_plan(one)
    line = yard_horizon(plan, (1.0, 2.0), 1.1)
    azimuths = np.linspace(0, 359.9, 500)
    exact = np.degrees(np.arctan(skyline_tangents(plan, [(1.0, 2.0)], 1.1, azimuths)[0]))
    assert np.all(line.altitude_at(azimuths) >= exact - 1e-3)
    assert np.median(line.altitude_at(azimuths) - exact) < 0.2


def test_a_thin_pole_between_two_directions_is_seen() -> None:
    """0.06 m of radius 15 m away is 0.46 degrees wide; with windows of 1 degree none is missed."""
    one = yard(post=[Post(x_m=0.13, y_m=15, height_m=6, radius_m=0.01)])
    plan = yard_plan(one)
    top = skyline_tangents(plan, [(0, 0)], 1.0, np.arange(0.5, 360, 1.0), 0.5)[0]
    assert np.count_nonzero(np.isfinite(top)) in (1, 2)


def test_ridge_runs_along_the_longer_side() -> None:
    ends, _ = ridge_ends(np.array([[0.0, 0.0], [8.0, 0.0], [8.0, 12.0], [0.0, 12.0]]))
    assert sorted(map(tuple, ends.tolist())) == [(4.0, 0.0), (4.0, 12.0)]


def test_an_l_shaped_roof_does_not_fill_its_notch() -> None:
    corners = ((0, 0), (12, 0), (12, 4), (5, 4), (5, 12), (0, 12))
    one = yard(roof=[Roof(corners_m=corners, eaves_height_m=3, ridge_height_m=5)])
    assert altitude(one, (8.5, 8.0), 1.1, 45) == -90
    assert altitude(one, (8.5, 8.0), 1.1, 270) > 20


def test_blockers_name_the_highest() -> None:
    one = yard(
        post=[Post(name="lamp", x_m=0, y_m=10, height_m=6)],
        wall=[Wall(name="hedge", points_m=((-5, 8), (5, 8)), height_m=2)],
    )
    plan = yard_plan(one)
    which, top = blockers(plan, [(0.0, 0.0), (3.0, 0.0), (15.0, 0.0)], 1.1, 0.0)
    names = [plan.shapes[i].name if i >= 0 else None for i in which]
    assert names == ["lamp", "hedge", None]
    assert top[0] == pytest.approx(math.degrees(math.atan(4.9 / 9.9)))


@given(st.floats(-5, 5), st.floats(-5, 5))
@settings(max_examples=60, deadline=None)
def test_within_an_outline(x: float, y: float) -> None:
    """Against the plain inequality of a square."""
    square = np.array([[-3.0, -3.0], [3.0, -3.0], [3.0, 3.0], [-3.0, 3.0]])
    if min(abs(abs(x) - 3), abs(abs(y) - 3)) > 1e-9:
        inside = bool(within_outline(np.array(x), np.array(y), square))
        assert inside == (abs(x) < 3 and abs(y) < 3)


@given(st.floats(1, 359), st.floats(2, 30))
@settings(max_examples=60, deadline=None)
def test_farther_means_lower(azimuth: float, distance: float) -> None:
    """Property: walking straight away from a post lowers it."""
    one = yard(post=[Post(x_m=0, y_m=0, height_m=5, radius_m=0.2)])
    plan = yard_plan(one)
    a = math.radians(azimuth)
    places = [(-d * math.sin(a), -d * math.cos(a)) for d in (distance, distance * 1.1)]
    near, far = skyline_tangents(plan, places, 1.1, [azimuth])[:, 0]
    assert near > far > 0
