"""Words are as wide as a browser sets them: in the whole typeface, in a drawing's letters."""

from __future__ import annotations

from typing import Any

import pytest

from axletree.tell.shared.measure import Style, width_of, widths
from axletree.tell.shared.sheet import Sheet
from axletree.tell.shared.typeface import by_itself, whole_faces

STYLES: dict[Style, tuple[int, bool]] = {
    "regular": (400, False), "semibold": (600, False), "italic": (400, True),
}  # fmt: skip
SAYINGS = (
    "Polaris 26.5° above the skyline", "150 mm f/5 Newtonian", "north-north-east by 12:34:56",
    "Turn AVATAR To Wave. Yes, T. V, “after” f’", "−3.2′ ± 0.4″, ≥ 5.0 ≤ 6", "α² and β of σ Oct",
    "Évora", "School courtyard near Évora", "Fjørd, Ærø",
)  # fmt: skip


@pytest.mark.browser
@pytest.mark.parametrize("carried", ["the whole cut", "a drawing's letters"])
def test_words_are_as_wide_as_the_browser_sets_them(browser: Any, carried: str) -> None:
    """Within 0.5 % of Chromium's `measureText` (HarfBuzz inside); found: 0.1 %."""
    rules = whole_faces() if carried == "the whole cut" else _small_faces()
    page = browser.new_page()
    page.set_content(f"<style>{rules}</style><body></body>")
    measured = page.evaluate(
        """async ([texts, styles]) => {
          const pen = document.createElement('canvas').getContext('2d'), found = [];
          for (const [weight, italic] of styles) {
            const font = `${italic ? 'italic ' : ''}${weight} 50px "Libertinus Serif"`;
            await document.fonts.load(font);
            pen.font = font;
            found.push(texts.map(t => pen.measureText(t).width));
          }
          return found;
        }""",
        [SAYINGS, list(STYLES.values())],
    )
    page.close()
    assert len(measured) == 3
    for (style, (weight, italic)), found in zip(STYLES.items(), measured, strict=True):
        for words, wide in zip(SAYINGS, found, strict=True):
            if set(words) <= set(widths(style).advances):
                assert width_of(words, 50, weight, italic) == pytest.approx(wide, rel=0.005), words
    # The three styles are three fonts, and none of them what stands in for a missing one.
    assert len({tuple(found) for found in measured}) == 3


def _small_faces() -> str:
    sheet = Sheet(100, 100, "words")
    for words in SAYINGS:
        for weight, italic in STYLES.values():
            if italic:
                sheet.note((0, 0), words)
            else:
                sheet.text((0, 0), words, weight=weight)
    svg = by_itself(sheet.svg())
    return svg[svg.index("<style>") + 7 : svg.index("</style>")]
