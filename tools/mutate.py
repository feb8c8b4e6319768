"""Would a test notice? One small change of the code at a time, and the tests that reach its line.

First every test runs once in a process of its own, with coverage.py watching: which lines it
reaches, and how long it takes. Then each change of a seeded sample is tried with the tests that
reach its line, until one fails: the quick ones first, and those that reach little else. What runs
while a module is loaded (constants, defaults) is tried with the tests that reach its module or one
that imports it. A change that no test reaches has survived; a test without end has noticed.

Fork makes it fast: the libraries are loaded once, and the tests are collected once. A change
inside a function is put into the loaded functions of a forked child; a change of what runs at
loading goes to a child that loads axletree anew. Ready-made tools (mutmut, cosmic-ray) were left:
they start an interpreter for each change, or rewrite the source tree in which others work.

python tools/mutate.py pole mount sky axis find [--sample 350 | --whole] [--seed 1] [--only LIST]
"""

from __future__ import annotations

import argparse
import ast
import gc
import hashlib
import importlib
import math
import os
import pickle
import random
import resource
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, TextIO

import coverage
import pytest

from changes import PACKAGE, Change, changed, changes_in

ROOT = PACKAGE.parents[1]
OUT = ROOT / "out" / "mutants"
EXPLAINED = Path(__file__).with_name("no_difference.txt")
TESTS = ["tests/pole", "tests/mount", "tests/sky", "tests/outside", "tests/data", "tests/kit",
         "tests/ground", "tests/drawings", "tests/commands", "tests/axis", "tests/find",
         "tests/hard/test_rooms.py"]  # fmt: skip
LIBRARIES = ["numpy", "erfa", "scipy.optimize", "scipy.spatial.transform", "scipy.stats",
             "astropy.coordinates", "astropy.time", "skyfield.api", "hypothesis", "pydantic",
             "jplephem.spk", "coal", "rich.console"]  # fmt: skip
MEMORY = 8 << 30  # bytes; a moved number may ask for any amount
LOADING = "while loading"
LONGEST_LOADING_S = 120
SAY = os.fdopen(os.dup(1), "w")  # pytest's own words go to nowhere, and file 1 with them


@dataclass
class Reach:
    """Which lines each test reaches (test -> file -> lines), and its seconds.

    One entry of `lines` tells what runs at loading. `marks` says for which state of the code and
    of each test file that holds.
    """

    lines: dict[str, dict[str, set[int]]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)
    marks: dict[str, str] = field(default_factory=dict)

    def tests_for(self, change: Change, users: dict[str, set[str]]) -> tuple[list[str], bool]:
        """The tests to try, quickest and most direct first; whether to load axletree anew.

        Of what runs at loading nobody can tell which tests depend on it: those come first that
        reach the same line again, or one that speaks of the constant or the function.
        """
        file, loading = str(change.file), self.lines[LOADING]
        run = set().union(*(files.get(file, set()) for files in self.lines.values()))
        spots = {change.line} & run or set(change.span)
        near, wide = {file: spots}, {file: spots}
        if anew := bool(spots & loading.get(file, set())):
            wanted = {file} | users.get(file, set())
            near = {f: (spots if f == file else set()) | spoken_of(change, f) for f in wanted}
            wide = {f: set().union(*(t.get(f, set()) for t in self.lines.values()))
                    - loading.get(f, set()) for f in wanted}  # fmt: skip
        order = []
        for test, files in self.lines.items():
            if test == LOADING:
                continue
            close, reached = (any(files.get(f, set()) & lines[f] for f in lines)
                              for lines in (near, wide))  # fmt: skip
            if anew and (own := str(ROOT / test.split("::")[0])) in near:
                # A test that imports the module may read its constants without a function.
                close, reached = close or bool(near[own]), True
            if close or reached:
                order.append((not close, self.seconds[test] * len(files), test))
        return [test for _, _, test in sorted(order)], anew


