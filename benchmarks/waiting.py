"""How long do people wait for what they ask in the field, and how much memory does an evening take?

python benchmarks/waiting.py [--repeat 5]

Beside `starts` (whole commands): an answer of the app's page 'north', the first page of a night
whose plan isn't made yet, a drift file of 3,000 rows (made here, seed 1), and the most memory that
`axletree evening` holds. Processor time of all threads, the best of some repeats; a night's first
page, after which the whole night is planned, can be asked for but once.

2026-11-30, 2 shared processors, load 2 to 7: north 17 ms (32 the day before), drift 0.45 s with the
start, by names 0.49 (2.0), first page of a night 0.40 s (1.6), memory 142 MB.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from fastapi.testclient import TestClient

from axletree.app.server import _warm, make_app
from axletree.app.state import Desk
from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.pole.drift.solve import drift_arcsec
from axletree.sky.observer import observer_of

ROWS = 3000
NAMES = (
    "Mirfak", "Hamal", "Alpheratz", "Deneb", "Schedar", "Capella", "Algol", "Mirach", "Almach",
    "Polaris",
)  # fmt: skip
HOST = "127.0.0.1:8765"
WANTED = {
    "an answer of north in the app": ("15 ms", "5 ms"),
    "first page of a night, plan not made": ("500 ms", "200 ms"),
    "axletree check drift, 3,000 rows": ("500 ms", "100 ms"),
    "peak memory of axletree evening": ("170 MB", "110 MB"),
}


def desk() -> Desk:
    """The demo kit on a desk, without a folder."""
    text = demo_text("courtyard")
    kit, problems = check_text(text)
    assert kit is not None, problems
    return Desk(kit, text, kit_file=None, folder=None, sharing=None)


def best_ms(repeat: int, ask: Callable[[], Any]) -> float:
    """Processor milliseconds of the quickest of some."""
    times = []
    for _ in range(repeat):
        begin = time.process_time()
        ask()
        times.append((time.process_time() - begin) * 1000.0)
    return min(times)


def page_ms(client: TestClient, address: str, repeat: int) -> float:
    """Of an answer that must be one."""

    def ask() -> None:
        answer = client.get(address)
        assert answer.status_code == 200, answer.text[:200]

    return best_ms(repeat, ask)


def drift_file(folder: Path) -> Path:
    """Drifts of an axis 12 arcminutes high and 7 west, read to 2 arcseconds."""
    rng, observer = np.random.default_rng(1), observer_of(demo_kit().site)
    hours, north = rng.uniform(-3.0, 3.0, ROWS), rng.uniform(10.0, 60.0, ROWS)
    watched = rng.uniform(200.0, 600.0, ROWS)
    drift = drift_arcsec(12.0, -7.0, hours, north, watched, observer) + rng.normal(0.0, 2.0, ROWS)
    file = folder / "drift.csv"
    rows = np.column_stack([hours, north, watched, drift])
    heading = "hour_angle_h,declination_deg,watched_s,drift_arcsec"
    np.savetxt(file, rows, "%.5f", ",", header=heading, comments="")
    return file


def named_file(folder: Path) -> Path:
    """As many drifts of ten stars that are up from nightfall to midnight."""
    rng, begin = np.random.default_rng(2), datetime(2026, 12, 5, 19, 0, tzinfo=UTC)
    lines = ["star,started,watched_s,drift_arcsec"]
    for k in range(ROWS):
        at = begin + timedelta(seconds=int(rng.integers(0, 14000)))
        lines.append(f"{NAMES[k % len(NAMES)]},{at.isoformat()},300,{rng.normal(0.0, 9.0):.1f}")
    file = folder / "named.csv"
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return file


def command_ms(words: list[str], repeat: int) -> float:
    """A whole command's processor time, user, with byte code at hand."""
    times = []
    for _ in range(repeat + 1):
        before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        subprocess.run([sys.executable, "-m", "axletree", *words], check=True, capture_output=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        times.append((after - before) * 1000.0)
    return min(times[1:])


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeat", type=int, default=5)
    repeat = parser.parse_args().repeat
    table = desk()
    _warm(table)  # as the app does when it is started
    client = TestClient(
        make_app(table, [HOST]), base_url=f"http://{HOST}", client=("127.0.0.1", 50000)
    )
    with tempfile.TemporaryDirectory() as folder:
        drift, named = drift_file(Path(folder)), named_file(Path(folder))
        # The largest child so far is the evening: nothing else has been started yet.
        command_ms(["evening", "--date", "2026-12-05", "--logbook", "none"], 1)
        peak_mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024.0
        at = "2026-12-05T20:30:00%2B00:00"
        found = {
            "an answer of north in the app": page_ms(client, f"/answer/north?at={at}", repeat),
            "an answer of point in the app": page_ms(
                client, f"/answer/point?object=Vega&at={at}", repeat
            ),
            "an answer of find in the app": page_ms(
                client, f"/answer/find?object=M31&at={at}", repeat
            ),
            "first page of a night, plan not made": page_ms(
                client, "/answer/evening/first?day=2026-12-05", 1
            ),
            "its whole plan, from there on": page_ms(client, "/answer/evening?day=2026-12-05", 1),
            "the same, plan made": page_ms(client, "/answer/evening?day=2026-12-05", repeat),
            "axletree check drift, 3,000 rows": command_ms(
                ["check", "drift", str(drift), "--no-notes"], 2
            ),
            "the same, by names of stars": command_ms(
                ["check", "drift", str(named), "--no-notes"], 2
            ),
        }
    print(f"{'processor time':<40}{'best':>10}     must     dare")
    for name, value in found.items():
        must, dare = WANTED.get(name, ("", ""))
        print(f"{name:<40}{value:7.0f} ms{must:>9}{dare:>9}")
    must, dare = WANTED["peak memory of axletree evening"]
    print(f"{'peak memory of axletree evening':<40}{peak_mb:7.0f} MB{must:>9}{dare:>9}")


if __name__ == "__main__":
    main()
