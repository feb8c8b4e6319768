"""Desks, browsers' ways and a running server for the tests of the app."""

from __future__ import annotations

import os
import threading
import time
from pathlib import Path
from typing import Any

from fastapi.testclient import TestClient

from axletree.app.people.sharing import Sharing
from axletree.app.server import listen, make_app, own_hosts, server_of
from axletree.app.state import Desk
from axletree.kit.kit import check_text, demo_text

HOST = "127.0.0.1:8765"
HERE = ("127.0.0.1", 50000)
ELSEWHERE = ("192.168.7.20", 50000)
ORIGIN = {"origin": f"http://{HOST}"}
SIZES = {"phone": (390, 844), "desk": (1440, 900)}
LONG = bool(os.environ.get("AXLETREE_LONG"))
# What is done on a page is done alike on either; `test_looks.py` looks at both.
USED_AT = tuple(SIZES) if LONG else ("phone",)
LIGHTS = ("day", "dusk", "red")
# Marks that a page sends of a picture of a rig, a length on it known.
MARKED_PICTURES = [{
    "width_px": 4000, "height_px": 3000, "mark_px": 4.0,
    "marks": {
        "foot 1": [2890, 2400], "foot 2": [1600, 2420], "foot 3": [1620, 2430],
        "hinge 1": [2090, 1370], "crossing": [2070, 1010], "tube front": [2360, 330],
        "tube back": [1450, 980],
    },
    "known": {"start": "tube front", "end": "tube back", "length_mm": 690.0},
}]  # fmt: skip


def make_desk(
    name: str = "courtyard", folder: Path | None = None, sharing: Sharing | None = None
) -> Desk:
    """A desk with a demo kit, kept as a file in `folder` where there is one."""
    text = demo_text(name)
    kit, problems = check_text(text)
    assert kit is not None, problems
    file = None
    if folder is not None:
        file = folder / "axletree.toml"
        file.write_text(text, encoding="utf-8")
    return Desk(kit, text, kit_file=file, folder=folder, sharing=sharing)


def client_of(desk: Desk, client: tuple[str, int] = HERE, host: str = HOST) -> TestClient:
    """A browser at an address; `base_url` gives it the Host that it names."""
    app = make_app(desk, [HOST, "192.168.7.1:8765"])
    return TestClient(app, base_url=f"http://{host}", client=client, follow_redirects=False)


class Counted:
    """An app, with the requests counted that it is at; links for events don't count."""

    def __init__(self, app: Any) -> None:
        self.app = app
        self.busy = 0

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        counts = scope["type"] == "http" and scope["path"] != "/events"
        self.busy += counts
        try:
            await self.app(scope, receive, send)
        finally:
            self.busy -= counts


class Live:
    """A running server: its address, its desk."""

    def __init__(self, desk: Desk, address: str = "127.0.0.1", port: int = 0) -> None:
        self.desk = desk
        self.socket = listen(address, port)
        self.port = self.socket.getsockname()[1]
        self.url = f"http://{address}:{self.port}"
        self.app = make_app(desk, own_hosts(self.port))
        self.counted = Counted(self.app)

    def at_rest(self, seconds: float = 300.0) -> None:
        """Wait until nothing that was asked is under way: a page that is closed takes nothing back
        of what it sent, and a tick still being written belongs to the test that made it."""
        end = time.monotonic() + seconds
        while self.counted.busy:
            assert time.monotonic() < end, "a request never ended"
            time.sleep(0.05)

    def start(self) -> Live:
        self.counted = Counted(self.app)  # a test may have made another app by now
        self.server = server_of(self.counted)
        self.thread = threading.Thread(
            target=self.server.run, kwargs={"sockets": [self.socket]}, daemon=True
        )
        self.thread.start()
        end = time.monotonic() + 20
        while not self.server.started:
            assert time.monotonic() < end, "the server did not start"
            time.sleep(0.02)
        return self

    def stop(self) -> None:
        self.desk.hub.close()
        self.server.should_exit = True
        self.thread.join(5)


def until(page: Any, expression: str, seconds: float = 45.0) -> Any:
    """Poll an expression until it is true: waiting for functions fails under a strict policy.

    What lasts is asked for less often: the server that reckons is a thread of this process.
    """
    begin = time.monotonic()
    while True:
        found = page.evaluate(expression)
        if found:
            return found
        waited = time.monotonic() - begin
        assert waited < seconds, f"never true: {expression}"
        page.wait_for_timeout(40 if waited < 2 else 250)


def answered(page: Any, seconds: float = 45.0) -> None:
    """Wait until the page shows its answer, to what was asked last."""
    until(
        page,
        "() => { const a = document.querySelector('#answer'); return !a || !a.ariaBusy && "
        "!['', '–', 'Choose an object', 'Read the level'].includes(a.textContent.trim()); }",
        seconds,
    )
