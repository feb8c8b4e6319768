"""Compiled kernels: when they are used, where they are kept, and that nothing needs them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from axletree.kit import kernels
from axletree.kit.errors import AxletreeError

TABLE = "axletree.sky.bulk.table_kernel"
# A table and a map in each way that is given; prints whether the compiler was imported. A way that
# is written WAY= comes from the environment.
WORK = """
import os
import sys
from datetime import UTC, datetime
import numpy as np
from axletree.kit.kit import demo_kit
from axletree.mount.clearance.nearest import bodies
from axletree.mount.clearance.map import clearance_map
from axletree.mount.rig.kinematics import align
from axletree.mount.rig.build import build_rig
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars
from axletree.sky.bulk.night_table import Work, night_table
from axletree.sky.time.instants import Instants
stars = Stars.of(np.linspace(0, 350, 200), np.linspace(-80, 80, 200))
when = Instants.grid(datetime(2026, 12, 5, 18, tzinfo=UTC), count=200, step_s=180.0)
kit = demo_kit("courtyard")
for word in sys.argv[1:]:
    wished, _, given = word.rpartition("=")
    if wished:
        os.environ["AXLETREE_KERNELS"] = wished
    table = night_table(stars, when, Observer(38.57, -7.91, 300.0), work=Work(given))
    found = clearance_map(bodies(build_rig(kit), align(kit.site.latitude_deg)), given)
    print(f"{table.altitude_deg.sum():.4f} {found.distance_m.sum(dtype=float):.9f}")
print("numba" in sys.modules)
"""
# As where the extra isn't installed.
GONE = """
import sys
class Gone:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] == "numba":
            raise ModuleNotFoundError("No module named 'numba'", name=name)
sys.meta_path.insert(0, Gone())
"""


def run(code: str, *words: str, home: Path, **more: str) -> list[str]:
    """What a fresh process with a cache folder of its own prints, by lines."""
    env = {**os.environ, "XDG_CACHE_HOME": str(home), **more}
    done = subprocess.run(
        [sys.executable, "-c", code, *words], env=env, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout.splitlines()


@pytest.fixture(scope="module")
def numpy_answer(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Nor does one table and one map by themselves pay for the import."""
    home = tmp_path_factory.mktemp("unused")
    answer, by_itself, imported = run(WORK, "numpy", "auto", home=home)
    assert imported == "False"
    assert by_itself == answer
    assert list(home.iterdir()) == []
    return answer


def test_everything_works_without_the_extra(tmp_path: Path, numpy_answer: str) -> None:
    # At last wished for by the environment only, so that it is no reason to refuse.
    *answers, imported = run(GONE + WORK, "auto", "numpy", "compiled=auto", home=tmp_path)
    assert (answers, imported) == ([numpy_answer] * 3, "False")


def test_what_cannot_be_had_is_refused_where_it_was_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delitem(sys.modules, TABLE, raising=False)
    monkeypatch.setitem(sys.modules, "numba", None)
    with pytest.raises(AxletreeError, match=r"pip install 'axletree\[fast\]' \(.*numba"):
        kernels.kernel(TABLE, "compiled", 1.0)
    monkeypatch.setenv(kernels.SWITCH, "compiled")
    assert kernels.kernel(TABLE, "auto", 1.0) is None


def test_compiled_code_is_kept_and_read_again(tmp_path: Path, numpy_answer: str) -> None:
    answer, imported = run(WORK, "compiled", home=tmp_path)
    assert (answer, imported) == (numpy_answer, "True")
    kept = kept_in(tmp_path)
    names = {p.name.split("-")[0] for p in kept}
    assert names == {"table_kernel.fill", "map_kernel.fill_all", "map_kernel.fill_cells"}
    assert run(WORK, "compiled", home=tmp_path)[0] == numpy_answer
    assert kept_in(tmp_path) == kept
    # The other tests of these kernels read what was compiled here, each file before its index.
    for path in sorted(kept, key=lambda p: p.suffix):
        there = kernels.cache_folder() / path.relative_to(tmp_path / "axletree")
        there.parent.mkdir(parents=True, exist_ok=True)
        if not there.exists():
            shutil.copy(path, there)


