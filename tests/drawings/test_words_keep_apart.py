"""Words of every drawing stay on the sheet and apart, in a wide serif and in a narrow one.

A drawing names several serifs and takes what the reader's machine has. The widest in common use is
DejaVu Serif, the serif of a fresh Linux machine; its condensed cut, a tenth narrower, stands for
the others (as wide as Liberation Serif or Times, to a few per cent: common practice, no source).
The browser measures: the advance by `getBBox`, the height by the ink.
"""

from __future__ import annotations

import itertools
import math
import os
import shutil
import subprocess
from collections.abc import Iterator
from typing import Any

import pytest
from pictures_of_commands import all_drawings

from axletree.tell.shared.sheet import shortened, width_of, wrapped

pytestmark = pytest.mark.browser

FONTS = {"wide": "'DejaVu Serif'", "narrow": "'DejaVu Serif Condensed'"}
TOUCH = 1.5  # units of the sheet by which ink may enter another word's box: a letter's side bearing
EDGE = 2.0  # what must be left at the sheet's edge
# Drawings whose words may meet, with the reason.
MEANT = {"kit": "the page shows one measure at a time, the one that is being typed (kit.js)"}
LETTERS = "".join(map(chr, range(32, 127))) + "°′″·−±≥…’σ×µé"

Corner = tuple[float, float]
MEASURE = """
svgs => svgs.map(([name, text]) => {
  document.body.innerHTML = text;
  const svg = document.body.firstElementChild, back = svg.getCTM().inverse();
  const pen = document.createElement('canvas').getContext('2d');
  const sheet = svg.viewBox.baseVal;
  return [name, sheet.width, sheet.height,
    [...svg.querySelectorAll('text')].filter(t => t.textContent.trim()).map(t => {
      const s = getComputedStyle(t), b = t.getBBox(), m = t.getCTM().multiply(back);
      pen.font = `${s.fontStyle} ${s.fontWeight} ${s.fontSize} ${s.fontFamily}`;
      const ink = pen.measureText(t.textContent), y = +t.getAttribute('y');
      const top = y - ink.actualBoundingBoxAscent, low = y + ink.actualBoundingBoxDescent;
      return [t.textContent, [[b.x, top], [b.x + b.width, top], [b.x + b.width, low], [b.x, low]]
        .map(([x, y]) => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f])];
    })];
})
"""
ADVANCES = """
([letters, weight]) => {
  const pen = document.createElement('canvas').getContext('2d');
  pen.font = `${weight} 1000px 'DejaVu Serif'`;
  return [...letters].map(c => [c, pen.measureText(c).width / 1000]);
}
"""


@pytest.fixture(scope="module")
def drawings(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    folder = tmp_path_factory.mktemp("drawings")
    before = os.environ.get("XDG_DATA_HOME")
    os.environ["XDG_DATA_HOME"] = str(folder)  # the person's own logbook stays out of it
    try:
        yield all_drawings(folder)
    finally:
        os.environ.pop("XDG_DATA_HOME")
        if before is not None:
            os.environ["XDG_DATA_HOME"] = before


@pytest.fixture(scope="module")
def page(playwright: Any) -> Iterator[Any]:
    from desks import CHROMIUM_ARGUMENTS, chromium

    browser = playwright.chromium.launch(executable_path=chromium(), args=CHROMIUM_ARGUMENTS)
    yield browser.new_page()
    browser.close()


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


@pytest.fixture
def fonts(page: Any) -> None:
    listed = shutil.which("fc-list") and subprocess.check_output(["fc-list"], text=True)
    if not listed or "DejaVu Serif Condensed" not in listed:
        pytest.skip("needs DejaVu Serif and its condensed cut (Debian: fonts-dejavu-extra)")


@pytest.mark.usefixtures("fonts")
@pytest.mark.parametrize("width", FONTS)
def test_words_stay_on_the_sheet_and_apart(drawings: dict[str, str], page: Any, width: str) -> None:
    page.set_content(
        f"<style>svg, svg text {{ font-family: {FONTS[width]} !important }}</style><body></body>"
    )
    measured = page.evaluate(MEASURE, list(drawings.items()))
    assert sum(len(texts) for *_, texts in measured) > 2000
    wrong = [line for row in measured for line in faults(*row)]
    assert not wrong, "\n".join(wrong)


@pytest.mark.usefixtures("fonts")
@pytest.mark.parametrize("weight", [400, 700])
def test_the_estimate_of_width_is_no_less_than_the_widest_serif(page: Any, weight: int) -> None:
    found = dict(page.evaluate(ADVANCES, [LETTERS, weight]))
    guessed = {letter: width_of(letter, 1.0, weight) for letter in LETTERS}
    # A seldom letter may be wider; what is written most must not be, nor must words.
    often = "abcdefghijklmnopqrstuvwxyz 0123456789°′.,:"
    assert not {c: (found[c], guessed[c]) for c in often if found[c] > guessed[c] + 0.001}
    for words in ("Polaris 26.5° above the skyline", "north-north-east", "150 mm f/5 Newtonian"):
        exact = sum(found[c] for c in words)
        assert exact <= width_of(words, 1.0, weight) <= 1.12 * exact


def test_rows_and_cuts_keep_to_the_width() -> None:
    words = "Keep the compass away from steel: car, tripod, weights, telephone and fence"
    rows = wrapped(words, 200.0, size=13)
    assert " ".join(rows) == words
    assert all(width_of(row, 13) <= 200.0 for row in rows)
    assert shortened(words, 5000.0) == words
    cut = shortened(words, 120.0)
    assert cut.endswith("…")
    assert words.startswith(cut[:-1])
    assert 90.0 < width_of(cut) <= 120.0


def test_boxes_that_overlap_are_told_from_boxes_apart() -> None:
    box = [(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)]
    beside = [(x + 9.0, y + 1.0) for x, y in box]
    diamond = [(15.0, -3.0), (20.0, 2.0), (15.0, 7.0), (10.0, 2.0)]
    assert overlap(box, beside) == pytest.approx(1.0)
    assert overlap(box, diamond) <= 0.0
    assert faults("sheet", 12.0, 10.0, [("a", box)])
    assert len(faults("sheet", 40.0, 20.0, [("a", [(x + 3, y + 3) for x, y in box])])) == 0
