"""The commands: which words does the person type, and where does each lead?

Only the module of the command that was typed is imported, so that a short question gets a
short answer. Exit status: 0 answered, 1 answered but the answer is "no" (a kit with problems),
2 bad input (one line on standard error), 130 stopped from the keyboard.
"""

from __future__ import annotations

import argparse
import importlib
import io
import json
import os
import sys
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from axletree.kit.job import JOB

_WORDS: dict[str, str] = {
    "evening": "the whole run sheet for one night, from one kit file and a date",
    "kit": "write a kit file to start from, or check one",
    "place": "find a place by name, without a network",
    "where": "where an object stands, from here, at a time",
    "spot": "where to put the tripod",
    "level": "which leg to lengthen, and by how much",
    "north": "which way is true north (south), by every method that works now",
    "balance": "where the weights and the tube go; what can tip",
    "pole": "how to put the axis on the pole",
    "enough": "how good the alignment has to be for what you will do",
    "check": "how far the axis is off, from drift, circle readings or frames",
    "point": "which side, how far, and where the eyepiece goes",
    "room": "a map of how long each tube side can follow",
    "follow": "which knob, which way, how fast",
    "objects": "what this telescope can show from this spot",
    "calendar": "which night",
    "log": "what was seen, and what drifted",
    "serve": "the local app: the evening on a screen in the hand",
    "completion": "lets the shell finish words with the Tab key",
}
_BEFORE = ("evening", "kit", "place", "where")
_AFTER = ("objects", "calendar", "log", "serve", "completion")
_BESIDE = {"pole": ("enough",), "point": ("room",)}
COMMANDS: dict[str, str] = {
    name: _WORDS[name]
    for stage in (*_BEFORE, *JOB, *_AFTER)
    for name in (stage, *_BESIDE.get(stage, ()))
}


class OneLineParser(argparse.ArgumentParser):
    """An argument parser that says what is wrong in one line and exits with 2."""

    def error(self, message: str) -> None:  # type: ignore[override]
        """Print one line on standard error and exit with 2."""
        first = message.replace("\n", " ")
        self.exit(2, f"{self.prog}: {first}; '{self.prog} --help' shows how\n")


def available() -> dict[str, str]:
    """The commands whose modules exist, in the order of the job."""
    return {name: words for name, words in COMMANDS.items() if find_spec(_module(name))}


def _module(name: str) -> str:
    from axletree.commands import module_of

    return module_of(name)


def _overview() -> str:
    lines = [
        "usage: axletree COMMAND [options]",
        "",
        "From the car to the last visitor of the night: the numbers, drawings and order",
        "that the hands need at a telescope on an equatorial mount.",
        "",
        "commands, in the order of the job:",
    ]
    lines += [f"  {name:<10} {words}" for name, words in available().items()]
    lines += [
        "",
        "example: axletree evening --kit courtyard.toml --date 2026-12-05 --out night",
        "'axletree COMMAND --help' explains each. Without --kit, the file axletree.toml",
        "in this folder is used, or else the demo kit. Not for navigation.",
    ]
    return "\n".join(lines)


def parser_of(name: str) -> OneLineParser:
    """The argument parser of one command."""
    from axletree.commands.shared.help_pages import HelpPage

    module = importlib.import_module(_module(name))
    parser = OneLineParser(
        prog=f"axletree {name}",
        description=module.__doc__,
        epilog=f"example: {module.EXAMPLE}",
        formatter_class=HelpPage,
    )
    module.options(parser)
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the return value is the exit status."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    # pydantic would look through every installed package for plugins, 10 ms; none are used here.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper) and stream.errors == "strict":
            stream.reconfigure(errors="replace")  # a terminal that knows no degree sign
    name = f"axletree {words[0]}" if words else "axletree"
    from axletree.kit.errors import AxletreeError, one_line

    try:
        return _run(words)
    except AxletreeError as error:
        print(f"{name}: {one_line(error)}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        _let_go_of_output()
        return 0
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        print(f"{name}: {one_line(f'{where}{error.strerror or error}')}", file=sys.stderr)
        _let_go_of_output()
        return 2


def _let_go_of_output() -> None:
    """Drop what can't be written any more: Python would try it again at its end, and complain."""
    try:
        sys.stdout.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _run(words: Sequence[str]) -> int:
    if not words or words[0] in ("-h", "--help", "help"):
        print(_overview(), flush=True)
        return 0
    if words[0] == "--version":
        from axletree import __version__

        print(f"axletree {__version__}")
        return 0
    name = words[0]
    if name not in COMMANDS or not find_spec(_module(name)):
        import difflib

        close = difflib.get_close_matches(name, available(), n=1)
        hint = f"did you mean '{close[0]}'?" if close else "'axletree --help' lists the commands"
        print(f"axletree: no command '{name}'; {hint}", file=sys.stderr)
        return 2
    module = importlib.import_module(_module(name))
    parser = parser_of(name)
    # Options may stand between the words; argparse can't do that beside sub-commands.
    mixed = parser._subparsers is None
    rest = words[1:]
    options = parser.parse_intermixed_args(rest) if mixed else parser.parse_args(rest)
    result = module.answer(options)
    _deliver(result, options)
    return int(result.status)


def _deliver(result: object, options: argparse.Namespace) -> None:
    """Print the answer as text or JSON, and write its drawing where one was asked for."""
    from axletree.commands.shared.common import Answer
    from axletree.kit.errors import AxletreeError, harmless
    from axletree.tell.shared.files import write_whole

    assert isinstance(result, Answer)
    drawing = getattr(options, "draw", None)
    if drawing:
        if result.drawing is None:
            raise AxletreeError("there is nothing to draw for this answer; leave out --draw")
        from axletree.tell.shared.sheet import plain_colours

        write_whole(Path(drawing), plain_colours(result.drawing()).encode())
    if getattr(options, "json", False):
        print(json.dumps(result.data, ensure_ascii=False, indent=2, allow_nan=False))
    elif result.text:
        print(harmless(result.text))
    sys.stdout.flush()  # a full disk or a closed pipe shows here, not after the end


if __name__ == "__main__":
    sys.exit(main())