@cache
def tree_of(file: str) -> ast.Module:
    """A file's tree, read once."""
    return ast.parse(Path(file).read_text("utf-8"))


def spoken_of(change: Change, file: str) -> set[int]:
    """Lines of a file that speak of what the changed line sets, or of the function it begins."""
    names, lines = set(), set()
    for node in ast.walk(tree_of(str(change.file))):
        if isinstance(node, ast.FunctionDef) and node.lineno <= change.line < node.body[0].lineno:
            names.add(node.name)
            if file == str(change.file):
                lines = set(range(node.body[0].lineno, (node.end_lineno or 0) + 1))
        elif isinstance(node, ast.Assign | ast.AnnAssign) and node.lineno in change.span:
            names |= {n.id for n in ast.walk(node) if isinstance(n, ast.Name)
                      and isinstance(n.ctx, ast.Store)}  # fmt: skip
    return lines | {n.lineno for n in ast.walk(tree_of(file))
                    if getattr(n, "id", getattr(n, "attr", None)) in names}  # fmt: skip


def in_child(work: Callable[[], Any]) -> Any:
    """What `work` returns in a forked process; None if that died or was stopped by its alarm."""
    out, into = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(out)
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            with os.fdopen(into, "wb") as pipe:
                pickle.dump(work(), pipe)
        finally:
            os._exit(0)
    os.close(into)
    with os.fdopen(out, "rb") as pipe:
        answer = pipe.read()
    os.waitpid(child, 0)
    return pickle.loads(answer) if answer else None


class Host:
    """A pytest plugin that hands the collected tests to `work` in place of running them."""

    def __init__(self, work: Callable[[pytest.Session, dict[str, pytest.Item]], Any]) -> None:
        self.work, self.answer = work, None

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.answer = self.work(session, {item.nodeid: item for item in session.items})
        return True


def hosted(work: Callable[[pytest.Session, dict[str, pytest.Item]], Any], paths: list[str]) -> Any:
    """What `work` answers, given the tests collected from `paths`."""
    from hypothesis import Phase, settings

    settings.register_profile("steady", derandomize=True, database=None,
                              phases=[Phase.explicit, Phase.generate])  # fmt: skip
    settings.load_profile("steady")
    host = Host(work)
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)
    options = ["-q", *(f"-pno:{name}" for name in ("cacheprovider", "xdist", "cov"))]
    pytest.main([*options, "-m", "not browser", *paths], plugins=[host])
    return host.answer


def first_failure(session: pytest.Session, items: Sequence[pytest.Item],
                  seconds: dict[str, float]) -> str:  # fmt: skip
    """The first test that fails, or nothing; a test that runs far too long ends the process."""
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    for item, after in zip(items, [*items[1:], None], strict=True):
        signal.setitimer(signal.ITIMER_REAL, 10 + 10 * seconds.get(item.nodeid, 60))
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        if session.testsfailed:
            return item.nodeid
    return ""


# --- What reaches what ------------------------------------------------------------------------


def watching() -> coverage.Coverage:
    """Coverage of the package, kept in memory."""
    return coverage.Coverage(data_file=None, config_file=False, include=[f"{PACKAGE}/*"])


def seen(watch: coverage.Coverage) -> dict[str, set[int]]:
    """File -> lines that were run."""
    data = watch.get_data()
    return {file: set(data.lines(file) or ()) for file in data.measured_files()}


