"""How is a logbook of an earlier form kept as it was, before it is brought up to date?

The copy lies beside it and is whole when its name is there: it is written under another name and
moved into place. A kill in between costs nothing; the next opening makes it anew.
"""

from __future__ import annotations

import contextlib
import glob
import os
import secrets
import sqlite3
from pathlib import Path

from axletree.logbook.lines import sync_folder


def keep_earlier(path: Path, form: int) -> Path:
    """A copy of the logbook at `path`, as of its last commit, beside it and on the disk.

    Its name says the form; one that is there already is left alone, and serves if it is the same.
    """
    # Whoever keeps a copy holds the logbook's lock: what lies here was left by a kill.
    for scrap in path.parent.glob(f".{glob.escape(path.name)}.????????*"):
        scrap.unlink(missing_ok=True)
    made = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        # By a reader of its own: SQLite copies nothing out of a transaction that writes.
        with (
            contextlib.closing(sqlite3.connect(path)) as before,
            contextlib.closing(sqlite3.connect(made)) as copy,
        ):
            before.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
        handle = os.open(made, os.O_RDWR)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
        number = 1
        while (kept := _named(path, form, number)).exists():
            if _same(kept, made):
                return kept
            number += 1
        os.replace(made, kept)
        sync_folder(path.parent)
        return kept
    finally:
        made.unlink(missing_ok=True)


def _named(path: Path, form: int, number: int) -> Path:
    more = "" if number == 1 else f"-{number}"
    return path.with_name(f"{path.stem}.form-{form}{more}{path.suffix}")


def _same(one: Path, other: Path) -> bool:
    """Whether two logbooks hold the same; a damaged one holds nothing that another does."""
    try:
        with (
            contextlib.closing(sqlite3.connect(one)) as first,
            contextlib.closing(sqlite3.connect(other)) as second,
        ):
            return list(first.iterdump()) == list(second.iterdump())
    except sqlite3.DatabaseError:
        return False
