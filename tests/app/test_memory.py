"""What the app no longer needs goes back to the system (malloc_trim(3), glibc)."""

from __future__ import annotations

import asyncio
import subprocess
import sys

import pytest

from apart import run_apart
from axletree.app import memory

_ALLOCATE_AND_GIVE_BACK = """
import gc
from pathlib import Path
from axletree.app.memory import give_back

def held_mb():
    return int(Path("/proc/self/statm").read_text().split()[1]) * 4096 / 1e6

pieces = [bytearray(b"x" * 60_000) for _ in range(1000)]
last = bytearray(60_000)  # above the others: the pool can't shrink at its end
del pieces
gc.collect()
before = held_mb()
give_back()
print(before - held_mb())
"""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="glibc's call")
def test_free_pieces_go_back_to_the_system() -> None:
    told = subprocess.run(
        [sys.executable, "-c", _ALLOCATE_AND_GIVE_BACK], capture_output=True, text=True, check=True
    )
    assert float(told.stdout) > 40.0  # of 60 MB


_SETTLE = """
import gc, weakref
from axletree.app.memory import give_back, settle

class Ring:
    pass

settle()
frozen = gc.get_freeze_count()
gc.disable()  # nothing is looked for unless somebody asks
ring = Ring()
ring.itself = ring
seen = weakref.ref(ring)
del ring
assert seen() is not None
give_back()
print(frozen, seen() is None, len(gc.get_objects()))
"""


def test_what_was_loaded_is_put_aside_and_rings_are_found() -> None:
    """The standard library's `gc` counts what is frozen."""
    told = subprocess.run(
        [sys.executable, "-c", _SETTLE], capture_output=True, text=True, check=True
    )
    frozen, found, left = told.stdout.split()
    assert int(frozen) > 1000
    assert found == "True"
    assert int(left) < 500


def test_it_is_done_again_and_again_until_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    times: list[int] = []
    monkeypatch.setattr(memory, "GIVE_BACK_EVERY_S", 0.001)
    monkeypatch.setattr(memory, "give_back", lambda: times.append(1))

    async def some_time() -> None:
        task = asyncio.create_task(memory.go_on_giving_back())
        while len(times) < 3:
            await asyncio.sleep(0.001)
        task.cancel()
        with pytest.raises(asyncio.CancelledError):
            await task

    run_apart(asyncio.wait_for(some_time(), 10.0))
