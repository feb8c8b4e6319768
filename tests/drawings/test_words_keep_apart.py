"""Words of every drawing stay on the sheet, apart and clear of strokes, in whatever typeface.

A drawing that leaves the house carries its own letters, which some viewers don't take along; one
in a page is set in the typeface of the page. The browser measures: the advance by `getBBox`, the
height by the ink. Of each command every second drawing; AXLETREE_LONG=1 looks at all of them.
"""

from __future__ import annotations

import itertools
import math
import os
import re
from collections.abc import Iterator
from typing import Any

import pytest
from pictures_of_commands import all_drawings
from strokes import crossed, drawn

from axletree.tell.shared.sheet import PAPER, Sheet
from axletree.tell.shared.typeface import whole_faces
from words_fit import wider_faces

pytestmark = pytest.mark.browser

TOUCH = 1.5  # units of the sheet by which ink may enter another word's box: a letter's side bearing
EDGE = 2.0  # what must be left at the sheet's edge
LEAST = 11.0  # px of type where a drawing is shown in its own size
INTO = 1.0  # units by which a stroke may enter a word's box: above small letters, beside round ones
# Drawings whose words may meet, with the reason.
MEANT = {"kit": "the page shows one measure at a time, the one that is being typed (kit.js)"}
Corner = tuple[float, float]
MEASURE = """
async svgs => { const found = []; for (const [name, text] of svgs) {
  document.body.innerHTML = text;
  const svg = document.body.firstElementChild;
  svg.getBoundingClientRect();
  await document.fonts.ready;
  const back = svg.getCTM().inverse();
  const pen = document.createElement('canvas').getContext('2d');
  const sheet = svg.viewBox.baseVal;
  const faces = [...document.fonts].filter(f => f.status === "loaded").length;
  found.push([name, faces, sheet.width, sheet.height,
    [...svg.querySelectorAll('text')].filter(t => t.textContent.trim()).map(t => {
      const s = getComputedStyle(t), b = t.getBBox(), m = t.getCTM().multiply(back);
      pen.font = `${s.fontStyle} ${s.fontWeight} ${s.fontSize} ${s.fontFamily}`;
      const ink = pen.measureText(t.textContent), y = +t.getAttribute('y');
      const top = y - ink.actualBoundingBoxAscent, low = y + ink.actualBoundingBoxDescent;
      return [t.textContent, [[b.x, top], [b.x + b.width, top], [b.x + b.width, low], [b.x, low]]
        .map(([x, y]) => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f])];
    })]);
} return found; }
"""


