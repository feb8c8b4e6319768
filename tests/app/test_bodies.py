"""What may be sent: JSON as RFC 8259 has it and every browser reads it back, and not too much."""

from __future__ import annotations

import asyncio
import json
import time

import pytest
from desks import ELSEWHERE, ORIGIN, client_of, make_desk
from fastapi.testclient import TestClient

from apart import run_apart
from axletree.app.people.sharing import Sharing
from axletree.app.state import Desk
from axletree.app.web.bodies import (
    DEEPEST,
    LARGEST_WHOLE,
    GoneError,
    check_json,
    whole_body,
)
from axletree.app.web.cookies import cookie_of
from axletree.app.web.refusals import RefusedError

LAN = "192.168.7.1:8765"


@pytest.mark.parametrize(
    "body",
    [
        b"{", b"NaN", b'{"a": NaN}', b'{"a": -Infinity}', b'{"a": 1e999}', b'{"a": -1e999}',
        b'{"a": "\\ud800"}', b'{"\\udfff": 1}', b'{"a": 1, "a": 2}', b"\xff{}", b"{}{}",
        b"\xef\xbb\xbf{}", "{}".encode("utf-16"), b"[" * 100_000, b"[" * 900 + b"]" * 900,
        b'{"a":' * 50 + b"1" + b"}" * 50, b"9" * 5000, b'{"a": 9007199254740993}', b"'a'", b"\0",
        b'{"a": 0x10}', b'{"a": 01}', b'{a: 1}', b'["a\nb"]',
    ],
    ids=lambda body: body[:14].hex(),
)  # fmt: skip
def test_what_is_no_plain_json_is_refused(client: TestClient, desk: Desk, body: bytes) -> None:
    said = {**ORIGIN, "content-type": "application/json"}
    reply = client.put("/settings/level", content=body, headers=said)
    assert reply.status_code == 422
    assert reply.json() == {"problem": "That could not be read: nothing was changed."}
    assert desk.all_settings() == {}


def test_what_is_plain_json_passes(client: TestClient, desk: Desk) -> None:
    deep: object = "x"
    for _ in range(DEEPEST - 4):
        deep = [deep]
    values = {"a": LARGEST_WHOLE, "b": -1.5e300, "c": "🔭 \u202e\0", "d": deep, "e": None, "": {}}
    assert client.put("/settings/level", json=values, headers=ORIGIN).status_code == 200
    kept = {k: v for k, v in values.items() if v is not None}
    assert desk.settings("level") == kept
    check_json(b"")
    check_json(json.dumps({"text": "x" * 500_000}).encode())


def test_half_a_character_by_halves_is_whole() -> None:
    check_json(b'{"a": "\\ud83d\\udd2d"}')  # a surrogate pair: one character


def test_a_stranger_may_send_a_code_and_no_more() -> None:
    guest = client_of(make_desk(sharing=Sharing(f"http://{LAN}/")), ELSEWHERE, LAN)
    own = {"origin": f"http://{LAN}"}
    form = {"code": "1", "name": "x" * 3000}
    assert guest.post("/enter", data=form, headers=own).status_code == 403
    much = guest.post("/enter", content=b"&" * 5000, headers=own)
    assert much.status_code == 413
    assert much.json()["problem"] == "Too large: at most 4 kB at once."


def test_a_question_carries_nothing(client: TestClient) -> None:
    """A page once took its own row (its template's name) from the body of a GET."""
    reply = client.request("GET", "/kit", json={"name": "missing", "word": "", "question": ""})
    assert reply.status_code == 400
    assert client.get("/kit").status_code == 200


