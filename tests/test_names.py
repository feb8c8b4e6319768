"""One class name has one meaning, and no function takes a crowd of parameters.

What stands in the lists below is left from before and may only become less: a name that is
single again, or a function that takes fewer, has to leave its list.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "axletree"
MOST_PARAMETERS = 7
Function = ast.FunctionDef | ast.AsyncFunctionDef

SAME_NAME: dict[str, int] = {
    "Frame": 2,
    "Outline": 2,
    "Run": 2,
    "Tick": 2,
    "View": 2,
    "Windows": 2,
}

CROWDED: dict[str, int] = {
    "app.night.evening_run:_go": 9,
    "evening.objects.choosing:_candidate": 10,
    "evening.objects.choosing:choose_candidates": 8,
    "evening.seeing.eyepiece:best_view": 8,
    "evening.stops.placing:_target": 8,
    "logbook.store:add_stop": 8,
    "mount.clearance.map_kernel:_leave": 9,
    "mount.clearance.map_kernel:_put_nearer": 8,
    "mount.clearance.map_kernel:_squared": 8,
    "sky.bulk.night_table:night_blocks": 8,
    "sky.bulk.night_table:night_table": 8,
    "sky.bulk.table_kernel:_fill_horizon": 8,
    "sky.bulk.table_kernel:fill": 9,
    "tell.point.drawing:_staff": 9,
    "tell.shared.rig_side:draw_rods": 8,
    "tell.shared.sheet:text": 9,
}


def _trees() -> dict[str, ast.Module]:
    files = sorted(SOURCE.rglob("*.py"))
    return {
        ".".join(file.relative_to(SOURCE).with_suffix("").parts): ast.parse(
            file.read_text(encoding="utf-8")
        )
        for file in files
    }


TREES = _trees()


def class_names(trees: dict[str, ast.Module]) -> dict[str, int]:
    """How often each public class name is defined at the top of a module."""
    found: dict[str, int] = defaultdict(int)
    for tree in trees.values():
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                found[node.name] += 1
    return {name: count for name, count in found.items() if count > 1}


def crowded(trees: dict[str, ast.Module]) -> dict[str, int]:
    """Functions with more parameters than seven (without self), by 'module:name'."""
    found: dict[str, int] = {}
    for module, tree in trees.items():
        for node in ast.walk(tree):
            if isinstance(node, Function):
                count = _parameters(node)
                if count > MOST_PARAMETERS:
                    found[f"{module}:{node.name}"] = count
    return found


def _parameters(node: Function) -> int:
    given = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
    extra = [a for a in (node.args.vararg, node.args.kwarg) if a is not None]
    return len([a for a in (*given, *extra) if a.arg not in ("self", "cls")])


def test_both_would_be_found() -> None:
    tree = ast.parse("class A: ...\ndef f(a, b, c, d, *, e, f, g, h): ...")
    assert class_names({"one": tree, "two": tree}) == {"A": 2}
    assert crowded({"one": tree}) == {"one:f": 8}
    assert crowded({"one": ast.parse("class A:\n def f(self, a, b, c, d, e, f, g): ...")}) == {}


def test_one_class_name_has_one_meaning() -> None:
    found = class_names(TREES)
    more = {name: count for name, count in found.items() if count > SAME_NAME.get(name, 1)}
    assert not more, f"defined more than once: give one of them another name: {more}"


def test_the_list_of_names_only_becomes_shorter() -> None:
    found = class_names(TREES)
    fewer = {name: found.get(name, 1) for name in SAME_NAME if found.get(name, 1) < SAME_NAME[name]}
    assert not fewer, f"change them in SAME_NAME, or take them out: {fewer}"


def test_no_function_takes_a_crowd_of_parameters() -> None:
    found = crowded(TREES)
    more = {name: count for name, count in found.items() if count > CROWDED.get(name, 7)}
    assert not more, f"make a frozen dataclass of what belongs together: {more}"


def test_the_list_of_functions_only_becomes_shorter() -> None:
    found = crowded(TREES)
    fewer = {name: found.get(name, 0) for name in CROWDED if found.get(name, 0) < CROWDED[name]}
    assert not fewer, f"change them in CROWDED, or take them out: {fewer}"
