"""Nothing on paper is set smaller than 8 points or drawn thinner than half a point, drawings
included, in both hemispheres."""

from __future__ import annotations

import io
import math
from typing import Any

import pytest
from nights import kit_of, planned_of
from pypdf import PdfReader

from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.paper.paper import STAGE_MM, evening_pdf
from axletree.tell.paper.pictures import stage_pictures, stop_pictures

# Common practice for print that is read at arm's length by a lamp, no source.
LEAST_PT, LEAST_LINE_PT = 8.0, 0.5


def sizes_of(made: bytes) -> list[tuple[float, str]]:
    """The size in points at which each piece of text stands on paper, scaled as it is drawn."""
    found: list[tuple[float, str]] = []

    def see(text: str, cm: Any, tm: Any, _font: Any, size: float) -> None:
        if text.strip():
            scale = (cm[0] * cm[3] - cm[1] * cm[2]) * (tm[0] * tm[3] - tm[1] * tm[2])
            found.append((size * math.sqrt(abs(scale)), text.strip()))

    for page in PdfReader(io.BytesIO(made)).pages:
        page.extract_text(visitor_text=see)
    return found


def lines_of(made: bytes) -> list[float]:
    """The width in points of each line that is drawn, scaled as it is drawn."""
    found: list[float] = []

    def see(operator: bytes, given: Any, cm: Any, _tm: Any) -> None:
        if operator == b"w" and given and float(given[0]) > 0.0:
            found.append(float(given[0]) * math.sqrt(abs(cm[0] * cm[3] - cm[1] * cm[2])))

    for page in PdfReader(io.BytesIO(made)).pages:
        page.extract_text(visitor_operand_before=see)
    return found


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_nothing_on_paper_is_too_small_to_read(name: str) -> None:
    kit, planned = kit_of(name), planned_of(name)
    evening = evening_document(planned.evening)
    pictures = stage_pictures(kit, observer_of(kit.site), evening)
    stops = stop_pictures(planned.ground.table, evening)
    made = evening_pdf(evening, pictures, stops)
    found = sizes_of(made)
    assert len(found) > 300
    assert not [f"{size:.1f} pt: {words}" for size, words in found if size < LEAST_PT]
    # The words of drawings are among them: the dial's hours, and what the measures start from.
    letters = "".join(words for _, words in found).replace(" ", "")
    assert "fromthestartoftheshaft" in letters
    lines = lines_of(made)
    assert len(lines) > 100
    assert min(lines) >= LEAST_LINE_PT - 0.01


def test_small_type_in_a_drawing_is_seen() -> None:
    """A drawing 1000 wide, shown 62 mm wide, with type of 13 is set at 2.3 points."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1000 800" width="1000" height="800">'
        '<text x="10" y="400" font-size="13" font-family="Libertinus Serif">small</text></svg>'
    )
    found = sizes_of(evening_pdf(evening_document(planned_of("courtyard").evening), {"a": svg}))
    drawn = 13 * STAGE_MM / 1000 * 72 / 25.4
    assert min(size for size, _ in found) == pytest.approx(drawn, abs=0.05)
