"""The drawings of the pole view and of the tolerance: well-formed, inside the sheet, right way."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from axletree.kit.kit import demo_kit
from axletree.pole.aim.axis_view import AxisView
from axletree.pole.aim.target import pole_target
from axletree.pole.aim.view import pole_view
from axletree.pole.enough.methods import methods, quickest
from axletree.pole.enough.tolerance import eye_tolerance
from axletree.sky.observer import Observer
from axletree.stages.set_up.enough import EnoughRequest, enough
from axletree.tell.enough.drawing import tolerance_svg
from axletree.tell.pole.drawing import cut_to_circle, pole_view_svg
from axletree.tell.shared.text import error_words
from axletree.tell.shared.words import dial_place

SVG = "{http://www.w3.org/2000/svg}"
AT = datetime(2026, 12, 5, 21, 0, tzinfo=UTC)


@pytest.mark.parametrize("latitude", [0.0, 38.6, 89.9, -12.0, -44.0, -90.0])
def test_everything_stays_on_the_sheet(latitude: float) -> None:
    view = pole_view(Observer(latitude, 5.0), AT, AxisView(engraved_ring_arcmin=40.0))
    root = ET.fromstring(pole_view_svg(view, ["a < b & c", "x" * 30]))
    width, height = (float(v) for v in root.attrib["viewBox"].split()[2:])
    for circle in root.iter(f"{SVG}circle"):
        x, y, r = (float(circle.attrib[k]) for k in ("cx", "cy", "r"))
        assert x - r >= 0
        assert x + r <= width
        assert y - r >= 0
        assert y + r <= height
    for text in root.iter(f"{SVG}text"):
        if "x" in text.attrib:
            assert 0 <= float(text.attrib["x"]) <= width
            assert 0 <= float(text.attrib["y"]) <= height
    assert not re.search(r"\bnan\b|\binf\b", pole_view_svg(view))


def test_the_star_is_drawn_where_the_clock_says() -> None:
    view = pole_view(Observer(38.6, -8.0), AT, AxisView(look="inverted"))
    root = ET.fromstring(pole_view_svg(view))
    (now,) = (c for c in root.iter(f"{SVG}circle") if c.attrib["r"] == "22")
    (dial,) = (c for c in root.iter(f"{SVG}circle") if c.attrib["r"] == "285")
    right, down = (float(now.attrib[k]) - float(dial.attrib[k]) for k in ("cx", "cy"))
    hour = math.degrees(math.atan2(right, -down)) / 30 % 12
    assert hour == pytest.approx(view.clock_hour, abs=0.01)
    assert dial_place(view.clock_hour) in (root.findtext(f"{SVG}title") or "")


def test_the_drawing_refers_to_nothing_by_name() -> None:
    # Several drawings may stand on one page, and plain viewers know no text along a path.
    text = pole_view_svg(pole_view(Observer(38.6, -8.0), AT))
    assert " id=" not in text
    assert "textPath" not in text
    assert "Cassiopeia" in text


def test_errors_in_words() -> None:
    assert [error_words(x) for x in (0.52, 12.3, 89.0, 96.0, 1733.0, 2700.0)] == [
        "0.5′", "12′", "89′", "1.6°", "29°", "45° and more",
    ]  # fmt: skip


def test_lines_end_at_the_rim() -> None:
    # By hand: a horizontal chord at height 3 in a circle of radius 5 runs from -4 to 4.
    cut = cut_to_circle((-10.0, 3.0), (10.0, 3.0), 5.0)
    assert cut is not None
    assert cut[0] == pytest.approx((-4.0, 3.0))
    assert cut[1] == pytest.approx((4.0, 3.0))
    assert cut_to_circle((6.0, 0.0), (10.0, 0.0), 5.0) is None
    assert cut_to_circle((-10.0, 6.0), (10.0, 6.0), 5.0) is None
    assert cut_to_circle((1.0, 1.0), (1.0, 1.0), 5.0) is None
    assert cut_to_circle((0.0, 0.0), (1.0, 0.0), 5.0) == ((0.0, 0.0), (1.0, 0.0))


@pytest.mark.parametrize(("field", "seconds"), [(0.5, 60.0), (2.0, 1.0), (0.1, 36000.0)])
def test_tolerance_drawing_holds_any_answer(field: float, seconds: float) -> None:
    kit = demo_kit("paddock")
    target = pole_target(Observer(kit.site.latitude_deg, kit.site.longitude_deg))
    found = eye_tolerance(field, seconds, motor=True)
    every = methods(kit, target, 69.0, 0.4, found.largest_arcmin, pole_in_view=False)
    answer = replace(
        enough(kit, EnoughRequest(AT)), strictest=found, eye=found, methods=every,
        best=quickest(every),
    )  # fmt: skip
    root = ET.fromstring(tolerance_svg(answer))
    width = float(root.attrib["viewBox"].split()[2])
    for box in root.iter(f"{SVG}rect"):
        if "x" in box.attrib:
            assert float(box.attrib["x"]) + float(box.attrib["width"]) <= width
            assert float(box.attrib["width"]) >= 0
