"""Somebody who looks can't slow who leads by asking without end."""

from __future__ import annotations

import asyncio
import time
from datetime import timedelta

import pytest
from desks import client_of

from apart import run_apart
from axletree.app.people import turns
from axletree.app.people.seats import Seats
from axletree.app.state import Desk
from axletree.app.web.guard import COOKIE, Guard

HOST = "127.0.0.1:8765"
ANSWER_S = 0.02


def _work() -> None:
    until = time.thread_time() + ANSWER_S
    while time.thread_time() < until:
        pass


async def computes(scope, receive, send) -> None:
    """An answer that holds the machine, as one that computes does."""
    turns.metered(_work)()
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b""})


async def ask(guard: Guard, token: str) -> int:
    heads = [(b"host", HOST.encode()), (b"cookie", f"{COOKIE}={token}".encode())]
    scope = {
        "type": "http", "method": "GET", "path": "/answer/north", "raw_path": b"/answer/north",
        "query_string": b"", "headers": heads, "client": ("192.168.1.9", 1), "scheme": "http",
    }  # fmt: skip
    seen: list[int] = []

    async def send(message) -> None:
        if message["type"] == "http.response.start":
            seen.append(message["status"])

    async def receive():
        return {"type": "http.request", "body": b"", "more_body": False}

    await guard(scope, receive, send)
    return seen[0]


def test_a_program_that_looks_gets_a_fifth_and_who_leads_the_rest(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(turns, "FULL_S", 0.2)
    seats: Seats = desk.seats
    leads = seats.leader or seats.take("", here=True)
    looks = seats.take("somebody", here=False)
    guard = Guard(computes, desk, [HOST])
    answered: list[int] = []

    async def without_end() -> None:
        while True:
            answered.append(await ask(guard, looks.token))
            await asyncio.sleep(0)

    async def evening() -> list[float]:
        floods = [asyncio.create_task(without_end()) for _ in range(20)]
        await asyncio.sleep(0.7)  # the budget is used up
        before, waits = len(answered), []
        for _ in range(20):
            begun = time.perf_counter()
            assert await ask(guard, leads.token) == 200
            waits.append(time.perf_counter() - begun)
            await asyncio.sleep(0.03)
        begun_last = answered[before:].count(200)
        for flood in floods:
            flood.cancel()
        # In the second or so of these answers a fifth is left for who looks.
        assert begun_last <= 1 + 2 * turns.COMES_BACK * sum([*waits, 20 * 0.03]) / ANSWER_S
        return waits

    waits = sorted(run_apart(evening()))
    assert set(answered) <= {200, 429}
    assert waits[len(waits) // 2] < 5 * ANSWER_S  # without a budget: 20 of them


def test_a_persons_pages_never_wait(desk: Desk) -> None:
    """Ten pages one after another, six questions of 40 ms each, within a minute."""
    asked = turns.Turns()
    asked.counted_at -= timedelta(minutes=1).total_seconds()
    for _ in range(60):
        asked._count(0.04)
    assert asked._count(0.0) > 0


def test_an_answer_of_the_app_takes_from_the_budget(desk: Desk) -> None:
    desk.seats.take("", here=True)  # leads
    looks = desk.seats.take("somebody", here=False)
    client = client_of(desk, ("192.168.1.9", 5000))
    client.cookies.set(COOKIE, looks.token)
    assert client.get("/answer/pole").status_code == 200
    assert looks.turns.left_s < turns.FULL_S - 1e-4
