"""The phone's sheet tells how each stop's object is found, and turns the fields with the clock."""

from __future__ import annotations

import math
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

import pytest
from browsers import brightest, opened
from nights import DAY, MADE_AT, kit_of
from playwright.sync_api import Browser

from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.evening.sheet.tables import night_tables
from axletree.evening.stops.stop import Stop
from axletree.kit.kit import demo_text
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import pointing_known
from axletree.stages.target.find import FindRequest, find_object
from axletree.tell.evening.data import evening_document
from axletree.tell.field_sheet.field_sheet import field_sheet

pytestmark = pytest.mark.browser
NORTH = """[...document.querySelectorAll(".fields svg")].map((svg) => {
  const stroke = svg.querySelector("line");
  const [a, b, c, d] = ["x1", "y1", "x2", "y2"].map((k) => +stroke.getAttribute(k));
  return (Math.atan2(c - a, b - d) * 180) / Math.PI;
})"""


@cache
def planned(name: str) -> Planned:
    kit = kit_of(name)
    asked = EveningRequest(
        DAY, made_at=MADE_AT, effort="quick", pointing=pointing_known(kit, None, MADE_AT)
    )
    return plan_whole(kit, observer_of(kit.site), asked)


def written(name: str, folder: Path) -> Path:
    kit, made = kit_of(name), planned(name)
    content = field_sheet(
        evening_document(made.evening), night_tables(kit, observer_of(kit.site), made),
        made.ground.table, kit_toml=demo_text(name),
    )  # fmt: skip
    assert len(content) < 600_000
    file = folder / f"{name}.html"
    file.write_bytes(content)
    return file


def north_deg(stop: Stop, name: str, at: datetime) -> float:
    """Where the finder has north then, found anew."""
    asked = FindRequest(stop.name, at, side=stop.chosen.side)
    found = find_object(kit_of(name), asked).finding
    assert found is not None
    assert found.views.finder is not None
    return found.views.finder.turned.north_deg


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_fields_turn_with_the_clock(browser: Browser, tmp_path: Path, name: str) -> None:
    file = written(name, tmp_path)
    stops = [s for s in planned(name).evening.stops if s.start.altitude_deg < 65.0]
    for stop in (stops[1], stops[-1]):
        at = stop.end - timedelta(seconds=60)
        with opened(browser, file, at) as sheet:
            assert stop.finding is not None
            assert "Find it: " in sheet.words()
            finder, eyepiece = sheet.page.evaluate(NORTH)
            for shown, wanted, within in (
                (finder, north_deg(stop, name, at), 1.5),
                (eyepiece, stop.view.north_deg, 20.0),
            ):
                assert abs(math.remainder(shown - wanted, 360.0)) < within
            assert sheet.page.locator(".fields svg circle").count() > 10


def test_fields_are_red_by_red_light(browser: Browser, tmp_path: Path) -> None:
    file = written("courtyard", tmp_path)
    stop = planned("courtyard").evening.stops[4]
    with opened(browser, file, stop.begin + timedelta(seconds=30)) as sheet:
        sheet.page.evaluate("document.documentElement.dataset.light = 'red'")
        fields = sheet.page.locator(".fields")
        fields.scroll_into_view_if_needed()
        picture = fields.screenshot()
        assert brightest(browser, picture)[0] > 60
        assert brightest(browser, picture)[1:] == [0, 0]


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_twenty_stops_stay_small(name: str) -> None:
    """With all their fields under 600 kB, so that any phone takes it along."""
    kit = kit_of(name)
    habits = kit.habits.model_copy(
        update={"hours": 5.0, "bedtime": None, "stop": None, "most_stops": 30, "slack_part": 0.0,
                "observer": "expert"}
    )  # fmt: skip
    kit = kit.model_copy(update={"habits": habits})
    asked = EveningRequest(
        DAY, made_at=MADE_AT, effort="quick", minutes_per_stop=6.0,
        pointing=pointing_known(kit, None, MADE_AT),
    )  # fmt: skip
    made = plan_whole(kit, observer_of(kit.site), asked)
    assert len(made.evening.stops) >= 20
    content = field_sheet(
        evening_document(made.evening), night_tables(kit, observer_of(kit.site), made),
        made.ground.table, kit_toml=demo_text(name),
    )  # fmt: skip
    assert 100_000 < len(content) < 600_000
