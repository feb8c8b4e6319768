"""The axis on its sheet: one direction only, one far out or left out, a long list, little to move.

Places are held against the sheet's own scale: its ticks say where an arcminute lies.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Sequence

import numpy as np
import pytest

from axletree.pole.solution.estimate import AxisEstimate
from axletree.tell.check.drawing import axis_ellipse
from axletree.tell.check.drawing_list import ShownMeasurement
from axletree.tell.shared.sheet import BRASS, WARN

SVG = "{http://www.w3.org/2000/svg}"
LEFT, RIGHT, TOP, BOTTOM = 90.0, 670.0, 140.0, 720.0


def known(high: float, east: float, sigma: float = 0.4) -> AxisEstimate:
    return AxisEstimate(high, east, np.eye(2) / sigma**2)


def line(high: float, east: float, sigma: float = 0.4) -> AxisEstimate:
    """Known only along the direction from the pole to (high, east)."""
    along = np.array([high, east]) / math.hypot(high, east)
    return AxisEstimate(high, east, np.outer(along, along) / sigma**2)


def shown(*estimates: AxisEstimate, out: Sequence[int] = ()) -> list[ShownMeasurement]:
    return [ShownMeasurement(f"drift {k}", e, k not in out) for k, e in enumerate(estimates)]


def texts(root: ET.Element) -> dict[str, ET.Element]:
    return {"".join(t.itertext()): t for t in root.iter(f"{SVG}text")}


def arcmin(root: ET.Element, north: bool = True) -> tuple[float, float]:
    """Sheet units in an arcminute, and half the side in arcminutes, from the outermost number."""
    reach = float("".join(next(
        t for t in root.iter(f"{SVG}text") if t.attrib.get("x") == "670" and t.attrib["y"] == "740"
    ).itertext()))  # fmt: skip
    return 290.0 / reach, reach


def dashed(root: ET.Element, dash: str = "10 4") -> np.ndarray:
    (path,) = (p for p in root.iter(f"{SVG}path") if p.attrib.get("stroke-dasharray") == dash)
    return np.array([[float(v) for v in p.split()] for p in path.attrib["d"][1:].split("L")])


@pytest.mark.parametrize("north", [True, False])
def test_one_direction_is_a_line_across_what_is_known(north: bool) -> None:
    estimate = line(3.0, -4.0)
    root = ET.fromstring(axis_ellipse(estimate, shown(estimate), 2.0, north))
    assert "one direction only" in (root.findtext(f"{SVG}desc") or "")
    scale, _ = arcmin(root)
    points = dashed(root)
    east = (points[:, 0] - 380.0) / scale * (1.0 if north else -1.0)
    high = (430.0 - points[:, 1]) / scale
    # Every point lies five arcminutes from the pole along (3, -4), and on the plot.
    assert np.allclose(0.6 * high - 0.8 * east, 5.0, atol=0.01)
    assert points.min() >= LEFT
    assert points[:, 0].max() <= RIGHT
    assert points[:, 1].max() <= BOTTOM
    words = texts(root)
    assert "dashes: somewhere on this line" in words
    assert "dark: 68 %, light: 95 %" not in words  # no ellipse is drawn
    assert not [c for c in root.iter(f"{SVG}circle") if c.attrib["r"] == "5"]
    # The letter stands beside its line, not on it.
    x, y = float(words["A"].attrib["x"]), float(words["A"].attrib["y"])
    e, h = (x - 380.0) / scale * (1.0 if north else -1.0), (430.0 - (y - 5.0)) / scale
    assert abs(0.6 * h - 0.8 * e - 5.0) * scale == pytest.approx(14.0, abs=0.5)


def test_one_far_out_and_left_out_is_named_inside_the_plot_and_in_the_list() -> None:
    for high, east in ((60.0, 70.0), (-50.0, -90.0), (95.0, 2.0)):
        others = [known(14.0 + 0.1 * k, -9.0) for k in range(15)]
        drawn = axis_ellipse(
            known(14.0, -9.0), shown(*others, known(high, east), out=[15]), 5.0, north=True
        )
        root = ET.fromstring(drawn)
        words = texts(root)
        told = words["P is farther out"]
        assert told.attrib["fill"] == WARN
        x, y = float(told.attrib["x"]), float(told.attrib["y"])
        # 7 units a letter at size 14, generously: the words end inside the frame.
        wide = 16 * 8.0
        before = {"start": 0.0, "middle": wide / 2, "end": wide}[told.get("text-anchor", "start")]
        assert x - before >= LEFT
        assert x - before + wide <= RIGHT
        assert TOP < y < BOTTOM
        assert (x > 380.0) == (east > 0)
        assert (y < 430.0) == (high > 0)
        # Twelve rows, the one left out by its letter, and how many more there are.
        rows = [w for w in words if re.match(r"[A-Z]  drift", w)]
        assert len(rows) == 13
        assert "P  drift 15  (left out)" in rows
        assert "and 3 more" in words
        height = float(root.attrib["viewBox"].split()[3])
        assert max(float(t.attrib["y"]) for t in words.values()) < height - 5.0


def test_one_left_out_but_near_is_crossed_out() -> None:
    near = shown(known(4.0, 3.0), known(4.1, 3.1), known(8.0, -6.0), out=[2])
    root = ET.fromstring(axis_ellipse(known(4.0, 3.0), near, 5.0, north=True))
    scale, _ = arcmin(root)
    x, y = 380.0 - 6.0 * scale, 430.0 - 8.0 * scale
    strokes = [
        tuple(float(one.attrib[k]) for k in ("x1", "y1", "x2", "y2"))
        for one in root.iter(f"{SVG}line")
        if one.attrib["stroke"] == WARN
    ]
    assert len(strokes) == 2
    for x1, y1, x2, y2 in strokes:
        assert (x1 + x2) / 2 == pytest.approx(x, abs=0.02)
        assert (y1 + y2) / 2 == pytest.approx(y, abs=0.02)
    assert "C  drift 2  (left out)" in texts(root)
    assert dashed(root, "2 3")[:, 0].mean() == pytest.approx(x, abs=0.5)


def test_a_limit_beyond_the_sheet_is_said_above_it() -> None:
    estimate = known(0.5, 0.2, 0.05)
    root = ET.fromstring(axis_ellipse(estimate, shown(estimate), 40.0, north=True))
    words = texts(root)["good enough: all of this sheet (40′)"]
    assert float(words.attrib["y"]) < TOP
    assert not [p for p in root.iter(f"{SVG}path") if p.attrib.get("stroke-dasharray") == "7 5"]


def test_a_limit_that_just_leaves_the_sheet_is_cut_at_its_edge() -> None:
    estimate = known(0.02, 0.01, 0.01)
    root = ET.fromstring(axis_ellipse(estimate, shown(estimate), 0.7, north=True))
    scale, reach = arcmin(root)
    assert reach == 0.6
    arcs = [p for p in root.iter(f"{SVG}path") if p.attrib.get("stroke-dasharray") == "7 5"]
    assert len(arcs) == 4  # in the corners
    for arc in arcs:
        points = np.array([[float(v) for v in p.split()] for p in arc.attrib["d"][1:].split("L")])
        assert np.allclose(np.hypot(points[:, 0] - 380, points[:, 1] - 430), 0.7 * scale, atol=0.02)
        assert np.all(points >= [LEFT, TOP])
        assert np.all(points <= [RIGHT, BOTTOM])
    assert "good enough: 0.7′" in texts(root)


def test_a_line_that_passes_outside_the_plot_is_told_to_be_farther_out() -> None:
    near = [known(1.0, 1.0), known(1.1, 0.9), line(-70.0, 10.0)]
    root = ET.fromstring(axis_ellipse(known(1.0, 1.0), shown(*near, out=[2]), 1.0, north=False))
    words = texts(root)
    assert float(words["C is farther out"].attrib["y"]) > 600.0
    assert "C  drift 2  (left out)" in words


def test_a_leg_too_short_for_an_arrow_has_none() -> None:
    def arrows(east: float) -> int:
        estimate = known(9.0, east, 0.1)
        drawn = axis_ellipse(
            estimate, shown(estimate), 2.0, north=True,
            altitude_words="turn the altitude bolt", azimuth_words="loosen the east bolt",
        )  # fmt: skip
        root = ET.fromstring(drawn)
        return sum(p.attrib["fill"] == BRASS for p in root.iter(f"{SVG}path"))

    assert arrows(6.0) == 2
    assert arrows(0.1) == 1
