"""Every benchmark, one after the other, in one run: `make bench`.

Absolute times wander from machine to machine; the ratios printed beside other libraries are what
counts.
"""

from __future__ import annotations

import platform
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
ORDER = ("starts", "night_table", "year_windows", "clearance_map", "spot_grid", "axis_solve")


def main() -> int:
    """Run them; the number that failed is the exit status."""
    print(f"{platform.platform()}, Python {platform.python_version()}")
    names = [*ORDER, *sorted(p.stem for p in HERE.glob("*.py") if p.stem not in (*ORDER, "run"))]
    failed = 0
    for name in names:
        script = HERE / f"{name}.py"
        if not script.exists():
            continue
        print(f"\n== {name} " + "=" * (70 - len(name)), flush=True)
        failed += subprocess.run([sys.executable, str(script)], check=False).returncode != 0
    return failed


if __name__ == "__main__":
    sys.exit(main())
