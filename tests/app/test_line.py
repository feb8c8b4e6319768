"""Of those who look one long question is answered at a time, and whoever leads waits for none."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Awaitable, Callable
from typing import Any

import pytest

from apart import run_apart
from axletree.app.people import line, turns
from axletree.app.people.line import Line


class House:
    """An app whose answers take so long as their address says: '/answer/30/name' 30 ms."""

    def __init__(self) -> None:
        self.line = Line()
        self.begun: list[str] = []
        self.ended: list[str] = []
        self.under_way: set[str] = set()
        self.most = 0

    def knows_long(self, *paths: str) -> None:
        """What these addresses say was seen before."""
        self.line._took |= {path: float(path.split("/")[2]) / 1e3 for path in paths}

    async def app(self, scope: Any, receive: Any, send: Any) -> None:
        path = scope["path"]
        self.begun.append(path)
        self.under_way.add(path)
        self.most = max(self.most, len(self.under_way))
        wanted_s = float(path.split("/")[2]) / 1e3
        await asyncio.sleep(wanted_s)
        spent = turns._spent.get()
        if spent is not None:
            spent[0] += wanted_s
        self.under_way.discard(path)
        self.ended.append(path)
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.body", "body": b""})

    async def ask(self, path: str, *, leads: bool = False) -> float:
        """Seconds until the answer."""

        async def nothing(_: Any = None) -> Any:
            return {"type": "http.request", "body": b"", "more_body": False}

        way: Callable[..., Awaitable[None]] = self.line.led if leads else self.line.answered
        begun = time.perf_counter()
        async with turns.Turns(left_s=1e6, most_s=1e6).turn():
            await way(self.app, {"path": path}, nothing, nothing)
        return time.perf_counter() - begun


def test_one_long_answer_at_a_time_and_a_short_one_beside_it() -> None:
    house = House()

    async def evening() -> None:
        await house.ask("/answer/1/names")
        long_ones = [f"/answer/200/rehearse{k}" for k in range(3)]
        house.knows_long(*long_ones)
        waits = asyncio.gather(*map(house.ask, long_ones))
        await asyncio.sleep(0.01)
        await house.ask("/answer/1/names")
        assert house.ended[1:] == ["/answer/1/names"]  # while a long one was made
        assert [path in house.begun for path in long_ones] == [True, False, False]
        await waits

    run_apart(evening())
    assert house.most == 2


def test_what_an_address_took_tells_how_long_it_is() -> None:
    """One long answer makes an address long; many short ones later make it short again."""
    asked = Line()
    asked._learn("/answer/evening", 0.001)
    assert asked._took["/answer/evening"] <= line.SHORT_S
    asked._learn("/answer/evening", 0.15)
    assert asked._took["/answer/evening"] == pytest.approx(0.15)
    asked._learn("/answer/evening", 0.001)
    assert asked._took["/answer/evening"] > line.SHORT_S
    for _ in range(12):
        asked._learn("/answer/evening", 0.001)
    assert asked._took["/answer/evening"] <= line.SHORT_S


def test_addresses_without_end_take_no_memory_without_end() -> None:
    asked = Line()
    for k in range(5000):
        asked._learn(f"/answer/{k}", 0.1)
    assert len(asked._took) == line._MOST_ADDRESSES


def test_of_two_that_wait_the_one_that_has_waited_longest_for_its_length_comes_next() -> None:
    """Highest response ratio next (Brinch Hansen 1973): after 40 and 20 ms of waiting answers of
    400 and 100 ms have waited a tenth and a fifth of their lengths."""
    house = House()
    house.knows_long("/answer/60/first", "/answer/400/year", "/answer/100/follow")

    async def evening() -> None:
        first = asyncio.create_task(house.ask("/answer/60/first"))
        await asyncio.sleep(0.02)
        slow = asyncio.create_task(house.ask("/answer/400/year"))
        await asyncio.sleep(0.02)
        await asyncio.gather(first, slow, house.ask("/answer/100/follow"))

    run_apart(evening())
    assert house.begun == ["/answer/60/first", "/answer/100/follow", "/answer/400/year"]


def test_while_whoever_leads_asks_no_long_answer_of_others_begins() -> None:
    house = House()

    async def evening() -> None:
        led = asyncio.create_task(house.ask("/answer/80/plan", leads=True))
        await asyncio.sleep(0.01)
        house.knows_long("/answer/40/rehearse")
        await house.ask("/answer/40/rehearse")
        await led

    run_apart(evening())
    assert house.ended[0] == "/answer/80/plan"
    assert house.begun == ["/answer/80/plan", "/answer/40/rehearse"]


def test_whoever_leads_waits_for_nobody() -> None:
    house = House()

    async def evening() -> None:
        others = [asyncio.create_task(house.ask(f"/answer/500/{k}")) for k in range(24)]
        await asyncio.sleep(0.02)
        await house.ask("/answer/5/north", leads=True)
        assert house.ended == ["/answer/5/north"]
        for other in others:
            other.cancel()
        await asyncio.gather(*others, return_exceptions=True)

    run_apart(evening())
    assert house.most == 2


def test_others_wait_for_whoever_leads_only_so_long(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(line, "PATIENCE_S", 0.05)
    house = House()

    async def evening() -> float:
        led = asyncio.create_task(house.ask("/answer/1500/year", leads=True))
        await asyncio.sleep(0.01)
        house.knows_long("/answer/40/rehearse")
        waited = await house.ask("/answer/40/rehearse")
        assert not led.done()
        led.cancel()
        await asyncio.gather(led, return_exceptions=True)
        return waited

    assert run_apart(evening()) > 0.05


def test_an_answer_that_takes_very_long_lets_the_next_begin(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(line, "ALONE_S", 0.05)
    house = House()

    async def evening() -> None:
        await asyncio.gather(*(house.ask(f"/answer/300/{k}") for k in range(6)))

    run_apart(evening())
    assert house.most == line.LOOKING_AT_ONCE


def test_who_goes_away_while_waiting_or_when_called_leaves_the_place_free() -> None:
    house = House()

    async def evening() -> None:
        tasks = [asyncio.create_task(house.ask(f"/answer/50/{k}")) for k in range(5)]
        await asyncio.sleep(0.01)
        for task in tasks:  # one whose answer is made, four that wait
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        assert (house.line.under_way, house.line._waiting) == (0, [])
        await asyncio.wait_for(house.ask("/answer/10/other"), 5.0)

    run_apart(evening())


def test_who_reads_slowly_keeps_nobody_waiting() -> None:
    asked = Line()

    async def begins_and_waits(scope: Any, receive: Any, send: Any) -> None:
        await send({"type": "http.response.start", "status": 200, "headers": []})
        if scope["path"] != "/answer/other":
            await asyncio.sleep(60.0)

    async def nothing(_: Any = None) -> None:
        return None

    async def beside() -> None:
        slow = [
            asyncio.create_task(
                asked.answered(begins_and_waits, {"path": "/answer/slow"}, nothing, nothing)
            )
            for _ in range(20)
        ]
        await asyncio.sleep(0.01)
        try:
            other = asked.answered(begins_and_waits, {"path": "/answer/other"}, nothing, nothing)
            await asyncio.wait_for(other, 5.0)
        finally:
            for one in slow:
                one.cancel()

    run_apart(beside())
