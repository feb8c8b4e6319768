"""Somebody who writes without end is killed, again and again.

  python killed.py kit|sheet|notes|logbook FILE TIMES SEED

In a process of its own, which forks in a millisecond what is killed; one that has collected the
tests is large, and takes a tenth of a second. Prints how often a whole writing was confirmed.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

# Whoever writes gets a number and returns only once it is written.
Writing = Callable[[int], object]
SHEET_LETTERS, NOTE_LETTERS = 200_000, 3000
LONGEST_S = {"kit": 0.04, "sheet": 0.03, "notes": 0.02, "logbook": 0.03}
AT = datetime(2026, 12, 5, 20, tzinfo=UTC)


def sheet(number: int) -> bytes:
    """A run sheet's worth of JSON with that number in it."""
    return json.dumps({"n": number, "body": "x" * SHEET_LETTERS}).encode()


def kits() -> list[bytes]:
    """The kit files that take turns."""
    from axletree.kit.kit import demo_text

    return [demo_text(n).encode() + b"# end\n" for n in ("courtyard", "paddock")]


def confirmed(kind: str, file: Path, times: int, seed: int) -> int:
    """How often a writing was confirmed, in a process of its own."""
    words = [sys.executable, __file__, kind, str(file), str(times), str(seed)]
    run = subprocess.run(words, capture_output=True, text=True, check=False, timeout=300)
    assert run.returncode == 0, run.stderr
    return int(run.stdout)


def _writer(kind: str, file: Path) -> Callable[[], Writing]:
    """What a child opens after the fork; the modules are there before."""
    if kind == "logbook":
        from axletree.logbook.store import Logbook

        def opened() -> Writing:
            book = Logbook(file)
            return lambda number: book.add_note(1, AT, str(number))

        return opened
    from axletree.logbook.lines import append_line
    from axletree.tell.shared.files import write_whole

    texts = kits()
    ways: dict[str, Writing] = {
        "kit": lambda number: write_whole(file, texts[number % 2]),
        "sheet": lambda number: write_whole(file, sheet(number)),
        "notes": lambda number: append_line(file, {"n": number, "body": "y" * NOTE_LETTERS}),
    }
    return lambda: ways[kind]


def killed_once(
    opened: Callable[[], Writing], first: int, after_s: float, once_open: bool
) -> list[int]:
    """The numbers from `first` on that a child has confirmed before it was killed.

    That is after so many seconds from its begin, or from when it has opened what it writes in.
    """
    read_end, write_end = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(read_end)
            writing, number = opened(), first
            os.write(write_end, b"\n")
            while True:
                writing(number)
                os.write(write_end, b"%d\n" % number)
                number += 1
        finally:
            os._exit(1)
    os.close(write_end)
    with os.fdopen(read_end, "rb") as pipe:
        if once_open:
            pipe.readline()
        time.sleep(after_s)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return [int(line) for line in pipe.read().split(b"\n")[:-1] if line]


def _stored(file: Path) -> set[int]:
    """The notes of a logbook."""
    with sqlite3.connect(file) as check:
        found = {int(row[0]) for row in check.execute("SELECT text FROM note")}
    check.close()
    return found


def main(kind: str, file: Path, times: int, seed: int) -> int:
    """How many writings were confirmed; of a logbook all of them have to be in it each time."""
    rng, opened = random.Random(seed), _writer(kind, file)
    count, stored = 0, set[int]()
    for turn in range(times):
        first = max(stored, default=0) + 1 if kind == "logbook" else turn * 1000
        after_s = rng.uniform(0.001, LONGEST_S[kind])
        numbers = killed_once(opened, first, after_s, once_open=turn % 4 > 0)
        count += len(numbers)
        if kind == "logbook":
            before, stored = stored, _stored(file)
            assert before | set(numbers) <= stored, f"lost after kill {turn}: {numbers}"
    return count


if __name__ == "__main__":
    print(main(sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])))
