"""The three fields of the still point: no star lies under a word. Widths of words by Pillow."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from xml.etree import ElementTree

import pytest
from PIL import ImageFont

from axletree.data import data_path
from axletree.kit.kit import demo_kit
from axletree.stages.set_up.pole import pole
from axletree.stages.set_up.pole_request import PoleRequest
from axletree.tell.pole.swing_drawing import swing_fields

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_no_star_lies_under_a_word(name: str) -> None:
    """Eight moments around a day: the stars go once round the pole."""
    kit, evening = demo_kit(name), datetime(2026, 12, 5, 18, tzinfo=UTC)
    face = ImageFont.truetype(str(data_path("typeface/semibold.ttf")), 100)
    seen = 0
    for hours in range(0, 24, 3):
        answer = pole(kit, PoleRequest(evening + timedelta(hours=hours), through_tube=True))
        for svg, _ in swing_fields(answer):
            root = ElementTree.fromstring(svg)
            dots = [one for one in root.iter(f"{SVG}circle") if "ink" in one.get("fill", "")]
            for text in root.iter(f"{SVG}text"):
                x, y, size = (float(text.get(key, "")) for key in ("x", "y", "font-size"))
                wide, high = face.getlength(text.text or "") * size / 100.0, 0.7 * size
                for dot in dots:
                    cx, cy, r = (float(dot.get(key, "")) for key in ("cx", "cy", "r"))
                    off = max(x - cx, cx - x - wide), max(y - high - cy, cy - y)
                    assert max(off) > r, (hours, text.text, cx, cy)
                    seen += 1
    assert seen > 100
