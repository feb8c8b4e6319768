"""The wheel alone, in an environment outside the checkout: an evening, the pages, the handbook.

What Axletree needs is lent by the environment of the tests, so that nothing is fetched; Axletree
itself comes from the wheel, which the test looks at before it believes anything else.
"""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
import sys
import sysconfig
import time
import urllib.error
import urllib.request
import venv
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

import axletree

ROOT = Path(__file__).parents[2]
# Neither PYTHONPATH nor anything else of the tests' own surroundings leads back to the checkout.
BARE = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "VIRTUAL_ENV"))}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    pytest.importorskip("hatchling", reason="what builds the wheel is not installed here")
    folder = tmp_path_factory.mktemp("dist")
    pip = [sys.executable, "-m", "pip", "wheel", "-qq", "--disable-pip-version-check"]
    offline = ["--no-index", "--no-deps", "--no-build-isolation"]
    subprocess.run([*pip, *offline, "-w", str(folder), str(ROOT)], check=True, env=BARE)
    (made,) = folder.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of a fresh environment that holds the wheel and, lent, what it needs."""
    home = tmp_path_factory.mktemp("elsewhere") / "env"
    venv.create(home, with_pip=False, symlinks=sys.platform != "win32")
    inside = home / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    ask = "import sysconfig; print(sysconfig.get_path('purelib'))"
    said = subprocess.run([inside, "-c", ask], capture_output=True, text=True, check=True, env=BARE)
    site = Path(said.stdout.strip())
    pip = [sys.executable, "-m", "pip", "--python", str(inside), "install", "-qq"]
    subprocess.run([*pip, "--no-index", "--no-deps", str(wheel)], check=True, env=BARE)
    # A line in a .pth file is added as it is: .pth files inside of it, which would lead to the
    # checkout, are not read.
    lent = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    (site / "lent.pth").write_text("\n".join(sorted(lent)) + "\n", encoding="utf-8")
    return inside


def ask(python: Path, code: str, folder: Path) -> str:
    said = subprocess.run(
        [python, "-c", code], cwd=folder, env=BARE, capture_output=True, text=True, check=True
    )
    return said.stdout.strip()


def test_the_wheel_holds_the_package_the_data_and_the_handbook(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as parcel:
        names = parcel.namelist()
    assert wheel.name == f"axletree-{axletree.__version__}-py3-none-any.whl"
    for file in (ROOT / "src" / "axletree").rglob("*"):
        if file.is_file() and "__pycache__" not in file.parts:
            assert str(file.relative_to(ROOT / "src")) in names
    pages = [page.name for page in (ROOT / "docs").glob("*.md")]
    assert len(pages) > 10
    assert {f"axletree/handbook/{page}" for page in pages} <= set(names)
    assert not [n for n in names if n.startswith(("tests/", "tools/")) or "node_modules" in n]


def test_axletree_comes_from_the_wheel_and_not_from_the_checkout(
    python: Path, tmp_path: Path
) -> None:
    code = (
        "import axletree, sys; from axletree.tell.handbook.pages import handbook_folder; "
        "print(axletree.__file__, handbook_folder(), *sys.path, sep='\\n')"
    )
    package, handbook, *path = ask(python, code, tmp_path).splitlines()
    home = python.parents[1].resolve()
    assert Path(package).resolve().is_relative_to(home)
    assert Path(handbook).resolve().is_relative_to(home)
    assert str(ROOT / "src") not in path
    code = "from importlib.metadata import version; print(version('axletree'))"
    assert ask(python, code, tmp_path) == axletree.__version__


def test_it_makes_an_evening(python: Path, tmp_path: Path) -> None:
    words = ["evening", "--date", "2026-12-05", "--out", "night"]
    said = subprocess.run(
        [python, "-m", "axletree", *words], cwd=tmp_path, env=BARE, capture_output=True, text=True
    )
    assert said.returncode == 0, said.stderr
    told = json.loads((tmp_path / "night" / "run-sheet.json").read_text(encoding="utf-8"))
    assert len(told["stops"]) >= 5
    assert (tmp_path / "night" / "run-sheet.pdf").read_bytes().startswith(b"%PDF")


@pytest.fixture(scope="module")
def address(python: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    running = subprocess.Popen(
        [python.parent / "axletree", "serve", "--port", str(port)],
        cwd=tmp_path_factory.mktemp("served"), env=BARE,
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    yield f"http://127.0.0.1:{port}"
    running.send_signal(signal.SIGINT)
    running.wait(timeout=15)


def fetch(address: str) -> tuple[int, str]:
    end = time.monotonic() + 30
    while True:
        try:
            with urllib.request.urlopen(address, timeout=10) as reply:
                return reply.status, reply.read().decode(errors="replace")  # a typeface is no text
        except urllib.error.HTTPError as error:
            return error.code, ""
        except OSError:
            assert time.monotonic() < end, "nothing answers"
            time.sleep(0.1)


def test_it_serves_every_page_and_the_modules_that_they_name(address: str) -> None:
    status, start = fetch(f"{address}/")
    assert status == 200
    pages = set(re.findall(r'href="(/[a-z]+)"', start))
    assert {"/spot", "/pole", "/evening", "/kit"} <= pages
    for page in sorted(pages):
        status, text = fetch(address + page)
        assert status == 200, page
        for part in re.findall(r'(?:src|href)="(/static/[^"]+)"', text):
            assert fetch(address + part)[0] == 200, part


def test_it_serves_the_handbook(address: str) -> None:
    status, text = fetch(f"{address}/handbook")
    assert status == 200
    chapters = set(re.findall(r'href="(/handbook/[a-z]+)"', text))
    assert len(chapters) >= 10
    for chapter in sorted(chapters):
        assert fetch(address + chapter)[0] == 200, chapter
