"""Pages opened from a file, with the network off and nothing forgiven."""

from __future__ import annotations

import base64
import contextlib
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page

# The sheet unpacks its data before it comes to life; the load event does not wait for that.
ALIVE = "document.body.classList.contains('alive')"


@dataclass
class Opened:
    """A page and what went wrong on it."""

    page: Page
    problems: list[str] = field(default_factory=list)

    def axletree(self, script: str, given: Any = None) -> Any:
        """A value from the sheet's own parts: `script` is a function of (axletree, given)."""
        return self.page.evaluate(f"given => ({script})(window.axletree, given)", given)

    def leaf(self, name: str) -> None:
        self.page.click(f'[data-leaf="{name}"]')

    def words(self) -> str:
        return self.page.inner_text("#leaf")

    def soon(self, script: str, within_s: float = 5.0) -> Any:
        """Asks until the answer is true; `wait_for_function` may not run under such a policy."""
        until = time.monotonic() + within_s
        while not (found := self.page.evaluate(script)):
            assert time.monotonic() < until, f"never true: {script}"
            time.sleep(0.05)
        return found


@contextlib.contextmanager
def opened(
    browser: Browser, file: Path, at: datetime | None, *, before: str = "", **given: Any
) -> Iterator[Opened]:
    """The file as on a phone at a moment; fails on any request and any word on the console."""
    context: BrowserContext = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True, offline=True,
        accept_downloads=True, timezone_id="America/New_York", **given,
    )  # fmt: skip
    context.set_default_timeout(8000)
    page = context.new_page()
    found = Opened(page)
    page.on("request", lambda r: None if r.url.startswith(("file:", "data:", "blob:"))
            else found.problems.append(f"asks for {r.url[:80]}"))  # fmt: skip
    page.on("pageerror", lambda e: found.problems.append(f"trips: {e}"))
    page.on("console", lambda m: found.problems.append(f"says: {m.text[:300]}")
            if m.type == "error" else None)  # fmt: skip
    page.on("dialog", lambda d: (found.problems.append(f"dialog: {d.message}"), d.dismiss()))
    if before:
        context.add_init_script(before)
    if at is not None:
        page.clock.install(time=at)
    page.goto(file.as_uri())
    try:
        if given.get("java_script_enabled", True):
            found.soon(ALIVE)
        yield found
        assert found.problems == []
    finally:
        context.close()


def brightest(browser: Browser, picture: bytes) -> list[int]:
    """The largest red, green and blue of any pixel of a PNG."""
    context = browser.new_context(offline=True)
    page = context.new_page()
    address = "data:image/png;base64," + base64.b64encode(picture).decode()
    try:
        found: list[int] = page.evaluate(
            """async (address) => {
              const image = new Image(); image.src = address; await image.decode();
              const canvas = document.createElement("canvas");
              canvas.width = image.width; canvas.height = image.height;
              const pen = canvas.getContext("2d"); pen.drawImage(image, 0, 0);
              const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
              const most = [0, 0, 0];
              for (let i = 0; i < data.length; i += 4)
                for (let k = 0; k < 3; k += 1) if (data[i + k] > most[k]) most[k] = data[i + k];
              return most;
            }""",
            address,
        )
    finally:
        context.close()
    return found
