"""Every command, with any words that its own parser knows of: an answer or one line.

The options are read from the parser itself, so that a new one is tried without being told; values
are drawn by hypothesis: sensible ones, edges, and what fingers type by mistake.
"""

from __future__ import annotations

import argparse
import os
from pathlib import Path

import pytest
from accidents import Outcome, tell
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from axletree.commands import available
from axletree.commands.shared.parsers import parser_of

LONG = bool(os.environ.get("AXLETREE_LONG"))
# How many runs of each: what takes seconds is tried less often.
EXAMPLES = {"evening": 3, "calendar": 4, "spot": 4, "objects": 5, "room": 8}
USUAL_EXAMPLES = 14
SKIPPED = ("serve",)  # it never ends; its pages have tests of their own
# Without these a run would take minutes, or depend on the day.
ALWAYS = {
    "calendar": ["--from", "2026-12-01", "--to", "2026-12-04"],
    "spot": ["--spacing", "2", "--date", "2026-12-05"],
    "objects": ["--until", "2026-12-12", "--best-nights", "M31", "--date", "2026-12-05"],
}
NUMBERS = st.sampled_from(
    ["0", "1", "-1", "0.5", "2.5", "10", "45", "90", "-90", "180", "360", "1e3", "1e9", "-1e9",
     "1e-9", "nan", "inf", "-inf", "1e400", "", "x", "1,5", "½", "12:30", "--", "9" * 40]
) | st.floats(-400, 400, width=32).map(str)  # fmt: skip
WORDS = st.sampled_from(
    ["Vega", "M31", "Moon", "Sun", "Saturn", "nowhere", "", " ", "hour", "tube", "0.8kg", "300mm",
     "leg1", "rim", "135", "1.5", "east", "90-180:10", "38.6,-7.9", "geo:38.6,-7.9;u=5", "a" * 300,
     "2026-12-05", "2026-12-05T20:30", "21:05", "1850-01-01", "9999-12-31", "2026-13-40", "M31,M42",
     "fri,sat", "courtyard", "paddock", "kit.toml", "no-such-file", "/nowhere/x", ".", "\udcff",
     "💥", "-", "--", "x.svg", "sub/x.svg", "clusters", "galaxies", "bash", "drift", "frames"]
)  # fmt: skip
SMALL = st.integers(-2, 12).map(str)


def value_of(action: argparse.Action) -> st.SearchStrategy[str]:
    """A value that somebody could give to an option."""
    if action.choices:
        return st.sampled_from([str(c) for c in action.choices]) | WORDS
    if action.type is float:
        return NUMBERS
    if action.type is int:
        return SMALL | NUMBERS
    return WORDS | NUMBERS


def count_of(action: argparse.Action, draw: st.DrawFn) -> int:
    if isinstance(action.nargs, int):
        return action.nargs
    if action.nargs in ("*", "+"):
        return draw(st.integers(0, 3))
    if action.nargs == "?":
        return draw(st.integers(0, 1))
    return 0 if action.nargs == 0 else 1


@st.composite
def words_for(draw: st.DrawFn, name: str) -> list[str]:
    """One command line."""
    parser = parser_of(name)
    words = [name]
    if parser._subparsers is not None:
        chosen = draw(st.sampled_from(["new", "check"]))
        parser = next(iter(parser._subparsers._group_actions)).choices[chosen]  # type: ignore[index]
        words.append(chosen)
    options = [a for a in parser._actions if a.option_strings and a.dest != "help"]
    for action in parser._actions:
        if not action.option_strings and not isinstance(action, argparse._SubParsersAction):
            words += [draw(value_of(action)) for _ in range(count_of(action, draw))]
    for action in draw(st.lists(st.sampled_from(options), max_size=4, unique_by=id)):
        words.append(draw(st.sampled_from(action.option_strings)))
        words += [draw(value_of(action)) for _ in range(count_of(action, draw))]
    return words + [w for w in ALWAYS.get(name, []) if name not in ("kit",)]


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    return tmp_path


@pytest.mark.parametrize("name", [n for n in available() if n not in SKIPPED])
def test_any_command_line(name: str, own_folder: Path) -> None:
    examples = EXAMPLES.get(name, USUAL_EXAMPLES) * (20 if LONG else 1)

    @settings(
        max_examples=examples, deadline=None, derandomize=not LONG, database=None,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(words=words_for(name))
    def run(words: list[str]) -> None:
        outcome = Outcome("words", 0)
        # What a command writes where it was told to is its own affair here.
        tell(outcome, words, own_folder, made=("",), typed=True)
        assert not outcome.wrong, (words, outcome.wrong)

    run()
