"""The phone's sheet tells how each stop's object is found, and turns the fields with the clock."""

from __future__ import annotations

import math
import os
import re
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from browsers import brightest, opened
from nights import DAY, MADE_AT, found_of, kit_of
from playwright.sync_api import Browser

from axletree.evening.sheet.plan import EveningRequest, plan_whole
from axletree.evening.sheet.tables import night_tables
from axletree.evening.stops.stop import Stop
from axletree.kit.kit import demo_text
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import pointing_known
from axletree.stages.target.find import FindRequest, find_object
from axletree.tell.evening.data import evening_document
from axletree.tell.field_sheet.field_sheet import field_sheet

pytestmark = pytest.mark.browser
A_MOON = date(2026, 12, 18)  # between half and full
LONG = bool(os.environ.get("AXLETREE_LONG"))
NORTH = """[...document.querySelectorAll(".fields svg")].map((svg) => {
  const stroke = svg.querySelector("line");
  const [a, b, c, d] = ["x1", "y1", "x2", "y2"].map((k) => +stroke.getAttribute(k));
  return (Math.atan2(c - a, b - d) * 180) / Math.PI;
})"""


def written(name: str, folder: Path, day: date = DAY) -> Path:
    kit, made = kit_of(name), found_of(name, day)
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


@pytest.mark.parametrize("name", ["courtyard", "paddock"] if LONG else ["paddock"])
def test_fields_turn_with_the_clock(browser: Browser, tmp_path: Path, name: str) -> None:
    file = written(name, tmp_path)
    stops = [s for s in found_of(name).evening.stops if s.start.altitude_deg < 65.0]
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
    stop = found_of("courtyard").evening.stops[4]
    with opened(browser, file, stop.begin + timedelta(seconds=30)) as sheet:
        sheet.page.evaluate("document.documentElement.dataset.light = 'red'")
        fields = sheet.page.locator(".fields")
        fields.scroll_into_view_if_needed()
        picture = fields.screenshot()
        assert brightest(browser, picture)[0] > 60
        assert brightest(browser, picture)[1:] == [0, 0]


# What is drawn of the disc in the eyepiece's field: its curves and the rows of its hatching.
DISC = """() => {
  const field = [...document.querySelectorAll(".fields svg")].at(-1);
  const corner = field.querySelector("g > g");
  const part = corner ?? field.querySelector("g");
  const points = (d) => [...d.matchAll(/(-?[\\d.]+) (-?[\\d.]+)/g)].map((m) => [+m[1], +m[2]]);
  return {
    corner: Boolean(corner),
    curves: [...part.querySelectorAll("path")].map((p) => points(p.getAttribute("d"))),
    rows: [...part.querySelectorAll("line")].map((l) =>
      ["x1", "y1", "x2", "y2"].map((k) => +l.getAttribute(k))),
  };
}"""


def hour_of(x: float, y: float) -> float:
    """The hour of the dial towards which something lies, y downwards as on a screen."""
    return math.degrees(math.atan2(x, -y)) / 30.0 % 12.0


def test_saturns_rings_lie_as_the_words_say(browser: Browser, tmp_path: Path) -> None:
    """The words come from another way through the mathematics (tell/eyepiece, held against PyMeeus
    in tests/outside): both name the same hours of the dial, half an hour is the words' rounding."""
    [stop] = [s for s in found_of("courtyard").evening.stops if s.name == "Saturn"]
    with opened(browser, written("courtyard", tmp_path), stop.begin + timedelta(seconds=30)) as it:
        told = re.search(r"from tip to tip, from (\d+) to (\d+) on the dial", it.words())
        drawn = it.page.evaluate(DISC)
    assert told is not None
    assert drawn["corner"], "a disc of one pixel is drawn once more"
    curve = max(drawn["curves"], key=lambda c: max(math.dist(c[0], p) for p in c))
    a, b = max(((p, q) for p in curve for q in curve), key=lambda pair: math.dist(*pair))
    hours = sorted(hour_of(p[0] - (a[0] + b[0]) / 2, p[1] - (a[1] + b[1]) / 2) for p in (a, b))
    for hour, word in zip(hours, sorted(float(w) % 12.0 for w in told.groups()), strict=True):
        assert abs((hour - word + 6.0) % 12.0 - 6.0) < 0.75


def test_the_moons_dark_side_lies_away_from_the_light(browser: Browser, tmp_path: Path) -> None:
    """What the words say of the light ('bright side below'), and its share, and the hatching."""
    sides = {"above": 0.0, "right": 3.0, "below": 6.0, "left": 9.0}
    [stop] = [s for s in found_of("courtyard", A_MOON).evening.stops if s.name == "Moon"]
    file = written("courtyard", tmp_path, A_MOON)
    with opened(browser, file, stop.begin + timedelta(seconds=30)) as sheet:
        told = re.search(r"(\d+) % lit and \w+, bright side (\w+)", sheet.words())
        drawn = sheet.page.evaluate(DISC)
    assert told is not None
    if not drawn["rows"]:
        assert int(told[1]) > 98, "only next to the full Moon is nothing hatched"
        return
    limb = drawn["curves"][0]
    x0, y0 = (sum(p[k] for p in limb) / len(limb) for k in (0, 1))
    dark = [((a + c) / 2 - x0, (b + d) / 2 - y0) for a, b, c, d in drawn["rows"]]
    away = hour_of(-sum(x for x, _ in dark), -sum(y for _, y in dark))
    assert abs((away - sides[told[2]] + 6.0) % 12.0 - 6.0) < 1.6
    radius = max(math.dist((x0, y0), p) for p in limb)
    hatched = sum(math.dist(row[:2], row[2:]) for row in drawn["rows"])
    whole = math.pi * radius**2 / 2.6  # the rows stand 2.6 apart
    assert hatched / whole == pytest.approx(1.0 - int(told[1]) / 100.0, abs=0.03)


@pytest.mark.parametrize("name", ["courtyard", "paddock"] if LONG else ["courtyard"])
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
