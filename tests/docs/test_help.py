"""Help and shell completion: every command reads well in eighty columns and can be finished."""

from __future__ import annotations

import argparse
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest

from axletree.commands import available
from axletree.commands.shared.help_pages import example_lines, wrapped
from axletree.commands.shared.parsers import parser_of
from axletree.commands.shared.shells import SHELLS, typed

NAMES = list(available())


def parsers(name: str) -> list[argparse.ArgumentParser]:
    """The parser of a command, and those of what stands below it."""
    parser = parser_of(name)
    below = [a for a in parser._actions if isinstance(a, argparse._SubParsersAction)]
    return [parser, *(p for action in below for p in action.choices.values())]


@pytest.mark.parametrize("name", NAMES)
def test_help_stays_within_eighty_columns(name: str) -> None:
    for parser in parsers(name):
        for line in parser.format_help().splitlines():
            assert len(line) <= 80, line


@pytest.mark.parametrize("name", NAMES)
def test_every_help_has_an_example_that_parses(name: str) -> None:
    for parser in parsers(name):
        text = parser.format_help()
        assert "example: axletree " in text
        example = text.split("example: ")[-1].replace("\\\n", " ")
        words = shlex.split(example)
        assert words[:2] == ["axletree", name]
        own = parser_of(name)
        mixed = own._subparsers is None
        read = own.parse_intermixed_args if mixed else own.parse_args
        assert read(words[2:]) is not None


@pytest.mark.parametrize("name", NAMES)
def test_every_option_says_what_it_is_for(name: str) -> None:
    for parser in parsers(name):
        for action in parser._actions:
            words = " ".join((action.help or "").split())
            known = isinstance(action, argparse._SubParsersAction) or len(words) >= 4
            assert known, f"{parser.prog}: {action.option_strings or action.dest} has no words"


def test_long_descriptions_are_wrapped_and_tables_kept() -> None:
    lines = wrapped("one two three four\nfive six\n\n  a   table stays here\nlast", 12)
    assert lines == [
        "one two",
        "three four",
        "five six",
        "",
        "  a   table",
        "      stays",
        "      here",
        "last",
    ]


def test_a_long_example_can_be_copied() -> None:
    line = (
        "example: axletree balance --kit courtyard --scale hour tube 0.8kg 300mm --on-shaft 5.1@120"
    )
    lines = example_lines(line, 80)
    assert all(len(one) <= 80 for one in lines)
    assert shlex.split("\n".join(lines).replace("\\\n", " ")) == shlex.split(line)


def scripts() -> dict[str, str]:
    lines = [typed(name, words, parser_of(name)) for name, words in available().items()]
    return {shell: make(lines) for shell, make in SHELLS.items()}


@pytest.mark.parametrize("shell", list(SHELLS))
def test_the_shell_can_read_its_script(shell: str, tmp_path: Path) -> None:
    script = scripts()[shell]
    for name in NAMES:
        assert name in script
    file = tmp_path / f"axletree.{shell}"
    file.write_text(script)
    found = shutil.which(shell)
    if found is None:
        pytest.skip(f"{shell} is not installed here")
    flag = "--no-execute" if shell == "fish" else "-n"
    made = subprocess.run([found, flag, str(file)], capture_output=True, text=True, timeout=30)
    assert (made.returncode, made.stderr) == (0, "")


BASH = """
source "$1"; shift
COMP_WORDS=("$@"); COMP_CWORD=$(( $# - 1 )); _axletree; printf '%s\\n' "${COMPREPLY[@]}"
"""


def finished(folder: Path, *words: str) -> set[str]:
    """What bash offers for the last word."""
    (folder / "script").write_text(scripts()["bash"])
    made = subprocess.run(
        ["bash", "-c", BASH, "bash", str(folder / "script"), "axletree", *words],
        capture_output=True, text=True, timeout=30, cwd=folder, check=True,
    )  # fmt: skip
    assert made.stderr == ""
    return set(made.stdout.split("\n")) - {""}


def test_bash_finishes_words(tmp_path: Path) -> None:
    if shutil.which("bash") is None:
        pytest.skip("bash is not installed here")
    (tmp_path / "my kit.toml").write_text("")
    assert finished(tmp_path, "po") == {"pole", "point"}
    assert finished(tmp_path, "kit", "") == {"new", "check", "measure", "photographs", "--help"}
    assert finished(tmp_path, "kit", "new", "--kind", "r") == {"refractor"}
    assert finished(tmp_path, "point", "--kit", "") == {
        "courtyard", "paddock", "my kit.toml", "script",
    }  # fmt: skip
    assert finished(tmp_path, "point", "Sa") == {"Saturn"}
    assert finished(tmp_path, "check", "fr") == {"frames"}
    assert finished(tmp_path, "kit", "check", "my") == {"my kit.toml"}
    assert "--compare" in finished(tmp_path, "follow", "--c")


def test_fish_offers_words(tmp_path: Path) -> None:
    fish = shutil.which("fish")
    if fish is None:
        pytest.skip("fish is not installed here")
    file = tmp_path / "axletree.fish"
    file.write_text(scripts()["fish"])
    ask = f'source {file}; complete -C "axletree kit new --kind "'
    made = subprocess.run(
        [fish, "-c", ask], capture_output=True, text=True, timeout=30, check=True,
        env={"HOME": str(tmp_path), "PATH": "/usr/bin:/bin"},
    )  # fmt: skip
    offered = {line.split("\t")[0] for line in made.stdout.splitlines()}
    assert offered == {"newtonian", "refractor", "catadioptric"}