def test_a_body_is_waited_for_only_so_long() -> None:
    async def never() -> dict[str, object]:
        await asyncio.sleep(10)
        return {}

    async def drop() -> dict[str, object]:
        await asyncio.sleep(0.02)
        return {"type": "http.request", "body": b"x", "more_body": True}

    async def away() -> dict[str, object]:
        return {"type": "http.disconnect"}

    for slow in (never, drop):
        begun = time.perf_counter()
        with pytest.raises(RefusedError) as refused:
            run_apart(whole_body(slow, 1000, 0.2))  # type: ignore[arg-type]
        assert refused.value.status == 408
        assert time.perf_counter() - begun < 2.0
    with pytest.raises(GoneError):
        run_apart(whole_body(away, 1000, 1.0))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("header", "found"),
    [
        ("axletree_seat=abc-_9", "abc-_9"),
        ("a=b; axletree_seat=abc; c=d", "abc"),
        ("xaxletree_seat=abc", ""),
        ('axletree_seat="abc"', ""),
        ("axletree_seat=" + "a" * 65, ""),
        ("axletree_seat=é", ""),
        ("axletree_seat", ""),
        ("", ""),
        ('axletree_seat="' + "\\" * 60_000 + '"', ""),
        (";" * 60_000, ""),
    ],
    ids=lambda v: v[:20],
)
def test_a_cookie_is_found_at_once(header: str, found: str) -> None:
    """The library's reader takes the square of a header's length: CVE-2024-7592."""
    begun = time.perf_counter()
    assert cookie_of(header, "axletree_seat") == found
    assert time.perf_counter() - begun < 0.2


@pytest.mark.parametrize(
    "path",
    [
        ["nothing"],
        ["tube", "aperture_mm"],
        ["", ""],
        [0],
        [3, "tube"],
        ["tube", 0, "x"],
        ["yard", "post", 10**9],
        ["guessed"],
        ["eyepieces", -1, "label"],
        ["site", "skyline", "x"],
    ],
    ids=str,
)
@pytest.mark.parametrize("what", ["set", "add", "remove"])
def test_an_edit_of_no_field_is_one_sentence(
    client: TestClient, desk: Desk, path: list[object], what: str
) -> None:
    draft = {"text": desk.text, "edits": [{"path": path, "value": "1", "what": what}]}
    reply = client.post("/answer/kit/check", json=draft, headers=ORIGIN)
    assert reply.status_code in (200, 422)
    if reply.status_code == 422:
        assert reply.json()["problem"]


def test_a_yard_that_takes_for_ever_is_refused(client: TestClient) -> None:
    """Anybody who looks may ask for the best place in a yard of their own."""
    edge = [[k % 100 / 10, k * 7919 % 1000 / 100] for k in range(601)]
    square = [[0, 0], [9, 0], [9, 9]]
    for yard in (
        {"area_m": edge},
        {"area_m": square, "keep_out_m": [edge]},
        {"area_m": square, "wall": [{"points_m": edge, "height_m": 2}]},
        {"area_m": square, "roof": [{"corners_m": edge, "eaves_height_m": 2}]},
        {"area_m": square, "post": [{"x_m": k, "y_m": 1, "height_m": 2} for k in range(121)]},
    ):
        reply = client.post("/answer/spot", json={"yard": yard}, headers=ORIGIN)
        assert reply.status_code == 422
        assert "more than a page can draw" in reply.json()["problem"]
    fine = client.post("/answer/spot", json={"spacing_m": 0.1}, headers=ORIGIN)
    assert fine.status_code == 422


def test_a_refusal_quotes_little_and_nothing_that_steers(client: TestClient) -> None:
    for at in ("9" * 5000, "\x1b[31m\x00\u202e", "a\r\nb", "\u2028"):
        reply = client.get("/answer/pole", params={"at": at})
        assert reply.status_code == 422
        words = reply.json()["problem"]
        assert len(words) <= 300
        assert words.isprintable()


@pytest.mark.parametrize(
    "path",
    [
        "/answer/pole?at=0001-01-01", "/answer/pole?at=9999-12-31T23:59:59-23:59",
        "/answer/evening?day=0001-01-01", "/answer/evening?day=9999-12-31",
        "/answer/calendar?first=9999-12-31", "/answer/logbook?at=0001-01-01T00:00%2B23:59",
        "/answer/calendar/night?first=9999-12-31&day=2026-01-01",
        "/answer/logbook/evening/99999999999999999999",
    ],
)  # fmt: skip
def test_numbers_and_years_beyond_all_are_one_sentence(client: TestClient, path: str) -> None:
    reply = client.get(path)
    assert reply.status_code == 422
    assert reply.json()["problem"]
