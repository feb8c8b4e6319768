"""Three who look ask for long answers without end: does whoever leads notice, does Ctrl-C end it?

`axletree serve` runs as a process of its own. The leader asks for `north` four times a second,
first alone, then while three more browsers of this machine keep as many questions under way as a
seat may, none of which can be told as before. Then the app is stopped from its keyboard, the
questions still open.

python tests/hard/flood.py [--seconds 20] [--lookers 3]
"""

from __future__ import annotations

import argparse
import asyncio
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

import httpx
import numpy as np
from crowd import DUSK, OBJECTS, served_process

from axletree.app.web.guard import MOST_AT_ONCE

EVERY_S = 0.25
# What is asked of it, on a slow machine too (ours).
SOON_S, STOPPED_S = 1.0, 5.0


@dataclass
class Met:
    """Seconds of the leader's answers alone and in the flood, what the flood was told, and how
    long the app took to end."""

    alone_s: list[float] = field(default_factory=list)
    flooded_s: list[float] = field(default_factory=list)
    told: dict[int, int] = field(default_factory=dict)
    stopped_s: float = 0.0
    stopping: bool = False


async def _lead(leader: httpx.AsyncClient, seconds: float, took: list[float]) -> None:
    end = time.perf_counter() + seconds
    while (begin := time.perf_counter()) < end:
        at = DUSK + timedelta(seconds=len(took))
        reply = await leader.get("/answer/north", params={"at": at.isoformat()})
        assert reply.status_code == 200
        took.append(time.perf_counter() - begin)
        await asyncio.sleep(max(0.0, EVERY_S - took[-1]))


async def _listen(browser: httpx.AsyncClient, open_: asyncio.Event) -> None:
    """The page's event stream: by it a seat is known to be there."""
    async with browser.stream("GET", "/events", timeout=None) as stream:
        async for _ in stream.aiter_lines():
            open_.set()


async def _ask_without_end(browser: httpx.AsyncClient, first: int, met: Met) -> None:
    number = first
    while True:
        number += 1
        at = (DUSK + timedelta(seconds=number % 7200)).isoformat()
        words = {"object": OBJECTS[number % len(OBJECTS)], "at": at}
        try:
            reply = await browser.get("/answer/follow", params=words)
        except httpx.HTTPError:
            return  # the app has ended
        if not met.stopping:
            met.told[reply.status_code] = met.told.get(reply.status_code, 0) + 1
        if reply.status_code != 200:
            await asyncio.sleep(0.2)


async def flood(url: str, running: subprocess.Popen[str], seconds: float, lookers: int) -> Met:
    """Who leads, alone and in the flood; then the end of the app."""
    met = Met()
    limits = httpx.Limits(max_connections=None)
    async with httpx.AsyncClient(base_url=url, limits=limits, timeout=60.0) as leader:
        await leader.get("/north")  # who comes first leads, while their page is open
        open_ = asyncio.Event()
        tasks = [asyncio.create_task(_listen(leader, open_))]
        await open_.wait()
        await _lead(leader, 2.0, [])  # the first answers load what they need
        await _lead(leader, seconds, met.alone_s)
        browsers: list[httpx.AsyncClient] = []
        for seat in range(lookers):
            browsers.append(httpx.AsyncClient(base_url=url, limits=limits, timeout=60.0))
            await browsers[-1].get("/north")
            tasks += [
                asyncio.create_task(
                    _ask_without_end(browsers[-1], 1000 * (MOST_AT_ONCE * seat + k), met)
                )
                for k in range(MOST_AT_ONCE)
            ]
        await asyncio.sleep(1.0)
        await _lead(leader, seconds, met.flooded_s)
        met.stopping = True  # what the app's end cuts off is told 500
        begin = time.perf_counter()
        running.send_signal(signal.SIGINT)
        while running.poll() is None and time.perf_counter() - begin < 60.0:
            await asyncio.sleep(0.05)
        met.stopped_s = time.perf_counter() - begin
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        for browser in browsers:
            await browser.aclose()
    return met


def missing(met: Met) -> list[str]:
    """What was asked of the app in a flood, and does not hold."""
    found = []
    soon = float(np.percentile(met.flooded_s, 95))
    if soon > SOON_S:
        found.append(f"95 % of the leader's answers took up to {soon:.2f} s in the flood")
    if met.stopped_s > STOPPED_S:
        found.append(f"the app took {met.stopped_s:.1f} s to end")
    if set(met.told) - {200, 429}:
        found.append(f"the flood was told {met.told}")
    return found


def main() -> int:
    """Flood an app and tell what whoever leads met."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--seconds", type=float, default=20.0)
    parser.add_argument("--lookers", type=int, default=3)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, served_process(Path(folder)) as (url, running):
        met = asyncio.run(flood(url, running, given.seconds, given.lookers))
    for name, took in (("alone", met.alone_s), ("in the flood", met.flooded_s)):
        middle, most = (1e3 * float(q) for q in np.percentile(took, (50, 95)))
        print(f"{name:14s} {len(took):4d} answers   median {middle:6.1f}   95 % {most:6.1f}   "
              f"longest {1e3 * max(took):6.1f} ms")  # fmt: skip
    print(f"the flood was told {met.told}; the app ended after {met.stopped_s:.2f} s")
    missed = missing(met)
    print("\n".join(missed) or "all that was asked of it holds")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
