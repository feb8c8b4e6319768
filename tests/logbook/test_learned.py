"""What the record teaches about the bolts, and where it comes into the answers."""

from __future__ import annotations

import json
import math
import random
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from axletree.cli import main
from axletree.kit.kit import Kit, demo_kit, demo_text
from axletree.logbook.learned import BoltLesson, turns_per_degree, with_learned_bolts
from axletree.logbook.own import Learned
from axletree.logbook.store import Logbook
from axletree.tell.logbook.text import learned_words

AT = datetime(2026, 11, 20, 19, 0, tzinfo=UTC)
DAY = date(2026, 11, 20)
SIGMA_ARCMIN = 0.3
# A kit of a person's own: a demo kit's evenings teach nothing.
OWN = "# mine\n" + demo_text()


def turning(
    book: Logbook, kit: Kit, text: str, *, altitude: float = 0.8, azimuth: float = 0.7,
    turns: tuple[float, ...] = (0.4, -0.3, 0.25, -0.35), seed: int = 4, signed: bool = True,
) -> None:  # fmt: skip
    """An invented evening: bolts of these turns a degree, the axis measured around each turn."""
    rng = random.Random(seed)
    evening = book.begin_evening(DAY, kit, text, AT)
    flat = math.cos(math.radians(kit.site.latitude_deg))
    high, east, at = 30.0, -20.0, AT
    variance = SIGMA_ARCMIN**2
    covariance = ((variance, 0.0), (0.0, variance))

    def measure() -> None:
        book.add_axis_measure(
            evening, at, "drift", high + rng.gauss(0, SIGMA_ARCMIN),
            east + rng.gauss(0, SIGMA_ARCMIN), covariance,
        )  # fmt: skip

    for turn in turns:
        measure()
        # Of a pair of bolts the one that is tightened is noted, always clockwise.
        book.add_bolt_turn(evening, at + timedelta(minutes=2), turn, turn if signed else abs(turn))
        high += turn / altitude * 60.0
        east += turn / azimuth * 60.0 * flat
        at += timedelta(minutes=10)
    measure()


def test_a_pair_of_bolts_counts_by_amounts(tmp_path: Path) -> None:
    """Demo kits have opposed azimuth bolts: noted turns are clockwise, moves go both ways."""
    with Logbook(tmp_path / "log.sqlite") as book:
        turning(book, demo_kit(), OWN, signed=False)
        learned = turns_per_degree(book, "azimuth")
        assert learned is not None
        assert learned.count == 4
        assert learned.turns_per_degree == pytest.approx(0.7, abs=3 * learned.sigma)
        assert learned.sigma < 0.03


def test_a_single_azimuth_bolt_keeps_its_sign(tmp_path: Path) -> None:
    text = OWN + "\n[mount.bolts]\nazimuth_pair = false\n"
    with Logbook(tmp_path / "log.sqlite") as book:
        turning(book, demo_kit(), text, azimuth=-0.7)
        learned = turns_per_degree(book, "azimuth")
        assert learned is not None
        assert learned.turns_per_degree == pytest.approx(-0.7, abs=3 * learned.sigma)


def test_only_the_same_mount_teaches(tmp_path: Path) -> None:
    kit, other = demo_kit(), demo_kit("paddock")
    with Logbook(tmp_path / "log.sqlite") as book:
        turning(book, other, "# mine\n" + demo_text("paddock"), altitude=0.5)
        assert turns_per_degree(book, "altitude", kit) is None
        assert turns_per_degree(book, "altitude", other) is not None
        assert turns_per_degree(book, "altitude") is not None


def test_a_guess_gives_way_and_a_given_figure_stays(tmp_path: Path) -> None:
    kit = demo_kit()
    assert "mount.bolts.altitude_turns_per_degree" in kit.guessed
    with Logbook(tmp_path / "log.sqlite") as book:
        assert with_learned_bolts(kit, book) == (kit, ())
        turning(book, kit, OWN, altitude=1.1, signed=False)
        better, lessons = with_learned_bolts(kit, book)
        assert better.mount.bolts.altitude_turns_per_degree == pytest.approx(1.1, abs=0.08)
        assert "mount.bolts.altitude_turns_per_degree" not in better.guessed
        assert [one.lesson for one in lessons if one.bolt == "altitude"] == [
            BoltLesson.REPLACES_GUESS
        ]
        words = learned_words(Learned(better, lessons))
        assert any("learned from 4 turns" in w and "guessed: 0.80" in w for w in words)
        bolts = kit.mount.bolts
        given = kit.model_copy(update={"guessed": ()})
        same, lessons = with_learned_bolts(given, book)
        assert same.mount.bolts == bolts
        words = learned_words(Learned(same, lessons))
        assert any("your kit says 0.80: check it" in w for w in words)


def test_a_bolt_that_goes_the_other_way_is_named(tmp_path: Path) -> None:
    with Logbook(tmp_path / "log.sqlite") as book:
        turning(book, demo_kit(), OWN, altitude=-0.8, signed=False)
        better, lessons = with_learned_bolts(demo_kit(), book)
    assert better.mount.bolts.altitude_clockwise == "raises"
    assert BoltLesson.OTHER_DIRECTION in {one.lesson for one in lessons}
    words = learned_words(Learned(better, lessons))
    assert any("clockwise lowers the axis" in w for w in words)


