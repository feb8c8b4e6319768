"""The sentences of the browser stand in its modules of words, nowhere else.

A sentence is taken to be a text with two words of two letters or more one after the other, or one
that begins with a capital letter and a small one; names of classes, selectors and codes are none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "axletree"
FOLDERS = (
    SOURCE / "app" / "static" / "pages",
    SOURCE / "app" / "static" / "shared",
    SOURCE / "tell" / "field_sheet" / "static",
)
MODULES = sorted(
    module
    for folder in FOLDERS
    for module in folder.glob("*.js")
    if module.name != "field_words.js"
)
_TOKEN = re.compile(
    r"""(?P<comment>//[^\n]*|/\*.*?\*/)|(?P<text>"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'"""
    r"""|`(?:[^`\\]|\\.)*`)""",
    re.DOTALL,
)
_SENTENCE = re.compile(r"[A-Za-z]{2,}[,;:.]? +[a-z]{2,}|^[A-Z][a-z]+$|^[A-Z][a-z]+ ")
# What stands before a text that is no sentence: a class, a selector, a name of the browser's own.
_NAME_BEFORE = re.compile(
    r"""(?:\bclass: [^,]*|(?:\$\$?\(|closest\(|matches\(|matchMedia\(|[=!]==|\bcase|\bfrom"""
    r"""|\bimport|new Error\()\s*)$"""
)
_SELECTOR_OR_SHADER = re.compile(r"^[#.][\w-]+ |\b(?:vec[234]|gl_Position)\b")
# Codes of the house and names of the browser's own.
CODES = frozenset(
    ("axletree logbook", "session over", "double star", "Enter", "Escape", "Home", "End")
)


def texts(module: str) -> Iterator[tuple[int, str, str]]:
    """Line, what stands before it in its line, and the words of each text of a module."""
    for found in _TOKEN.finditer(module):
        if found["text"] is None:
            continue
        line = module.count("\n", 0, found.start()) + 1
        before = module[module.rfind("\n", 0, found.start()) + 1 : found.start()]
        yield line, before, re.sub(r"\$\{[^}]*\}", "0", found["text"][1:-1])


def sentences(module: str) -> list[str]:
    return [
        f"line {line}: {words}"
        for line, before, words in texts(module)
        if _SENTENCE.search(words)
        and words not in CODES
        and not _NAME_BEFORE.search(before)
        and not _SELECTOR_OR_SHADER.search(words)
    ]


def test_a_sentence_would_be_found() -> None:
    assert sentences('put(e, "The hours are over");') == ["line 1: The hours are over"]
    assert sentences("put(e, `${n} to wait`); // a remark of ours") == ["line 1: 0 to wait"]
    assert sentences('button("Keep")') == ["line 1: Keep"]
    assert sentences('make("p", { class: "tools wide" })') == []


@pytest.mark.parametrize("module", MODULES, ids=lambda m: f"{m.parent.parent.name}/{m.name}")
def test_a_module_holds_no_sentence(module: Path) -> None:
    assert sentences(module.read_text(encoding="utf-8")) == []


def test_there_are_modules_to_look_at() -> None:
    assert len(MODULES) > 40
