"""The Chromium that pages are looked at with, and how it is started.

Debian packs the same engine twice: with the windows of a desktop, and as `chromium-headless-shell`
without. A page costs the shell a third of the processor's time (2026-11-29, six pages of the app
opened and photographed: 3.3 s of processor time, with the windows 9.6 s).
"""

from __future__ import annotations

import os
import shutil
import subprocess

import pytest

ARGUMENTS = [
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    # The shell would round the advances of letters to whole pixels, as no screen of today does.
    "--font-render-hinting=none",
    "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
]  # fmt: skip
NAMES = ("chromium-headless-shell", "chromium", "chromium-browser")


def chromium() -> str:
    """Debian's Chromium; installed when it is missing and we may, else the tests are skipped."""
    found = _here()
    if found is None and hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get"):
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        subprocess.run(["apt-get", "update"], check=False, **quiet)
        subprocess.run(["apt-get", "install", "-y", "chromium"], check=False, **quiet)
        found = _here()
    if found is None:
        pytest.skip("needs Chromium: install it (Debian: apt-get install chromium) and run again")
    return found


def _here() -> str | None:
    return next((path for path in map(shutil.which, NAMES) if path), None)