def kept_in(folder: Path) -> dict[Path, int]:
    return {p: p.stat().st_mtime_ns for p in folder.rglob("*.nb?")}


# Every kernel is kept and read by the same lines; this one is compiled in a moment.
SMALL = """
from axletree.kit.kernels import compiled


@compiled()
def total(values):
    found = 0.0
    for value in values:
        found += value
    return found
"""
USED = "import numpy as np, small_kernel; print(small_kernel.total(np.arange(5.0)))"


def test_spoilt_files_are_thrown_away_without_a_word(tmp_path: Path) -> None:
    home = tmp_path / "home"
    (tmp_path / "small_kernel.py").write_text(SMALL)

    def answer() -> list[str]:
        return run(USED, home=home, PYTHONPATH=str(tmp_path))

    assert answer() == ["10.0"]
    kept = sorted(kept_in(home))
    assert [p.suffix for p in kept] == [".nbc", ".nbi"]
    code, index = kept
    code.write_bytes(b"junk\n")  # something else altogether
    index.write_bytes(index.read_bytes()[:200])  # or cut
    spoilt = {p: p.read_bytes() for p in kept}
    assert answer() == ["10.0"]
    assert not any(p.exists() and p.read_bytes() == spoilt[p] for p in kept)
    assert answer() == ["10.0"]
    assert all(p.exists() for p in kept), "not made anew"


def test_a_folder_that_cannot_be_used_stops_nothing(tmp_path: Path) -> None:
    home = tmp_path / "shut"
    home.write_text("")
    beside = tmp_path / "beside"
    beside.mkdir()
    (beside / "small_kernel.py").write_text(SMALL)
    assert run(USED, home=home, PYTHONPATH=str(beside)) == ["10.0"]
    assert {p.name for p in tmp_path.iterdir()} == {"shut", "beside"}
    for shut in (home / "axletree", Path("/proc/nowhere/axletree")):
        assert not kernels._can_write(shut)
    assert kernels._can_write(tmp_path / "open" / "axletree")


def test_when_the_kernels_are_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.delenv(kernels.SWITCH, raising=False)
    monkeypatch.delitem(sys.modules, TABLE, raising=False)

    def used(saved_s: float) -> bool:
        there = TABLE in sys.modules
        found = kernels.kernel(TABLE, "auto", saved_s) is not None
        if found and not there:
            del sys.modules[TABLE]
        return found

    assert not used(0.5)  # less than the import takes
    assert not used(5.0)  # nothing is kept yet: less than compiling takes
    assert used(30.0)
    folder = tmp_path / "axletree" / "sky_0"
    folder.mkdir(parents=True)
    (folder / "table_kernel.fill-160.py311.nbi").write_bytes(b"")
    assert used(5.0)
    assert not used(0.5)
    kernels.kernel(TABLE, "compiled", 0.0)  # loaded now
    assert used(0.5)
    assert not used(0.0001)
    monkeypatch.setenv(kernels.SWITCH, "numpy")
    assert not used(100.0)
    assert kernels.kernel(TABLE, "compiled", 0.0) is not None  # said by the call itself
    monkeypatch.setenv(kernels.SWITCH, "compiled")
    assert used(0.0)
    monkeypatch.setenv(kernels.SWITCH, "fast")
    with pytest.raises(AxletreeError, match="way 'fast' is not one of auto, numpy, compiled"):
        used(100.0)


def test_where_compiled_code_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", "/somewhere")
    assert kernels.cache_folder() == Path("/somewhere/axletree")
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setenv("HOME", "/home/nobody")
    assert kernels.cache_folder() == Path("/home/nobody/.cache/axletree")
