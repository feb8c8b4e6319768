"""The typeface's widths against a general font library (fontTools)."""

from __future__ import annotations

import io
from typing import get_args

import pytest
from fontTools.ttLib import TTFont

from axletree.data import data_path
from axletree.tell.shared.measure import Style, widths
from axletree.tell.shared.typeface import font_of

STYLES: tuple[Style, ...] = ("regular", "semibold", "italic")
SAYINGS = (
    "Polaris 26.5° above the skyline", "150 mm f/5 Newtonian", "north-north-east by 12:34:56",
    "Turn AVATAR To Wave. Yes, T. V, “after” f’", "−3.2′ ± 0.4″, ≥ 5.0 ≤ 6", "α² and β of σ Oct",
    "Évora", "School courtyard near Évora", "Fjørd, Ærø",
)  # fmt: skip


def whole(style: Style) -> TTFont:
    return TTFont(io.BytesIO(data_path(f"typeface/{style}.ttf").read_bytes()))


def test_every_style_is_measured_here() -> None:
    assert set(get_args(Style)) == set(STYLES)


@pytest.mark.parametrize("style", STYLES)
def test_advances_are_those_of_the_font_library(style: Style) -> None:
    font, known = whole(style), widths(style)
    named = font.getBestCmap()
    assert {ord(c) for c in known.advances} == set(named)
    assert len(named) > 120
    for code, name in named.items():
        assert known.advances[chr(code)] == font["hmtx"][name][0]
        assert known.glyphs[chr(code)] == font.getGlyphID(name)


@pytest.mark.parametrize("style", STYLES)
def test_figures_are_of_one_width_and_stand_on_the_line(style: Style) -> None:
    """So that rows of figures stand below each other; drawn by the library's own pens."""
    font = whole(style)
    named = font.getBestCmap()
    advances = [font["hmtx"][named[ord(c)]][0] for c in "0123456789"]
    assert max(advances) - min(advances) <= 1  # of 1000; the 4 of the italic
    outlines = [font["glyf"][named[ord(c)]] for c in "0123456789"]
    assert all(abs(o.yMin) < 25 for o in outlines)
    assert all(600 < o.yMax < 700 for o in outlines)


@pytest.mark.parametrize("style", STYLES)
def test_a_drawings_font_is_a_font_to_the_library(style: Style) -> None:
    letters = "".join(sorted(set("".join(SAYINGS)) & set(widths(style).glyphs)))
    small, font = TTFont(io.BytesIO(font_of(style, letters))), whole(style)
    named, whole_names = small.getBestCmap(), font.getBestCmap()
    assert {chr(c) for c in named} == set(letters)
    for code, name in named.items():
        other = whole_names[code]
        assert small["hmtx"][name] == font["hmtx"][other]
        drawn, meant = small["glyf"][name], font["glyf"][other]
        ours, theirs = drawn.getCoordinates(small["glyf"]), meant.getCoordinates(font["glyf"])
        assert list(ours[0]) == list(theirs[0])
    pairs = small["kern"].kernTables[0].kernTable
    back = {name: chr(code) for code, name in named.items()}
    assert len(pairs) > 50
    for (a, b), value in pairs.items():
        assert widths(style).kerning(back[a], back[b]) == value
    assert "SIL Open Font License" in small["name"].getDebugName(13)
