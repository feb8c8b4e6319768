"""Would a test notice? Small changes of the code, one at a time, and the tests that should fail.

A sample of mutants, seeded, so that a figure can be had in minutes: a comparison turned, a sign
changed, a number moved, a word of logic swapped, a line of result taken away. Each is tried in a
copy of the package with the tests of its floor; what survives is printed with file and line.

python tools/mutate.py pole mount sky [--sample 20] [--seed 1] [--seconds 120]
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "axletree"
# The tests that are meant to hold a floor, quickest first.
TESTS = {
    "pole": ["tests/pole", "tests/outside/test_axis_error_rows.py",
             "tests/outside/test_pole_stars.py"],
    "mount": ["tests/mount", "tests/outside/test_clearance_against_coal.py",
              "tests/outside/test_statics_of_textbooks.py",
              "tests/outside/test_gears_and_rates.py", "tests/hard/test_rooms.py"],
    "sky": ["tests/sky", "tests/outside/test_against_erfa_tests.py",
            "tests/outside/test_against_meeus.py", "tests/outside/test_optics_of_handbooks.py",
            "tests/outside/test_against_refraction_papers.py", "tests/data/test_find.py",
            "tests/outside/test_seeing_faint_things.py", "tests/data"],
}  # fmt: skip
COMPARED = {ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq,
            ast.NotEq: ast.Eq}  # fmt: skip
RECKONED = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
LOGIC = {ast.And: ast.Or, ast.Or: ast.And}


def changes(tree: ast.AST) -> Iterator[tuple[ast.AST, str]]:
    """Every place that can be changed, and what would be changed there."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARED:
            yield node, "comparison turned"
        elif isinstance(node, ast.BinOp) and type(node.op) in RECKONED and not _words(node):
            yield node, "operator swapped"
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            yield node, "minus taken away"
        elif isinstance(node, ast.BoolOp):
            yield node, "and / or swapped"
        elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
            yield node, "number moved"
        elif isinstance(node, ast.If):
            yield node, "condition denied"


def _words(node: ast.BinOp) -> bool:
    return any(isinstance(n, (ast.JoinedStr, ast.Constant)) and isinstance(
        getattr(n, "value", ""), str) for n in (node.left, node.right))  # fmt: skip


def change(node: ast.AST) -> None:
    """Make the change."""
    if isinstance(node, ast.Compare):
        node.ops[0] = COMPARED[type(node.ops[0])]()
    elif isinstance(node, ast.BinOp):
        node.op = RECKONED[type(node.op)]()
    elif isinstance(node, ast.UnaryOp):
        node.op = ast.UAdd()
    elif isinstance(node, ast.BoolOp):
        node.op = LOGIC[type(node.op)]()
    elif isinstance(node, ast.Constant):
        node.value = node.value + 1 if isinstance(node.value, int) else node.value * 1.1 + 0.01
    elif isinstance(node, ast.If):
        node.test = ast.UnaryOp(ast.Not(), node.test)


def places(floor: str) -> list[tuple[Path, int, str]]:
    """File, number of the change within it, and its kind, of a whole floor."""
    found = []
    for file in sorted((PACKAGE / floor).glob("*.py")):
        for number, (_, kind) in enumerate(changes(ast.parse(file.read_text("utf-8")))):
            found.append((file, number, kind))
    return found


def tests_fail(python_path: Path, floor: str, seconds: float) -> bool:
    """Whether the floor's tests notice; running without end counts as noticed."""
    environment = {**os.environ, "PYTHONPATH": str(python_path), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *TESTS[floor]]
    try:
        done = subprocess.run(
            command, cwd=ROOT, env=environment, capture_output=True, timeout=seconds, check=False
        )
    except subprocess.TimeoutExpired:
        return True
    return done.returncode != 0


def main() -> int:
    """Try a sample of each floor's mutants and print those that survive."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("floors", nargs="*", default=list(TESTS))
    parser.add_argument("--sample", type=int, default=20, help="mutants of each floor (20)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=240.0, help="longest run of the tests")
    asked = parser.parse_args()
    for floor in asked.floors:
        every = places(floor)
        chosen = random.Random(asked.seed).sample(every, min(asked.sample, len(every)))
        killed, begun = 0, time.perf_counter()
        for file, number, kind in chosen:
            with tempfile.TemporaryDirectory() as place:
                copy = Path(place) / "axletree"
                shutil.copytree(PACKAGE, copy, ignore=shutil.ignore_patterns("__pycache__"))
                tree = ast.parse(file.read_text("utf-8"))
                node = list(changes(tree))[number][0]
                before, line = ast.unparse(node), getattr(node, "lineno", 0)
                change(node)
                (copy / floor / file.name).write_text(ast.unparse(tree), encoding="utf-8")
                noticed = tests_fail(Path(place), floor, asked.seconds)
            killed += noticed
            if not noticed:
                after = ast.unparse(node)
                print(f"  survived {floor}/{file.name}:{line}: {kind}: "
                      f"{before.splitlines()[0][:60]} -> {after.splitlines()[0][:60]}",
                      flush=True)  # fmt: skip
        took = time.perf_counter() - begun
        print(f"{floor}: {killed} of {len(chosen)} noticed, of {len(every)} possible changes "
              f"({took:.0f} s)", flush=True)  # fmt: skip
    return 0


if __name__ == "__main__":
    sys.exit(main())
