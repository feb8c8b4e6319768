"""Do the minutes that setting up and taking down took replace the guess, with their spread?"""

from __future__ import annotations

import math
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from axletree.cli import main
from axletree.evening.night.set_up_pace import (
    TAKE_DOWN_MIN,
    OwnMinutes,
    own_minutes,
    set_up_minutes,
    unloading_min,
    with_own_minutes,
)
from axletree.evening.night.set_up_times import BY_STARS
from axletree.find.practice.learned import LearnedFinding
from axletree.find.practice.rig_work import RigWork, learn_work
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.logbook.entries import EntryKind, EntryRequest, WorkEntry, add_entry, evening_record
from axletree.logbook.exchange import export_json, import_json
from axletree.logbook.found import learned_finding
from axletree.logbook.store import Logbook
from axletree.tell.evening.notes.text import own_minutes_words

AT = datetime(2026, 12, 5, 19, 30, tzinfo=UTC)


def mine() -> tuple[Kit, str]:
    text = demo_text().replace('name = "School courtyard"', 'name = "Mine"', 1)
    kit, problems = check_text(text)
    assert kit is not None, problems
    assert kit.name == "Mine"
    return kit, text


def book_of(path: Path, *noted: tuple[EntryKind, float]) -> Kit:
    kit, text = mine()
    with Logbook(path) as book:
        for number, (kind, minutes) in enumerate(noted):
            evening = book.begin_evening(date(2026, 12, 5 + number), kit, text, AT)
            add_entry(book, EntryRequest(kind, evening, AT, minutes=minutes))
    return kit


def assumed(kit: Kit) -> float:
    hands = sum(least for name, least in set_up_minutes(kit) if name not in BY_STARS)
    return hands + unloading_min(kit)


def test_one_evening_moves_the_guess_and_many_replace_it() -> None:
    """The mean of two normal logarithms by their weights, worked by hand: 1/0.4² and n/0.25²."""
    for evenings, weight in ((1, 16.0), (9, 144.0)):
        own = learn_work([(RigWork.SET_UP, 40.0)] * evenings)[0]
        share = weight / (weight + 6.25)
        wanted = 80.0 * (40.0 / 80.0) ** share
        minutes, sigma = own.minutes(80.0)
        assert minutes == pytest.approx(wanted)
        assert sigma == pytest.approx(wanted / math.sqrt(weight + 6.25))
    assert minutes == pytest.approx(40.0, abs=1.5)


def test_the_kit_is_set_up_in_what_was_noted(tmp_path: Path) -> None:
    notes = [(EntryKind.SET_UP, 40.0)] * 6 + [(EntryKind.TAKE_DOWN, 15.0)] * 2
    kit = book_of(tmp_path / "a.sqlite", *notes)
    learned = learned_finding(kit, tmp_path / "a.sqlite")
    set_up, down = own_minutes(kit, learned)
    assert (set_up.evenings, down.evenings) == (6, 2)
    assert 40.0 < set_up.minutes < 60.0 < assumed(kit)
    assert 15.0 < down.minutes < TAKE_DOWN_MIN
    after = with_own_minutes(kit, (set_up, down))
    assert assumed(after) == pytest.approx(set_up.minutes, abs=3.0)  # whole minutes of six stages
    axis = {name: least for name, least in set_up_minutes(kit) if name in BY_STARS}
    assert axis == {n: m for n, m in set_up_minutes(after) if n in BY_STARS}


def test_who_noted_nothing_keeps_the_guess(tmp_path: Path) -> None:
    kit = book_of(tmp_path / "a.sqlite")
    assert own_minutes(kit, learned_finding(kit, tmp_path / "a.sqlite")) == ()
    assert own_minutes(kit, LearnedFinding(())) == ()
    assert with_own_minutes(kit, ()) is kit
    other = demo_kit("paddock")
    book_of(tmp_path / "b.sqlite", (EntryKind.SET_UP, 40.0))
    assert learned_finding(other, tmp_path / "b.sqlite") is None  # another rig


def test_it_is_carried_and_shown(tmp_path: Path) -> None:
    book_of(tmp_path / "a.sqlite", (EntryKind.SET_UP, 52.0))
    with Logbook(tmp_path / "a.sqlite") as book, Logbook(tmp_path / "b.sqlite") as other:
        text = export_json(book)
        assert import_json(other, text) > 0
        assert import_json(other, text) == 0
        (entry,) = evening_record(other, 1).entries
    assert isinstance(entry, WorkEntry)
    assert (entry.work, entry.minutes) == ("set_up", 52.0)


def test_it_is_told_with_its_spread() -> None:
    own = OwnMinutes(RigWork.SET_UP, 52.4, 6.2, 3, 77.0)
    assert own_minutes_words(own) == (
        "52 ± 6 minutes for setting up by your own notes of 3 evenings (77 without them)"
    )


def test_from_the_begin_of_the_evening_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = ["--logbook", str(tmp_path / "a.sqlite"), "--kit", "courtyard"]
    assert main(["log", "begin", *book, "--at", "2026-12-05T17:00"]) == 0
    assert main(["log", "add", "set-up", *book, "--at", "2026-12-05T17:48"]) == 0
    assert main(["log", "add", "take-down", *book, "--minutes", "20"]) == 0
    assert "set up in 48 minutes" in capsys.readouterr().out
    for wrong in (["set-up", "--at", "2026-12-05T16:59"], ["take-down"]):
        assert main(["log", "add", wrong[0], *book, *wrong[1:]]) != 0
