"""How fast is a scored year of nights for the whole catalogue, and how much memory does it need?

python benchmarks/calendar_year.py [--nights 365]

Ours is the whole answer of `axletree calendar`: sessions, skyline, room of the rig, moonlight,
twilight, the eye's threshold behind each eyepiece, points and the best stops of every night. The
others only say where the same number of objects stand, every 10 minutes of the night, timed on a
few nights and scaled to the year: less than half of the job.

Seconds are processor time. 2026-11-30, 2 processors under a load of 6 to 10, warm: 0.6 s for the
courtyard (646 of 11,689 objects can show), 0.9 s for the paddock (1,527); with what the sky has in
the year, as the command gives it, 0.9 and 1.2 s (1.3 and 1.7 before the ephemeris' series were
summed at once). Since only what can show is looked at: 0.87 and 0.68 of that, old and new in turns
on a machine at which ten million additions took 1.1 s; there 1.5 and 1.9 s, the first time in a
process 0.5 s more, and 0.7 s for the modules.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
import warnings
from collections.abc import Callable
from datetime import date, timedelta

from year_windows import astropy, peak_mb, pyerfa

FIRST = date(2026, 1, 1)
OBJECTS = 11_600  # what is offered: catalogue, doubles, coloured stars


def ours(kit_name: str, nights: int) -> float:
    """Best of three, the first with cold catalogues."""
    from axletree.evening.year.nights_scored import score_nights
    from axletree.kit.kit import demo_kit
    from axletree.sky.observer import observer_of

    kit = demo_kit(kit_name)
    times = []
    for _ in range(3):
        start = time.process_time()
        score_nights(kit, observer_of(kit.site), FIRST, FIRST + timedelta(days=nights - 1))
        times.append(time.process_time() - start)
    return min(times)


WAYS: dict[str, Callable[[int], float]] = {
    "astropy, where they stand": lambda nights: astropy(OBJECTS, nights, 20.0),
    "pyerfa, where they stand": lambda nights: pyerfa(OBJECTS, nights, 20.0),
    "axletree calendar, courtyard": lambda nights: ours("courtyard", nights),
    "axletree calendar, paddock": lambda nights: ours("paddock", nights),
}


def main() -> None:
    """Each way in a process of its own."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--nights", type=int, default=365)
    parser.add_argument("--only", help=argparse.SUPPRESS)
    args = parser.parse_args()
    warnings.simplefilter("ignore")
    if args.only:
        seconds = WAYS[args.only](args.nights)
        print(json.dumps({"seconds": seconds, "peak_mb": peak_mb()}))
        return
    print(f"calendar: {OBJECTS} objects x {args.nights} nights")
    print(f"{'way':32} {'seconds':>9} {'x astropy':>10} {'peak MB':>8}")
    base = 0.0
    for name in WAYS:
        command = [sys.executable, __file__, "--only", name, "--nights", str(args.nights)]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        answer = json.loads(done.stdout.splitlines()[-1])
        base = base or answer["seconds"]
        ratio = base / answer["seconds"]
        print(f"{name:32} {answer['seconds']:9.3f} {ratio:10.1f} {answer['peak_mb']:8.0f}")


if __name__ == "__main__":
    main()
