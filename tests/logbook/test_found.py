"""Is it kept how objects were found, and what does that teach of whom?"""

from __future__ import annotations

import math
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import binom

from axletree.cli import main
from axletree.find.practice.learned import FoundBy, Try, learn, with_factor
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.logbook.entries import EntryKind, EntryRequest, FoundEntry, add_entry, evening_record
from axletree.logbook.exchange import export_json, import_json
from axletree.logbook.found import learned_finding, take_back_latest
from axletree.logbook.store import Logbook

AT = datetime(2026, 12, 5, 19, 30, tzinfo=UTC)
DAY = date(2026, 12, 5)


def own(name: str) -> tuple[Kit, str]:
    text = "\n".join(
        f'name = "{name}"' if line.startswith("name = ") and number < 20 else line
        for number, line in enumerate(demo_text().splitlines())
    )
    kit, problems = check_text(text)
    assert kit is not None, problems
    return kit, text


def noted(path: Path, name: str, *finds: tuple[bool, tuple[FoundBy, ...], float, float]) -> Kit:
    kit, text = own(name)
    with Logbook(path) as book:
        evening = book.begin_evening(DAY, kit, text, AT)
        for found, ways, minutes, chance in finds:
            kind = EntryKind.FOUND if found else EntryKind.MISSED
            add_entry(
                book,
                EntryRequest(kind, evening, AT, name="M57", catalogue_id="NGC6720", ways=ways,
                             minutes=minutes, chance=chance),
            )  # fmt: skip
    return kit


STEPS, SWEEP, HOP = (FoundBy.STEPS,), (FoundBy.STEPS, FoundBy.SWEEP), (FoundBy.HOP,)


def test_a_find_comes_back_and_is_carried_and_taken_back(tmp_path: Path) -> None:
    noted(tmp_path / "a.sqlite", "mine", (True, SWEEP, 4.0, 0.8), (False, HOP, 9.0, 0.7))
    with Logbook(tmp_path / "a.sqlite") as book:
        first, second = evening_record(book, 1).entries
        assert isinstance(first, FoundEntry)
        assert (first.ways, first.found, first.minutes) == (("steps", "sweep"), True, 4.0)
        assert isinstance(second, FoundEntry)
        assert not second.found
        carried = export_json(book)
        with Logbook(tmp_path / "b.sqlite") as other:
            assert import_json(other, carried) == 3  # an evening, two finds
            assert import_json(other, carried) == 0
            assert export_json(other) == carried
        gone = take_back_latest(book, 1)
        assert gone is not None
        assert gone.ways == ("hop",)
        assert len(evening_record(book, 1).entries) == 1
        with pytest.raises(AxletreeError, match="not known"):
            import_json(book, carried.replace("steps,sweep", "luck"))


def test_one_rig_learns_nothing_from_another_and_a_demo_kit_nothing_at_all(tmp_path: Path) -> None:
    path = tmp_path / "a.sqlite"
    kit = noted(path, "mine", (True, STEPS, 4.0, 0.8))
    assert learned_finding(kit, path) is not None
    assert learned_finding(own("another")[0], path) is None
    assert learned_finding(kit, None) is None
    with Logbook(path) as book:
        evening = book.begin_evening(DAY, demo_kit(), demo_text(), AT)
        add_entry(book, EntryRequest(EntryKind.FOUND, evening, AT, name="M57",
                                     catalogue_id="NGC6720", ways=STEPS))  # fmt: skip
    assert learned_finding(demo_kit(), path) is None


def test_ways_before_the_last_did_not_lead_there(tmp_path: Path) -> None:
    kit = noted(tmp_path / "a.sqlite", "mine", (True, SWEEP, 4.0, 0.8))
    learned = learned_finding(kit, tmp_path / "a.sqlite")
    assert learned is not None
    steps, sweep = learned.of(FoundBy.STEPS), learned.of(FoundBy.SWEEP)
    assert steps is not None
    assert sweep is not None
    assert (steps.tries, steps.found) == (1, 0)
    assert steps.factor > 1.0
    assert sweep.timed == 0  # four minutes belong to both together


