"""How does a page get all its modules in one answer?

A browser asks six things at a time of one machine, and over a poor link each of them takes 400 ms:
a page of twenty modules would wait four times for that. So the page's module and all that it
imports are sent as one file, each in a function of its own that returns what it exports. The
modules keep to one form (`tests/app/test_joined.py`): imports by name or as a whole, exports of
constants, functions and classes; no cycles, nothing exported that changes. Figures:
docs/decisions/modules-in-one-file.md.
"""

from __future__ import annotations

import gzip
import re
from functools import cache
from pathlib import Path, PurePosixPath

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse, Response
from starlette.types import Receive, Scope, Send

_IMPORT = re.compile(r'^import ((?:\* as \w+)|\{[^}]*\}) from "(\.{1,2}/[a-z_/]+\.js)";$', re.M)
_LATER = re.compile(r'\bawait import\("(\.{1,2}/[a-z_/]+\.js)"\)')
_EXPORT = re.compile(r"^export (const|(?:async )?function|class) ([\w$]+)", re.M)
_EXPORTED = re.compile(r"^export \{([^}]*)\};$", re.M)
# Remarks help who reads the modules; who runs them need not wait for them.
_REMARK = re.compile(r"^[ ]*(?://.*|/\*\*(?:[^*]|\*(?!/))*\*/)\n", re.M)


def imported(top: Path, module: str) -> tuple[str, ...]:
    """This module and all that it imports, and they, each after those that it needs."""
    found: list[str] = []

    def go(name: str) -> None:
        if name not in found:
            for _, address in _IMPORT.findall((top / name).read_text(encoding="utf-8")):
                go(_beside(name, address))
            if name not in found:
                found.append(name)

    go(module)
    return tuple(found)


def joined(top: Path, module: str) -> str:
    """All of them as one module, to be sent from a folder beside theirs."""
    order = imported(top, module)
    numbers = {name: f"${k}" for k, name in enumerate(order)}
    return "\n".join(_wrapped(top, name, numbers) for name in order) + "\n"


def exported(text: str) -> list[str]:
    """The names that a module hands on; one a statement, or in a list."""
    names: list[str] = [found[1] for found in _EXPORT.findall(text)]
    return names + [word for row in _EXPORTED.findall(text) for word in re.findall(r"[\w$]+", row)]


def _wrapped(top: Path, name: str, numbers: dict[str, str]) -> str:
    text = (top / name).read_text(encoding="utf-8")
    names = exported(text)

    def taken(match: re.Match[str]) -> str:
        what, of = match[1], numbers[_beside(name, match[2])]
        if what.startswith("*"):
            return f"const {what[5:]} = {of};"
        return f"const {re.sub(r' as ', ': ', what)} = {of};"

    def later(match: re.Match[str]) -> str:
        other = _beside(name, match[1])
        return numbers.get(other, f'await import("../{other}")')

    text = _IMPORT.sub(taken, text)
    text = _LATER.sub(later, text)
    text = _EXPORT.sub(r"\1 \2", _EXPORTED.sub("", text))
    text = _REMARK.sub("", text)
    return f"const {numbers[name]} = (() => {{\n{text}return {{ {', '.join(names)} }};\n}})();"


def _beside(name: str, address: str) -> str:
    """What a module's address of another leads to, both seen from the top."""
    parts: list[str] = []
    for part in (*PurePosixPath(name).parent.parts, *address.split("/")):
        if part == "..":
            parts.pop()
        elif part != ".":
            parts.append(part)
    return "/".join(parts)


class JoinedModules:
    """The files `NAME.js` of these pages, kept by the browser without asking again."""

    def __init__(self, top: Path, names: frozenset[str], keep_s: int) -> None:
        self.top, self.names, self.keep_s = top, names, keep_s

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        name = scope["path"].rsplit("/", 1)[-1].removesuffix(".js")
        response: Response = PlainTextResponse("There is nothing here.", 404)
        if name in self.names and scope["method"] in ("GET", "HEAD"):
            packed = "gzip" in Headers(scope=scope).get("accept-encoding", "")
            response = Response(
                _sent(self.top, f"pages/{name}.js", packed), media_type="text/javascript"
            )
            response.headers["Cache-Control"] = f"private, max-age={self.keep_s}, immutable"
            response.headers["Vary"] = "Accept-Encoding"
            if packed:
                response.headers["Content-Encoding"] = "gzip"
        await response(scope, receive, send)


@cache
def _sent(top: Path, module: str, packed: bool) -> bytes:
    """The bytes, packed once."""
    text = joined(top, module).encode()
    return gzip.compress(text, 9, mtime=0) if packed else text
