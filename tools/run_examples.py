"""Do the handbook's examples still give what stands beside them?

Runs every marked block of the pages in `docs/` and compares:
  console   lines that begin with '$ ' are commands; what follows is what they print, a line of
            '...' standing for lines that are left out
  python    one program a page, block after block; what a line prints stands behind it as '# ...'
  csv NAME, toml NAME, text NAME   a file of that name, for the commands that come after
Words must be the same; a number may differ by one in its last printed digit.

    python tools/run_examples.py              compare
    python tools/run_examples.py --refresh    write into the pages what is printed now
"""

from __future__ import annotations

import argparse
import contextlib
import difflib
import io
import os
import re
import shlex
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

DOCS = Path(__file__).parents[1] / "docs"
FENCE = re.compile(r"^```(?P<kind>[a-z]*) ?(?P<name>\S*)$")
NUMBER = re.compile(r"\d+(?:\.\d+)?")
PRINTS = re.compile(r"^(?P<code>\s*print\(.*\))\s{2,}# (?P<says>.*)$")
LEFT_OUT = "..."


@dataclass
class Block:
    """One fenced block: its kind, its file's name, its lines, and where they stand on the page."""

    kind: str
    name: str
    first: int
    lines: list[str] = field(default_factory=list)


def blocks_of(text: str) -> list[Block]:
    """The fenced blocks of a page, `first` being the index of the line after the fence."""
    found: list[Block] = []
    now: Block | None = None
    for i, line in enumerate(text.splitlines()):
        if now is not None and line == "```":
            found.append(now)
            now = None
        elif now is not None:
            now.lines.append(line)
        elif (fence := FENCE.match(line)) is not None:
            now = Block(fence["kind"], fence["name"], i + 1)
    return found


def close(expected: str, printed: str) -> bool:
    """The same words, and numbers within one of the last printed digit."""
    if NUMBER.split(_even(expected)) != NUMBER.split(_even(printed)):
        return False
    pairs = zip(NUMBER.findall(_even(expected)), NUMBER.findall(_even(printed)), strict=True)
    return all(_near(a, b) for a, b in pairs)


def _even(line: str) -> str:
    return " ".join(line.split())


def _near(a: str, b: str) -> bool:
    places = len(a.partition(".")[2])
    if places != len(b.partition(".")[2]):
        return False
    return abs(float(a) - float(b)) < 1.5 * 10.0**-places


@dataclass(frozen=True)
class Piece:
    """One command of a console block: its words, and the lines that the page gives below it."""

    command: str
    at: int
    lines: tuple[str, ...]


def pieces_of(block: Block) -> list[Piece]:
    """The commands of a console block; `at` is the index of the line after the command."""
    out: list[Piece] = []
    i = 0
    while i < len(block.lines):
        command = block.lines[i].removeprefix("$ ")
        while command.endswith("\\"):
            i += 1
            command = command[:-1] + block.lines[i].strip()
        i += 1
        start = i
        while i < len(block.lines) and not block.lines[i].startswith("$ "):
            i += 1
        out.append(Piece(command, start, tuple(block.lines[start:i])))
    return out


def run_command(command: str, folder: Path) -> list[str]:
    """What a command prints (standard output, then error), line by line."""
    from axletree.cli import main

    words = shlex.split(command)
    assert words[0] == "axletree", f"only axletree's own commands are run: {command}"
    out, err = io.StringIO(), io.StringIO()
    before = Path.cwd()
    os.chdir(folder)
    try:
        with (
            contextlib.redirect_stdout(out),
            contextlib.redirect_stderr(err),
            contextlib.suppress(SystemExit),
        ):
            main(words[1:])
    finally:
        os.chdir(before)
    return (out.getvalue() + err.getvalue()).rstrip("\n").split("\n")


def matched(expected: tuple[str, ...], printed: list[str]) -> str:
    """'' when the printed lines are those of the page, else what is different."""
    at = 0
    skipping = False
    for line in expected:
        if line.strip() == LEFT_OUT:
            skipping = True
            continue
        hits = [i for i in range(at, len(printed)) if close(line, printed[i])]
        if not hits or (hits[0] != at and not skipping):
            near = difflib.get_close_matches(line, printed[at:], 1, 0.3)
            return f"expected '{line}', printed '{near[0] if near else printed[at : at + 1]}'"
        at, skipping = hits[0] + 1, False
    if at < len(printed) and not skipping:
        return f"printed more: '{printed[at]}'"
    return ""