def reach(known: Reach, marks: dict[str, str], paths: list[str],
          limit: float) -> tuple[Reach, list[str]]:  # fmt: skip
    """Runs each test once, in a process of its own so that no cache hides a line.

    Tests whose file and code are as before are known already. Returns also the names of the new.
    One that takes longer than the limit and 10 s would never be tried: it reaches nothing.
    """
    loading = watching()

    def trace(session: pytest.Session, item: pytest.Item) -> tuple[str, float, Any]:
        watch, begun = watching(), time.perf_counter()
        watch.start()
        failed = first_failure(session, [item], {item.nodeid: limit / 10})
        watch.stop()
        return failed, time.perf_counter() - begun, seen(watch)

    def work(session: pytest.Session, items: dict[str, pytest.Item]) -> tuple[Reach, list[str]]:
        loading.stop()
        found, new = Reach({LOADING: seen(loading)}, marks=marks), []
        gc.freeze()
        for name, item in items.items():
            file = name.split("::")[0]
            if name in known.lines and known.marks.get(file) == marks[file]:
                found.lines[name], found.seconds[name] = known.lines[name], known.seconds[name]
                continue
            answer = in_child(lambda item=item: trace(session, item))
            failed, seconds, lines = answer or ("", math.inf, {})
            if answer is None:
                print(f"left out, too slow: {name}", file=SAY, flush=True)
            elif failed:
                print(f"left out, fails without any change: {name}", file=SAY, flush=True)
                continue
            found.lines[name], found.seconds[name] = lines, seconds
            if answer:
                new.append(name)
        return found, new

    loading.start()
    return hosted(work, paths)


def kept_reach(say: TextIO, asked: argparse.Namespace) -> Reach:
    """The map of reach, brought up to date with code and tests, and kept for the next run."""
    paths, limit = asked.tests, asked.seconds
    kept, begun = OUT / f"reach_{limit:g}_s.pickle", time.perf_counter()
    code = b"".join(f.read_bytes() for f in sorted(PACKAGE.rglob("*.py")))
    marks = {}
    for file in (ROOT / "tests").rglob("test_*.py"):
        beside = [f for f in sorted(file.parent.glob("*.py")) if not f.name.startswith("test_")]
        text = code + b"".join(f.read_bytes() for f in [file, *beside])
        marks[str(file.relative_to(ROOT))] = hashlib.sha256(text).hexdigest()
    known = pickle.loads(kept.read_bytes()) if kept.exists() else Reach()
    found, new = in_child(lambda: reach(known, marks, paths, limit))
    names = sorted(new, key=found.seconds.__getitem__)
    if names and not asked.unchecked:
        # Without a change nothing may fail, in this order of the tests, either way.
        failed = in_child(lambda: hosted(lambda session, items: first_failure(
            session, [items[n] for n in names], found.seconds), paths))  # fmt: skip
        if failed != "" or (failed := tried_anew(None, names, found)) != "":
            raise SystemExit(f"fails without any change: {failed}")
    others = [n for n in known.seconds if n not in found.seconds
              and known.marks.get(n.split("::")[0]) == marks.get(n.split("::")[0])]  # fmt: skip
    kept.write_bytes(pickle.dumps(Reach(
        found.lines | {n: known.lines[n] for n in others},
        found.seconds | {n: known.seconds[n] for n in others}, marks)))  # fmt: skip
    again = "" if asked.unchecked else " and run unchanged together"
    print(f"{len(found.seconds)} tests, {len(names)} mapped{again} "
          f"({time.perf_counter() - begun:.0f} s)", file=say, flush=True)  # fmt: skip
    return found


def users() -> dict[str, set[str]]:
    """File of a module -> files that import it, tests among them."""
    found: dict[str, set[str]] = {}
    for file in [*PACKAGE.rglob("*.py"), *(ROOT / "tests").rglob("*.py")]:
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom) and node.module:
                names = [node.module, *(f"{node.module}.{a.name}" for a in node.names)]
            for name in names:
                found.setdefault(f"{PACKAGE.parent / name.replace('.', '/')}.py", set()).add(
                    str(file)
                )
    return found


# --- Trying a change --------------------------------------------------------------------------


class Changed(SourceFileLoader, MetaPathFinder):
    """Loads one module of the package from a changed tree."""

    def __init__(self, change: Change) -> None:
        parts = change.file.relative_to(PACKAGE.parent).with_suffix("").parts
        super().__init__(".".join(parts), str(change.file))
        self.change = change

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        """Only the one module."""
        return spec_from_file_location(name, self.path, loader=self) if name == self.name else None

    def get_code(self, fullname: str) -> CodeType:
        """The changed code, past any cached one."""
        return compile(changed(self.change), self.path, "exec")


