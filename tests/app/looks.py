"""What tests look at in a page: its pixels, its faults by axe, its first moments."""

from __future__ import annotations

import base64
from functools import cache
from pathlib import Path
from typing import Any

from words_fit import settled

SCREENS = Path(__file__).parents[2] / "out" / "screens"
COUNT = """async (data) => {
  const picture = await fetch('data:image/png;base64,' + data);
  const image = await createImageBitmap(await picture.blob());
  const canvas = new OffscreenCanvas(image.width, image.height), pen = canvas.getContext('2d');
  pen.drawImage(image, 0, 0);
  const dots = pen.getImageData(0, 0, image.width, image.height).data;
  let other = 0, red = 0;
  for (let i = 0; i < dots.length; i += 4) {
    if (dots[i + 1] || dots[i + 2]) other += 1;
    if (dots[i] > 200) red += 1;
  }
  return { other, red, all: dots.length / 4 };
}"""


def screenshot(page: Any, name: str) -> bytes:
    """A picture of what the screen shows, also kept in out/screens."""
    SCREENS.mkdir(parents=True, exist_ok=True)
    taken: bytes = page.screenshot(path=SCREENS / f"{name}.png")
    return taken


def colours(browser: Any, picture: bytes) -> dict[str, int]:
    """How many pixels have any green or blue, and how many are strongly red."""
    found: dict[str, int] = _desk_of(browser).evaluate(COUNT, base64.b64encode(picture).decode())
    return found


@cache
def _desk_of(browser: Any) -> Any:
    """An empty page in which pictures are looked at, one for all: each page is a process."""
    return browser.new_context().new_page()


@cache
def _axe() -> str:
    from axe_playwright_python.base import AXE_FILE_PATH

    return Path(AXE_FILE_PATH).read_text(encoding="utf-8")


def faults(page: Any, *, contrast_only: bool = False) -> list[str]:
    """What axe-core (rules of WCAG 2.2 A and AA, and best practices) finds wrong.

    Another light changes nothing but the contrast.
    """
    if not page.evaluate("typeof window.axe === 'object'"):
        page.evaluate(_axe())
    only = "runOnly: ['color-contrast'], " if contrast_only else ""
    found = page.evaluate(f"axe.run(document, {{ {only}resultTypes: ['violations'] }})")
    return [
        f"{v['id']}: {n['html'][:120]} ({n['failureSummary'][:200]})"
        for v in found["violations"]
        for n in v["nodes"]
    ]


def set_light(page: Any, light: str) -> None:
    """Press the button of a light."""
    page.click(f'[data-choose-light="{light}"]')
    settled(page, 3)
