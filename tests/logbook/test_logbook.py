"""The logbook keeps what it confirmed, comes back without loss, and never writes over damage."""

from __future__ import annotations

import json
import math
import os
import random
import sqlite3
import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

import killed
from axletree.kit.errors import AxletreeError, KeptAside
from axletree.kit.kit import demo_kit, demo_text
from axletree.logbook.exchange import export_csv, export_json, import_json
from axletree.logbook.learned import turns_per_degree
from axletree.logbook.own import seen_lately
from axletree.logbook.read import (
    evening_of_date,
    evening_whole,
    evenings,
    latest_evening,
    search,
    seen_since,
)
from axletree.logbook.schema import STEPS
from axletree.logbook.store import Logbook, LoggedStop
from axletree.tell.logbook.text import kept_aside_words

AT = datetime(2026, 12, 5, 19, 30, tzinfo=UTC)
DAY = date(2026, 12, 5)


def _filled(path: Path) -> Logbook:
    book = Logbook(path)
    evening = book.begin_evening(DAY, demo_kit(), demo_text(), AT, '{"stops": []}')
    book.add_stop(
        evening, LoggedStop(AT, "M31", "NGC0224", visitors=12, note="=1+1 \"great\", 'ü'\nline")
    )
    book.add_stop(evening, LoggedStop(AT, "M57", "NGC6720", done=False))
    book.add_note(evening, AT, "<b>Clouds</b> from the west")
    book.add_conditions(evening, AT, seeing_arcsec=2.5, words="steady")
    book.add_axis_measure(evening, AT, "drift", 4.0, -2.0, ((0.25, 0.1), (0.1, 0.5)))
    book.add_bolt_turn(evening, AT, -0.5, 0.25, "a little")
    return book


def test_what_one_audience_saw_is_new_to_another(tmp_path: Path) -> None:
    """The evening's own kit says for whom it was; the demo kit has visitors and names no more."""
    with _filled(tmp_path / "log.sqlite") as book:
        assert set(seen_since(book, DAY, None, "public")) == {"NGC0224"}
        assert seen_since(book, DAY, None, "alone") == {}
        other = book.begin_evening(DAY + timedelta(days=1), demo_kit(), "not a kit [", AT)
        book.add_stop(other, LoggedStop(AT, "M13", "NGC6205"))
        # Nobody knows for whom that was: it counts for all.
        assert set(seen_since(book, DAY, None, "alone")) == {"NGC6205"}
    kit = demo_kit()
    later = DAY + timedelta(days=3)
    path = tmp_path / "log.sqlite"
    alone = kit.habits.model_copy(update={"audience": "alone"})
    assert "NGC0224" in seen_lately(path, later, kit.site, kit.habits).keys
    assert "NGC0224" not in seen_lately(path, later, kit.site, alone).keys


def test_what_was_written_is_read(tmp_path: Path) -> None:
    with _filled(tmp_path / "log.sqlite") as book:
        (line,) = evenings(book)
        assert (line.done, line.skipped, line.notes) == (1, 1, 1)
        whole = evening_whole(book, line.id)
        assert whole["kit_toml"] == demo_text()
        assert whole["axis_measure"][0]["covariance_arcmin2"] == 0.1
        assert evening_of_date(book, DAY, demo_kit().site) == line.id
        assert [found.what for found in search(book, "clouds WEST")] == ["note"]
        assert seen_since(book, DAY) == {"NGC0224": "2026-12-05"}
        assert seen_since(book, DAY + timedelta(days=1)) == {}
        with pytest.raises(AxletreeError, match="no evening number 99"):
            evening_whole(book, 99)


def test_two_sites_of_one_date_are_two_evenings(tmp_path: Path) -> None:
    north, south = demo_kit("courtyard"), demo_kit("paddock")
    moved = north.site.model_copy(update={"longitude_deg": north.site.longitude_deg + 0.01})
    far = north.site.model_copy(update={"longitude_deg": north.site.longitude_deg + 1.0})
    with Logbook(tmp_path / "log.sqlite") as book:
        assert evening_of_date(book, DAY, north.site) is None
        first = book.begin_evening(DAY, north, "", AT)
        assert evening_of_date(book, DAY, south.site) is None
        second = book.begin_evening(DAY, south, "", AT)
        assert evening_of_date(book, DAY, north.site) == first
        assert evening_of_date(book, DAY, south.site) == second
        # A coordinate that is put right stays at home; the same name elsewhere does not.
        assert evening_of_date(book, DAY, moved) == first
        assert evening_of_date(book, DAY, far) is None
        assert latest_evening(book) == second
        assert latest_evening(book, north.site) == first
        assert latest_evening(book, far) is None


