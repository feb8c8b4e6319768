"""One class name has one meaning, and no function takes a crowd of parameters."""

from __future__ import annotations

import ast
from collections import defaultdict
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "axletree"
MOST_PARAMETERS = 7
Function = ast.FunctionDef | ast.AsyncFunctionDef

# Compiled loops (`kit.kernels`) take their arrays flat: the compiler knows arrays, numbers and
# tuples of them, and no dataclasses. Nothing else is let off.
COMPILERS = {"inner", "compiled"}


@cache
def _trees() -> dict[str, ast.Module]:
    files = sorted(SOURCE.rglob("*.py"))
    return {
        ".".join(file.relative_to(SOURCE).with_suffix("").parts): ast.parse(
            file.read_text(encoding="utf-8")
        )
        for file in files
    }


def class_names(trees: dict[str, ast.Module]) -> dict[str, int]:
    """How often each public class name is defined at the top of a module."""
    found: dict[str, int] = defaultdict(int)
    for tree in trees.values():
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                found[node.name] += 1
    return {name: count for name, count in found.items() if count > 1}


def crowded(trees: dict[str, ast.Module]) -> dict[str, int]:
    """Functions with more parameters than seven (without self), by 'module:name'.

    Compiled loops are let off.
    """
    found: dict[str, int] = {}
    for module, tree in trees.items():
        for node in ast.walk(tree):
            if isinstance(node, Function) and not _is_compiled(node):
                count = _parameters(node)
                if count > MOST_PARAMETERS:
                    found[f"{module}:{node.name}"] = count
    return found


def _is_compiled(node: Function) -> bool:
    made = (d.func for d in node.decorator_list if isinstance(d, ast.Call))
    return any(isinstance(by, ast.Name) and by.id in COMPILERS for by in made)


def _parameters(node: Function) -> int:
    given = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
    extra = [a for a in (node.args.vararg, node.args.kwarg) if a is not None]
    return len([a for a in (*given, *extra) if a.arg not in ("self", "cls")])


def test_both_would_be_found() -> None:
    tree = ast.parse("class A: ...\ndef f(a, b, c, d, *, e, f, g, h): ...")
    assert class_names({"one": tree, "two": tree}) == {"A": 2}
    assert crowded({"one": tree}) == {"one:f": 8}
    compiled = "@compiled()\ndef f(a, b, c, d, e, f, g, h): ..."
    assert crowded({"one": ast.parse(compiled)}) == {}
    assert crowded({"one": ast.parse("class A:\n def f(self, a, b, c, d, e, f, g): ...")}) == {}


def test_one_class_name_has_one_meaning() -> None:
    found = class_names(_trees())
    assert not found, f"defined more than once: give one of them another name: {found}"


def test_no_function_takes_a_crowd_of_parameters() -> None:
    found = crowded(_trees())
    assert not found, f"make a frozen dataclass of what belongs together: {found}"
