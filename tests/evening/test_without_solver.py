"""With and without the extra `axletree[order]`: the same evening, and no wait for the solver."""

from __future__ import annotations

import subprocess
import sys

import pytest

from axletree.evening.order.candidates import Opening, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.sequence.best import order_stops
from axletree.kit.errors import AxletreeError

# As where the extra isn't installed: neither OR-tools nor what comes with it alone.
GONE = """
import sys
class Gone:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in ("ortools", "pandas", "absl", "google"):
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
sys.meta_path.insert(0, Gone())
"""
# A long list of a fixed seed, its quality, and whether OR-tools was imported.
LONG = """
import sys
import numpy as np
from axletree.evening.order.moving import Handling
from axletree.evening.sequence.best import order_stops
from axletree.evening.order.candidates import Opening, OrderSpan, Target
random = np.random.default_rng(5)
targets = []
for i in range(40):
    low, high = np.sort(random.uniform(0, 18000, 2))
    targets.append(
        Target(str(i), float(random.uniform(20, 100)), 540.0,
             (Opening("east", low, high + 600.0), Opening("west", low + 900.0, high + 1500.0)),
             float(random.uniform(0, 24)), float(random.uniform(-25, 80)))
    )
for effort in ("quick", "auto"):
    order = order_stops(targets, OrderSpan(0.0, 18000.0), Handling(), effort=effort)
    print(effort, [stop.key for stop in order.stops], order.points, order.bound_points)
order = order_stops(targets[:5], OrderSpan(0.0, 18000.0), Handling())
print(order.method, order.proven_best, order.points)
print("ortools" in sys.modules)
"""
EVENING = """
import sys
from axletree.cli import main
words = ["evening", *sys.argv[1:], "--date", "2026-12-05", "--logbook", "none"]
status = main(words)
print(status, "ortools" in sys.modules)
"""


def printed(code: str, *words: str) -> list[str]:
    """What a fresh process prints, by lines."""
    done = subprocess.run(
        [sys.executable, "-c", code, *words], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def test_a_list_is_ordered_alike_with_and_without_the_solver() -> None:
    lines = printed(LONG)
    assert [line.split()[0] for line in lines] == ["quick", "auto", "exact", "False"]
    assert printed(GONE + LONG) == lines


# Two telescopes that share the objects hold what one has, too.
@pytest.mark.parametrize("kits", [("courtyard", "courtyard")])
def test_an_evening_is_planned_alike_with_and_without_the_solver(kits: tuple[str, ...]) -> None:
    lines = printed(EVENING, *kits)
    assert lines[-1] == "0 False"
    assert len(lines) > 20
    assert printed(GONE + EVENING, *kits) == lines


def test_the_solver_is_refused_where_it_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "ortools", None)
    monkeypatch.setitem(sys.modules, "ortools.constraint_solver", None)
    targets = [
        Target(str(i), 50.0 + i, 600.0, (Opening("east", 0.0, 9000.0),), float(i), 20.0)
        for i in range(12)
    ]
    session = OrderSpan(0.0, 5400.0)
    with pytest.raises(AxletreeError, match=r"pip install 'axletree\[order\]' \(.*ortools"):
        order_stops(targets, session, Handling(), effort="solver")
    # A short list needs none: its order is proven by trying.
    assert order_stops(targets[:6], session, Handling(), effort="solver").proven_best


def test_the_solver_is_asked_where_it_is_there() -> None:
    lines = printed(LONG.replace('"auto"', '"solver"'))
    assert lines[-1] == "True"
    assert [line.split()[0] for line in lines[:2]] == ["quick", "solver"]
