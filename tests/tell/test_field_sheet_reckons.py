"""What the phone's sheet reckons, against published figures and against Python's own sky.

Rows of tests/tell/vectors at the clock's few formulas; Python's sky at moments between the
samples; and, for room, the machine itself at every start that the browser gives.
"""

from __future__ import annotations

import json
import random
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from browsers import opened
from nights import DAY, MOON_DAY, kit_of, planned_by, tables_of
from playwright.sync_api import Browser

from axletree.mount.follow.rates import refracted_hour_angle
from axletree.mount.room.table import room
from axletree.pole.aim.target import pole_target
from axletree.pole.aim.view import star_places
from axletree.sky.directions import wrap_h
from axletree.sky.observer import observer_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation
from axletree.tell.side.text import end_words

pytestmark = pytest.mark.browser
VECTORS = json.loads((Path(__file__).parent / "vectors" / "clock.json").read_text("utf-8"))


def test_shared_vectors_hold_in_the_browser(browser: Browser, files: dict[str, Path]) -> None:
    with opened(browser, files["north"], None) as sheet:
        for row in VECTORS["azimuth_altitude"]:
            given = [row[k] for k in ("hour_angle_h", "declination_deg", "latitude_deg")]
            found = sheet.axletree("(a, g) => a.azimuthAltitude(...g)", given)
            assert found == pytest.approx([row["azimuth_deg"], row["altitude_deg"]],
                                          abs=row["tolerance_deg"]), row["source"]  # fmt: skip
        for row in VECTORS["sidereal"]:
            tables = {"begin_unix_s": 1e9, "step_s": 600, "samples": 2, "eye_every": 2,
                      "sidereal_h": row["begin_h"], "latitude_deg": 50, "objects": [],
                      "breaks": []}  # fmt: skip
            found = sheet.axletree("(a, [t, at]) => a.nightOf(t).siderealH(at)",
                                   [tables, 1e9 + row["after_s"]])  # fmt: skip
            off_s = wrap_h(found - row["sidereal_h"]) * 3600
            assert abs(off_s) < row["tolerance_s"], row["source"]
        for row in VECTORS["clock_hour"]:
            found = sheet.axletree("(a, [x, y]) => a.clockHour(x, y)", [row["right"], row["up"]])
            assert found == pytest.approx(row["hour"], abs=1e-9)
        for row in VECTORS["site_time"]:
            found = sheet.axletree("(a, [t, z]) => a.isoAt(t, z)", [row["unix_s"], row["zone"]])
            assert found == row["iso"], row["source"]


@pytest.mark.parametrize("name", ["north", "south", "moon"])
def test_clock_pole_star_and_tracks_agree_with_python_all_night(
    browser: Browser, files: dict[str, Path], name: str
) -> None:
    planned = planned_by(name)
    kit = kit_of("paddock" if name == "south" else "courtyard")
    observer = observer_of(kit.site)
    tables = tables_of("paddock" if name == "south" else "courtyard",
                       MOON_DAY if name == "moon" else DAY)  # fmt: skip
    assert planned.chosen is not None
    by_key = {c.thing.catalogue_id: c.thing for c in planned.chosen.candidates}
    things = [by_key[o.key] for o in tables.objects]
    if name == "moon":
        assert "moon" in [t.catalogue_id for t in things]
    # Moments of no grid, and for the pole star the set-up before and the hours until dawn.
    length = float(tables.seconds[-1])
    moments = [tables.begin + timedelta(seconds=length * x) for x in (0.0031, 0.271, 0.618, 0.987)]
    far = [tables.begin + timedelta(hours=h) for h in (-1.13, 3.77, 9.9)]
    instants = Instants.from_datetimes(moments)
    seen = object_positions(things, instants, observer)
    axis = planned.ground.table.axes.altitude_deg
    with opened(browser, files[name], None) as sheet:
        found = sheet.axletree(
            "(a, [keys, times]) => keys.map((k) => times.map((t) => a.night.place(k, t)))",
            [[o.key for o in tables.objects], [m.timestamp() for m in moments]],
        )
        clocks = sheet.axletree(
            "(a, times) => times.map((t) => [a.night.siderealH(t), a.night.poleStar(t)])",
            [m.timestamp() for m in [*moments, *far]],
        )

    def column(key: str) -> Any:
        return np.array([[place[key] for place in row] for row in found])

    second_h = 1.0 / 3600
    off_h = wrap_h(column("hourAngleH") - seen.hour_angle_h)
    assert np.abs(off_h).max() < second_h / 10
    assert np.abs(column("declinationDeg") - seen.declination_deg).max() < 0.001
    # Right at the horizon the air bends too steeply for straight lines between samples; no stop
    # is ever that low.
    high = seen.altitude_deg > 5.0
    assert high.sum() > 50
    assert np.abs(column("altitudeDeg") - seen.altitude_deg)[high].max() < 0.01
    off_azimuth = (column("azimuthDeg") - seen.azimuth_deg + 180) % 360 - 180
    assert np.abs(off_azimuth * np.cos(np.radians(seen.altitude_deg))).max() < 0.01
    hour, declination = refracted_hour_angle(
        seen.hour_angle_h, seen.declination_deg, observer, axis
    )
    assert np.abs(wrap_h(column("hourCircleH") - hour))[high].max() < second_h
    assert np.abs(column("declinationCircleDeg") - declination)[high].max() < 0.01

    everything = Instants.from_datetimes([*moments, *far])
    sidereal = np.degrees(orientation(everything, observer).sidereal_time_rad) / 15.0
    off = wrap_h(np.array([c[0] for c in clocks]) - sidereal)
    assert np.abs(off).max() < second_h / 100
    places = star_places(
        observer, [*moments, *far], pole_target(observer), look=tables.pole.look,
        rotation_deg=tables.pole.rotation_deg,
    )  # fmt: skip
    for place, (_, star) in zip(places, clocks, strict=True):
        turn_deg = ((star["hour"] - place.clock_hour) * 30.0 + 180.0) % 360.0 - 180.0
        assert abs(turn_deg) < 0.01
        assert abs(star["away"] - place.distance_arcmin) / 60.0 < 0.01


