"""Who may come in, and what a page may do.

Sources: WHATWG Fetch and W3C Fetch Metadata (the meaning of Origin and Sec-Fetch-Site), RFC 6265
(cookies), W3C Content Security Policy Level 3, RFC 9110 (status codes 413 and 421).
"""

from __future__ import annotations

import re

import pytest
from desks import ELSEWHERE, HOST, ORIGIN, client_of, make_desk
from fastapi.testclient import TestClient

from axletree.app.people.sharing import FORGET_AFTER_S, WRONG_PER_ADDRESS, Sharing, new_code
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError

LAN = "192.168.7.1:8765"
LAN_ORIGIN = {"origin": f"http://{LAN}"}


@pytest.fixture
def shared() -> Desk:
    return make_desk(sharing=Sharing(f"http://{LAN}/"))


@pytest.fixture
def guest(shared: Desk) -> TestClient:
    return client_of(shared, ELSEWHERE, LAN)


def test_a_foreign_name_that_leads_here_is_refused(desk: Desk) -> None:
    # DNS rebinding: a name of somebody else's, resolved to this machine (RFC 9110: 421).
    for host in ("evil.example:8765", "127.0.0.1:9999", "127.0.0.1", ""):
        reply = client_of(desk, host="127.0.0.1:8765").get("/", headers={"host": host})
        assert reply.status_code == 421, host
        assert "Axletree" not in reply.text
        assert len(reply.text) < 120
    assert client_of(desk).get("/").status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "https://127.0.0.1:8765"},
        {**ORIGIN, "sec-fetch-site": "cross-site"},
        {**ORIGIN, "sec-fetch-site": "same-site"},
    ],
    ids=str,
)
def test_changes_come_only_from_own_pages(client: TestClient, headers: dict[str, str]) -> None:
    reply = client.put("/settings/level", json={"divisions": 1}, headers=headers)
    assert reply.status_code == 403
    assert client.put("/settings/level", json={"divisions": 1}, headers=ORIGIN).status_code == 200


def test_another_site_cannot_read_answers_but_may_link_here(client: TestClient) -> None:
    foreign = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}
    assert client.get("/answer/level", headers=foreign).status_code == 403
    link = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}
    assert client.get("/level", headers=link).status_code == 200