def test_export_and_import_lose_nothing_and_double_nothing(tmp_path: Path) -> None:
    with _filled(tmp_path / "a.sqlite") as book, Logbook(tmp_path / "b.sqlite") as other:
        text = export_json(book)
        assert import_json(other, text) == 7
        assert export_json(other) == text
        assert import_json(other, text) == 0
        assert export_json(other) == text


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda d: d.update(format="other"), "format"),
        (lambda d: d.update(version=9), "version 9"),
        (lambda d: d["evenings"][0].update(surprise=1), "unknown key 'surprise'"),
        (lambda d: d["evenings"][0]["stop"][1].update(state="half"), "nothing was imported"),
        (lambda d: d["evenings"][0]["stop"][0].pop("uid"), "no uid"),
        (lambda d: d["evenings"][0].update(stop=3), "not a list"),
        (lambda d: d["evenings"][0].update(site=["x"]), "'site' .* is not text"),
        (lambda d: d.update(evenings={}), "no list"),
    ],
)
def test_a_wrong_import_changes_nothing(tmp_path: Path, change, says: str) -> None:
    with _filled(tmp_path / "a.sqlite") as book, Logbook(tmp_path / "b.sqlite") as other:
        data = json.loads(export_json(book))
        change(data)
        with pytest.raises(AxletreeError, match=says):
            import_json(other, json.dumps(data))
        assert evenings(other) == []


def test_csv_cells_are_no_formulas(tmp_path: Path) -> None:
    with _filled(tmp_path / "log.sqlite") as book:
        made = export_csv(book)
    assert set(made) == {
        "evening.csv", "stop.csv", "note.csv", "conditions.csv", "axis_measure.csv",
        "bolt_turn.csv", "found.csv", "rig_work.csv",
    }  # fmt: skip
    assert "'=1+1" in made["stop.csv"]


def test_a_damaged_logbook_is_kept_aside(tmp_path: Path) -> None:
    path = tmp_path / "log.sqlite"
    _filled(path).close()
    content = bytearray(path.read_bytes())
    content[200:12000] = os.urandom(11800)  # the list of tables fills more than a page
    path.write_bytes(bytes(content))
    with Logbook(path) as book:
        assert book.kept_aside == KeptAside(path, "log.damaged-1.sqlite")
        assert kept_aside_words(book.kept_aside) == (
            f"{path} is damaged; it was kept as log.damaged-1.sqlite and a new one begun"
        )
        assert evenings(book) == []
    assert (tmp_path / "log.damaged-1.sqlite").read_bytes() == bytes(content)
    path.write_bytes(b"not a database, but some text of a kind" * 100)
    with Logbook(path) as book:
        assert book.kept_aside == KeptAside(path, "log.damaged-2.sqlite")


def test_a_locked_logbook_is_refused_in_one_line(tmp_path: Path) -> None:
    path = tmp_path / "log.sqlite"
    _filled(path).close()
    holder = sqlite3.connect(path, isolation_level=None)
    holder.execute("BEGIN EXCLUSIVE")
    with (
        pytest.raises(AxletreeError, match="in use by another program"),
        Logbook(path, wait_s=0.1) as book,
    ):
        book.add_note(1, AT, "x")
    holder.close()


def test_another_programs_database_and_a_newer_one_are_refused(tmp_path: Path) -> None:
    other = sqlite3.connect(tmp_path / "other.sqlite")
    other.execute("CREATE TABLE t (x)")
    other.commit()
    other.close()
    with pytest.raises(AxletreeError, match="not a logbook"):
        Logbook(tmp_path / "other.sqlite")
    with Logbook(tmp_path / "newer.sqlite") as book:
        book.connection.execute(f"PRAGMA user_version = {len(STEPS) + 1}")
    with pytest.raises(AxletreeError, match="newer Axletree"):
        Logbook(tmp_path / "newer.sqlite")