def test_a_figure_that_is_hardly_known_teaches_nothing(tmp_path: Path) -> None:
    """A turn of 0.06 moves 4.5 arcminutes; measured with 0.3 at each end 10 % are left. Two
    degrees of error at each end leave nothing."""
    with Logbook(tmp_path / "log.sqlite") as book:
        evening = book.begin_evening(DAY, demo_kit(), OWN, AT)
        wide = ((3600.0, 0.0), (0.0, 3600.0))
        book.add_axis_measure(evening, AT, "drift", 0.0, 0.0, wide)
        book.add_bolt_turn(evening, AT + timedelta(minutes=1), 0.4, 0.4)
        book.add_axis_measure(evening, AT + timedelta(minutes=9), "drift", 30.0, 30.0, wide)
        assert with_learned_bolts(demo_kit(), book) == (demo_kit(), ())


def test_pole_and_check_use_what_was_learned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    Path("axletree.toml").write_text(OWN, encoding="utf-8")
    words = ["pole", "--at", "2026-12-05T20:00", "--high-arcmin", "60", "--east-arcmin", "0"]
    assert main([*words, "--json"]) == 0
    before = json.loads(capsys.readouterr().out)
    assert not (tmp_path / "axletree").exists()  # reading never begins a logbook
    with Logbook(tmp_path / "axletree" / "logbook.sqlite") as book:
        turning(book, demo_kit(), OWN, altitude=1.2, signed=False)
    assert main([*words, "--json"]) == 0
    after = json.loads(capsys.readouterr().out)
    assert any("learned from 4 turns in the logbook" in w for w in after["assumed"])
    was, now = (json.dumps(d) for d in (before, after))
    assert was != now
    assert main([*words, "--json", "--logbook", "none"]) == 0
    assert json.loads(capsys.readouterr().out) == before
    assert main([*words, "--logbook", "nowhere.sqlite"]) == 2
    assert "no such file" in capsys.readouterr().err


def test_check_turns_bolts_by_what_was_learned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Turns grow with the turns a degree: 1.2 learned over 0.8 guessed."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    Path("axletree.toml").write_text(OWN, encoding="utf-8")
    Path("stars.csv").write_text(
        "star,started,watched_s,drift_arcsec,sigma_arcsec\n"
        "Altair,19:20,600,30,1.5\nCapella,20:20,600,-20,1.5\n"
    )
    words = ["check", "drift", "stars.csv", "--at", "2026-12-05T20:30", "--no-notes", "--json"]
    assert main(words) == 0
    before = json.loads(capsys.readouterr().out)
    assert before["learned"] == []
    with Logbook(tmp_path / "axletree" / "logbook.sqlite") as book:
        turning(book, demo_kit(), OWN, altitude=1.2, signed=False)
        learned = turns_per_degree(book, "altitude")
    assert learned is not None
    assert main(words) == 0
    after = json.loads(capsys.readouterr().out)
    ratio = after["bolts"]["altitude_turns"] / before["bolts"]["altitude_turns"]
    assert ratio == pytest.approx(learned.turns_per_degree / 0.8, rel=1e-6)
    assert main(words[:-1]) == 0
    assert "learned from 4 turns in the logbook" in " ".join(capsys.readouterr().out.split())
    # A demo kit learns nothing of that, even where it has the same mount.
    assert main([*words, "--kit", "courtyard"]) == 0
    assert json.loads(capsys.readouterr().out)["learned"] == []


def test_demo_kits_and_other_mounts_teach_nothing(tmp_path: Path) -> None:
    """A mount goes by its name and size, or by its kit's name; the site may be another one."""
    kit = demo_kit()
    unnamed = kit.mount.model_copy(update={"name": "mount"})
    mine = kit.model_copy(update={"name": "mine", "mount": unnamed})
    text = OWN.replace(kit.name, "mine").replace(f'name = "{kit.mount.name}"', 'name = "mount"')
    assert text.count('"mine"') == text.count('name = "mount"') == 1
    with Logbook(tmp_path / "log.sqlite") as book:
        turning(book, kit, demo_text(), signed=False)
        assert turns_per_degree(book, "altitude", kit) is None
        turning(book, mine, text, signed=False)
        assert turns_per_degree(book, "altitude", kit) is None
        assert turns_per_degree(book, "altitude", mine) is not None
        site = kit.site.model_copy(update={"name": "elsewhere", "latitude_deg": 12.0})
        assert turns_per_degree(book, "altitude", mine.model_copy(update={"site": site}))
        other = mine.model_copy(update={"name": "yours"})
        assert turns_per_degree(book, "altitude", other) is None


def test_a_damaged_logbook_is_kept_aside_and_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    Path("axletree.toml").write_text(OWN, encoding="utf-8")
    path = tmp_path / "axletree" / "logbook.sqlite"
    path.parent.mkdir()
    path.write_bytes(b"not a database at all, " * 400)
    assert main(["pole", "--at", "2026-12-05T20:00"]) == 0
    out = capsys.readouterr().out
    assert "damaged" in " ".join(out.split())
    assert list(path.parent.glob("logbook.damaged-1*"))
