"""What commands and pages answer with every sentence of the words floor replaced, or as it is.

  python other_words.py strange|plain < QUESTIONS.json > ANSWERS.json

Sentences stand in modules named `text` or `SOMETHING_text` on the floor `tell`. Each letter of
theirs becomes another one, as wide on a drawing, before the module runs; figures, format and codes
stay. What the command then answers must differ in nothing but words.
"""

from __future__ import annotations

import ast
import importlib
import inspect
import io
import json
import os
import pkgutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, redirect_stderr, redirect_stdout
from importlib.machinery import ModuleSpec, PathFinder, SourceFileLoader
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any, get_args

import kept
from kept import keep, keep_nights

STRANGE = "ж"
PAGE = ("GET", "POST", "PUT")
HOST = "testserver"
HERE = ("127.0.0.1", 50000)  # the machine that runs the app: it is asked for no code
# A part of Unicode whose letters no sentence of ours uses, one for each letter that some does.
_FIRST, _LAST = 0x4E00, 0x9FFF


def strange(words: str) -> str:
    """The words with all letters alike, the house's and the other ones."""
    return "".join(STRANGE if letter.isalpha() else letter for letter in words)


def other(words: str) -> str:
    """The same words in letters that no code could know, a letter of its own for each."""
    return "".join(_other_letter(letter) if letter.isalpha() else letter for letter in words)


def _other_letter(letter: str) -> str:
    return chr(_FIRST + ord(letter)) if ord(letter) <= _LAST - _FIRST else letter


def _as_wide() -> None:
    """Other letters take the room of those that they stand for, so that no drawing moves."""
    from axletree.tell.shared.measure import Style, widths

    for style in get_args(Style):
        known = widths(style)
        for table in (known.advances, known.left, known.right):
            table.update({other(letter): part for letter, part in table.items()})


class _Sentences(ast.NodeTransformer):
    """Replaces what is said, leaves what is compared, looked up, or tells a figure's form."""

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        return node

    def visit_Subscript(self, node: ast.Subscript) -> ast.AST:
        node.value = self.visit(node.value)
        return node

    def visit_Dict(self, node: ast.Dict) -> ast.AST:
        node.values = [self.visit(value) for value in node.values]
        return node

    def visit_FormattedValue(self, node: ast.FormattedValue) -> ast.AST:
        node.value = self.visit(node.value)
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        if isinstance(node.value, str):
            return ast.copy_location(ast.Constant(other(node.value)), node)
        return node


class _Loader(SourceFileLoader):
    def source_to_code(self, data: bytes, path: str, **kept: object) -> CodeType:  # type: ignore[override]
        return compile(_Sentences().visit(ast.parse(data)), path, "exec")

    def get_code(self, fullname: str) -> CodeType:
        path = self.get_filename(fullname)
        return self.source_to_code(self.get_data(path), path)


class _Finder:
    def find_spec(
        self, name: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        if not (name.startswith("axletree.tell.") and name.endswith((".text", "_text"))):
            return None
        spec = PathFinder.find_spec(name, path)
        if spec is None or spec.origin is None:
            return None
        spec.loader = _Loader(name, spec.origin)
        return spec


def answers(questions: Sequence[Sequence[str]]) -> list[dict[str, object]]:
    """What commands (their words) and pages (GET, path, kit; POST and PUT with a body) answer.

    With the path of a page after the body that page is asked for too, once the body was sent.
    A word 'DRAWING' stands for a file, whose text comes back beside the answer. The logbook is an
    empty one, which the questions write in one after the other. Pages of a kit that are looked at
    share an app, as in an evening; what is sent goes to an app of its own. What is asked for twice,
    as text and as JSON, or in both letters, is reckoned once: nothing that speaks stands on the
    floors of the planner and of the stages (tests/test_floors.py). AXLETREE_LONG=1 reckons
    everything in either letters.
    """
    if os.environ.get("AXLETREE_LONG"):
        os.environ.pop(kept.FOLDER, None)
    _reckon_once()
    with tempfile.TemporaryDirectory() as data, ExitStack() as apps:
        os.environ["XDG_DATA_HOME"] = data
        shared: dict[str, Any] = {}
        return [
            _page(words, apps, shared) if words[0] in PAGE else _command(words)
            for words in questions
        ]


def _reckon_once() -> None:
    """Let the second command that wants a night's plan or a stage's answer have the first one's."""
    from axletree import stages

    keep_nights()
    for found in pkgutil.walk_packages(stages.__path__, f"{stages.__name__}."):
        module = importlib.import_module(found.name)
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if (
                function.__module__ == found.name
                and "kit" in inspect.signature(function).parameters
            ):
                keep(module, name)


def _command(words: Sequence[str]) -> dict[str, object]:
    from axletree.cli import main

    out, problem = io.StringIO(), io.StringIO()
    with tempfile.TemporaryDirectory() as folder:
        drawing = Path(folder) / "drawing.svg"
        spoken = [str(drawing) if word == "DRAWING" else word for word in words]
        with redirect_stdout(out), redirect_stderr(problem):
            status = main(spoken)
        drawn = drawing.read_text(encoding="utf-8") if drawing.exists() else ""
    written = out.getvalue().replace(str(drawing), "DRAWING")
    return {"status": status, "out": written, "err": problem.getvalue(), "drawn": drawn}


@contextmanager
def _app(kit: str) -> Iterator[Any]:
    """Somebody at the machine itself, at an app with that kit."""
    from fastapi.testclient import TestClient

    from axletree.app import server
    from axletree.app.state import Desk
    from axletree.kit.kit import demo_kit, demo_text

    server._warm = lambda desk: None  # only what is asked for speaks here
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk(demo_kit(kit), demo_text(kit), folder=Path(folder))
        app = server.make_app(desk, [HOST])
        with TestClient(app, base_url=f"http://{HOST}", client=HERE) as client:
            client.get("/")
            yield client


def _page(words: Sequence[str], apps: ExitStack, shared: dict[str, Any]) -> dict[str, object]:
    method, path, kit, *more = words
    if method == "GET":
        if kit not in shared:
            shared[kit] = apps.enter_context(_app(kit))
        return _reply(shared[kit], method, path, *more)
    with _app(kit) as client:
        return _reply(client, method, path, *more)


def _reply(client: Any, method: str, path: str, body: str = "", *then: str) -> dict[str, object]:
    headers = {
        "origin": f"http://{HOST}",
        "sec-fetch-site": "same-origin",
        "content-type": "application/json",
    }
    reply = client.request(method, path, content=body, headers=headers)
    out = reply.text
    if then:
        out = json.dumps([reply.json(), client.get(then[0]).json()])
    return {"status": reply.status_code, "out": out, "err": "", "drawn": ""}


if __name__ == "__main__":
    if sys.argv[1] == "strange":
        sys.meta_path.insert(0, _Finder())  # type: ignore[arg-type]
        _as_wide()
    json.dump(answers(json.load(sys.stdin)), sys.stdout)
