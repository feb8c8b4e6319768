"""The best place: against places worked out one by one, and the hard cases."""

from __future__ import annotations

import dataclasses
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np
import pytest

from axletree.ground.skyline.skyline import Horizon, horizon_from_points, open_horizon
from axletree.ground.skyline.yard import yard_horizon, yard_plan
from axletree.ground.spot.around import PlaceVerdict
from axletree.ground.spot.directions import (
    DarkHours,
    SpotCriteria,
    WantedDirections,
    WantedView,
    axes_height_m,
    wanted_directions,
)
from axletree.ground.spot.grid import grid_of, score_places
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.site import Yard
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.stages.set_up.spot import SpotAnswer, SpotRequest, spot
from axletree.tell.spot.data import spot_data
from axletree.tell.spot.drawing import spot_map
from axletree.tell.spot.skyline_drawing import spot_skyline
from axletree.tell.spot.text import assumed_words, spot_text

EVENING = date(2026, 12, 5)


def observer_of(kit: Kit) -> Observer:
    site = kit.site
    return Observer(site.latitude_deg, site.longitude_deg, site.elevation_m)


def with_yard(kit: Kit, **yard: Any) -> Kit:
    return kit.model_copy(update={"yard": Yard.model_validate(yard)})


def at_latitude(kit: Kit, latitude: float, longitude: float = 25.0) -> Kit:
    site = kit.site.model_copy(
        update={"latitude_deg": latitude, "longitude_deg": longitude, "time_zone": "UTC"}
    )
    return kit.model_copy(update={"site": site})


def wanting(**changes: Any) -> WantedDirections:
    base = WantedDirections(
        names=(), azimuth_deg=np.zeros((0, 0)), altitude_deg=np.zeros((0, 0)), sample_h=0.1,
        lowest_altitude_deg=15.0, pole_star="Polaris", pole_azimuth_deg=np.array([0.0]),
        pole_altitude_deg=np.array([40.0]), pole_needed=True, pole_margin_deg=1.0, views=(),
        dark=DarkHours.FULL_DARKNESS, dark_hours=8.0, depression_deg=18.0, refracted_pole_deg=40.0,
    )  # fmt: skip
    return dataclasses.replace(base, **changes)


def spot_of(kit: Kit, evening: date = EVENING, *objects: str, **criteria: Any) -> SpotAnswer:
    if objects:
        criteria["objects"] = tuple(find(name) for name in objects)
    return spot(kit, SpotRequest(evening, SpotCriteria(**criteria)))


def night_wants(kit: Kit, **criteria: Any) -> WantedDirections:
    night = Night.of(EVENING, kit.site.zone)
    return wanted_directions(kit, night, observer_of(kit), SpotCriteria(**criteria))


@pytest.fixture(scope="module")
def courtyard() -> SpotAnswer:
    kit = demo_kit("courtyard")
    return spot_of(kit)


def test_hours_against_one_place_at_a_time(courtyard: SpotAnswer) -> None:
    """Each object's hours at 12 places, from the exact skyline of the place and fresh positions.

    The grid's windows of half a degree may hide an object a little longer, never show it longer
    (but for a sample, 0.1 h, that touches an edge); a long track loses 0.2 h at most.
    """
    kit = demo_kit("courtyard")
    observer = observer_of(kit)
    names = courtyard.wanted.names[:12]
    scores, plan = courtyard.scores, courtyard.plan
    night = Night.of(EVENING, kit.site.zone)
    from axletree.sky.events.twilight import darkness

    start, stop = darkness(night, observer, 18.0).intervals[0]
    moments = [
        start + timedelta(minutes=6) * (k + 0.5)
        for k in range(int((stop - start) / timedelta(minutes=6)))
    ]
    seen = object_positions([find(n) for n in names], Instants.from_datetimes(moments), observer)
    rng = np.random.default_rng(1)
    rows, columns = np.nonzero(scores.allowed)
    height = axes_height_m(kit.mount, kit.site.latitude_deg)
    for pick in rng.integers(0, len(rows), 12):
        row, column = rows[pick], columns[pick]
        place = (float(scores.x_m[column]), float(scores.y_m[row]))
        near = yard_horizon(plan, place, height, step_deg=0.05)
        top = np.maximum(
            near.altitude_at(seen.azimuth_deg), courtyard.far.altitude_at(seen.azimuth_deg)
        )
        clear = (seen.altitude_deg > top) & (seen.altitude_deg >= kit.habits.lowest_altitude_deg)
        exact = clear.sum(axis=1) * 0.1
        told = scores.hours_clear[: len(names), row, column]
        assert np.all(told <= exact + 0.1001)
        assert np.all(told >= exact - 0.3001)