def test_the_bolts_true_turns_are_learned(tmp_path: Path) -> None:
    # Made-up evening: a bolt of 0.8 turns per degree, measured with 0.3' error.
    rng = random.Random(4)
    with Logbook(tmp_path / "log.sqlite") as book:
        evening = book.begin_evening(DAY, demo_kit(), demo_text(), AT)
        assert turns_per_degree(book, "altitude") is None
        high, at, cov = 60.0, AT, ((0.09, 0.0), (0.0, 0.09))
        for turns in (-0.4, -0.3, 0.2, -0.1):
            book.add_axis_measure(evening, at, "drift", high + rng.gauss(0, 0.3), 0.0, cov)
            book.add_bolt_turn(evening, at + timedelta(minutes=1), turns, 0.0)
            high += turns / 0.8 * 60.0
            at += timedelta(minutes=10)
        book.add_axis_measure(evening, at, "drift", high + rng.gauss(0, 0.3), 0.0, cov)
        learned = turns_per_degree(book, "altitude")
    assert learned is not None
    assert learned.count == 4
    assert learned.turns_per_degree == pytest.approx(0.8, abs=3 * learned.sigma)
    # By hand: sigma(1/k) = sqrt(2) 0.3'/60 / sqrt(sum turns^2), times k^2.
    expected = math.sqrt(2) * 0.3 / 60 / math.sqrt(0.16 + 0.09 + 0.04 + 0.01) * 0.64
    assert learned.sigma == pytest.approx(expected, rel=0.05)


WRITER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from axletree.tell.logbook.text import kept_aside_words
from axletree.logbook.store import Logbook
book = Logbook(Path(sys.argv[1]))
n = int(sys.argv[2])
print("ready", flush=True)
while True:
    n += 1
    book.add_note(1, datetime.now(UTC), str(n))
    sys.stdout.write(f"{n}\\n"); sys.stdout.flush()
"""


def test_killed_200_times_it_loses_nothing_that_was_confirmed(tmp_path: Path) -> None:
    path = tmp_path / "log.sqlite"
    with Logbook(path) as book:
        book.begin_evening(DAY, demo_kit(), demo_text(), AT)
    # Each time everything confirmed is looked for.
    confirmed = killed.confirmed("logbook", path, 200, 1)
    with Logbook(path) as book:
        assert book.kept_aside is None
        assert book.connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    assert confirmed > 50, "the test killed before anything was written"


def test_a_whole_process_killed_keeps_its_rows(tmp_path: Path) -> None:
    path = tmp_path / "log.sqlite"
    with Logbook(path) as book:
        book.begin_evening(DAY, demo_kit(), demo_text(), AT)
    child = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path), "0"], stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "ready\n"
    seen = [int(child.stdout.readline()) for _ in range(20)]
    child.kill()
    child.wait()
    with Logbook(path) as book:
        stored = {int(n["text"]) for n in evening_whole(book, 1)["note"]}
    assert set(seen) <= stored


def test_what_is_sent_twice_is_kept_once_and_can_be_taken_back(tmp_path: Path) -> None:
    kit, at = demo_kit("courtyard"), datetime(2026, 12, 5, 20, tzinfo=UTC)
    with Logbook(tmp_path / "book.sqlite") as book:
        evening = book.begin_evening(date(2026, 12, 5), kit, "", at)
        other = book.begin_evening(date(2026, 12, 6), kit, "", at)
        for _ in range(2):
            book.add_stop(evening, LoggedStop(at, "M31", "NGC0224", uid="a" * 16))
            book.add_note(evening, at, "thin cloud", uid="b" * 16)
            book.add_conditions(evening, at, seeing_arcsec=2.0, uid="c" * 16)
        whole = evening_whole(book, evening)
        assert [len(whole[t]) for t in ("stop", "note", "conditions")] == [1, 1, 1]
        assert not book.take_back(other, "a" * 16)
        assert book.take_back(evening, "a" * 16)
        assert not book.take_back(evening, "a" * 16)
        assert not evening_whole(book, evening)["stop"]
        assert evening_whole(book, evening)["note"]