@pytest.mark.parametrize("name", ["north", "south"])
def test_the_rig_stands_as_python_says(browser: Browser, files: dict[str, Path], name: str) -> None:
    """Axis angles from the circles, and the eyepiece's height against the document's."""
    with opened(browser, files[name], None) as sheet:
        for stop in planned_by(name).evening.stops:
            side, at = stop.chosen.side, stop.begin.timestamp()
            key = stop.catalogue_id
            pose = sheet.axletree("(a, g) => a.night.pose(...g)", [key, side, at])
            eye = sheet.axletree("(a, g) => a.night.eye(...g)", [key, side, at])
            sign = 1 if side == "east" else -1
            assert abs(wrap_h(pose["tubeEndH"] + 6 * sign - stop.start.hour_circle_h)) < 2e-4
            pole = 1 if planned_by(name).evening.kit.site.latitude_deg > 0 else -1
            circle_deg = pole * (90 - abs(pose["swingDeg"]))
            assert abs(circle_deg - stop.start.declination_circle_deg) < 0.01
            assert pose["swingDeg"] * sign * pole <= 0
            # The samples stand up to twenty minutes apart.
            assert abs(eye["heightMm"] - stop.view.height_mm) < 5.0
            up = sheet.axletree("(a, g) => a.night.weightsUp(...g)", [key, side, at])
            assert up == stop.chosen.weights_up


def test_rooms_are_those_of_the_run_sheet(browser: Browser, files: dict[str, Path]) -> None:
    told = 0
    for name in ("north", "south", "moon"):
        with opened(browser, files[name], None) as sheet:
            for stop in planned_by(name).evening.stops:
                way = [stop.catalogue_id, stop.chosen.side, stop.begin.timestamp()]
                found = sheet.axletree("(a, g) => a.night.opening(...g)", way)
                assert found["endsBy"] == end_words(stop.chosen.ends)
                if stop.chosen.room_ends is None:  # after the night: the sheet says all night
                    continue
                told += 1
                assert abs(found["until"] - stop.chosen.room_ends.timestamp()) < 2.0, stop.name


def test_the_planned_order_walks_to_the_planned_times(
    browser: Browser, files: dict[str, Path]
) -> None:
    for name in ("north", "south"):
        stops = planned_by(name).evening.stops
        with opened(browser, files[name], None) as sheet:
            walked = sheet.axletree(
                """(a, from) => a.walk(a.night, a.run.planned.map((r) => r.key),
                     { from, wish: a.run.wish(a.run.start()) })""",
                stops[0].begin.timestamp(),
            )
        assert walked["lost"] == []
        waited = 0.0
        for stop, row in zip(stops, walked["rows"], strict=True):
            assert row["side"] == stop.chosen.side
            # Openings are cut to quarter minutes when the order is made. The plan may wait until an
            # object stands well; who walks takes it as soon as it is open, and never later.
            early = stop.begin.timestamp() - row["start"]
            assert early > -61, stop.name
            waited = max(waited, early)
            assert early < 61 or stop is stops[-1], stop.name
        assert waited < 1800


@pytest.mark.parametrize("name", ["north", "south", "moon"])
def test_no_order_ever_starts_a_stop_whose_room_ends_before_its_queue(
    browser: Browser, files: dict[str, Path], name: str
) -> None:
    """Any order, any start: each start that the browser gives is tried on the machine itself."""
    planned = planned_by(name)
    kit = kit_of("paddock" if name == "south" else "courtyard")
    observer = observer_of(kit.site)
    assert planned.chosen is not None
    by_key = {c.thing.catalogue_id: c.thing for c in planned.chosen.candidates}
    chance = random.Random(f"{name} 1")
    lost, tried = 0, []
    with opened(browser, files[name], None) as sheet:
        keys = sheet.axletree("a => [...a.run.things.keys()]")
        begin, end = sheet.axletree("a => [a.night.begin, a.night.end]")
        for _ in range(12):
            chance.shuffle(keys)
            at = chance.uniform(begin - 1800, end)
            found = sheet.axletree(
                """(a, [keys, from]) => a.walk(a.night, keys,
                     { from, wish: (k) => ({ side: "east", queue: a.night.queue(k) }) })""",
                [keys, at],
            )
            free = at
            for row in found["rows"]:
                assert row["start"] >= free - 1e-6
                assert row["end"] == pytest.approx(row["start"] + row["queue"])
                free = row["end"]
            lost += len(found["lost"])
            tried += found["rows"]
    assert lost, "no order was too long for the night: the test tests nothing"
    at_start = Instants.from_datetimes(
        # A second later, for where an opening begins is known to about that.
        [datetime.fromtimestamp(row["start"] + 1.0, UTC) for row in tried]
    )
    things = [by_key[row["key"]] for row in tried]
    seen = object_positions(things, at_start, observer)
    each = np.arange(len(tried))
    answer = room(planned.ground.table, seen.hour_angle_h[each, each],
                  seen.declination_deg[each, each])  # fmt: skip
    for k, row in enumerate(tried):
        side = 0 if row["side"] == "east" else 1
        lasts = float(answer.room_s[side, k])
        rate = 1.04 if things[k].kind == "moon" else 1.0
        assert bool(answer.usable[side, k]), (row["key"], row["side"])
        assert lasts * rate >= row["queue"] - 2.0, (row["key"], row["side"])
