"""What stands in a file that a person named, if it is one and no larger than it may be?

Only regular files and standard input are read: a pipe or a device named as a file could keep
whoever reads it for ever, and has no end. Standard input is read up to the same limit.
"""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from axletree.kit.errors import AxletreeError

STANDARD_INPUT = "standard input"
# To open a pipe that nobody writes into waits for a writer, unless this is asked for.
_AT_ONCE = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0)


NO_FILE = "a pipe or a device, not a file"


class AbsentFileError(AxletreeError):
    """No file of this name is there."""


def opened(file: Path | str) -> IO[bytes]:
    """A regular file, open for reading; refuses a pipe, a device or a socket in one line.

    Raises `OSError` where the system refuses, a folder included.
    """
    handle = os.open(file, os.O_RDONLY | _AT_ONCE | getattr(os, "O_BINARY", 0))
    try:
        if _is_stream(os.fstat(handle)):
            raise AxletreeError(f"{file}: {NO_FILE}")
        return os.fdopen(handle, "rb")
    except BaseException:
        os.close(handle)
        raise


@contextmanager
def told(called: Path | str) -> Iterator[None]:
    """What the system refuses of a file meanwhile becomes one line about what it is `called`."""
    try:
        yield
    except FileNotFoundError:
        raise AbsentFileError(f"{called}: no such file") from None
    except OSError as error:
        raise AxletreeError(f"{called}: cannot be read ({error.strerror or error})") from None


def refuse_streams(file: Path | str) -> None:
    """Refuse a pipe, a device or a socket before other means open it, or put a file in its place.

    What isn't there, or can't be asked, is left to whoever opens it.
    """
    try:
        found = os.stat(file)
    except (OSError, ValueError):
        return
    if _is_stream(found):
        raise AxletreeError(f"{file}: {NO_FILE}")


def _is_stream(found: os.stat_result) -> bool:
    return not (stat.S_ISREG(found.st_mode) or stat.S_ISDIR(found.st_mode))


def text_of_file(file: Path, largest_bytes: int, what: str, called: str = "") -> str:
    """A text file in UTF-8; refuses another one, a larger one, and one that isn't there.

    `what` it should be; `called`: what a refusal calls it, else by its path. A byte-order mark at
    its beginning is left out. Raises `AbsentFileError` where there is none.
    """
    called = called or str(file)
    with told(called), opened(file) as stream:
        data = stream.read(largest_bytes + 1)
    return _text(data, largest_bytes, what, called)


def text_of_input(largest_bytes: int, what: str) -> str:
    """What standard input holds, UTF-8 as in a file; refuses a closed one, and one that is larger
    (no more than `largest_bytes` and one are read)."""
    if sys.stdin is None:
        raise AxletreeError(f"{STANDARD_INPUT}: closed; give a file")
    try:
        bare = getattr(sys.stdin, "buffer", None)
        data = (
            bare.read(largest_bytes + 1)
            if bare is not None
            else sys.stdin.read(largest_bytes + 1).encode("utf-8", "surrogatepass")
        )
    except OSError as error:
        raise AxletreeError(f"{STANDARD_INPUT}: cannot be read ({error.strerror})") from None
    return _text(data, largest_bytes, what, STANDARD_INPUT)


def _text(data: bytes, largest_bytes: int, what: str, called: str) -> str:
    if len(data) > largest_bytes:
        most = f"{largest_bytes // 1_000_000} MB"
        if largest_bytes < 1_000_000:
            most = f"{largest_bytes // 1000} kB"
        raise AxletreeError(f"{called}: larger than {most}, not {what}")
    try:
        # Line ends of other systems become those of this one, as when a text file is opened.
        return data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError:
        raise AxletreeError(f"{called}: not a text file in UTF-8") from None
