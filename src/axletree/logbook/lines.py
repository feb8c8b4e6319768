"""How are measurements kept in a folder that has no logbook?

One JSON object a line, only ever added to, each line on the disk when the call returns. A last
line that was torn by a flat battery is passed over, and the next one stands on a line of its own;
a line that is no record at all is refused by its number, never dropped in silence.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.reading.files import opened, refuse_streams

LARGEST_FILE_BYTES = 20_000_000

NOTES_FILE = "axletree-axis.jsonl"


def append_line(path: Path, record: Mapping[str, Any]) -> None:
    """Add one record; it is on the disk when this returns. Infinite numbers are refused."""
    line = json.dumps(dict(record), ensure_ascii=False, allow_nan=False) + "\n"
    refuse_streams(path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o666)
        try:
            size = os.fstat(handle).st_size
            if size and os.pread(handle, 1, size - 1) != b"\n":
                # The line before was torn: give it an end, so that this one stands alone.
                line = "\n" + line
            data = line.encode()
            if os.write(handle, data) != len(data):
                raise OSError("the disk is full")
            os.fsync(handle)
        finally:
            os.close(handle)
        if not size:
            sync_folder(path.parent)
    except OSError as error:
        raise AxletreeError(f"{path}: cannot be written ({error.strerror or error})") from None


def read_lines(path: Path) -> list[dict[str, Any]]:
    """All records in order; [] where there is no file.

    A line that begins like a record but is none was torn and is passed over; anything else is
    refused with its line number.
    """
    try:
        with opened(path) as file:
            data = file.read(LARGEST_FILE_BYTES + 1)
    except FileNotFoundError:
        return []
    except OSError as error:
        raise AxletreeError(f"{path}: cannot be read ({error.strerror})") from None
    if len(data) > LARGEST_FILE_BYTES:
        raise AxletreeError(f"{path}: larger than {LARGEST_FILE_BYTES // 1_000_000} MB")
    found: list[dict[str, Any]] = []
    for number, line in enumerate(data.split(b"\n"), start=1):
        if not line.strip():
            continue
        try:
            record = json.loads(line)
        except (ValueError, RecursionError):
            if line.startswith(b"{"):
                continue  # torn
            raise AxletreeError(
                f"{path} line {number}: not a record of Axletree; remove the line or name another "
                "file"
            ) from None
        if not isinstance(record, dict):
            raise AxletreeError(f"{path} line {number}: not a record of Axletree")
        found.append(record)
    return found


def sync_folder(folder: Path) -> None:
    """The name of a new file is on the disk only when its folder is."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        pass
    finally:
        os.close(handle)
