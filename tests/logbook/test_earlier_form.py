"""A logbook of an earlier form: read, brought up to date, a copy kept, and no kill loses a row.

The earlier form is that of the first step alone, as it was shipped: the file is made by SQLite from
its own words here, not by the house's code.
"""

from __future__ import annotations

import contextlib
import os
import random
import signal
import sqlite3
import time
from pathlib import Path

import pytest

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_text
from axletree.logbook.schema import APPLICATION_ID, STEPS
from axletree.logbook.store import Logbook

NOTES = 400


def earlier(path: Path) -> None:
    """A logbook of form 1 with one evening and many notes, its last rows still in the side file."""
    with contextlib.closing(sqlite3.connect(path)) as old:
        old.executescript(STEPS[0])
        old.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        old.execute("PRAGMA user_version = 1")
        old.execute(
            "INSERT INTO evening VALUES (1, 'e', '2026-11-01', 'Hill', 40, 8, 'Mine', ?, NULL, ?)",
            (demo_text(), "2026-11-01T19:00:00+00:00"),
        )
        old.executemany(
            "INSERT INTO note VALUES (?, ?, 1, '2026-11-01T20:00:00+00:00', ?)",
            [(k, f"n{k}", f"note {k}") for k in range(1, NOTES + 1)],
        )
        old.commit()


def rows(path: Path) -> list[str]:
    with contextlib.closing(sqlite3.connect(path)) as book:
        return [text for (text,) in book.execute("SELECT text FROM note ORDER BY id")]


def form(path: Path) -> int:
    with contextlib.closing(sqlite3.connect(path)) as book:
        return int(book.execute("PRAGMA user_version").fetchone()[0])


WHOLE = [f"note {k}" for k in range(1, NOTES + 1)]


def test_it_is_moved_to_the_new_form_and_a_copy_is_kept(tmp_path: Path) -> None:
    path, kept = tmp_path / "log.sqlite", tmp_path / "log.form-1.sqlite"
    earlier(path)
    with Logbook(path) as book:
        assert book.kept_aside is None
        assert book.connection.execute("SELECT count(*) FROM found").fetchone()[0] == 0
    assert (form(path), rows(path)) == (len(STEPS), WHOLE)
    assert (form(kept), rows(kept)) == (1, WHOLE)
    with Logbook(path) as book:
        book.connection.execute("DELETE FROM note")
    assert rows(kept) == WHOLE
    left = {f.name for f in tmp_path.iterdir()} - {"log.sqlite-wal", "log.sqlite-shm"}
    assert left == {"log.sqlite", "log.form-1.sqlite"}


def test_another_copy_of_that_name_is_left_alone(tmp_path: Path) -> None:
    path, before = tmp_path / "log.sqlite", tmp_path / "log.form-1.sqlite"
    earlier(before)
    with contextlib.closing(sqlite3.connect(before)) as book:
        book.execute("DELETE FROM note WHERE id > 3")
        book.commit()
    earlier(path)
    with Logbook(path):
        pass
    assert len(rows(before)) == 3
    assert rows(tmp_path / "log.form-1-2.sqlite") == WHOLE


def test_what_fails_on_the_way_leaves_it_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "log.sqlite"
    earlier(path)
    broken = (STEPS[0], STEPS[1], "CREATE TABLE more (a INTEGER); CREATE TABLE more (a INTEGER);")
    monkeypatch.setattr("axletree.logbook.schema.STEPS", broken)
    with pytest.raises(AxletreeError, match="cannot be used"):
        Logbook(path)
    monkeypatch.undo()
    assert (form(path), rows(path)) == (1, WHOLE)
    with Logbook(path):
        pass
    assert (form(path), rows(path)) == (len(STEPS), WHOLE)


def test_killed_while_it_moves_it_loses_nothing(tmp_path: Path) -> None:
    """Forty kills, early and late; whatever they leave is whole, and the next opening ends it."""
    rng, before, after = random.Random(7), 0, 0
    for turn in range(40):
        folder = tmp_path / str(turn)
        folder.mkdir()
        path = folder / "log.sqlite"
        earlier(path)
        child = os.fork()
        if child == 0:
            try:
                Logbook(path)
                time.sleep(5.0)
            finally:
                os._exit(1)
        end = time.monotonic() + (5.0 if turn % 4 == 0 else rng.uniform(0.0, 0.06))
        while time.monotonic() < end and form(path) == 1:
            time.sleep(0.001)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        assert rows(path) == WHOLE
        before, after = before + (form(path) == 1), after + (form(path) == len(STEPS))
        for copy in folder.glob("log.form-*.sqlite"):
            assert (form(copy), rows(copy)) == (1, WHOLE)
        with Logbook(path) as book:
            assert book.kept_aside is None
        assert (form(path), rows(path)) == (len(STEPS), WHOLE)
        assert {f.name for f in folder.iterdir()} == {"log.sqlite", "log.form-1.sqlite"}
    assert before > 3, "no kill came early"
    assert after > 3, "no kill came late"