def codes(code: CodeType) -> Iterator[CodeType]:
    """The code of a module and of everything within it."""
    yield code
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield from codes(constant)


def put_in(change: Change, functions: dict[str, list[FunctionType]]) -> None:
    """Gives the loaded functions of a module the changed code; a module not loaded yet, later."""
    loader = Changed(change)
    if loader.name not in sys.modules:
        sys.meta_path.insert(0, loader)
        return
    old = codes(compile(change.file.read_text("utf-8"), loader.path, "exec"))
    pairs = [(o, n) for o, n in zip(old, codes(loader.get_code("")), strict=True) if o != n]
    put = 0
    for function in functions[loader.path]:
        for before, after in pairs:
            if function.__code__ == before:
                function.__code__, put = after, put + 1
                break
    if not put:
        raise LookupError(f"no function to change: {change.name}")


def tried_anew(change: Change | None, tests: Sequence[str], known: Reach) -> str | None:
    """The first test that fails when axletree is loaded with a change; None if the process died.

    First those of the first four files: to collect the others takes seconds.
    """
    files = list(dict.fromkeys(test.split("::")[0] for test in tests))
    first = set(files[:4] if change else files)
    for part in (first, set(files) - first):
        failed = loaded_anew(change, [t for t in tests if t.split("::")[0] in part], known)
        if failed != "":
            return failed
    return ""


def loaded_anew(change: Change | None, tests: Sequence[str], known: Reach) -> str | None:
    """The same, for all these tests at once."""
    if not tests:
        return ""

    def work(session: pytest.Session, items: dict[str, pytest.Item]) -> str:
        if session.testsfailed:
            return LOADING
        return first_failure(session, [items[t] for t in tests if t in items], known.seconds)

    def child() -> str:
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.alarm(LONGEST_LOADING_S)  # each test then sets its own
        if change:
            sys.meta_path.insert(0, Changed(change))
        answer = hosted(work, sorted({test.split("::")[0] for test in tests}))
        return LOADING if answer is None else answer

    return in_child(child)


def tried_in_place(chosen: Sequence[tuple[Change, list[str]]], known: Reach, paths: list[str],
                   tell: Callable[[Change, str | None], None]) -> None:  # fmt: skip
    """Tries changes inside functions, each in a fork of a process that has collected the tests."""

    def one(session: pytest.Session, items: list[pytest.Item], change: Change,
            functions: dict[str, list[FunctionType]]) -> str:  # fmt: skip
        put_in(change, functions)
        return first_failure(session, items, known.seconds)

    def work(session: pytest.Session, items: dict[str, pytest.Item]) -> bool:
        functions: dict[str, list[FunctionType]] = {}
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType):
                functions.setdefault(thing.__code__.co_filename, []).append(thing)
        gc.freeze()
        for change, tests in chosen:
            mine = [items[test] for test in tests]
            tell(change, in_child(lambda c=change, m=mine: one(session, m, c, functions)))
        return True

    in_child(lambda: hosted(work, paths))


def try_all(floor: str, chosen: Sequence[Change], known: Reach, asked: argparse.Namespace,
            say: TextIO) -> None:  # fmt: skip
    """Tries changes and prints those that no test notices."""
    begun, used, explained = time.perf_counter(), users(), explanations()
    log = OUT / f"{floor}.txt"
    log.unlink(missing_ok=True)

    def tell(change: Change, failed: str | None, words: str = "survived") -> None:
        verdict = words if failed == "" else "noticed"
        if verdict != "noticed" and change.name in explained:
            verdict = "explained"
        with log.open("a", encoding="utf-8") as file:
            print(verdict, change.line, change.name, failed or "", sep=" | ", file=file)

    in_place, anew_later = [], []
    for change in chosen:
        tests, anew = known.tests_for(change, used)
        while tests and sum(known.seconds[t] for t in tests) > asked.seconds:
            tests.pop()
        if not tests:
            tell(change, "", "unreached")
        else:
            (anew_later if anew else in_place).append((change, tests))
    tried_in_place(in_place, known, asked.tests, tell)
    for change, tests in anew_later:
        tell(change, tried_anew(change, tests, known))
    report(floor, log, len(chosen), time.perf_counter() - begun, say)


