"""What can be typed after each command, and how is that told to bash, zsh and fish?

`typed` reads a command's own argument parser; `SHELLS` turns the commands into a script. The
scripts are self-contained and start nothing while the person types.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Sequence
from typing import Literal

from axletree.kit.frozen import dataclass

Takes = Literal["nothing", "word", "file", "folder"]


@dataclass(frozen=True)
class Given:
    """An option or a word by its place: its spellings, what it takes, and known answers.

    `values` words belong to it; `many`: the word of this place may come again and again.
    """

    spellings: tuple[str, ...]
    help: str
    takes: Takes
    values: int = 1
    known: tuple[str, ...] = ()
    many: bool = False


@dataclass(frozen=True)
class Typed:
    """One command: its options, the words that come by their place, and what stands below it."""

    name: str
    help: str
    options: tuple[Given, ...]
    places: tuple[Given, ...]
    below: tuple[Typed, ...] = ()


def typed(name: str, words: str, parser: argparse.ArgumentParser) -> Typed:
    """What can be typed after one command, by its own parser."""
    options: list[Given] = []
    places: list[Given] = []
    below: list[Typed] = []
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            helps = {a.dest: a.help or "" for a in action._choices_actions}
            below += [typed(k, helps.get(k, ""), p) for k, p in action.choices.items()]
        elif action.option_strings:
            options.append(_given(action))
        else:
            places.append(_given(action))
    return Typed(name, words, tuple(options), tuple(places), tuple(below))


def _given(action: argparse.Action) -> Given:
    from axletree.kit.kit import DEMO_KITS
    from axletree.sky.catalogue.objects import BODIES

    word = action.metavar if isinstance(action.metavar, str) else action.dest
    takes: Takes = "nothing" if action.nargs == 0 else "word"
    if word.upper().startswith("FILE"):
        takes = "file"
    elif word == "DIR":
        takes = "folder"
    known = tuple(str(c) for c in action.choices or ())
    if "--kit" in action.option_strings or (action.dest == "file" and "demo kit" in _help(action)):
        known = DEMO_KITS
    elif action.dest in ("object", "objects") and not action.option_strings:
        known = tuple(name.capitalize() for name in BODIES)
    values = action.nargs if isinstance(action.nargs, int) else 1
    many = action.nargs in ("+", "*")
    return Given(tuple(action.option_strings), _help(action), takes, values, known, many)


def _help(action: argparse.Action) -> str:
    return " ".join((action.help or "").split()).replace("%%", "%")


def _leaves(commands: Sequence[Typed]) -> Iterator[tuple[str, Typed]]:
    """Every command and sub-command with its words, such as 'kit new'."""
    for command in commands:
        if command.below:
            yield from ((f"{command.name} {b.name}", b) for b in command.below)
        else:
            yield command.name, command


def bash(commands: Sequence[Typed]) -> str:
    """The script for bash 3.2 and later; file names come from readline itself."""
    deep = "|".join(c.name for c in commands if c.below)
    lines = [
        "# Completion of axletree for bash.",
        "_axletree() {",
        '    local now="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD-1]}"',
        '    local command="${COMP_WORDS[1]}" words="" long="" files="" IFS=$\' \\t\\n\'',
        "    COMPREPLY=()",
        '    if [ "$COMP_CWORD" -eq 1 ]; then',
        f'        words="{" ".join(c.name for c in commands)} --help --version"',
        "    else",
        '        case "$command" in',
        f'            {deep}) [ "$COMP_CWORD" -gt 2 ] && command="$command ${{COMP_WORDS[2]}}" ;;',
        "        esac",
        '        case "$command $before" in',
    ]
    for name, command in _leaves(commands):
        for option in command.options:
            if option.takes == "nothing":
                continue
            asked = "|".join(f'"{name} {s}"' for s in option.spellings)
            lines.append(f"            {asked}) {_bash_value(option)} ;;")
    lines += ["        esac", '        case "$command" in']
    for command in commands:
        if command.below:
            below = " ".join(b.name for b in command.below)
            lines.append(f'            "{command.name}") words="{below} --help" ;;')
    for name, command in _leaves(commands):
        long = " ".join(s for o in command.options for s in o.spellings if s.startswith("--"))
        known = " ".join(k for p in command.places for k in p.known)
        files = "yes" if any(p.takes == "file" for p in command.places) else ""
        lines.append(f'            "{name}") long="{long}"; words="{known}"; files={files} ;;')
    lines += [
        "        esac",
        '        case "$now" in -*) words="$long"; files="" ;; esac',
        '        [ -z "$words$files" ] && words="$long"',
        "    fi",
        '    COMPREPLY=( $(compgen -W "$words" -- "$now") )',
        '    if [ -n "$files" ]; then',
        "        IFS=$'\\n'",
        '        COMPREPLY+=( $(compgen -f -- "$now") )',
        "    fi",
        "}",
        "complete -o default -F _axletree axletree",
    ]
    return "\n".join(lines)


def _bash_value(option: Given) -> str:
    """What to do after this option; with no words of ours, readline offers file names."""
    if not option.known:
        return "return"
    files = "yes" if option.takes == "file" else ""
    return f'words="{" ".join(option.known)}"; files={files}; command=""'


def zsh(commands: Sequence[Typed]) -> str:
    """The script for zsh, with the help beside each word."""
    from axletree.kit.kit import DEMO_KITS

    kits = " ".join(DEMO_KITS)
    lines = [
        "#compdef axletree",
        "# Completion of axletree for zsh.",
        f"_axletree_kits() {{ _alternative 'kits:demo kit:({kits})' 'files:file:_files' }}",
        "_axletree() {",
        "    local -a commands",
        *_zsh_list("commands", commands, "    "),
        "    if (( CURRENT == 2 )); then _describe 'command' commands; return; fi",
        '    case "$words[2]" in',
    ]
    for command in commands:
        lines.append(f"        {command.name})")
        lines.append("            shift words; (( CURRENT-- ))")
        if command.below:
            lines += _zsh_list("commands", command.below, "            ")
            lines.append("            if (( CURRENT == 2 )); then")
            lines.append("                _describe 'command' commands; return")
            lines.append("            fi")
            lines.append('            case "$words[2]" in')
            for below in command.below:
                lines.append(f"                {below.name})")
                lines.append("                    shift words; (( CURRENT-- ))")
                lines += [f"                    {line}" for line in _zsh_arguments(below)]
                lines.append("                    ;;")
            lines.append("            esac")
        else:
            lines += [f"            {line}" for line in _zsh_arguments(command)]
        lines.append("            ;;")
    lines += [
        "    esac",
        "}",
        'if [[ "$funcstack[1]" == "_axletree" ]]; then _axletree "$@"',
        "else compdef _axletree axletree; fi",
    ]
    return "\n".join(lines)


def _zsh_list(name: str, commands: Sequence[Typed], indent: str) -> list[str]:
    rows = [f"{indent}    {_quoted(f'{c.name}:{c.help}')}" for c in commands]
    return [f"{indent}{name}=(", *rows, f"{indent})"]


def _zsh_arguments(command: Typed) -> list[str]:
    specs = []
    for option in command.options:
        value = _zsh_value(option) if option.takes != "nothing" else ""
        specs += [_quoted(f"{s}[{_plain(option.help)}]{value}") for s in option.spellings]
    for at, place in enumerate(command.places, 1):
        specs.append(_quoted(f"{'*' if place.many else at}{_zsh_value(place)}"))
    return ["_arguments \\", *(f"    {s} \\" for s in specs[:-1]), f"    {specs[-1]}"]


def _zsh_value(given: Given) -> str:
    what = {"file": "_files", "folder": "_files -/", "word": " ", "nothing": " "}[given.takes]
    if given.known and given.takes == "file":
        what = "_axletree_kits"
    elif given.known:
        what = f"({' '.join(given.known)})"
    return f":{_plain(given.help)}:{what}" * (given.values if given.values else 1)


def _plain(text: str) -> str:
    """Help without the signs that mean something to zsh."""
    return text.replace("[", "(").replace("]", ")").replace(":", ";")


def _quoted(text: str) -> str:
    """In single quotes, for bash and zsh."""
    return "'" + text.replace("'", "'\\''") + "'"


def fish(commands: Sequence[Typed]) -> str:
    """The script for fish, with the help beside each word."""
    lines = ["# Completion of axletree for fish.", "complete -c axletree -f"]
    for command in commands:
        lines.append(
            "complete -c axletree -n __fish_use_subcommand"
            f" -a {command.name} -d {_fish(command.help)}"
        )
    for command in commands:
        here = f"__fish_seen_subcommand_from {command.name}"
        names = " ".join(b.name for b in command.below)
        for below in command.below:
            lines.append(
                f"complete -c axletree -n '{here}; and not __fish_seen_subcommand_from {names}'"
                f" -a {below.name} -d {_fish(below.help)}"
            )
            lines += _fish_lines(below, f"{here}; and __fish_seen_subcommand_from {below.name}")
        if not command.below:
            lines += _fish_lines(command, here)
    return "\n".join(lines)


def _fish_lines(command: Typed, when: str) -> list[str]:
    lines = []
    for option in command.options:
        spelt = "".join(
            f" -l {s[2:]}" if s.startswith("--") else f" -s {s[1:]}" for s in option.spellings
        )
        takes_files = option.takes in ("file", "folder")
        value = "" if option.takes == "nothing" else " -r" if takes_files else " -x"
        lines.append(
            f"complete -c axletree -n '{when}'{spelt}{value}{_fish_value(option)}"
            f" -d {_fish(option.help)}"
        )
    for place in command.places:
        if place.known or place.takes == "file":
            lines.append(f"complete -c axletree -n '{when}'{_fish_value(place)}")
    return lines


def _fish_value(given: Given) -> str:
    words = f" -a '{' '.join(given.known)}'" if given.known else ""
    files = " -F" if given.takes in ("file", "folder") else ""
    return files + words


def _fish(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


SHELLS: dict[str, Callable[[Sequence[Typed]], str]] = {"bash": bash, "zsh": zsh, "fish": fish}