def test_pole_clearance_against_the_skyline_of_the_place(courtyard: SpotAnswer) -> None:
    """Within 0.2 degrees (the pole star's window) of the exact skyline of each place."""
    kit = demo_kit("courtyard")
    height = axes_height_m(kit.mount, kit.site.latitude_deg)
    rng = np.random.default_rng(2)
    rows, columns = np.nonzero(courtyard.scores.allowed)
    wanted = courtyard.wanted
    for pick in rng.integers(0, len(rows), 10):
        place = (
            float(courtyard.scores.x_m[columns[pick]]),
            float(courtyard.scores.y_m[rows[pick]]),
        )
        near = yard_horizon(courtyard.plan, place, height, step_deg=0.02)
        top = np.maximum(
            near.altitude_at(wanted.pole_azimuth_deg),
            courtyard.far.altitude_at(wanted.pole_azimuth_deg),
        )
        exact = float((wanted.pole_altitude_deg - top).min())
        told = courtyard.scores.pole_clearance_deg[rows[pick], columns[pick]]
        assert told == pytest.approx(exact, abs=0.2)


def test_the_best_place_is_the_best(courtyard: SpotAnswer) -> None:
    scores = courtyard.scores
    assert scores.best is not None
    assert scores.acceptable[scores.best]
    assert scores.score[scores.best] >= np.nanmax(scores.score[scores.acceptable]) - 0.2
    assert scores.pole_clearance_deg[scores.best] >= 1.0
    assert scores.spacing_m == 0.25
    assert courtyard.horizon is not None


def test_a_step_away_is_the_neighbour_on_the_grid(courtyard: SpotAnswer) -> None:
    scores = courtyard.scores
    assert scores.best is not None
    row, column = scores.best
    south = next(s for s in courtyard.steps if s.azimuth_deg == 180.0)
    total = scores.hours_clear.sum(axis=0)
    assert south.hours_lost == pytest.approx(total[row, column] - total[row - 4, column], abs=1e-4)
    assert len(courtyard.steps) == 8


def test_a_pole_behind_one_post() -> None:
    """By hand: a wide post due north hides the pole only from a strip straight south of it."""
    yard = Yard.model_validate(
        {"area_m": ((-10, -10), (10, -10), (10, 0), (-10, 0)),
         "post": [{"x_m": 0, "y_m": 10, "height_m": 30, "radius_m": 1.0, "name": "silo"}]}
    )  # fmt: skip
    scores = score_places(yard_plan(yard), open_horizon(), wanting(), 1.0)
    gx, _ = np.meshgrid(scores.x_m, scores.y_m)
    assert np.all(scores.acceptable[scores.allowed] == (np.abs(gx[scores.allowed]) > 1.02))


def test_pole_margin_is_kept() -> None:
    """A wall 40 degrees high less a bit: clearance is the geometry's to 0.1 degrees."""
    yard = Yard.model_validate(
        {"area_m": ((-5, -20), (5, -20), (5, 5), (-5, 5)),
         "wall": [{"points_m": ((-50, 10), (50, 10)), "height_m": 9.0}]}
    )  # fmt: skip
    scores = score_places(yard_plan(yard), open_horizon(), wanting(pole_margin_deg=3.0), 1.0)
    _, gy = np.meshgrid(scores.x_m, scores.y_m)
    expected = 40.0 - np.degrees(np.arctan(8.0 / (10.0 - gy)))
    assert np.nanmax(np.abs(scores.pole_clearance_deg - expected)[scores.allowed]) < 0.1
    assert np.all(scores.acceptable[scores.allowed] == (expected >= 3.0)[scores.allowed])


def test_views_count() -> None:
    """A wall to the east blocks the view wanted there; the share grows with the distance."""
    yard = Yard.model_validate(
        {"area_m": ((0, 0), (20, 0), (20, 10), (0, 10)),
         "wall": [{"points_m": ((22, -30), (22, 40)), "height_m": 4.0}]}
    )  # fmt: skip
    wanted = wanting(views=(WantedView(60, 120, 12.0),), pole_needed=False)
    scores = score_places(yard_plan(yard), open_horizon(), wanted, 1.0)
    assert scores.best_place_m is not None
    assert scores.best_place_m[0] < 8.0
    row = len(scores.y_m) // 2
    assert scores.view_share[row, 0] == 1.0
    assert scores.view_share[row, -1] == 0.0
    assert np.all(np.diff(scores.view_share[row, scores.allowed[row]]) <= 1e-9)


