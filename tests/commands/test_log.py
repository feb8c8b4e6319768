"""`axletree log` as a person types it: what is written comes back, what is half said is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_text

BEGUN = "2026-12-05T19:00"


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path


def log(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["log", *words]) == 0
    return capsys.readouterr().out


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """The one line that refuses; nothing on standard output."""
    assert main(["log", *words]) != 0
    out, error = capsys.readouterr()
    assert out == ""
    assert error.count("\n") == 1
    return error


def begun(capsys: pytest.CaptureFixture[str], *words: str) -> None:
    log(capsys, "begin", "--at", BEGUN, *words)


REFUSED: tuple[tuple[tuple[str, ...], str], ...] = (
    (("add",), "one of: done, skipped, note, sky, bolt"),
    (("add", "M31"), "one of: done, skipped, note, sky, bolt"),
    (("add", "skipped"), "axletree log add skipped M31"),
    (("add", "done", "M31", "--visitors", "-3"), "--visitors must lie between 0 and"),
    (("add", "note"), "note what?"),
    (("add", "sky"), "--seeing, --darkness, --faintest or words"),
    (("add", "sky", "--seeing", "0"), "--seeing 0 must lie between"),
    (("add", "sky", "--darkness", "99"), "--darkness 99 must lie between 0 and 40"),
    (("add", "sky", "--faintest", "nan"), "--faintest nan must lie between"),
    (("add", "bolt"), "--altitude TURNS or --azimuth TURNS"),
    (("add", "bolt", "--altitude", "inf"), "--altitude inf must lie between"),
    (("add", "done", "M31", "--evening", "7"), "no evening number 7; 'axletree log' lists"),
    (("add", "done", "M31", "--evening", "9" * 30), "no evening number of that size"),
    (("show", "last"), "give its number from 'axletree log'"),
    (("show", "²"), "give its number from 'axletree log'"),
    (("show", "9" * 30), "no evening number of that size"),
    (("show", "1", "2"), "log show: '2' is a word too many"),
    (("bolts", "altitude"), "log bolts: 'altitude' is a word too many"),
    (("export",), "ending in .json, or a folder for CSV"),
    (("import",), "one that 'axletree log export' wrote"),
    (("import", "none.json"), "none.json: no such file"),
    (("import", "data"), "data: cannot be read (Is a directory"),
)


def test_what_is_half_said_is_refused_and_nothing_written(
    capsys: pytest.CaptureFixture[str],
) -> None:
    begun(capsys)
    for words, said in REFUSED:
        assert said in refused(capsys, *words)
    assert log(capsys, "show").count("\n") == 1


def test_nothing_can_be_added_before_an_evening_is_begun(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert "'axletree log begin' begins one" in refused(capsys, "add", "note", "clouds")


def test_a_file_too_large_for_a_logbook_is_not_read(
    capsys: pytest.CaptureFixture[str], own_folder: Path
) -> None:
    with (own_folder / "big.json").open("wb") as file:
        file.truncate(64_000_001)
    assert "big.json: larger than 64 MB, not a logbook's export" in refused(
        capsys, "import", "big.json"
    )


def test_an_object_of_ones_own_and_an_earlier_evening(
    capsys: pytest.CaptureFixture[str], own_folder: Path
) -> None:
    (own_folder / "mine.csv").write_text("name,ra_h,dec_deg\nThe lamp house,5.5,10\n")
    kit = demo_text().replace("[habits]\n", '[habits]\nown_objects_file = "mine.csv"\n')
    (own_folder / "axletree.toml").write_text(kit)
    begun(capsys)
    log(capsys, "begin", "--at", "2026-12-12T19:00")
    log(capsys, "add", "done", "the", "lamp", "house", "--at", "2026-12-05T21:00", "--evening", "1")
    whole = json.loads(log(capsys, "show", "1", "--json"))
    (stop,) = whole["stop"]
    assert (stop["object"], stop["catalogue_id"]) == ("The lamp house", "own:The lamp house")
    assert json.loads(log(capsys, "show", "--json"))["stop"] == []  # the latest


@pytest.mark.parametrize("kind", ["done", "skipped"])
@pytest.mark.parametrize(
    ("typed", "nearest"), [("Vgea", "Vega"), ("Andromida Galaxy", "Andromeda"), ("M311", "M31")]
)
def test_an_unknown_name_is_refused_with_what_comes_near(
    capsys: pytest.CaptureFixture[str], kind: str, typed: str, nearest: str
) -> None:
    begun(capsys)
    said = refused(capsys, "add", kind, *typed.split())
    assert f"'{typed}'" in said
    assert nearest in said
    assert json.loads(log(capsys, "show", "--json"))["stop"] == []
    log(capsys, "add", kind, "Vega")
    assert len(json.loads(log(capsys, "show", "--json"))["stop"]) == 1


def test_of_two_sites_each_kit_writes_into_its_own_evening(
    capsys: pytest.CaptureFixture[str],
) -> None:
    log(capsys, "begin", "--at", BEGUN, "--kit", "courtyard")
    assert "begun at" in refused(capsys, "add", "note", "no", "--kit", "paddock")
    log(capsys, "begin", "--at", BEGUN, "--kit", "paddock")
    log(capsys, "add", "note", "north", "--kit", "courtyard")
    log(capsys, "add", "note", "south", "--kit", "paddock")
    log(capsys, "add", "note", "the latest")
    notes = [
        [n["text"] for n in json.loads(log(capsys, "show", str(k), "--json"))["note"]]
        for k in (1, 2)
    ]
    assert notes == [["north"], ["south", "the latest"]]


def test_after_midnight_it_is_still_the_same_evening(capsys: pytest.CaptureFixture[str]) -> None:
    # 23:30 UTC in Sydney is the next morning; 01:00 by the clock is still last night.
    for at in ("2026-12-06T01:00", "2026-12-05T13:30Z"):
        told = log(capsys, "begin", "--at", at, "--kit", "paddock")
        assert "begun: 5 December 2026," in told


def test_entries_stand_in_the_order_of_time_in_local_time(
    capsys: pytest.CaptureFixture[str], own_folder: Path
) -> None:
    # Évora in summer is an hour ahead of UTC.
    log(capsys, "begin", "--at", "2026-07-05T22:00")
    log(capsys, "add", "note", "later", "--at", "2026-07-05T23:10")
    log(capsys, "add", "note", "first", "--at", "2026-07-05T21:45Z")
    assert log(capsys, "show").splitlines()[1:] == ["  22:45  first", "  23:10  later"]
    # In the night of 25 October clocks go back from 02:00 to 01:00 (EU directive 2000/84/EC).
    log(capsys, "begin", "--at", "2026-10-24T22:00")
    log(capsys, "add", "note", "second", "--at", "2026-10-25T01:20Z")
    log(capsys, "add", "note", "first", "--at", "2026-10-25T00:40Z")
    assert log(capsys, "show").splitlines()[1:] == ["  01:40  first", "  01:20  second"]
    assert [r["text"] for r in json.loads(log(capsys, "search", "2026-10", "--json"))["found"]] == [
        "second", "first",
    ]  # fmt: skip
    log(capsys, "export", "out")
    rows = (own_folder / "out" / "note.csv").read_text().splitlines()[1:]
    assert [row.rsplit(",", 1)[-1] for row in rows] == ["first", "later", "first", "second"]


def test_bolts_are_learned_from_turns_between_measurements(
    capsys: pytest.CaptureFixture[str], own_folder: Path
) -> None:
    """Half a turn that moves the axis 36 arcminutes: 0.5 / 0.6 degree, 0.83 turns a degree."""
    from datetime import datetime

    from axletree.logbook.store import Logbook, default_logbook

    begun(capsys)
    log(capsys, "add", "bolt", "--altitude", "0.5", "--at", "2026-12-05T20:00", "--note", "gently")
    with Logbook(default_logbook()) as book:
        for clock, high in (("19:30", 40.0), ("20:30", 76.0)):
            at = datetime.fromisoformat(f"2026-12-05T{clock}+00:00")
            book.add_axis_measure(1, at, "drift", high, 0.0, ((0.25, 0.0), (0.0, 0.25)))
    told = log(capsys, "bolts")
    assert told.splitlines()[0] == "altitude: 0.83 ± 0.02 turns per degree, from 1 turn."
    assert told.splitlines()[1].startswith("azimuth: not known yet")
    data = json.loads(log(capsys, "bolts", "--json"))
    assert data["altitude"]["turns_per_degree"] == pytest.approx(0.5 / 0.6)
    # The difference of two measurements good to half an arcminute: sqrt(0.5) of 36.
    assert data["altitude"]["sigma"] == pytest.approx(0.5 / 0.6 * 0.5**0.5 / 36.0, rel=0.02)
    assert data["azimuth"] is None
    assert "bolts turned: altitude +0.5, azimuth +0" in log(capsys, "show")


def test_the_logbook_keeps_the_kit_that_was_named(
    capsys: pytest.CaptureFixture[str], own_folder: Path
) -> None:
    (own_folder / "mine.toml").write_text(demo_text("paddock"))
    begun(capsys, "--kit", "mine.toml")
    assert json.loads(log(capsys, "show", "--json"))["kit_toml"] == demo_text("paddock")