def explanations() -> set[str]:
    """The names of changes that make no difference, of the list beside this file."""
    lines = EXPLAINED.read_text("utf-8").splitlines() if EXPLAINED.exists() else []
    return {line for line in lines if line and not line.startswith("#")}


def report(floor: str, log: Path, tried: int, seconds: float, say: TextIO) -> None:
    """Prints what survived and the share that was noticed, with Wilson's 95 % interval."""
    lines = sorted(log.read_text("utf-8").splitlines())
    count = {w: sum(line.startswith(w) for line in lines)
             for w in ("noticed", "explained", "survived", "unreached")}  # fmt: skip
    if sum(count.values()) != tried:
        raise SystemExit(f"{floor}: {tried} changes, {sum(count.values())} answers")
    for line in lines:
        if line.startswith(("survived", "unreached")):
            print(f"  {line}", file=say)
    share, z = count["noticed"] / tried, 1.96
    middle = (share + z * z / (2 * tried)) / (1 + z * z / tried)
    half = z / (1 + z * z / tried) * math.sqrt(share * (1 - share) / tried
                                               + z * z / (4 * tried * tried))  # fmt: skip
    print(f"{floor}: {tried} changes tried, {count['noticed']} noticed ({100 * share:.1f} %, "
          f"95 % between {100 * (middle - half):.0f} and {100 * (middle + half):.0f}), "
          f"{count['explained']} explained, {count['survived']} survived, "
          f"{count['unreached']} at lines that no test reaches ({seconds:.0f} s)",
          file=say, flush=True)  # fmt: skip


def main() -> None:
    """Tries a sample of each floor's changes and prints those that survive."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("floors", nargs="+", metavar="floor")
    parser.add_argument("--sample", type=int, default=350, help="changes of each floor (350)")
    parser.add_argument("--whole", action="store_true", help="every change")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=60, help="of tests for one change (60)")
    parser.add_argument("--tests", nargs="+", default=TESTS, help="folders of tests to try")
    parser.add_argument(
        "--unchecked",
        action="store_true",
        help="run the unchanged code only test by test, not in the trials' order",
    )
    parser.add_argument("--only", type=Path, help="a list as in out/mutants: only what survived")
    asked = parser.parse_args()
    say = os.fdopen(os.dup(1), "w")
    os.chdir(ROOT)
    OUT.mkdir(parents=True, exist_ok=True)
    sys.path.insert(0, str(PACKAGE.parent))
    os.environ["PYTHONPATH"] = str(PACKAGE.parent)
    sys.dont_write_bytecode, sys.pycache_prefix = False, str(OUT / "compiled")
    os.environ["HYPOTHESIS_STORAGE_DIRECTORY"] = tempfile.mkdtemp(prefix="mutants-")
    for library in LIBRARIES:
        importlib.import_module(library)
    known = kept_reach(say, asked)
    for floor in asked.floors:
        every = [c for f in sorted((PACKAGE / floor).rglob("*.py")) for c in changes_in(f)]
        chosen = every
        if asked.only:
            again = {line.split(" | ", 2)[2].rsplit(" | ", 1)[0]
                     for line in asked.only.read_text("utf-8").splitlines()
                     if line.startswith(("survived", "unreached"))}  # fmt: skip
            chosen = [c for c in every if c.name in again]
        elif not asked.whole:
            chosen = random.Random(asked.seed).sample(every, min(asked.sample, len(every)))
        print(f"{floor}: {len(every)} possible changes", file=say, flush=True)
        if chosen:
            try_all(floor, chosen, known, asked, say)


if __name__ == "__main__":
    main()
