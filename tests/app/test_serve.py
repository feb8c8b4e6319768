"""`axletree serve` as a person starts and stops it."""

from __future__ import annotations

import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from axletree.app.people.sharing import local_address, qr_for_terminal, qr_svg, spaced
from axletree.app.server import listen
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_text

COMMAND = [sys.executable, "-m", "axletree.cli", "serve"]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def start(folder: Path, *words: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [*COMMAND, *words], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )


def fetch(address: str, seconds: float = 20.0) -> tuple[int, str]:
    end = time.monotonic() + seconds
    while True:
        try:
            with urllib.request.urlopen(address, timeout=5) as reply:
                return reply.status, reply.read().decode()
        except urllib.error.HTTPError as error:
            return error.code, error.read().decode()
        except OSError:
            assert time.monotonic() < end, "nothing answers"
            time.sleep(0.1)


def stop(running: subprocess.Popen[str]) -> tuple[str, str]:
    running.send_signal(signal.SIGINT)
    out, errors = running.communicate(timeout=10)
    return out, errors


def test_it_serves_this_machine_until_it_is_stopped(tmp_path: Path) -> None:
    port = free_port()
    (tmp_path / "axletree.toml").write_text(
        demo_text().replace("School courtyard", "Back garden"), encoding="utf-8"
    )
    running = start(tmp_path, "--port", str(port))
    status, page = fetch(f"http://127.0.0.1:{port}/")
    assert status == 200
    assert "Back garden" in page
    # On no other address of the machine.
    try:
        address = local_address()
    except AxletreeError:
        address = ""
    if address:
        with socket.socket() as other:
            other.settimeout(2)
            assert other.connect_ex((address, port)) != 0
    taken = subprocess.run(
        [*COMMAND, "--port", str(port)], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert taken.returncode == 2
    assert taken.stderr.count("\n") == 1
    assert f"port {port} on 127.0.0.1 can't be used" in taken.stderr
    out, errors = stop(running)
    assert f"http://127.0.0.1:{port}/" in out
    assert "Traceback" not in errors


def test_shared_it_prints_code_and_picture_of_the_address(tmp_path: Path) -> None:
    try:
        address = local_address()
    except AxletreeError:
        pytest.skip("this machine has no local network")
    port = free_port()
    running = start(tmp_path, "--port", str(port), "--share")
    status, page = fetch(f"http://{address}:{port}/kit")
    # Asked from this machine, but through the network's address: the code is needed.
    assert status == 200
    assert "Which code was read to you?" in page
    out, errors = stop(running)
    assert f"http://{address}:{port}/" in out
    assert re.search(r"Code, for one person: \d{4} \d{4}", out)
    assert "█" in out or "▀" in out or "▄" in out
    assert "Traceback" not in errors


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--kit", "nothing.toml"], "no such file"),
        (["--port", "0"], "write a number from 1024"),
        (["--port", "x"], "invalid int value"),
    ],
)
def test_bad_words_are_one_line(tmp_path: Path, words: list[str], said: str) -> None:
    done = subprocess.run(
        [*COMMAND, *words], cwd=tmp_path, capture_output=True, text=True, check=False, timeout=60
    )
    assert done.returncode == 2
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


def test_the_picture_holds_the_address() -> None:
    # ISO/IEC 18004: three finder patterns, so that both drawings begin with a quiet zone and a
    # dark square of seven modules.
    rows = qr_for_terminal("http://192.168.7.1:8765/").splitlines()
    assert len(rows) >= 13
    assert len({len(re.sub("\x1b\\[[0-9;]*m", "", row)) for row in rows if row}) == 1
    svg = qr_svg("http://192.168.7.1:8765/")
    assert svg.startswith("<svg")
    assert "<script" not in svg
    assert spaced("47112093") == "4711 2093"


def test_short_answers_are_sent_at_once() -> None:
    """RFC 896 and RFC 1122, 4.2.3.2: a second small piece would wait for the first one's receipt,
    which the other side may hold back, 40 ms here, unless the socket says TCP_NODELAY."""
    port = free_port()
    with listen("127.0.0.1", port) as listening, socket.create_connection(("127.0.0.1", port)):
        taken, _ = listening.accept()
        with taken:
            assert taken.proto == socket.IPPROTO_TCP  # what asyncio goes by
