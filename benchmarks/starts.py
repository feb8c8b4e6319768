"""How long does a whole command take, from the key press to the last line?

python benchmarks/starts.py [--turns 5]

Best and middle of a few turns, each a process of its own; a process that only imports numpy, one
that only imports astropy and one that only imports skyfield stand beside them as the measure of
this machine today. All run from byte code, as after installing them or a first start: it
is kept in a folder of this run's own, whatever the environment says about writing it.
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
    "axletree evening (demo)": ["-m", "axletree.cli", "evening", "--date", "2026-12-05"],
}
WANTED_S = {"axletree where Vega": (0.6, 0.25), "axletree evening (demo)": (3.0, 1.0)}


def turn_s(words: list[str], byte_code: str) -> float:
    """Seconds of one run, with byte code in that folder."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env["PYTHONPYCACHEPREFIX"] = byte_code
    begin = time.perf_counter()
    subprocess.run([sys.executable, *words], check=True, capture_output=True, env=env)
    return time.perf_counter() - begin


def main() -> None:
    """Time them all and print a table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--turns", type=int, default=5)
    turns = parser.parse_args().turns
    print(f"{'whole process':<30}{'best s':>8}{'middle s':>10}   must   dare")
    with tempfile.TemporaryDirectory() as byte_code:
        for name, words in COMMANDS.items():
            turn_s(words, byte_code)  # warms the file cache, writes byte code
            times = [turn_s(words, byte_code) for _ in range(turns)]
            must, dare = WANTED_S.get(name, (None, None))
            wanted = f"{must:7.2f}{dare:7.2f}" if must else ""
            print(f"{name:<30}{min(times):8.2f}{statistics.median(times):10.2f}{wanted}")


if __name__ == "__main__":
    main()