def test_every_reply_carries_the_security_headers(client: TestClient) -> None:
    for path in ("/", "/kit", "/answer/level", "/nothing/here", "/answer/nothing"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        for part in policy.split("; "):
            assert "unsafe" not in part
            assert "*" not in part
            assert "http" not in part
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"
        assert headers["cross-origin-resource-policy"] == "same-origin"
        assert "access-control-allow-origin" not in headers
        assert headers["cache-control"] == "no-store"


def test_the_cookie_is_closed_to_scripts_and_other_sites(desk: Desk) -> None:
    cookie = client_of(desk).get("/").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert "Domain" not in cookie
    token = re.match(r"axletree_seat=([\w-]+)", cookie)
    assert token is not None
    assert len(token[1]) >= 32  # 24 random bytes and more


def test_a_large_body_is_refused_in_one_sentence(client: TestClient) -> None:
    said = {**ORIGIN, "content-type": "application/json"}
    whole = client.put("/kit", content=b"x" * 700_000, headers=said)
    assert whole.status_code == 413
    assert whole.json()["problem"].startswith("Too large")

    def drip() -> object:
        for _ in range(8):
            yield b'{"text": "' + b"x" * 100_000

    dripped = client.put("/kit", content=drip(), headers=said)  # no Content-Length at all
    assert dripped.status_code == 413
    assert dripped.json()["problem"].startswith("Too large")


def test_without_the_code_nothing_is_seen(guest: TestClient) -> None:
    page = guest.get("/kit")
    assert page.status_code == 303
    assert page.headers["location"] == "/enter?to=/kit"
    for path in ("/answer/kit", "/answer/rig", "/events", "/answer/sharing"):
        reply = guest.get(path)
        assert reply.status_code == 403, path
        assert "code" in reply.text
    assert guest.put("/kit", json={}, headers=LAN_ORIGIN).status_code == 403
    assert guest.get("/enter").status_code == 200


def enter(guest: TestClient, code: str, **more: str) -> object:
    return guest.post("/enter", data={"code": code, **more}, headers=LAN_ORIGIN)


def test_a_code_opens_one_browser_and_is_used_up(shared: Desk, guest: TestClient) -> None:
    assert shared.sharing is not None
    code = shared.sharing.code
    assert re.fullmatch(r"\d{8}", code)
    came = enter(guest, f" {code[:4]} {code[4:]} ", to="/level")
    assert came.status_code == 303  # type: ignore[attr-defined]
    assert came.headers["location"] == "/level"  # type: ignore[attr-defined]
    assert guest.get("/level").status_code == 200
    other = client_of(shared, ("192.168.7.21", 1), LAN)
    assert enter(other, code).status_code == 403  # type: ignore[attr-defined]
    assert shared.sharing.code != code
    assert enter(other, shared.sharing.code).status_code == 303  # type: ignore[attr-defined]


def test_wrong_codes_are_few(shared: Desk) -> None:
    clock = [0.0]
    sharing = Sharing("http://x/", clock=lambda: clock[0])
    wrong = "0" * 8 if sharing.code != "0" * 8 else "1" * 8
    for _ in range(WRONG_PER_ADDRESS):
        assert not sharing.open(wrong, "a")
    with pytest.raises(AxletreeError, match="too many wrong codes: wait 10 min"):
        sharing.open(sharing.code, "a")
    assert sharing.open(sharing.code, "b")  # somebody else isn't held up by one guesser
    clock[0] += FORGET_AFTER_S + 1
    assert sharing.open(sharing.code, "a")
    for k in range(50):
        try:
            sharing.open(wrong, f"many {k}")
        except AxletreeError:
            break
    else:
        raise AssertionError("a guesser with many addresses is never stopped")
    assert k < 20


def test_codes_are_random() -> None:
    codes = {new_code() for _ in range(300)}
    assert len(codes) > 290  # eight digits: a repetition among 300 is a chance of 1 in 2000


@pytest.mark.parametrize(
    "to", ["//evil.example", "https://evil.example/", "/\\evil", "javascript:0"]
)
def test_after_the_code_nobody_is_sent_elsewhere(shared: Desk, guest: TestClient, to: str) -> None:
    assert shared.sharing is not None
    came = enter(guest, shared.sharing.code, to=to)
    assert came.headers["location"] == "/"  # type: ignore[attr-defined]


def test_who_looks_cannot_change_until_the_lead_is_handed_over(shared: Desk) -> None:
    leader = client_of(shared)
    leader.get("/")
    guest = client_of(shared, ELSEWHERE, LAN)
    assert shared.sharing is not None
    enter(guest, shared.sharing.code, name="Ana")
    refused = guest.put("/settings/point", json={"object": "Vega"}, headers=LAN_ORIGIN)
    assert refused.status_code == 403
    assert "leads" in refused.json()["problem"]
    assert guest.get("/answer/level?divisions=1&towards=90").status_code == 200
    taken = guest.post("/lead/take", headers=LAN_ORIGIN)
    assert taken.status_code == 403
    assert guest.post("/lead/ask", headers=LAN_ORIGIN).status_code == 200
    ana = next(s for s in shared.seats._seats.values() if s.name == "Ana")
    assert ana.asks
    assert guest.post(f"/lead/give/{ana.number}", headers=LAN_ORIGIN).status_code == 403
    assert leader.post(f"/lead/give/{ana.number}", headers=ORIGIN).status_code == 200
    chosen = guest.put("/settings/point", json={"object": "Vega"}, headers=LAN_ORIGIN)
    assert chosen.status_code == 200
    assert leader.put("/settings/point", json={}, headers=ORIGIN).status_code == 403
    assert leader.post("/lead/take", headers=ORIGIN).status_code == 200
    assert leader.put("/settings/point", json={}, headers=ORIGIN).status_code == 200


def test_the_code_is_shown_to_the_leader_alone(shared: Desk) -> None:
    leader = client_of(shared)
    leader.get("/")
    guest = client_of(shared, ELSEWHERE, LAN)
    assert shared.sharing is not None
    enter(guest, shared.sharing.code)
    assert leader.get("/answer/sharing").json()["code"].replace(" ", "") == shared.sharing.code
    assert guest.get("/answer/sharing").json() == {"address": None}


def test_settings_are_small_and_of_known_pages(client: TestClient) -> None:
    put = {"headers": ORIGIN}
    assert client.put("/settings/nowhere", json={}, **put).status_code == 404
    assert client.put("/settings/level", json=[1], **put).status_code == 422
    much = client.put("/settings/level", json={"x": "y" * 20_000}, **put)
    assert much.status_code == 422
    assert "too much" in much.json()["problem"]
    broken = client.put("/settings/level", content=b"{", headers={**ORIGIN})
    assert broken.status_code == 422
    assert "nothing was changed" in broken.json()["problem"]


def test_host_with_the_machines_own_names() -> None:
    from axletree.app.server import own_hosts

    assert own_hosts(8765) == [HOST, "localhost:8765", "[::1]:8765"]
    assert "192.168.7.1:8765" in own_hosts(8765, "192.168.7.1")
