"""What a page's words do in a browser, and a typeface that is wider than ours.

The measure of what is cut, broken, too small or over others is `words_fit.js`.
"""

from __future__ import annotations

import base64
import struct
from functools import cache
from pathlib import Path
from typing import Any

from axletree.data import data_path
from axletree.tell.shared.measure import Style
from axletree.tell.shared.sheet import FAMILY
from axletree.tell.shared.typeface import FACES

# Widths that pages are looked at, the widest first, with a height for each.
SCREENS = ((1440, 900), (820, 1180), (390, 844), (320, 640))
# How many times as wide as ours DejaVu Serif 2.37 sets words, the widest serif that comes with a
# system: measured in Chromium on 642 sayings of our drawings, 9 letters and more (November 2026).
WIDER: dict[Style, float] = {"regular": 1.27, "semibold": 1.35, "italic": 1.32}
MEASURE = (Path(__file__).parent / "words_fit.js").read_text(encoding="utf-8")
_HEAD_UNITS_AT = 18  # of 'unitsPerEm' in the table 'head' (OpenType specification)


@cache
def wider(style: Style) -> bytes:
    """Our typeface drawn larger at the same size: what a wide fallback does to words."""
    font = bytearray(data_path(f"typeface/{style}.ttf").read_bytes())
    for k in range(struct.unpack_from(">H", font, 4)[0]):
        tag, _, at, _ = struct.unpack_from(">4s3L", font, 12 + 16 * k)
        if tag == b"head":
            units = struct.unpack_from(">H", font, at + _HEAD_UNITS_AT)[0]
            struct.pack_into(">H", font, at + _HEAD_UNITS_AT, round(units / WIDER[style]))
    return bytes(font)


def wider_faces() -> str:
    """The rules of a page that give the wider typeface our name."""
    return "".join(
        f"@font-face{{font-family:'{FAMILY}';{rule};"
        f"src:url(data:font/ttf;base64,{base64.b64encode(wider(style)).decode()})}}"
        for style, rule in FACES.items()
    )


def serve_wider(context: Any) -> None:
    """Let a browser's context get the wider typeface wherever a page asks for ours."""

    def answer(route: Any) -> None:
        style = Path(route.request.url).stem
        route.fulfill(body=wider(style), content_type="font/woff2")

    context.route("**/typeface/*.woff2", answer)


def misfits(page: Any) -> list[str]:
    """What is wrong with the words of the page as it is shown now, a line each."""
    found: list[str] = page.evaluate(MEASURE)
    return found


def settled(page: Any, frames: int = 5) -> None:
    """Wait until a page has drawn so often: what it lays out anew it does before its next frame."""
    page.evaluate(
        "async (n) => { for (; n; n -= 1) await new Promise((r) => requestAnimationFrame(r)); }",
        frames,
    )


def misfits_on_all_screens(page: Any, screens: tuple[tuple[int, int], ...] = SCREENS) -> list[str]:
    """The same on every screen, from the widest to the narrowest, in one page."""
    found = []
    for width, height in screens:
        page.set_viewport_size({"width": width, "height": height})
        settled(page)
        found += [f"{width} px: {line}" for line in misfits(page)]
    return found