def refreshed(expected: tuple[str, ...], printed: list[str]) -> list[str]:
    """The page's lines brought up to date: each becomes the printed line most like it."""
    out: list[str] = []
    at = 0
    for line in expected:
        if line.strip() == LEFT_OUT:
            out.append(LEFT_OUT)
            continue
        rest = printed[at:]
        exact = [i for i, p in enumerate(rest) if _even(p) == _even(line)]
        alike = [difflib.SequenceMatcher(None, line, p).ratio() for p in rest]
        if exact:
            best = exact[0]
        elif rest and max(alike) > 0.5:
            best = alike.index(max(alike))
        else:
            print(f"  nothing like '{line}' is printed any more", file=sys.stderr)
            continue
        out.append(rest[best])
        at += best + 1
    return out


def run_page(text: str, name: str, refresh: bool = False) -> tuple[str, list[str]]:
    """The page's text (brought up to date with `refresh`) and what was different."""
    rows = text.splitlines()
    wrong: list[str] = []
    changed: list[tuple[int, int, list[str]]] = []
    space: dict[str, object] = {"__name__": name}
    with tempfile.TemporaryDirectory() as place, _own_logbook(place):
        folder = Path(place)
        for block in blocks_of(text):
            if block.kind in ("csv", "toml", "text") and block.name:
                (folder / block.name).write_text("\n".join(block.lines) + "\n", encoding="utf-8")
            elif block.kind == "console":
                for piece in pieces_of(block):
                    printed = run_command(piece.command, folder)
                    problem = matched(piece.lines, printed)
                    if problem:
                        wrong.append(f"{name}, line {block.first + 1}: {piece.command}: {problem}")
                        start = block.first + piece.at
                        new = refreshed(piece.lines, printed)
                        changed.append((start, start + len(piece.lines), new))
            elif block.kind == "python":
                for at, new, problem in _run_python(block, space, folder, name):
                    wrong.append(f"{name}, line {at + 1}: {problem}")
                    changed.append((at, at + 1, [new]))
    if refresh:
        for start, stop, new_rows in sorted(changed, reverse=True):
            rows[start:stop] = new_rows
    return "\n".join(rows) + "\n", wrong


@contextlib.contextmanager
def _own_logbook(folder: str) -> Iterator[None]:
    """The person's own logbook stays out of it."""
    before = os.environ.get("XDG_DATA_HOME")
    os.environ["XDG_DATA_HOME"] = folder
    try:
        yield
    finally:
        if before is None:
            del os.environ["XDG_DATA_HOME"]
        else:
            os.environ["XDG_DATA_HOME"] = before


def _run_python(
    block: Block, space: dict[str, object], folder: Path, name: str
) -> Iterator[tuple[int, str, str]]:
    """(line index, new line, problem) of every print whose result is another one."""
    out = io.StringIO()
    before = Path.cwd()
    os.chdir(folder)
    try:
        with contextlib.redirect_stdout(out):
            code = "\n" * block.first + "\n".join(block.lines)
            exec(compile(code, f"{name}.md", "exec"), space)  # the handbook is ours
    finally:
        os.chdir(before)
    printed = out.getvalue().splitlines()
    says = [(i, m) for i, line in enumerate(block.lines) if (m := PRINTS.match(line))]
    prints = sum(line.strip().startswith("print(") for line in block.lines)
    if prints != len(says):
        yield block.first, block.lines[0], "every print needs its result behind it, as '  # ...'"
        return
    if len(printed) != len(says):
        yield (
            block.first,
            block.lines[0],
            f"{len(says)} results on the page, {len(printed)} printed",
        )
        return
    for (i, line), got in zip(says, printed, strict=True):
        if not close(line["says"], got):
            new = f"{line['code']}  # {got}"
            yield block.first + i, new, f"expected '{line['says']}', printed '{got}'"


def pages() -> list[Path]:
    """The handbook's pages, in its own order."""
    from axletree.tell.handbook.pages import ORDER

    return [file for name in ORDER if (file := DOCS / f"{name}.md").is_file()]


def main() -> int:
    """Compare or refresh all pages, or those that are named."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("pages", nargs="*", help="names of pages, such as 'north' (all)")
    parser.add_argument("--refresh", action="store_true", help="write what is printed now")
    options = parser.parse_args()
    files = [DOCS / f"{n}.md" for n in options.pages] or pages()
    status = 0
    for file in files:
        text, wrong = run_page(file.read_text(encoding="utf-8"), file.stem, options.refresh)
        for problem in wrong:
            print(problem)
        if options.refresh and wrong:
            file.write_text(text, encoding="utf-8")
        elif wrong:
            status = 1
    return status


if __name__ == "__main__":
    sys.exit(main())
