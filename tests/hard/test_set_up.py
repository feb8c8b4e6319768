"""The set-up takes the locks where they fit, and the locks fit every Python that it names."""

from __future__ import annotations

import importlib.util
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
LOCKS = sorted(ROOT.glob("requirements*.lock"))


@pytest.fixture(scope="module")
def tool():
    spec = importlib.util.spec_from_file_location("set_up", ROOT / "tools" / "set_up.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["set_up"] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("purpose", ["run", "test"])
def test_a_python_that_the_locks_fit_gets_hashed_packages_only(tool, purpose):
    for version in tool.LOCKED:
        *packages, itself = tool.steps(purpose, "CPython", (*version, 0), from_lock=True)
        assert len(packages) == 2
        for step in packages:
            assert "--require-hashes" in step.pip
            assert (ROOT / step.pip[-1]).is_file()
        assert packages[-1].pip[-1] == tool.LOCKS[purpose]
        assert "--no-index" in itself.pip  # nothing more is fetched for Axletree itself


@pytest.mark.parametrize(
    ("maker", "version", "from_lock", "why"),
    [
        ("CPython", (3, 15, 0), True, "made for CPython 3.11 to 3.14, this is CPython 3.15.0"),
        ("PyPy", (3, 11, 2), True, "made for CPython 3.11 to 3.14, this is PyPy 3.11.2"),
        ("CPython", (3, 12, 1), False, "unhashed (as asked)"),
    ],
)
def test_any_other_gets_the_open_installation_and_is_told_why(tool, maker, version, from_lock, why):
    (step,) = tool.steps("test", maker, version, from_lock=from_lock)
    assert why in step.words
    assert step.pip == ["-e", ".[test]"]


@pytest.mark.parametrize("word", ["fly", "--fly"])
def test_an_unknown_purpose_is_answered_in_a_sentence(word):
    asked = [sys.executable, str(ROOT / "tools" / "set_up.py"), "test", word]
    done = subprocess.run(asked, capture_output=True, text=True)
    assert done.returncode == 1
    assert done.stderr.startswith(f"set-up: '{word}' is nothing to make .venv ready for: say run")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("word", ["-h", "--help"])
def test_help_says_what_it_can_do_and_does_nothing(word):
    asked = [sys.executable, str(ROOT / "tools" / "set_up.py"), word]
    done = subprocess.run(asked, capture_output=True, text=True)
    assert done.returncode == 0
    assert not done.stderr
    assert "set_up.py run " in done.stdout
    assert "set-up:" not in done.stdout


def test_too_old_a_python_is_refused_in_a_sentence(tool, tmp_path, monkeypatch):
    monkeypatch.setattr(tool, "VENV", tmp_path / "none")
    monkeypatch.setattr(tool, "OLDEST", (99, 0))
    with pytest.raises(tool.SetUpError, match=r"needs Python 99\.0 or later, and this is"):
        tool.environment()
    assert not (tmp_path / "none").exists()


def test_the_pythons_of_the_locks_are_those_of_the_project(tool):
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["requires-python"] == ">=" + ".".join(map(str, tool.OLDEST))
    assert tool.LOCKED[0] == tool.OLDEST


@pytest.mark.parametrize("lock", LOCKS, ids=lambda f: f.name)
@pytest.mark.parametrize("system", ["linux", "darwin", "win32"])
def test_every_python_finds_each_package_once_at_most(tool, lock, system):
    """The conditions are read by `packaging`, as pip reads them."""
    lines = re.findall(
        r"^([A-Za-z0-9._-]+==[^\\\n]*)", lock.read_text(encoding="utf-8"), re.MULTILINE
    )
    assert lines
    for major, minor in tool.LOCKED:
        here = {
            "python_version": f"{major}.{minor}",
            "python_full_version": f"{major}.{minor}.1",
            "sys_platform": system,
            "platform_python_implementation": "CPython",
            "implementation_name": "cpython",
        }
        found: dict[str, int] = {}
        for requirement in map(Requirement, lines):
            holds = requirement.marker is None or requirement.marker.evaluate(here)
            found[requirement.name] = found.get(requirement.name, 0) + holds
        assert max(found.values()) == 1
        absent = {name for name, times in found.items() if not times}
        # What is for some systems or some Pythons only, and for none of ours must not be many.
        assert absent <= {"colorama", "h3", "pywin32", "tzdata"}, absent


@pytest.mark.parametrize("lock", LOCKS, ids=lambda f: f.name)
def test_no_lock_names_where_packages_come_from(lock):
    text = lock.read_text(encoding="utf-8")
    assert "://" not in text
    assert "--index" not in text
    assert "--find-links" not in text


def test_help_names_every_habit_of_the_makefile():
    text = (ROOT / "Makefile").read_text(encoding="utf-8")
    habits = set(re.findall(r"^([a-z]+):", text, re.MULTILINE))
    assert len(habits) > 15
    said = subprocess.run(["make"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    named = set(re.findall(r"^  make ([a-z]+) +\S", said, re.MULTILINE))
    assert named == habits
    phony = re.search(r"^\.PHONY: (.*)$", text, re.MULTILINE)
    assert phony is not None
    assert set(phony[1].split()) == habits
