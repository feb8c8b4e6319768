"""The drawing of a field: ink where the view says, words apart, nothing off the sheet."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ElementTree
from dataclasses import replace

import numpy as np
import pytest

from axletree.find.instruments import Instrument, InstrumentKind, Look
from axletree.find.view import FieldView, OutlineSeen, SkyTurn
from axletree.tell.find.view_drawing import field_view_svg
from axletree.tell.find.view_text import view_words
from axletree.tell.shared.measure import width_of

SVG = "{http://www.w3.org/2000/svg}"
FINDER = Instrument(
    InstrumentKind.FINDER, "finder", 6, 30, 7.0, 0.85, Look.UPSIDE_DOWN
)  # fmt: skip


def view_of(north: float = 20.0, mirrored: bool = False, **changes: object) -> FieldView:
    rng = np.random.default_rng(5)
    radius, angle = np.sqrt(rng.uniform(0, 0.97, 60)), rng.uniform(0, 2 * np.pi, 60)
    turn = SkyTurn(north, (north + (270 if mirrored else 90)) % 360, 0.0, mirrored)
    view = FieldView(
        instrument=FINDER, radius_deg=3.5, turned=turn,
        x=radius * np.cos(angle), y=radius * np.sin(angle),
        magnitude_v=np.sort(rng.uniform(3, 8.5, 60)), star_index=np.arange(60),
        star_number=np.arange(60),
        limit_mag=8.5, list_limit_mag=10.0, times_as_many=1.0, place=(0.0, 0.0),
        outline=OutlineSeen(0.0, 0.0, 0.3, 0.1, 60.0),
    )  # fmt: skip
    return replace(view, **changes)  # type: ignore[arg-type]


def parsed(view: FieldView, name: str = "M31", **more: object) -> ElementTree.Element:
    return ElementTree.fromstring(field_view_svg(view, name, **more))  # type: ignore[arg-type]


def circles(svg: ElementTree.Element) -> list[tuple[float, float, float, str]]:
    return [
        (float(c.get("cx", 0)), float(c.get("cy", 0)), float(c.get("r", 0)), c.get("fill", ""))
        for c in svg.iter(f"{SVG}circle")
    ]


def rim_of(svg: ElementTree.Element) -> tuple[float, float, float]:
    x, y, r, _ = max(circles(svg), key=lambda c: c[2])
    return x, y, r


def test_stars_stand_where_the_view_says() -> None:
    """Within a tenth of a per cent of the field; up is up: the sheet counts downwards."""
    view = view_of()
    svg = parsed(view)
    cx, cy, R = rim_of(svg)
    dots = np.array([(x, y, r) for x, y, r, fill in circles(svg) if "ink" in fill])[::-1]
    assert len(dots) == 60
    inner = np.hypot(view.x, view.y) < 0.93  # at the very edge a dot is kept whole
    assert inner.sum() > 40
    assert np.abs((dots[:, 0] - cx) / R - view.x)[inner].max() < 0.002
    assert np.abs((cy - dots[:, 1]) / R - view.y)[inner].max() < 0.002
    assert np.all(np.hypot(dots[:, 0] - cx, dots[:, 1] - cy) + dots[:, 2] < R)
    assert np.all(np.diff(dots[:, 2]) <= 0)  # brighter is larger
    assert dots[0, 2] > 2 * dots[-1, 2]


def points_of(svg: ElementTree.Element) -> np.ndarray:
    (path,) = [p for p in svg.iter(f"{SVG}path") if (p.get("d") or "").count("L") > 100]
    text = (path.get("d") or "").strip("MZ").replace("L", " ").split()
    return np.array([float(v) for v in text]).reshape(-1, 2)


@pytest.mark.parametrize("lies", [0.0, 60.0, 135.0])
def test_the_outline_lies_and_measures_as_the_view_says(lies: float) -> None:
    svg = parsed(view_of(outline=OutlineSeen(0.2, -0.1, 0.3, 0.1, lies)))
    cx, cy, R = rim_of(svg)
    points = points_of(svg)
    x, y = (points[:, 0] - cx) / R - 0.2, (cy - points[:, 1]) / R + 0.1
    far = np.argmax(np.hypot(x, y))
    assert np.hypot(x, y).max() == pytest.approx(0.3, abs=0.002)
    assert np.hypot(x, y).min() == pytest.approx(0.1, abs=0.002)
    found = np.degrees(np.arctan2(x[far], y[far])) % 180
    assert abs((found - lies + 90) % 180 - 90) < 2


def boxes(svg: ElementTree.Element) -> list[tuple[str, float, float, float, float]]:
    found = []
    for t in svg.iter(f"{SVG}text"):
        words, size = t.text or "", float(t.get("font-size", 14))
        wide = width_of(words, size, int(t.get("font-weight", 400)))
        x, y = float(t.get("x", 0)), float(t.get("y", 0))
        x -= {"start": 0.0, "middle": wide / 2, "end": wide}[t.get("text-anchor", "start")]
        found.append((words, x, y - 0.68 * size, x + wide, y + 0.2 * size))
    return found


@pytest.mark.parametrize("mirrored", [False, True])
def test_words_stay_apart_and_on_the_sheet_however_the_field_is_turned(mirrored: bool) -> None:
    names = {0: "Alpheratz", 1: "Mirach", 2: "φ Andromedae"}
    for north in range(0, 360, 4):
        view = view_of(float(north), mirrored)
        svg = parsed(view, star_names=names, driven=True)
        found = boxes(svg)
        assert {"up", "north", "drift", "M31"} <= {words for words, *_ in found}
        wide, high = float(svg.get("width", 0)), float(svg.get("height", 0))
        for words, left, top, right, low in found:
            assert left > 2, (north, words)
            assert right < wide - 2, (north, words)
            assert top > 2, (north, words)
            assert low < high - 2, (north, words)
        for a, b in itertools.combinations(found, 2):
            apart = a[3] < b[1] or b[3] < a[1] or a[4] < b[2] or b[4] < a[2]
            assert apart, (north, a, b)


def test_north_and_drift_stand_where_they_are() -> None:
    for north in (0.0, 77.0, 200.0, 310.0):
        svg = parsed(view_of(north))
        cx, cy, _ = rim_of(svg)
        for word, angle in (("north", north), ("drift", north + 90)):
            ((_, left, top, right, low),) = [b for b in boxes(svg) if b[0] == word]
            at = np.degrees(np.arctan2((left + right) / 2 - cx, cy - (top + low) / 2))
            assert abs((at - angle + 180) % 360 - 180) < 3


def test_what_is_too_small_or_too_large_is_said() -> None:
    tiny = view_of(outline=OutlineSeen(0, 0, 0.01, 0.01, None))
    assert any("is smaller" in b[0] for b in boxes(parsed(tiny)))
    assert any(c.get("stroke-dasharray") for c in parsed(tiny).iter(f"{SVG}circle"))
    large = view_of(outline=OutlineSeen(0, 0, 3.0, 2.0, 10.0))
    assert any("larger than the field" in b[0] for b in boxes(parsed(large)))


def test_what_the_list_lacks_is_said() -> None:
    assert "all that show" in view_words(view_of(), "").rows[0]
    faint = view_of(limit_mag=13.0, times_as_many=16.8)
    assert "about 17 times as many show" in view_words(faint, "").rows[0]


def test_each_way_of_looking_is_called_by_its_name() -> None:
    eyepiece = Instrument(
        InstrumentKind.EYEPIECE, "10 mm", 75, 150, 0.693, 0.8, None, 1
    )  # fmt: skip
    seen = view_words(view_of(instrument=eyepiece, radius_deg=0.3465), "M57")
    assert seen.head == "Eyepiece 10 mm, 75 times"
    assert seen.below_head.startswith("42′")
    assert view_words(view_of(), "M57").head == "In the finder, 6×30 mm"
    assert "upside down" in view_words(view_of(), "M57").below_head
    sight = Instrument(InstrumentKind.PLAIN_SIGHT, "s", 1, 7, 20.0, rings_deg=(0.5, 2.0))
    assert "Rings at 0.5° and 2°" in " ".join(view_words(view_of(instrument=sight), "M57").rows)


def test_a_pairs_fainter_star_has_its_hour() -> None:
    pair = view_of(outline=None, companion_deg=128.0, companion_apart=0.01)
    assert any("midway from 4 to 5" in b[0] for b in boxes(parsed(pair, "Albireo")))
