"""What tests of every folder share: one Playwright for all, since a process can hold only one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest


@pytest.fixture(scope="session")
def playwright() -> Iterator[Any]:
    """The one Playwright of this process; browsers are opened from it."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        yield started
