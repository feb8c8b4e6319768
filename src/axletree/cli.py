"""The commands: which words does the person type, and where does each lead?

Only the module of the command that was typed is imported, so that a short question gets a
short answer. Exit status: 0 answered, 1 answered but the answer is "no" (a kit with problems),
2 bad input (one line on standard error), 130 stopped from the keyboard.
"""

from __future__ import annotations

import argparse
import errno
import gc
import importlib
import io
import json
import os
import sys
from collections.abc import Sequence
from importlib.util import find_spec
from types import ModuleType
from typing import TYPE_CHECKING, Any

from axletree.commands import COMMANDS, available, module_of

if TYPE_CHECKING:
    from axletree.commands.shared.common import Answer

# So many more things made than dropped before the interpreter looks for rings of rubbish.
_ALLOCATIONS = 100_000


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


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the return value is the exit status."""
    if arguments is not None:
        return _answered(list(arguments))
    _light_start()
    _hold_streams()
    status = _answered(sys.argv[1:])
    gc.freeze()  # at the end all goes at once: to look for rings in it first takes 30 ms and more
    return status


def _light_start() -> None:
    """Leave out what a command doesn't need, before anything large is imported."""
    # pydantic would look through every installed package for plugins, 10 ms; none are used here.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # Matrices here are small: threads that wait for larger ones take 10 ms to begin.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    _when_used("importlib.metadata", "entry_points")  # pydantic names it for its plugins: 13 ms


def _when_used(name: str, function: str) -> None:
    """Have a module of the standard library loaded when this function of it is first called, or
    anything else in it asked for.

    `importlib.util.LazyLoader` doesn't do: an import statement alone asks its module for something.
    """
    if name in sys.modules:
        return
    standing_in = ModuleType(name)
    standing_in.__spec__ = find_spec(name)

    def asked(attribute: str) -> Any:
        if attribute.startswith("__"):
            raise AttributeError(attribute)  # the import statement looks whether it is a package
        if sys.modules.get(name) is standing_in:
            del sys.modules[name]
        return getattr(importlib.import_module(name), attribute)

    standing_in.__dict__[function] = lambda *given, **named: asked(function)(*given, **named)
    standing_in.__getattr__ = asked  # type: ignore[method-assign]
    sys.modules[name] = standing_in


def _hold_streams() -> None:
    """Put nothing in the place of a stream that is closed, before a file gets its number.

    A library's complaint on standard error would otherwise go into the logbook.
    """
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the lowest free number: this one


def _answered(words: list[str]) -> int:
    """Do what the words ask for; the exit status."""
    # Modules, kit and catalogues stay: to look for rubbish among them takes 0.1 s and more.
    gc.set_threshold(_ALLOCATIONS, 20, 20)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal that knows no degree sign
    name = f"axletree {words[0]}" if words else "axletree"
    from axletree.kit.errors import AxletreeError

    try:
        return _run(words)
    except AxletreeError as error:
        return _refused(name, error)
    except BrokenPipeError:
        _let_go_of_output()
        return 0
    except KeyboardInterrupt:
        return 130
    except UnicodeEncodeError as error:
        known = f"'{error.object[:60]}': letters that this locale cannot take ({error.encoding})"
        return _refused(name, f"{known}; a locale in UTF-8 or PYTHONUTF8=1 does")
    except (MemoryError, SystemError):  # the second: the interpreter's own want of memory
        return _refused(name, "the machine has not enough free memory for this")
    except ImportError as error:
        # Several lines of advice for programmers; what the system said stands in the last.
        said = (str(error).strip().splitlines() or [type(error).__name__])[-1]
        return _refused(name, f"a library cannot be loaded ({said})")
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        status = _refused(name, f"{where}{error.strerror or error}")
        _let_go_of_output()
        return status


def _refused(name: str, why: BaseException | str) -> int:
    """Say in one line on standard error why there is no answer; the exit status."""
    from axletree.kit.errors import one_line

    if sys.stderr is not None:  # print() would take standard output in its place
        print(f"{name}: {one_line(why)}", file=sys.stderr)
    return 2


def _let_go_of_output() -> None:
    """Drop what can't be written any more: Python would try it again at its end, and complain."""
    if sys.stdout is None:
        return
    try:
        sys.stdout.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _run(words: Sequence[str]) -> int:
    if not words or words[0] in ("-h", "--help", "help"):
        _put(_fitting(_overview()))
        return 0
    if words[0] == "--version":
        from axletree import __version__

        _put(f"axletree {__version__}")
        return 0
    name = words[0]
    if name not in COMMANDS or not find_spec(module_of(name)):
        import difflib

        close = difflib.get_close_matches(name, available(), n=1)
        hint = f"did you mean '{close[0]}'?" if close else "'axletree --help' lists the commands"
        return _refused("axletree", f"no command '{name}'; {hint}")
    module = importlib.import_module(module_of(name))
    from axletree.commands.shared.parsers import parser_of

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
    from axletree.commands.shared.written import write_drawing
    from axletree.kit.errors import AxletreeError

    assert isinstance(result, Answer)
    drawing = getattr(options, "draw", None)
    if drawing:
        if result.drawing is None:
            _print(result, options)  # the answer says why
            raise AxletreeError("there is nothing to draw for this answer; leave out --draw")
        write_drawing(drawing, result.drawing())
    _print(result, options)


def _print(result: Answer, options: argparse.Namespace) -> None:
    from axletree.kit.errors import harmless

    if getattr(options, "json", False):
        plain = "utf" not in (getattr(sys.stdout, "encoding", None) or "utf").lower()
        _put(json.dumps(dict(result.data), ensure_ascii=plain, indent=2, allow_nan=False))
    elif result.text:
        _put(_fitting(harmless(result.text)))


def _fitting(text: str) -> str:
    """The text as it stands, or narrowed to the terminal."""
    from axletree.commands.shared.terminal import terminal_columns
    from axletree.tell.shared.paragraphs import COLUMNS, narrowed

    columns = terminal_columns()
    return text if columns is None or columns >= COLUMNS else narrowed(text, columns)


def _put(words: str) -> None:
    """Print to standard output; a full disk, a closed pipe or stream shows here, not at the end."""
    if sys.stdout is None:
        raise OSError(errno.EBADF, "closed", "standard output")
    print(words, flush=True)


if __name__ == "__main__":
    sys.exit(main())
