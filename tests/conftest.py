"""What tests of every folder share: one Playwright (a process can hold only one), one browser."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from chromium import ARGUMENTS, chromium

@pytest.fixture(scope="session")
def playwright() -> Iterator[Any]:
    """The one Playwright of this process; browsers are opened from it."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Any) -> Iterator[Any]:
    """The one Chromium of this process; each test opens contexts of its own in it."""
    opened = playwright.chromium.launch(executable_path=chromium(), args=ARGUMENTS)
    yield opened
    opened.close()
