"""Make .venv ready to run or to test Axletree, from the locks where they fit.

python tools/set_up.py run       what `make evening` and `make serve` need
python tools/set_up.py test      what `make test` needs too
    --open                       the newest versions that pyproject.toml allows, without the locks

The locks name one version of every package with the SHA-256 hashes of its files, for the Pythons
in LOCKED. Another Python gets the open installation, and is told so. A package whose hash differs
stops it all: that is never mended by installing something else.
"""

from __future__ import annotations

import json
import platform
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
VENV = ROOT / ".venv"
OLDEST = (3, 11)
LOCKED = [(3, 11), (3, 12), (3, 13), (3, 14)]
BUILD_LOCK = "requirements-build.lock"
LOCKS = {"run": "requirements.lock", "test": "requirements-test.lock"}
OPEN = {"run": ".", "test": ".[test]"}
ABOUT = (
    "import json, platform, sys; "
    "print(json.dumps([platform.python_implementation(), *sys.version_info[:3]]))"
)


def main(arguments: list[str]) -> int:
    """Say each step in a line, and do it; exit status 1 with one plain sentence if one fails."""
    if {"-h", "--help"} & set(arguments):
        print(__doc__)
        return 0
    try:
        set_up(asked(arguments), from_lock="--open" not in arguments)
    except SetUpError as failure:
        print(failure, file=sys.stderr)
        return 1
    return 0


class SetUpError(Exception):
    """A step failed; the words are for the person at the keyboard."""


@dataclass(frozen=True)
class Step:
    """What is said, what pip is then asked to install, and the sentence if that fails."""

    words: str
    pip: list[str]
    failure: str


def asked(arguments: list[str]) -> str:
    """What it is made ready for, 'run' where nothing is said; refuses words it doesn't know."""
    purposes = [word for word in arguments if word != "--open"] or ["run"]
    for word in purposes:
        if word not in LOCKS:
            raise SetUpError(
                f"set-up: '{word}' is nothing to make .venv ready for: say {' or '.join(LOCKS)}, "
                "with --open for the newest packages instead of the locks"
            )
    return purposes[-1]


def set_up(purpose: str, *, from_lock: bool) -> None:
    """Make the environment, fill it, and leave the mark that the Makefile looks for."""
    python = environment()
    maker, *version = json.loads(_output(python, "-c", ABOUT))
    for step in steps(purpose, maker, tuple(version), from_lock=from_lock):
        if step.words:
            _say(step.words)
        _run([python, "-m", "pip", "install", "-qq", "--disable-pip-version-check", *step.pip],
             f"{step.failure}; pip's own words stand above")  # fmt: skip
    for mark in ("run", "test") if purpose == "test" else ("run",):
        (VENV / f".{mark}").touch()


def steps(purpose: str, maker: str, version: tuple[int, ...], *, from_lock: bool) -> list[Step]:
    """What has to be installed for 'run' or 'test' by one Python ('CPython', (3, 12, 1))."""
    fits = maker == "CPython" and version[:2] in LOCKED
    name = f"{maker} {'.'.join(map(str, version))}"
    if not (from_lock and fits):
        why = "as asked" if fits else f"the locks are made for CPython {_span()}, this is {name}"
        words = f"installing the newest packages that pyproject.toml allows, unhashed ({why})"
        return [Step(words, ["-e", OPEN[purpose]], "a package could not be installed")]
    lock = LOCKS[purpose]
    count = len(pinned_names((ROOT / lock).read_text(encoding="utf-8")))
    words = (
        f"{name} fits the locks: installing {count} packages from {lock}, each checked by its "
        "hash; the first time this takes a minute or two"
    )
    failure = "a package could not be installed as {} has it (LOCKED=no does without the locks)"
    # What builds comes first: a package that comes as source is built with it, and not with
    # whatever is newest that day.
    exact = ["--require-hashes", "--no-build-isolation", "-r"]
    return [
        Step(words, [*exact, BUILD_LOCK], failure.format(BUILD_LOCK)),
        Step("", [*exact, lock], failure.format(lock)),
        Step(
            "installing Axletree itself from this folder",
            ["--no-index", "--no-deps", "--no-build-isolation", "-e", "."],
            "Axletree itself could not be installed",
        ),
    ]


def environment() -> str:
    """The Python inside .venv; makes .venv if it isn't there or no longer runs."""
    inside = VENV / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    if not inside.exists() or subprocess.run([str(inside), "-c", ""]).returncode:
        if sys.version_info < OLDEST:
            raise SetUpError(
                f"Axletree needs Python {'.'.join(map(str, OLDEST))} or later, and this is "
                f"{platform.python_version()}; name another: make evening PYTHON=python3.12"
            )
        _say(f"making an environment in {VENV.name} with Python {platform.python_version()}")
        _run(
            [sys.executable, "-m", "venv", "--clear", str(VENV)],
            "the environment could not be made (Debian: apt install python3-venv)",
        )
    return str(inside)


def pinned_names(lock: str) -> set[str]:
    """Names of the packages in a lock's text, each once, however many Pythons have their own."""
    return set(re.findall(r"^([A-Za-z0-9._-]+)==", lock, re.MULTILINE))


def _span() -> str:
    return f"{LOCKED[0][0]}.{LOCKED[0][1]} to {LOCKED[-1][0]}.{LOCKED[-1][1]}"


def _say(words: str) -> None:
    print(f"set-up: {words}", flush=True)


def _run(command: list[str], failure: str) -> None:
    if subprocess.run(command, cwd=ROOT).returncode:
        raise SetUpError(f"set-up: {failure}")


def _output(*command: str) -> str:
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
