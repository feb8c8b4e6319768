"""In a round picture no name crosses the rim or another: it moves inwards, or is left out.

At the hours of a whole night, since the sky turns; in both hemispheres.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from desks import Live, answered, make_desk, until

from words_fit import misfits, settled

pytestmark = pytest.mark.browser
HOURS = {"courtyard": (18, 22, 28), "paddock": (9, 12, 15)}
# By how much the letters of each word of the sky reach beyond the rim, in the drawing's units.
BEYOND = """() => {
  const svg = document.querySelector('#drawing svg'), rim = svg.querySelector('circle');
  const [x, y, r] = ['cx', 'cy', 'r'].map((k) => rim[k].baseVal.value);
  return [...svg.querySelectorAll('text')]
    .filter((t) => /[^\\d:]/.test(t.textContent) && t.getAttribute('visibility') !== 'hidden')
    .map((t) => {
      const b = t.getBBox(), m = t.transform.baseVal.consolidate()?.matrix ?? svg.createSVGMatrix();
      const base = +t.getAttribute('y'), high = 0.66 * parseFloat(t.getAttribute('font-size'));
      const out = [b.x, b.x + b.width].flatMap((u) => [base, base - high].map((v) => {
        const p = new DOMPoint(u, v).matrixTransform(m);
        return Math.hypot(p.x - x, p.y - y) - r;
      }));
      return [t.textContent, Math.max(...out)];
    }); }"""


@pytest.mark.parametrize("kit", HOURS)
def test_names_keep_within_the_rim_all_night(browser: Any, tmp_path: Path, kit: str) -> None:
    live = Live(make_desk(kit, tmp_path)).start()
    page = browser.new_page(viewport={"width": 390, "height": 844})
    found, named = [], 0
    try:
        for hour in HOURS[kit]:
            day, of_day = divmod(hour, 24)
            page.goto(f"{live.url}/pole?at=2026-12-{5 + day:02d}T{of_day:02d}:30Z")
            answered(page)
            page.click("text=the whole field")
            until(page, "() => document.fonts.status === 'loaded'")
            settled(page, 4)
            page.wait_for_timeout(1050)  # the clock's next second sets the words anew
            words = page.evaluate(BEYOND)
            named += len(words)
            found += [f"{hour} h: {word!r} {by:.1f} out" for word, by in words if by > -1.0]
            found += [line for line in misfits(page) if "over each other" in line]
    finally:
        page.close()
        live.stop()
    assert named >= 9
    assert found == []
