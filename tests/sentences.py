"""Which strings of a module are sentences that somebody will read?

A sentence has three words or more. Not counted: docstrings; what is said in a refusal (within a
`raise`, the making of an error or a problem, or what flows nowhere else: a variable or a function
whose every use ends there); SQL; patterns; codes, that is the plain short words of an enumeration
or a `Literal`.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator, Mapping

FEWEST_WORDS = 3
_WORD = re.compile(r"[^\W\d_]{2,}")
_CODE = re.compile(r"[a-z0-9_]+( [a-z0-9_]+){0,4}")
_SQL = re.compile(r"\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|ALTER|PRAGMA|BEGIN)\s")
_REFUSING = ("Error", "Problem", "BrokenRow")  # how a class that holds a refusal is named
_FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


def sentences(sources: Mapping[str, str]) -> dict[str, list[str]]:
    """The sentences of modules: path and text in, those that have any by path out."""
    trees = {path: ast.parse(text) for path, text in sources.items()}
    search = _Search(trees.values())
    found = {path: list(search.said_in(tree)) for path, tree in trees.items()}
    return {path: said for path, said in found.items() if said}


class _Search:
    """All modules together: who holds each node, which functions only serve refusals."""

    def __init__(self, trees: Iterable[ast.Module]) -> None:
        self.parents: dict[ast.AST, ast.AST] = {}
        self.loads: dict[ast.AST, dict[str, list[ast.AST]]] = {}
        self.makers: set[str] = set()  # functions that return a refusal
        self.servants: set[str] = set()  # functions whose every use ends in a refusal
        self.names: dict[ast.AST, str] = {}  # a private function's is its module's own
        uses: dict[str, list[ast.AST]] = {}
        tellers: set[str] = set()
        for number, tree in enumerate(trees):
            for node in ast.walk(tree):
                bare = _name(node)
                name = self.names[node] = f"{number} {bare}" if bare.startswith("_") else bare
                self.parents |= dict.fromkeys(ast.iter_child_nodes(node), node)
                if isinstance(node, _FUNCTIONS) and node.returns is not None:
                    kind = ast.unparse(node.returns)
                    self.makers |= {name} if _names_refusal(kind) else set()
                    tellers |= {name} if "str" in kind else set()
                elif isinstance(node, ast.Name | ast.Attribute) and isinstance(node.ctx, ast.Load):
                    uses.setdefault(name, []).append(node)
        # From none upwards: what only serves another servant is found in a later round.
        while more := {
            name
            for name in (tellers & uses.keys()) - self.servants
            if all(self.refuses(use) for use in uses[name])
        }:
            self.servants |= more

    def said_in(self, tree: ast.Module) -> Iterator[str]:
        for node in ast.walk(tree):
            text = _text(node)
            if text is None or sum(map(bool, map(_WORD.search, text.split()))) < FEWEST_WORDS:
                continue
            if not self.is_no_sentence(node, text) and not self.refuses(node):
                yield text

    def above(self, node: ast.AST) -> Iterator[ast.AST]:
        while node in self.parents:
            node = self.parents[node]
            yield node

    def is_no_sentence(self, node: ast.AST, text: str) -> bool:
        if isinstance(self.parents[node], ast.Expr | ast.JoinedStr):
            return True  # a docstring; a part of a whole
        if _SQL.match(text) or any(map(_is_pattern, self.above(node))):
            return True
        return _CODE.fullmatch(text) is not None and any(map(_holds_codes, self.above(node)))

    def refuses(self, node: ast.AST, asking: frozenset[str] = frozenset()) -> bool:
        """Whether what a node says ends in a refusal and nowhere else.

        `asking`: variables that are being followed; one made of itself says nothing new.
        """
        for up in self.above(node):
            if isinstance(up, ast.Raise) or self.makes_refusal(up):
                return True
            if isinstance(up, _FUNCTIONS):
                return self.serves(up)
            if isinstance(up, ast.Assign | ast.AnnAssign | ast.AugAssign):
                room = next((f for f in self.above(up) if isinstance(f, _FUNCTIONS)), None)
                if room is not None and self.serves(room):
                    return True
                whole = room or list(self.above(up))[-1]
                names = _assigned(up)
                return bool(names) and all(
                    name in asking or self.only_refuses(whole, name, asking | {name})
                    for name in names
                )
        return False

    def serves(self, function: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
        holder = self.parents[function]
        inside = isinstance(holder, ast.ClassDef) and holder.name.endswith(_REFUSING)
        return self.names[function] in self.servants or inside

    def makes_refusal(self, node: ast.AST) -> bool:
        if not isinstance(node, ast.Call):
            return False
        name = self.names[node.func]
        return name.endswith(_REFUSING) or name in self.makers

    def only_refuses(self, room: ast.AST, name: str, asking: frozenset[str]) -> bool:
        """Whether every use of a variable ends in a refusal; to ask if it is empty is no use."""
        if room not in self.loads:
            loads = self.loads[room] = {}
            for node in ast.walk(room):
                if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
                    loads.setdefault(node.id, []).append(node)
        used = [node for node in self.loads[room].get(name, []) if not self.is_asked(node)]
        return bool(used) and all(self.refuses(node, asking) for node in used)

    def is_asked(self, node: ast.AST) -> bool:
        holder = self.parents[node]
        return isinstance(holder, ast.If | ast.IfExp) and holder.test is node


def _name(node: ast.AST) -> str:
    """What a function, a name or the end of a dotted one is called; '' for another node."""
    for part in ("name", "id", "attr"):
        if isinstance(found := getattr(node, part, None), str):
            return found
    return ""


def _text(node: ast.AST) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        parts = (p.value if isinstance(p, ast.Constant) else "{}" for p in node.values)
        return "".join(map(str, parts))
    return None


def _names_refusal(kind: str) -> bool:
    return any(re.search(rf"{end}\b", kind) for end in _REFUSING)


def _is_pattern(node: ast.AST) -> bool:
    return isinstance(node, ast.Call) and ast.unparse(node.func).startswith("re.")


def _holds_codes(node: ast.AST) -> bool:
    if isinstance(node, ast.ClassDef):
        return any(ast.unparse(base).endswith("Enum") for base in node.bases)
    return isinstance(node, ast.Subscript) and ast.unparse(node.value).endswith("Literal")


def _assigned(node: ast.Assign | ast.AnnAssign | ast.AugAssign) -> list[str]:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
    return [n.id for target in targets for n in ast.walk(target) if isinstance(n, ast.Name)]
