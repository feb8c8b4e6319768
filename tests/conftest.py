"""What tests of every folder share: one Playwright (a process can hold only one), one browser."""

from __future__ import annotations

import gc
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))
# As the command has it, and before numpy is loaded: for arrays of our size a second thread halves
# nothing and doubles the processor's time.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import kept
from chromium import ARGUMENTS, chromium

# Files of more than about fifteen seconds of processor time, the longest first (`make slowest`):
# where some processes take file after file, no long one is left to the end.
LONG_FILES = (
    "app/test_looks.py", "app/test_words_fit.py", "hard/test_api_of_its_schema.py",
    "app/test_evening_page.py", "tell/test_words_are_not_data.py", "kit/test_kernels.py",
    "evening/test_plan.py", "app/test_browser.py", "hard/test_faults.py",
    "drawings/test_words_keep_apart.py", "tell/test_field_sheet_finds.py", "hard/test_crowd.py",
    "commands/test_evening_go_on.py", "commands/test_sides_agree.py", "evening/test_share.py",
    "hard/test_evenings.py", "app/test_withheld.py", "evening/test_calendar.py",
    "outside/test_against_astropy.py", "outside/test_special_nights.py",
    "evening/test_calendar_slots.py", "app/test_find_page.py", "find/test_steps.py",
    "evening/test_tables.py",
)  # fmt: skip


def pytest_configure(config: pytest.Config) -> None:
    """One folder for what is kept, for the processes of this run."""
    if hasattr(config, "workerinput") or kept.FOLDER in os.environ:
        return
    folder = tempfile.TemporaryDirectory(prefix="axletree-kept-")
    os.environ[kept.FOLDER] = folder.name
    config.add_cleanup(lambda: os.environ.pop(kept.FOLDER, None))
    config.add_cleanup(folder.cleanup)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest files first; the others stay in their order."""
    tests = Path(__file__).parent
    rank = {tests / name: k for k, name in enumerate(LONG_FILES)}
    items.sort(key=lambda item: rank.get(item.path, len(rank)))


def pytest_collection_finish(session: pytest.Session) -> None:
    """What was collected stays to the end: looking through it for garbage again finds nothing."""
    if any(kept.serves(item.path) for item in session.items):
        kept.keep_nights()
    gc.freeze()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    kept.turn(item.path, getattr(item, "fixturenames", ()))


@pytest.fixture
def afresh() -> None:
    """For a test that is about reckoning the same again: nothing kept is given out."""


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