def test_the_kits_own_views_count() -> None:
    kit = with_yard(
        demo_kit("courtyard"), area_m=((0, 0), (5, 0), (5, 5), (0, 5)),
        view=[{"name": "the bay", "from_azimuth_deg": 150, "to_azimuth_deg": 200, "above_deg": 30}],
    )  # fmt: skip
    found = spot_of(kit, EVENING, "M42")
    assert found.wanted.views == (WantedView(150.0, 200.0, 30.0, "the bay"),)
    assert found.best is not None
    assert found.best.view_share == 1.0


def test_a_view_across_north() -> None:
    north = horizon_from_points([350, 355, 5, 10, 100, 200, 280], [0, 30, 30, 0, 0, 0, 0])
    wanted = wanting(views=(WantedView(340, 20, 10.0),), pole_needed=False)
    yard = Yard(area_m=((0, 0), (1, 0), (1, 1), (0, 1)))
    scores = score_places(yard_plan(yard), north, wanted, 1.0)
    # 10 degrees are higher than 30 and the flanks another 2 x 3.3: 16.7 of 40.
    assert float(np.nanmax(scores.view_share)) == pytest.approx(1 - 16.7 / 40, abs=0.03)


def test_places_keep_away_from_obstacles_and_keep_outs() -> None:
    yard = Yard.model_validate(
        {"area_m": ((0, 0), (10, 0), (10, 10), (0, 10)),
         "keep_out_m": [((0, 0), (3, 0), (3, 3), (0, 3))],
         "post": [{"x_m": 8, "y_m": 8, "height_m": 3, "radius_m": 0.2}],
         "wall": [{"points_m": ((0, 10), (10, 10)), "height_m": 2}],
         "roof": [{"corners_m": ((4, 4), (6, 4), (6, 6), (4, 6)), "eaves_height_m": 2}]}
    )  # fmt: skip
    x, y, allowed = grid_of(yard_plan(yard), 0.25, 1.0)
    gx, gy = np.meshgrid(x, y)
    assert not allowed[(gx < 2.9) & (gy < 2.9)].any()
    assert not allowed[np.hypot(gx - 8, gy - 8) < 1.19].any()
    assert not allowed[gy > 9.0].any()
    assert not allowed[(np.abs(gx - 5) < 2) & (np.abs(gy - 5) < 1)].any()
    assert allowed[(np.abs(gx - 1.5) < 0.1) & (np.abs(gy - 6) < 0.1)].all()


def test_a_large_yard_gets_a_wider_grid_and_says_so() -> None:
    kit = with_yard(demo_kit("courtyard"), area_m=((0, 0), (300, 0), (300, 200), (0, 200)))
    found = spot_of(kit, EVENING, "M42")
    assert found.scores.spacing_m >= 1.0
    assert any(f"grid of {found.scores.spacing_m:g} m" in note for note in assumed_words(found))


# Hard cases: each must give a clear answer.


def test_no_acceptable_place_says_what_blocks_it() -> None:
    kit = with_yard(
        demo_kit("courtyard"), area_m=((0, 0), (6, 0), (6, 6), (0, 6)),
        roof=[{"name": "barn", "corners_m": ((-30, 8), (40, 8), (40, 20), (-30, 20)),
               "eaves_height_m": 14}],
    )  # fmt: skip
    found = spot_of(kit)
    assert found.scores.best is None
    text = " ".join(spot_text(found).split())
    assert "No place in the area shows Polaris" in text
    assert "barn from 100 % of it" in text
    assert "--no-pole" in text
    assert found.nearest_miss is not None
    assert found.nearest_miss.y_m == pytest.approx(0.0)
    assert found.no_place is PlaceVerdict.POLE_HIDDEN
    data = spot_data(found)
    assert data["best"] is None
    assert data["no_place_code"] == "pole_hidden"
    assert data["pole_hidden_by"][0]["name"] == "barn"
    assert "No place will do" in spot_map(found)
    free = spot_of(kit, pole_needed=False)
    assert free.scores.best is not None


def test_an_area_without_room_is_said() -> None:
    kit = with_yard(
        demo_kit("courtyard"), area_m=((0, 0), (6, 0), (6, 6), (0, 6)),
        keep_out_m=[((-1, -1), (7, -1), (7, 7), (-1, 7))],
    )  # fmt: skip
    found = spot_of(kit)
    text = " ".join(spot_text(found).split())
    assert "leaves no room for a tripod" in text
    assert found.no_place is PlaceVerdict.NO_ROOM
    spot_data(found)
    spot_map(found)


def test_no_darkness_above_the_polar_circle_in_june() -> None:
    kit = at_latitude(demo_kit("courtyard"), 70.0)
    found = spot_of(kit, date(2026, 6, 20))
    assert found.scores.best is not None
    assert any("no darkness this night" in note for note in assumed_words(found))
    assert found.wanted.dark_hours == 0.0
    assert found.wanted.dark is DarkHours.NONE
    assert found.wanted.pole_star is None
    assert spot_data(found)["pole_star"] == "the pole"


