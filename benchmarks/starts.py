"""How long does a whole command take, from the key press to the last line?

python benchmarks/starts.py [--turns 5]

Best and middle of a few turns, each a process of its own, by the clock and, for a machine with
other work to do, the best in processor time; a process that only imports numpy, one that only
imports astropy and one that only imports skyfield stand beside them as the measure of this machine
today. All run from byte code, as after installing them or a first start: it is kept in a folder of
this run's own, whatever the environment says about writing it.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time

COMMANDS = {
    "python, nothing": ["-c", "pass"],
    "import numpy": ["-c", "import numpy"],
    "import skyfield.api": ["-c", "import skyfield.api"],
    "import astropy.coordinates": ["-c", "import astropy.coordinates"],
    "axletree where Vega": ["-m", "axletree.cli", "where", "Vega"],
    "axletree place Évora": ["-m", "axletree.cli", "place", "Évora"],
    "axletree north": ["-m", "axletree.cli", "north", "--at", "2026-12-05T20:00"],
    "axletree pole": ["-m", "axletree.cli", "pole", "--at", "2026-12-05T20:00"],
    "axletree point M45": ["-m", "axletree.cli", "point", "M45", "--at", "2026-12-05T20:00"],
    "axletree find M57": ["-m", "axletree.cli", "find", "M57", "--at", "2026-12-05T19:00"],
    "axletree evening (demo)": ["-m", "axletree.cli", "evening", "--date", "2026-12-05"],
}
WANTED_S = {
    "axletree where Vega": (0.6, 0.25),
    "axletree point M45": (0.3, 0.2),
    "axletree evening (demo)": (2.0, 1.0),
}


def turn_s(words: list[str], byte_code: str) -> tuple[float, float]:
    """Seconds of one run by the clock and by the processor, with byte code in that folder."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env["PYTHONPYCACHEPREFIX"] = byte_code
    begin, before = time.perf_counter(), os.times()
    subprocess.run([sys.executable, *words], check=True, capture_output=True, env=env)
    after = os.times()
    used = after.children_user + after.children_system
    return time.perf_counter() - begin, used - before.children_user - before.children_system


def main() -> None:
    """Time them all and print a table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--turns", type=int, default=5)
    turns = parser.parse_args().turns
    print(f"{'whole process':<30}{'best s':>8}{'middle s':>10}{'processor s':>13}   must   dare")
    with tempfile.TemporaryDirectory() as byte_code:
        for name, words in COMMANDS.items():
            turn_s(words, byte_code)  # warms the file cache, writes byte code
            runs = [turn_s(words, byte_code) for _ in range(turns)]
            times, used = [run[0] for run in runs], min(run[1] for run in runs)
            must, dare = WANTED_S.get(name, (None, None))
            wanted = f"{must:7.2f}{dare:7.2f}" if must else ""
            middle = statistics.median(times)
            print(f"{name:<30}{min(times):8.2f}{middle:10.2f}{used:13.2f}{wanted}")


if __name__ == "__main__":
    main()
