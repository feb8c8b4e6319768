"""Where a run's processor time goes: sums by file, by test and by fixture.

  python -m pytest -p spent -n 2 --dist loadfile tests/app        (with tests/ on PYTHONPATH)

`make slowest` does it for every test, or for FOLDER=tests/app. Counted is what the test's own
process spends, what its finished children spent, and, where a browser is used, what all living
children spend: unlike the clock's time it hardly depends on what else the machine does.
"""

from __future__ import annotations

import json
import os
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Generator
from pathlib import Path
from typing import Any

import pytest

FOLDER = "AXLETREE_SPENT"
SHOWN = 40
IN_A_BROWSER = {"playwright", "browser", "live"}
TICKS_PER_S = os.sysconf("SC_CLK_TCK")


class Meter:
    """Processor seconds of this process and its children; `deep` looks at the living ones too."""

    deep = False

    def seconds(self) -> float:
        own = os.times()
        spent = own.user + own.system + own.children_user + own.children_system
        return spent + (_of_the_living() if self.deep else 0.0)


METER = Meter()


def _of_the_living() -> float:
    """Of all processes below this one, by Linux's /proc (proc_pid_stat(5), fields 4, 14 to 17)."""
    parent, spent = {}, {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:  # it ended meanwhile
            continue
        one = int(stat.parent.name)
        parent[one], spent[one] = int(fields[1]), sum(map(int, fields[11:15])) / TICKS_PER_S
    total = 0.0
    for one, seconds in spent.items():
        above = one
        while above in parent and parent[above] != os.getpid():
            above = parent[above]
        total += seconds if above in parent else 0.0
    return total


def _measured(kind: str, name: str) -> Generator[None, Any, Any]:
    before, began = METER.seconds(), time.perf_counter()
    outcome = yield
    # A browser that ended takes its count along.
    spent = max(METER.seconds() - before, 0.0)
    line = [kind, name, spent, time.perf_counter() - began]
    with (Path(os.environ[FOLDER]) / f"{os.getpid()}.jsonl").open("a", encoding="utf-8") as file:
        file.write(json.dumps(line) + "\n")
    return outcome


def pytest_configure() -> None:
    os.environ.setdefault(FOLDER, tempfile.mkdtemp(prefix="axletree-spent-"))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_setup(item: pytest.Item) -> Generator[None, Any, Any]:
    METER.deep = bool(IN_A_BROWSER & set(getattr(item, "fixturenames", ())))
    return (yield from _measured("test", item.nodeid))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Generator[None, Any, Any]:
    return (yield from _measured("test", item.nodeid))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item: pytest.Item) -> Generator[None, Any, Any]:
    return (yield from _measured("test", item.nodeid))


@pytest.hookimpl(wrapper=True)
def pytest_fixture_setup(fixturedef: Any) -> Generator[None, Any, Any]:
    name = f"{fixturedef.baseid}::{fixturedef.argname} ({fixturedef.scope})"
    return (yield from _measured("fixture", name))


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, Any, Any]:
    return (yield from _measured("collection", "collection"))


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """The sums of all processes of this run, the largest first."""
    spent: dict[str, Counter[str]] = defaultdict(Counter)
    times: Counter[str] = Counter()
    for path in Path(os.environ[FOLDER]).glob("*.jsonl"):
        for line in path.read_text(encoding="utf-8").splitlines():
            kind, name, seconds, _ = json.loads(line)
            spent[kind][name] += seconds
            times[name] += 1
            if kind == "test":
                spent["file"][name.split("::")[0]] += seconds
    say = terminalreporter.write_line
    whole = sum(spent["test"].values()) + sum(spent["collection"].values())
    say(f"{whole:.0f} s of the processor, {sum(spent['collection'].values()):.0f} s collecting")
    for kind in ("file", "test", "fixture"):
        say(f"-- by {kind}")
        for name, seconds in spent[kind].most_common(SHOWN):
            made = f" ({times[name]} times)" if kind == "fixture" else ""
            say(f"{seconds:8.1f} s  {name}{made}")