def test_twilight_counts_where_it_is_all_there_is() -> None:
    kit = at_latitude(demo_kit("courtyard"), 57.0)
    found = spot_of(kit, date(2026, 6, 20))
    assert any("below -6°" in note or "below -12°" in note for note in assumed_words(found))
    assert found.wanted.dark_hours > 0.0


@pytest.mark.parametrize("latitude", [0.0, -0.5, 0.9])
def test_at_the_equator_the_pole_is_not_asked_for(latitude: float) -> None:
    kit = at_latitude(demo_kit("courtyard"), latitude)
    found = spot_of(kit)
    assert not found.wanted.pole_needed
    assert any("on the horizon" in note for note in assumed_words(found))
    assert found.scores.best is not None


def test_near_the_pole() -> None:
    kit = at_latitude(demo_kit("courtyard"), 89.9)
    found = spot_of(kit)
    assert found.scores.best is not None
    assert found.wanted.pole_altitude_deg.min() > 89.0


def test_the_south_looks_south() -> None:
    kit = demo_kit("paddock")
    found = spot_of(kit)
    assert found.wanted.pole_star == "σ Octantis"
    assert np.all(np.abs(found.wanted.pole_azimuth_deg - 180.0) < 2.5)
    assert not found.planned
    assert "The spot will do" in spot_text(found)
    assert "σ Octantis" in spot_skyline(found, "t")


def test_gaps_of_the_skyline_are_said() -> None:
    kit = demo_kit("courtyard")
    site = kit.site.model_copy(
        update={"skyline": kit.site.skyline.model_copy(update={"points": ((300, 10), (60, 12))})}
    )
    found = spot_of(kit.model_copy(update={"site": site}))
    assert any("from 60° to 300°" in note for note in assumed_words(found))
    assert "not measured" in spot_map(found) or found.horizon is not None


def test_must_sees_and_exclusions() -> None:
    kit = demo_kit("courtyard")
    habits = kit.habits.model_copy(update={"must_see": ("Albireo",), "exclude": ("M42", "no such")})
    one = night_wants(kit.model_copy(update={"habits": habits}))
    assert one.names[0] == "Albireo"
    assert "M42" not in one.names
    assert len(one.names) <= 40


def test_hours_limit() -> None:
    kit = demo_kit("courtyard")
    one = night_wants(kit, hours=2.0)
    assert one.dark_hours == pytest.approx(2.0, abs=0.11)


def test_height_of_the_axes() -> None:
    """By hand at 30 degrees: 900 + 0 + 100 up to the hinge, 50 sin 30 + 80 cos 30 above it."""
    mount = demo_kit("courtyard").mount
    tripod = mount.tripod.model_copy(update={"top_height_mm": 900.0, "column_height_mm": 0.0})
    head = mount.head.model_copy(
        update={"pivot_height_mm": 100.0, "crossing_along_mm": 50.0, "crossing_above_mm": 80.0}
    )
    known = mount.model_copy(update={"tripod": tripod, "head": head})
    for latitude in (30.0, -30.0):
        assert axes_height_m(known, latitude) == pytest.approx(1.0943, abs=0.0001)


def test_refusals() -> None:
    yard = Yard(area_m=((0, 0), (1, 0), (1, 1), (0, 1)))
    with pytest.raises(AxletreeError, match="spacing"):
        score_places(yard_plan(yard), open_horizon(), wanting(), 1.0, spacing_m=0.0)
    for wrong in ({"spacing_m": 0.0}, {"spacing_m": float("nan")}, {"step_m": 30.0}):
        with pytest.raises(AxletreeError, match="write a number from"):
            SpotRequest(EVENING, **wrong)
    for criteria in ({"hours": 0.0}, {"hours": 25.0}, {"pole_margin_deg": -1.0}):
        with pytest.raises(AxletreeError, match="write a number from"):
            SpotCriteria(**criteria)


def test_time_zone_of_a_dark_night_is_the_sites() -> None:
    kit = demo_kit("paddock")
    night = Night.of(EVENING, kit.site.zone)
    assert datetime.fromisoformat("2026-12-05T12:00+13:00") == night.start


def test_horizon_is_the_higher_of_far_and_near(courtyard: SpotAnswer) -> None:
    assert isinstance(courtyard.horizon, Horizon)
    x = np.linspace(0, 360, 721)
    assert np.all(courtyard.horizon.altitude_at(x) >= courtyard.far.altitude_at(x) - 1e-9)
