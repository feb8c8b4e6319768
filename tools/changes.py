"""Small changes of the code, one at a time: where one can be made, and how to make it.

A comparison turned, an operator or a sign swapped, a number moved, a condition denied, 'and' and
'or' swapped. Left out is what means nothing: type annotations, TYPE_CHECKING, the size of a cache,
and a denied condition that is one comparison (that is the comparison turned).
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "src" / "axletree"
COMPARED = {ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq,
            ast.NotEq: ast.Eq}  # fmt: skip
RECKONED = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
LOGIC = {ast.And: ast.Or, ast.Or: ast.And}


@dataclass(frozen=True)
class Change:
    """One possible change: its file, its number within the file, where it stands, what it does."""

    file: Path
    number: int
    line: int
    span: tuple[int, ...]  # lines of the statement, or of its head if it has a body
    words: str

    @property
    def name(self) -> str:
        """A name that outlives other lines of the file: file, text of the line, what is done."""
        return f"{self.file.relative_to(PACKAGE)} | {self.words}"


def changes_in(file: Path) -> list[Change]:
    """Every change that can be made in a file."""
    source, found = file.read_text("utf-8"), []
    for number, (node, kind, span) in enumerate(_places(ast.parse(source))):
        after, line = copy.deepcopy(node), getattr(node, "lineno", 0)
        _make(after)
        text = source.splitlines()[line - 1].strip()
        words = f"{text} | {kind}: {_short(node)} -> {_short(after)}"
        found.append(Change(file, number, line, span, words))
    return found


def changed(change: Change) -> ast.Module:
    """The file's tree with the change made; line numbers are those of the file."""
    tree = ast.parse(change.file.read_text("utf-8"))
    _make(_places(tree)[change.number][0])
    return ast.fix_missing_locations(tree)


def _places(tree: ast.Module) -> list[tuple[ast.AST, str, tuple[int, ...]]]:
    """Nodes that can be changed, the kind of change, and the lines of their statement."""
    return [(node, kind, span) for node, span in _walk(tree, ()) if (kind := _kind(node))]


def _walk(node: ast.AST, span: tuple[int, ...]) -> Iterator[tuple[ast.AST, tuple[int, ...]]]:
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns") or _is_cache_size(node):
            continue
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or _is_for_types(child):
                continue
            lines = span
            if isinstance(child, ast.stmt):
                body = getattr(child, "body", None)
                last = body[0].lineno - 1 if body else (child.end_lineno or child.lineno)
                lines = tuple(range(child.lineno, max(last, child.lineno) + 1))
            yield child, lines
            yield from _walk(child, lines)


def _is_cache_size(node: ast.AST) -> bool:
    return isinstance(node, ast.keyword) and node.arg == "maxsize"


def _is_for_types(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"


def _kind(node: ast.AST) -> str:
    """What can be done to a node, or nothing."""
    if isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARED:
        return "comparison turned"
    if isinstance(node, ast.BinOp) and type(node.op) in RECKONED and not _words(node):
        return "operator swapped"
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return "minus taken away"
    if isinstance(node, ast.BoolOp):
        return "and / or swapped"
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        return "number moved"
    if isinstance(node, (ast.If, ast.IfExp)) and _kind(node.test) != "comparison turned":
        return "condition denied"
    return ""


def _words(node: ast.BinOp) -> bool:
    return any(isinstance(n, ast.JoinedStr) or isinstance(getattr(n, "value", None), str)
               for n in (node.left, node.right))  # fmt: skip


def _make(node: ast.AST) -> None:
    if isinstance(node, ast.Compare):
        node.ops[0] = COMPARED[type(node.ops[0])]()
    elif isinstance(node, ast.BinOp):
        node.op = RECKONED[type(node.op)]()
    elif isinstance(node, ast.UnaryOp):
        node.op = ast.UAdd()
    elif isinstance(node, ast.BoolOp):
        node.op = LOGIC[type(node.op)]()
    elif isinstance(node, ast.Constant):
        assert isinstance(node.value, (int, float))
        node.value = node.value + 1 if isinstance(node.value, int) else node.value * 1.1 + 0.01
    elif isinstance(node, (ast.If, ast.IfExp)):
        node.test = ast.UnaryOp(ast.Not(), node.test)


def _short(node: ast.AST) -> str:
    return ast.unparse(node.test if isinstance(node, ast.If) else node)[:100]
