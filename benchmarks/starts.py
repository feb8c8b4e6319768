"""How long does a whole command take, from the key press to the last line, and what does it hold?

python benchmarks/starts.py [--turns 5] [--beside COMMIT | --beside none]

Best and middle of a few turns, each a process of its own, by the clock; for a machine with other
work to do the best in processor time; the most memory. The same commands of an earlier commit stand
beside them, each turn after one of now, so that both meet the same machine: the ratio of the
middles counts. So do processes that only import numpy, astropy and skyfield. All run from byte
code, as after installing them or a first start: it is kept in a folder of this run's own, whatever
the environment says about writing it.
"""

from __future__ import annotations

import argparse
import io
import os
import statistics
import subprocess
import sys
import tarfile
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
# The last one before finding, error bars and pictures of rigs were begun.
BEFORE = "1486919623"
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


@dataclass(frozen=True)
class Turn:
    """One process: seconds by the clock and by the processor, and the most memory, MB."""

    clock_s: float
    processor_s: float
    memory_mb: float


def turn(words: Sequence[str], source: Path, byte_code: str) -> Turn | None:
    """One run of that source, with byte code in that folder; None where it isn't answered."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env |= {"PYTHONPYCACHEPREFIX": byte_code, "PYTHONPATH": str(source)}
    begin = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, *words], env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    ) as run:
        _, status, used = os.wait4(run.pid, 0)
        run.returncode = os.waitstatus_to_exitcode(status)
    took = time.perf_counter() - begin
    if run.returncode:
        return None
    return Turn(took, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024.0)


def source_of(commit: str, folder: Path) -> Path | None:
    """The package as it was in a commit, unpacked; None where there is no such commit here."""
    packed = subprocess.run(
        ["git", "-C", str(ROOT), "archive", commit, "src"], capture_output=True, check=False
    )
    if packed.returncode:
        return None
    with tarfile.open(fileobj=io.BytesIO(packed.stdout)) as archive:
        archive.extractall(folder, filter="data")
    return folder / "src"


def told(runs: Sequence[Turn]) -> str:
    """Best and middle by the clock, best by the processor, most memory."""
    if not runs:
        return f"{'-':>7}{'-':>8}{'-':>8}{'-':>6}"
    clock = [run.clock_s for run in runs]
    return (
        f"{min(clock):7.2f}{statistics.median(clock):8.2f}"
        f"{min(run.processor_s for run in runs):8.2f}{max(run.memory_mb for run in runs):6.0f}"
    )


def main() -> None:
    """Time them all and print a table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--turns", type=int, default=5)
    parser.add_argument("--beside", default=BEFORE, help=f"a commit ({BEFORE}), or none")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        sources = [ROOT / "src"]
        earlier = None if given.beside == "none" else source_of(given.beside, Path(folder))
        if earlier is not None:
            sources.append(earlier)
        elif given.beside != "none":
            print(f"commit {given.beside} is not in this copy of the repository: now alone")
        columns = f"{'best s':>7}{'middle':>8}{'proc s':>8}{'MB':>6}"
        beside = f"  |{columns}  ratio" if earlier else ""
        title = f"now, and {given.beside}" if earlier else "now"
        print(f"{title:<28}{columns}   must dare{beside}")
        for name, words in COMMANDS.items():
            kept: list[list[Turn]] = [[] for _ in sources]
            for number in range(given.turns + 1):
                for runs, source in zip(kept, sources, strict=True):
                    one = turn(words, source, f"{folder}/byte_code")
                    if one is not None and number:  # the first warms the file cache
                        runs.append(one)
            must, dare = WANTED_S.get(name, (None, None))
            line = f"{name:<28}{told(kept[0])}" + (f"{must:7.1f}{dare:5.1f}" if must else " " * 12)
            if earlier:
                line += f"  |{told(kept[1])}{_ratio(kept)}"
            print(line, flush=True)


def _ratio(kept: Sequence[Sequence[Turn]]) -> str:
    """Middle of now over that of before."""
    if not all(kept):
        return f"{'-':>7}"
    now, before = (statistics.median(run.clock_s for run in runs) for runs in kept)
    return f"{now / before:7.2f}"


if __name__ == "__main__":
    main()
