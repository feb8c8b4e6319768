"""One home for the version: the package says it, everything else reads it there."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from importlib import metadata
from pathlib import Path

import pytest

import axletree

ROOT = Path(__file__).parents[2]


def test_python_m_runs_the_same_commands(tmp_path: Path) -> None:
    said = subprocess.run(
        [sys.executable, "-m", "axletree", "--version"],
        capture_output=True, text=True, check=True, cwd=tmp_path,
    )  # fmt: skip
    assert said.stdout == f"axletree {axletree.__version__}\n"


def test_python_m_hands_the_exit_status_on(tmp_path: Path) -> None:
    said = subprocess.run(
        [sys.executable, "-m", "axletree", "spot", "--kit", "nowhere.toml"],
        capture_output=True, text=True, cwd=tmp_path,
    )  # fmt: skip
    assert said.returncode == 2
    assert "nowhere.toml" in said.stderr


def test_the_version_stands_in_one_place_only() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert "version" not in project["project"]
    assert project["project"]["dynamic"] == ["version"]
    home = ROOT / project["tool"]["hatch"]["version"]["path"]
    assert home == ROOT / "src" / "axletree" / "__init__.py"
    stated = re.compile(rf'["\']{re.escape(axletree.__version__)}["\']')
    holders = [
        file
        for folder in ("src", "tools", "tests", "benchmarks")
        for file in (ROOT / folder).rglob("*.py")
        if stated.search(file.read_text(encoding="utf-8"))
    ]
    assert holders == [home]


def test_what_is_installed_says_the_same() -> None:
    try:
        installed = metadata.version("axletree")
    except metadata.PackageNotFoundError:
        pytest.skip("axletree is not installed here")
    assert installed == axletree.__version__
