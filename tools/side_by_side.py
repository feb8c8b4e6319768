"""Runs commands side by side, and shows what each said once it has ended.

  python tools/side_by_side.py 'ruff check src' 'mypy'

The status is 1 where any of them failed; the others still come to their end.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed


def run(command: str) -> tuple[str, int, str]:
    """The command, its status, and all that it said."""
    done = subprocess.run(
        command, shell=True, check=False, text=True, stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )  # fmt: skip
    return command, done.returncode, done.stdout


def main(commands: Sequence[str]) -> int:
    """Run them all at once; 1 where one failed, else 0."""
    failed = []
    with ThreadPoolExecutor(max(len(commands), 1)) as all_at_once:
        for ended in as_completed([all_at_once.submit(run, command) for command in commands]):
            command, status, said = ended.result()
            print(f"{command}\n{said}", end="", flush=True)
            if status:
                failed.append(command)
    for command in failed:
        print(f"failed: {command}", file=sys.stderr)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
