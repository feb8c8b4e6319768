"""Dependencies: declared, pinned, hashed, licensed; found by a tool that needs no network."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest
from watchman import on_watch

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def tool():
    spec = importlib.util.spec_from_file_location(
        "check_dependencies", ROOT / "tools" / "check_dependencies.py"
    )
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_nothing_is_wrong_with_the_dependencies(tool):
    with on_watch(ROOT) as watch:
        assert tool.problems() == []
    assert watch.seen == []


def test_what_is_wrong_is_seen(tool, tmp_path, monkeypatch):
    text = tool.LOCK.read_text(encoding="utf-8")
    other = tmp_path / "requirements.lock"
    monkeypatch.setattr(tool, "LOCK", other)
    for spoilt, words in (
        (text.replace("\nnumpy==", "\nnumpy>="), "numpy is not pinned"),
        (text.replace("--hash=sha256:", "--hash=md5:"), "numpy has no SHA-256 hash"),
        (text.replace("\nnumpy==", "\nnump=="), "numpy is missing"),
        (text.replace("\nstarlette==", "\nstarlett=="), "starlette, needed by fastapi"),
    ):
        other.write_text(spoilt, encoding="utf-8")
        assert any(words in line for line in tool.problems_of_locks()), words


def test_what_is_wrong_with_the_extra_is_seen(tool, tmp_path, monkeypatch):
    text = tool.EXTRA_LOCKS["fast"].read_text(encoding="utf-8")
    other = tmp_path / "requirements-fast.lock"
    monkeypatch.setitem(tool.EXTRA_LOCKS, "fast", other)
    for spoilt, words in (
        (text.replace("numba==", "numba>="), "numba is not pinned"),
        (text.replace("numba==", "numbat=="), "numba is missing from requirements-fast.lock"),
        (text.replace("llvmlite==", "llvm=="), "llvmlite, needed by numba"),
        (text.replace("numpy==", "numpy==0."), "numpy is pinned to another version"),
    ):
        other.write_text(spoilt, encoding="utf-8")
        assert any(words in line for line in tool.problems_of_locks()), words
    monkeypatch.delitem(tool.EXTRA_LOCKS, "fast")
    assert "the extra fast has no lock of its own" in tool.problems_of_locks()


def test_what_is_wrong_with_the_lock_of_the_tests_is_seen(tool, tmp_path, monkeypatch):
    text = tool.EXTRA_LOCKS["test"].read_text(encoding="utf-8")
    other = tmp_path / "requirements-test.lock"
    monkeypatch.setitem(tool.EXTRA_LOCKS, "test", other)
    for package, instead, words in (
        ("skyfield==", "skyfield>=", "skyfield is not pinned"),
        ("skyfield==", "skyfeld==", "skyfield is missing from requirements-test.lock"),
        ("sgp4==", "sgp5==", "sgp4, needed by skyfield"),
        ("rich==", "rich==0.", "rich is pinned to another version in requirements.lock"),
        ("hatchling==", "hatchling==0.", "another version in requirements-build.lock"),
    ):
        spoilt = text.replace(f"\n{package}", f"\n{instead}")
        assert spoilt != text
        other.write_text(spoilt, encoding="utf-8")
        assert any(words in line for line in tool.problems_of_locks()), words


def test_a_package_pinned_once_for_each_python_counts_with_its_worst_line(tool):
    digest = "a" * 64
    first = f"numpy==2.4 ; python_full_version < '3.12' --hash=sha256:{digest}"
    second = f"numpy==2.5 ; python_full_version >= '3.12' --hash=sha256:{digest}"
    assert tool.locked(f"{first}\n{second}\n") == {"numpy": ("2.4 2.5", 1)}
    assert tool.locked(f"{first}\n{second.split(' --')[0]}\n") == {"numpy": ("2.4 2.5", 0)}
    assert tool.locked(f"{first.replace('==', '>=')}\n{second}\n") == {"numpy": ("", 1)}


def test_an_extra_is_imported_inside_of_functions_only(tool, tmp_path, monkeypatch):
    source = tmp_path / "src"
    source.mkdir()
    monkeypatch.setattr(tool, "ROOT", tmp_path)
    for code, wrong in (
        ("import numba\n", True),
        ("try:\n    import numba\nexcept ImportError:\n    numba = None\n", True),
        ("def f():\n    import numba\n", False),
    ):
        (source / "a.py").write_text(code)
        found = tool.import_problems(set(), {"numba"}, set())
        assert any("numba is an extra, and a.py" in line for line in found) == wrong


def test_imports_are_found_with_their_files(tool, tmp_path):
    (tmp_path / "a.py").write_text("import scipy.stats\ndef f():\n    from astropy import units\n")
    assert tool.imported(tmp_path) == {"scipy": {"a.py"}, "astropy": {"a.py"}}