def test_seen_and_told_chance_come_to_agree() -> None:
    # A simulated person (a round normal error on a disc, other code) whose errors are 1.6 times
    # the assumed ones: in the end the told chance is the share that is found.
    rng = np.random.default_rng(7)
    radius, assumed, true = 1.0, 0.6, 0.96
    chance = 1.0 - math.exp(-0.5 * (radius / assumed) ** 2)
    hits = np.hypot(*rng.normal(0.0, true, (2, 400))) <= radius
    way = learn([Try(FoundBy.STEPS, bool(hit), None, chance) for hit in hits]).of(FoundBy.STEPS)
    assert way is not None
    told, sigma = way.chance(chance)
    assert told == pytest.approx(hits.mean(), abs=0.02)
    assert abs(way.factor - 1.6) < 3.0 * way.factor * way.factor_log_sigma
    # A binomial share of 400 has a standard deviation of sqrt(p (1 - p) / 400).
    assert sigma == pytest.approx(math.sqrt(told * (1.0 - told) / 400), rel=0.2)
    # Its range is the binomial's as well, 68 % of the time, and never past certainty.
    low, high = way.told_range(told)
    assert (low, high) == pytest.approx(binom.interval(0.683, 400, told) / np.array(400), abs=0.01)
    surest = learn([Try(FoundBy.STEPS, True, None, 0.95)] * 20).of(FoundBy.STEPS)
    assert surest is not None
    told, _ = surest.chance(0.95)
    low, high = surest.told_range(told)
    assert high < 1.0
    assert told - low > 1.5 * (high - told)
    # Rayleigh's law by hand: twice the error leaves 1 - (1 - p)^(1/4).
    assert with_factor(0.9375, 2.0) == pytest.approx(0.5)


def test_minutes_lie_between_the_usual_and_the_noted_ones() -> None:
    few = learn([Try(FoundBy.HOP, True, 10.0)]).of(FoundBy.HOP)
    many = learn([Try(FoundBy.HOP, True, 10.0)] * 50).of(FoundBy.HOP)
    assert few is not None
    assert many is not None
    # By hand: weights 4 and 1/0.36 of log 5 and log 10.
    by_hand = math.exp((4.0 * math.log(5.0) + math.log(10.0) / 0.36) / (4.0 + 1.0 / 0.36))
    assert few.minutes == pytest.approx(by_hand)
    assert many.minutes == pytest.approx(10.0, rel=0.03)
    assert many.minutes_sigma < few.minutes_sigma / 2.0
    assert few.tries == 0  # nobody knows which chance was told


def test_words_of_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    book, kit = str(tmp_path / "b.sqlite"), tmp_path / "kit.toml"
    kit.write_text(own("mine")[1])
    both = ["--logbook", book, "--kit", str(kit)]
    assert main(["log", "begin", *both, "--at", "2026-12-05T18:00"]) == 0
    add = ["log", "add", "found", "M57", *both, "--at", "2026-12-05T18:48"]
    assert main([*add, "--by", "steps", "--minutes", "4"]) == 0
    assert "M57 found by steps" in capsys.readouterr().out
    with Logbook(Path(book)) as opened:
        (entry,) = evening_record(opened, 1).entries
    assert isinstance(entry, FoundEntry)
    assert entry.chance is not None
    assert 0.0 < entry.chance < 1.0
    for bad in ([], ["--by", "luck"], ["--by", "hop", "--minutes", "-1"]):
        assert main([*add, *bad]) == 2
        assert len(capsys.readouterr().err.strip().splitlines()) == 1
    assert main(["log", "undo", "found", *both]) == 0
    assert "Taken back: M57 found by steps, 4 minutes." in capsys.readouterr().out
    assert main(["log", "undo", "found", *both]) == 2


def test_find_tells_a_learned_chance(tmp_path: Path) -> None:
    from axletree.stages.target.find import FindRequest, find_object
    from axletree.tell.find.data import find_data
    from axletree.tell.find.text import find_text

    path = tmp_path / "a.sqlite"
    kit = noted(path, "mine", *[(False, STEPS, 4.0, 0.9)] * 6, (True, STEPS, 4.0, 0.9))
    at = datetime(2026, 12, 5, 18, 48, tzinfo=UTC)
    assumed = find_object(kit, FindRequest("M57", at))
    told = find_object(kit, FindRequest("M57", at, learned=learned_finding(kit, path)))
    before, after = find_data(assumed), find_data(told)
    assert before["steps"] is not None
    assert after["steps"] is not None
    assert (before["steps"]["chance_from"], after["steps"]["chance_from"]) == ("assumed", "learned")
    # Six of seven missed where nine of ten were promised: the chance falls.
    assert after["steps"]["chance_in_eyepiece"] < before["steps"]["chance_in_eyepiece"] - 0.05
    assert "learned from 1 of 7 found" in " ".join(find_text(told).split())
    assert "learned from" not in find_text(assumed)
    assert before["chance_sigma"] is None
    assert before["chance_range"] is None
    sure = tmp_path / "b.sqlite"
    kit = noted(sure, "mine", *[(True, STEPS, 4.0, 0.9)] * 7)
    told = find_object(kit, FindRequest("M57", at, learned=learned_finding(kit, sure)))
    surely = find_data(told)
    assert surely["first"] == "steps"
    assert surely["chance_range"] is not None
    assert surely["chance"] is not None
    low, high = surely["chance_range"]
    assert 0.0 < low < surely["chance"] < high < 1.0
    words = f"{math.floor(100 * low)} to {math.ceil(100 * high)} %, learned from 7 of 7 found"
    assert words in " ".join(find_text(told).split())
    assert [way["by"] for way in after["learned"]] == ["steps"]