@pytest.fixture(scope="module")
def drawings(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    folder = tmp_path_factory.mktemp("drawings")
    before = os.environ.get("XDG_DATA_HOME")
    os.environ["XDG_DATA_HOME"] = str(folder)  # the person's own logbook stays out of it
    try:
        yield all_drawings(folder, every=1 if os.environ.get("AXLETREE_LONG") else 2)
    finally:
        os.environ.pop("XDG_DATA_HOME")
        if before is not None:
            os.environ["XDG_DATA_HOME"] = before


@pytest.fixture(scope="module")
def page(browser: Any) -> Iterator[Any]:
    opened = browser.new_page()
    yield opened
    opened.close()


def overlap(a: list[Corner], b: list[Corner]) -> float:
    """How far two boxes, turned or not, reach into each other; 0 or less where they are apart."""
    depth = math.inf
    for box in (a, b):
        for p, q in (box[:2], box[1:3]):
            size = math.hypot(q[0] - p[0], q[1] - p[1]) or 1.0
            u = ((q[0] - p[0]) / size, (q[1] - p[1]) / size)
            (a0, a1), (b0, b1) = (
                (min(along), max(along))
                for along in ([x * u[0] + y * u[1] for x, y in c] for c in (a, b))
            )
            depth = min(depth, a1 - b0, b1 - a0)
    return depth


def faults(
    name: str, width: float, height: float, texts: list[tuple[str, list[Corner]]]
) -> list[str]:
    """What is wrong with one drawing's words, a line each."""
    found = []
    for words, box in texts:
        xs, ys = zip(*box, strict=True)
        out = max(EDGE - min(xs), EDGE - min(ys), max(xs) + EDGE - width, max(ys) + EDGE - height)
        if out > 0:
            found.append(f"{name}: {words!r} is {out:.0f} too far out")
    if name.split(",")[0] in MEANT:
        return found
    for (one, a), (other, b) in itertools.combinations(texts, 2):
        depth = overlap(a, b)
        if depth > TOUCH:
            found.append(f"{name}: {one!r} and {other!r} overlap by {depth:.0f}")
    return found


def measured_in(page: Any, drawings: dict[str, str], where: str) -> list[Any]:
    """Each drawing's words as the browser sets them, a row a drawing (see MEASURE)."""
    given = list(drawings.items())
    if where == "alone":
        page.set_content("<body></body>")
    else:
        faces = whole_faces() if where == "in a page" else wider_faces()
        page.set_content(f"<style>{faces}</style><body></body>")
        given = [(name, re.sub("<style>.*?</style>", "", svg)) for name, svg in given]
    found: list[Any] = page.evaluate(MEASURE, given)
    return found


@pytest.mark.parametrize("where", ["alone", "in a page", "in a wide typeface"])
def test_words_stay_on_the_sheet_and_apart(drawings: dict[str, str], page: Any, where: str) -> None:
    measured = measured_in(page, drawings, where)
    assert sum(len(texts) for *_, texts in measured) > 1200
    assert not [name for name, faces, *_ in measured if not faces]
    wrong = [line for name, _, *row in measured for line in faults(name, *row)]
    assert not wrong, "\n".join(wrong)


def test_no_stroke_runs_through_words(drawings: dict[str, str], page: Any) -> None:
    wrong, looked_at = [], 0
    for name, _, _, _, texts in measured_in(page, drawings, "alone"):
        if name.split(",")[0] in MEANT:
            continue
        elements, boxes = drawn(drawings[name]), [box for _, box in texts]
        looked_at += sum(e.kind == "stroke" for e in elements)
        for (words, _), units in zip(texts, crossed(elements, boxes, INTO), strict=True):
            if units > 1.0:
                wrong.append(f"{name}: {units:.0f} units of strokes through {words!r}")
    assert looked_at > 10_000
    assert not wrong, "\n".join(wrong)


def test_no_type_is_too_small_to_read(drawings: dict[str, str]) -> None:
    sizes = {
        name: min(float(size) for size in re.findall(r'font-size="([\d.]+)"', svg))
        for name, svg in drawings.items()
    }
    assert len(sizes) > 70
    assert not {name: size for name, size in sizes.items() if size < LEAST}


def test_a_stroke_through_words_is_seen() -> None:
    box = [(10.0, 10.0), (60.0, 10.0), (60.0, 22.0), (10.0, 22.0)]

    def through(bring_forward: bool, stroke_last: bool) -> float:
        sheet = Sheet(80, 40, "words and a stroke")
        if not stroke_last:
            sheet.line((0, 16), (80, 16))
        sheet.text((10, 22), "words")
        if bring_forward:
            sheet.bring_forward()
        if stroke_last:
            sheet.line((0, 16), (80, 16))
        return crossed(drawn(sheet.svg()), [box], INTO)[0]

    # 48 units of the box's 50, where nothing of its rim counts.
    assert through(False, False) == pytest.approx(48.0, abs=2.0)
    assert through(False, True) == pytest.approx(48.0, abs=2.0)
    assert through(True, False) == through(True, True) == 0.0
    beside = Sheet(80, 40, "a stroke under words")
    beside.line((0, 23), (80, 23), width=2.0)
    beside.text((10, 22), "words")
    assert crossed(drawn(beside.svg()), [box], INTO) == [0.0]
    covered = Sheet(80, 40, "paper between")
    covered.line((0, 16), (80, 16))
    covered.box((8, 8), 60, 16, stroke="none", fill=PAPER)
    covered.text((10, 22), "words")
    assert crossed(drawn(covered.svg()), [box], INTO) == [0.0]


def test_boxes_that_overlap_are_told_from_boxes_apart() -> None:
    box = [(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)]
    beside = [(x + 9.0, y + 1.0) for x, y in box]
    diamond = [(15.0, -3.0), (20.0, 2.0), (15.0, 7.0), (10.0, 2.0)]
    assert overlap(box, beside) == pytest.approx(1.0)
    assert overlap(box, diamond) <= 0.0
    assert faults("sheet", 12.0, 10.0, [("a", box)])
    assert len(faults("sheet", 40.0, 20.0, [("a", [(x + 3, y + 3) for x, y in box])])) == 0
