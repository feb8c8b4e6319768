"""How long does each page take over a poor link, and how much is sent?

python benchmarks/slow_link.py [PAGE ...]

Chromium with nothing kept, every request delayed by 400 ms, 1.6 Mbit/s down and 0.8 up (its own
network emulation; the making of a connection isn't counted by it). Each page is opened once at full
speed before, so that the server has its data and answers at hand: what is measured is the link.
'drawn' is the first contentful paint, 'complete' the moment from which the page shows its answer
and waits for nothing more; sizes as sent (compressed), in kB, the typeface apart.

2026-11-30, 2 shared processors, load 8 (before: each module by itself): drawn 1.06 to 1.16 s
(1.14 to 1.43), complete 1.60 to 2.30 s (1.95 to 4.22), 22 to 58 kB (29 to 98).
"""

from __future__ import annotations

import argparse
import shutil
import sys
import time
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "app"))

from desks import Live, make_desk

from axletree.app.web.pages import pages

AT = "?at=2026-12-05T20:30Z"
WITH_TIME = ("north", "pole", "point", "find", "follow")
NAMES = ("start", "begin", "board", *(page.name for page in pages()))
LATENCY_MS, DOWN_MBIT, UP_MBIT = 400.0, 1.6, 0.8
WANTED_DRAWN_S, WANTED_COMPLETE_S, WANTED_KB = 1.3, 2.5, 100.0
DONE = """() => {
  const a = document.querySelector('#answer');
  if (!a || document.readyState !== 'complete') return !a && document.readyState === 'complete';
  const empty = ['', '–', 'Choose an object', 'Read the level'];
  return !a.ariaBusy && !empty.includes(a.textContent.trim());
}"""
FIGURES = """() => {
  const kinds = ['navigation', 'resource'].flatMap((kind) => performance.getEntriesByType(kind));
  const all = kinds.filter((e) => !e.name.endsWith('/events'));
  const type = all.filter((e) => e.name.endsWith('.woff2'));
  const rest = all.filter((e) => !type.includes(e));
  const sum = (rows) => rows.reduce((s, e) => s + e.transferSize, 0) / 1000;
  return {
    drawn: (performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? 0) / 1000,
    kb: sum(rest), type: sum(type), requests: rest.length,
    waits: rest.filter((e) => e.name.includes('/answer/'))
      .map((e) => [new URL(e.name).pathname, Math.round(e.startTime), Math.round(e.responseEnd)]),
  };
}"""


def address_of(name: str) -> str:
    """The page's address below the root."""
    return "" if name == "start" else name + (AT if name in WITH_TIME else "")


def until(page: Any, expression: str, seconds: float) -> float | None:
    """Seconds on the page's own clock when an expression became true; None if it never did."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if page.evaluate(expression):
            return float(page.evaluate("performance.now()")) / 1000
        page.wait_for_timeout(20)
    return None


def opened(browser: Any, url: str, slow: bool) -> tuple[float | None, dict[str, Any]]:
    """When the page was complete, and its figures."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    if slow:
        told = context.new_cdp_session(page)
        told.send("Network.enable")
        told.send("Network.emulateNetworkConditions", {
            "offline": False, "latency": LATENCY_MS,
            "downloadThroughput": DOWN_MBIT * 1e6 / 8, "uploadThroughput": UP_MBIT * 1e6 / 8,
        })  # fmt: skip
    page.goto(url, wait_until="commit")
    complete = until(page, DONE, 60.0)
    figures = dict(page.evaluate(FIGURES))
    context.close()
    return complete, figures


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="PAGE")
    parser.add_argument("--waits", action="store_true", help="when each answer was asked and there")
    options = parser.parse_args()
    chromium = shutil.which("chromium-headless-shell")
    if chromium is None:
        print("left out: needs Chromium (sh tools/get_browsers.sh)")
        return
    live = Live(make_desk()).start()
    print(f"wanted: drawn {WANTED_DRAWN_S} s, complete {WANTED_COMPLETE_S} s, {WANTED_KB:.0f} kB")
    print(f"{'page':10}{'drawn s':>9}{'complete s':>12}{'kB':>8}{'typeface':>10}{'requests':>10}")
    with sync_playwright() as p:
        browser = p.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        opened(browser, f"{live.url}/evening", slow=False)  # tonight is planned once
        for name in options.names or NAMES:
            opened(browser, f"{live.url}/{address_of(name)}", slow=False)
            complete, found = opened(browser, f"{live.url}/{address_of(name)}", slow=True)
            late = complete is None or complete > WANTED_COMPLETE_S
            over = late or found["drawn"] > WANTED_DRAWN_S or found["kb"] > WANTED_KB
            ended = "never" if complete is None else f"{complete:.2f}"
            print(
                f"{name:10}{found['drawn']:9.2f}{ended:>12}{found['kb']:8.1f}{found['type']:10.1f}"
                f"{found['requests']:10}{'  above' if over else ''}", flush=True,
            )  # fmt: skip
            if options.waits:
                for row in found["waits"]:
                    print("    ", *row)
        browser.close()
    live.stop()


if __name__ == "__main__":
    main()
