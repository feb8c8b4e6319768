"""A loop of events in a thread of its own: where browser tests ran before, this one has a loop."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

Answer = TypeVar("Answer")


def run_apart(work: Coroutine[Any, Any, Answer]) -> Answer:
    """What the work gives in the end."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, work).result()
