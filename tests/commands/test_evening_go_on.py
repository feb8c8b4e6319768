"""The replan at the telescope, typed: late, clouds, skip, longer, promises, and bad input."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from axletree.cli import main
from axletree.commands.shared.go_on import cloud
from axletree.evening.sequence.replan import ANNOUNCED_POINTS
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit, demo_text
from axletree.logbook.store import Logbook, LoggedStop
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening, evening_json

DAY = date(2026, 12, 5)
MADE_AT = datetime(2026, 12, 5, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def known() -> Evening:
    kit = demo_kit()
    return evening_document(
        plan_evening(
            kit, observer_of(kit.site), EveningRequest(DAY, made_at=MADE_AT, effort="quick")
        )
    )


@pytest.fixture
def sheet(known: Evening, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The run sheet that people know, and no logbook of anybody's."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    file = tmp_path / "run-sheet.json"
    file.write_text(evening_json(known), encoding="utf-8")
    return file


def again(
    capsys: pytest.CaptureFixture[str], sheet: Path, at: datetime, *words: str
) -> dict[str, Any]:
    assert main(["evening", "--go-on", str(sheet), "--at", at.isoformat(), *words, "--json"]) == 0
    made: dict[str, Any] = json.loads(capsys.readouterr().out)
    return made


def names(evening: dict[str, Any]) -> list[str]:
    return [stop["name"] for stop in evening["stops"]]


def middle_of(known: Evening, number: int) -> datetime:
    stop = known.stops[number]
    return stop.begin + (stop.end - stop.begin) / 2


def test_nothing_changed_keeps_what_was_announced(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = middle_of(known, 2)
    made = again(capsys, sheet, at)
    assert names(made)[0] == known.stops[2].name
    assert datetime.fromisoformat(made["stops"][0]["begin"]) == known.stops[2].begin
    assert not set(names(made)) & {s.name for s in known.stops[:2]}
    kept = {s.name for s in known.stops[2:]} & set(names(made))
    assert len(kept) >= len(known.stops) - 3
    begins = [datetime.fromisoformat(s["begin"]) for s in made["stops"]]
    ends = [datetime.fromisoformat(s["end"]) for s in made["stops"]]
    assert all(b >= e for e, b in zip(ends, begins[1:], strict=False))


def test_late_at_night_the_hours_are_named_and_nothing_is_called_faint(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = known.stops[-1].end + timedelta(minutes=90)
    made = again(capsys, sheet, at, "--late")
    assert (made["stops"], made["order"]["empty_because"]) == ([], "session over")
    assert {g["name"] for g in made["given_up"]} == {s.name for s in known.stops}
    assert not [g for g in made["given_up"] if "faint" in g["reason"] or "low" in g["reason"]]
    main(["evening", "--go-on", str(sheet), "--at", at.isoformat(), "--late"])
    told = capsys.readouterr().out
    assert "hours" in told
    assert "faint" not in told


def test_what_clouds_hide_is_called_clouded(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = again(capsys, sheet, known.stops[1].end, "--clouds", "0-360")
    assert made["order"]["empty_because"] == "clouds"
    assert made["given_up"]
    assert {g["reason"] for g in made["given_up"]} == {"clouds hide it"}


def test_a_version_1_sheet_goes_on_the_same(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = middle_of(known, 2)
    new = again(capsys, sheet, at)
    old = json.loads(sheet.read_text(encoding="utf-8"))
    old["version"] = 1
    for stop in old["stops"]:
        del stop["right_ascension_of_date_h"], stop["declination_j2000_deg"]
        stop["right_ascension_h"] = stop.pop("right_ascension_j2000_h")
        stop["declination_deg"] = stop.pop("declination_of_date_deg")
    sheet.write_text(json.dumps(old), encoding="utf-8")
    assert again(capsys, sheet, at) == new
    assert new["version"] == 3


def test_skip_and_longer(known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = middle_of(known, 1)
    present, skipped = known.stops[1], known.stops[3]
    made = again(capsys, sheet, at, "--skip", skipped.name, "--longer", "7")
    first = made["stops"][0]
    assert first["name"] == present.name
    assert datetime.fromisoformat(first["end"]) == present.end + timedelta(minutes=7)
    assert skipped.name not in names(made)
    # Skipping what is being shown ends it at once.
    made = again(capsys, sheet, at, "--skip", present.name)
    assert present.name not in names(made)


def test_late_means_that_nothing_was_shown(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = known.stops[3].begin
    usual, late = again(capsys, sheet, at), again(capsys, sheet, at, "--late")
    early = {s.name for s in known.stops[:3]}
    assert not early & set(names(usual))
    assert early & set(names(late))
    assert all(datetime.fromisoformat(s["begin"]) >= at for s in late["stops"])


def test_no_stop_under_the_clouds(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Clouds from south through west to north, for an hour and then all night."""
    at = known.stops[0].begin
    for minutes, words in ((60.0, ("--cloud-min", "60")), (1e9, ())):
        made = again(capsys, sheet, at, "--late", "--clouds", "180-360:0-75", *words)
        assert made["stops"]
        for stop in made["stops"]:
            for pose in (stop["start"], stop["finish"]):
                since = (datetime.fromisoformat(pose["at"]) - at).total_seconds() / 60.0
                if 0.0 < since < minutes - 5.0:
                    assert not (pose["azimuth_deg"] > 181.5 and pose["altitude_deg"] < 73.5)


def test_a_promise_comes_first(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Twenty minutes before the end there is time for one or two stops only."""
    last = known.stops[-1]
    promised = known.stops[-3]
    at = last.end - timedelta(minutes=20)
    made = again(capsys, sheet, at, "--late", "--promise", promised.name)
    assert promised.name in names(made)
    assert all(s["promised"] for s in made["stops"] if s["name"] == promised.name)
    assert len(made["stops"]) <= 2
    # What gets no stop tonight though it shows is found by any of its names.
    shown = {stop.name for stop in known.stops}
    assert "M81" not in shown
    more = again(capsys, sheet, known.stops[0].begin, "--late", "--promise", "Bode's Galaxy")
    assert [s["name"] for s in more["stops"] if s["promised"]] == ["M81"]
    # A promise behind clouds is broken, and said.
    words = ["evening", "--go-on", str(sheet), "--at", at.isoformat(), "--late"]
    assert main([*words, "--promise", promised.name, "--clouds", "0-360"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert f"A promise can't be kept: {promised.name}" in out


def test_the_logbook_knows_what_was_shown(
    known: Evening, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = known.stops[2].begin
    shown = known.stops[4]
    with Logbook(tmp_path / "data" / "axletree" / "logbook.sqlite") as book:
        evening = book.begin_evening(DAY, demo_kit(), demo_text(), MADE_AT)
        book.add_stop(evening, LoggedStop(MADE_AT, shown.name, shown.catalogue_id))
    made = again(capsys, sheet, at)
    assert shown.name not in names(made)
    made = again(capsys, sheet, at, "--logbook", "none")
    assert shown.name in names(made)


def test_what_was_shown_lately_counts_less(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Everything of one evening was logged three weeks before: the next one shows other things.

    In October, where many good ones are to be had in the hours asked for."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    made_at = datetime(2026, 10, 10, 12, tzinfo=UTC)
    day, demo = made_at.date().isoformat(), demo_kit()
    request = EveningRequest(made_at.date(), made_at=made_at, effort="quick")
    known = plan_evening(demo, observer_of(demo.site), request)
    kit = tmp_path / "mine.toml"
    kit.write_text(demo_text(), encoding="utf-8")
    with Logbook(tmp_path / "axletree" / "logbook.sqlite") as book:
        before = made_at - timedelta(days=21)
        evening = book.begin_evening(before.date(), demo, demo_text(), before)
        for stop in known.stops:
            book.add_stop(evening, LoggedStop(before, stop.name, stop.catalogue_id))
    assert main(["evening", str(kit), "--date", day, "--json"]) == 0
    made = json.loads(capsys.readouterr().out)
    old = {s.name for s in known.stops}
    # The splendid ones come again, the others give way.
    assert len(set(names(made)) & old) <= 0.75 * len(old)
    told = "shown since 12 July 2026 to the same people (logbook) count less"
    assert any(told in a for a in made["assumptions"])
    # A demo kit is nobody's.
    assert main(["evening", "courtyard", "--date", day, "--json"]) == 0
    assert len(set(names(json.loads(capsys.readouterr().out))) & old) > 0.7 * len(old)


def test_the_new_sheet_is_written_and_goes_on_again(
    known: Evening, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = middle_of(known, 1)
    folder = tmp_path / "out"
    words = ["evening", "--go-on", str(sheet), "--at", at.isoformat(), "--out", str(folder)]
    assert main(words) == 0
    out = capsys.readouterr().out
    assert max(map(len, out.splitlines()[:-1])) <= 80
    later = again(capsys, folder / "run-sheet.json", at + timedelta(minutes=30))
    assert later["stops"]


def test_clouds_as_typed() -> None:
    part = cloud("350-20:10-40", MADE_AT, None)
    assert (part.from_azimuth_deg, part.to_azimuth_deg) == (350.0, 20.0)
    assert (part.low_altitude_deg, part.high_altitude_deg) == (10.0, 40.0)
    for text in ("east", "90", "90-400", "90-180:50-40", "90-180:0-95", "1-2-3"):
        with pytest.raises(AxletreeError, match="clouds"):
            cloud(text, MADE_AT, None)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--skip", "M31"], "name its file with --go-on"),
        (["--at", "2026-12-05T20:00"], "name its file with --go-on"),
        (["--go-on", "nowhere.json"], "no such file"),
        (["--go-on", "SHEET", "--at", "tonight"], "not a date and time"),
        (["--go-on", "SHEET", "--skip", "Nonesuch"], "--skip"),
        (["--go-on", "SHEET", "--promise", "Sun"], "--promise: the Sun is no stop"),
        (["--go-on", "SHEET", "--promise", "NGC 891"], "--promise: NGC 891: too faint for"),
        (["--go-on", "SHEET", "--skip", "M1"], "--skip: M1 is not among tonight's objects"),
        (["--go-on", "SHEET", "--longer", "0"], "--longer"),
        (["--go-on", "SHEET", "--longer", "10", "--late"], "--late"),
        (["--go-on", "SHEET", "--clouds", "0-90", "--cloud-min", "0"], "--cloud-min must lie"),
        (["--go-on", "SHEET", "--clouds", "west"], "--clouds"),
        (["--go-on", "SHEET", "--date", "2026-12-06"], "keeps the known evening"),
        (["--go-on", "SHEET", "--kit", "paddock"], "was planned for"),
        (["--go-on", "KIT"], "not a run sheet"),
    ],
)
def test_bad_input_gets_one_line(
    words: list[str], says: str, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kit = tmp_path / "kit.toml"
    kit.write_text(demo_text())
    named = [str(sheet) if w == "SHEET" else str(kit) if w == "KIT" else w for w in words]
    at = [] if "--at" in words or "--go-on" not in words else ["--at", "2026-12-05T18:30"]
    assert main(["evening", *named, *at]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert says in err


def test_before_the_first_stop_nothing_is_being_shown(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = known.stops[0].begin - timedelta(minutes=12)
    made = again(capsys, sheet, at)
    # There are twelve minutes more than planned: nothing announced falls out.
    assert set(names(made)) >= {s.name for s in known.stops}
    assert all(datetime.fromisoformat(s["begin"]) >= at for s in made["stops"])
    words = ["evening", "--go-on", str(sheet), "--at", at.isoformat(), "--longer", "10"]
    assert main(words) == 2
    assert "--longer: no stop of the run sheet has begun yet" in capsys.readouterr().err


def test_between_two_stops_nothing_is_being_shown_any_more(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    gone, to_come = known.stops[0], known.stops[1:]
    assert to_come[0].begin > gone.end  # the mount is turned in between
    made = again(capsys, sheet, gone.end + (to_come[0].begin - gone.end) / 2)
    assert gone.name not in names(made)
    # All that was announced is shown, or one worth so much more in its place.
    points = {s["name"]: s["worth"]["points"] for s in made["stops"]}
    displaced = [s.worth.points for s in to_come[:3] if s.name not in points and s.worth]
    gained = sorted(points[new] for new in points.keys() - {s.name for s in known.stops})
    assert len(displaced) <= len(gained)
    for old, new in zip(sorted(displaced)[::-1], gained[::-1], strict=False):
        assert new > old + ANNOUNCED_POINTS


def test_an_object_that_nobody_announced_may_be_promised(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One that the order gave up for one that ranks higher comes first by a promise."""
    lost = next(x for x in known.given_up if "instead of" in x.reason)
    at = known.stops[0].begin - timedelta(minutes=5)
    made = again(capsys, sheet, at, "--promise", lost.name)
    (stop,) = (s for s in made["stops"] if s["name"] == lost.name)
    assert stop["promised"]


def test_a_stay_longer_than_the_room_is_cut_and_said(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    stop = min(known.stops, key=lambda s: s.chosen.room_s)
    at = stop.begin + timedelta(seconds=30)
    words = ["evening", "--go-on", str(sheet), "--at", at.isoformat(), "--longer", "240"]
    assert main(words) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "The present object leaves its room first:" in out
    assert "less than you asked for." in out


def test_a_stop_that_the_kit_no_longer_knows_is_named(
    known: Evening, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An object of one's own, taken out of its file after the evening was planned."""
    stranger = known.stops[2].model_copy(
        update={"name": "Amber lamp", "catalogue_id": "own:Amber lamp"}
    )
    stops = (*known.stops[:2], stranger, *known.stops[3:])
    sheet.write_text(evening_json(known.model_copy(update={"stops": stops})))
    assert main(["evening", "--go-on", str(sheet), "--at", known.stops[0].begin.isoformat()]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "No longer among tonight's objects: Amber lamp." in out
    assert out.count("Amber lamp") == 1


def test_a_night_without_darkness_is_refused(
    known: Evening, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """At 68° north on 21 June the Sun does not set (common knowledge)."""
    kit = tmp_path / "north.toml"
    text = demo_text().replace("latitude_deg = 38.5712", "latitude_deg = 68.0")
    assert "68.0" in text
    kit.write_text(text)
    sheet.write_text(evening_json(known.model_copy(update={"date": date(2026, 6, 21)})))
    words = ["--kit", str(kit), "--at", "2026-06-21T23:00"]
    assert main(["evening", "--go-on", str(sheet), *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "2026-06-21: there is no darkness for stars in these hours" in err


def test_a_file_that_is_no_run_sheet_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    big, strange, folder = tmp_path / "big.json", tmp_path / "strange.json", tmp_path / "folder"
    with big.open("wb") as file:
        file.truncate(5_000_001)
    strange.write_bytes(b"\xff\xfe{}")
    folder.mkdir()
    for file, said in (
        (big, "larger than 5 MB, not a run sheet"), (strange, "not a text file in UTF-8"),
        (folder, "cannot be read (Is a directory)"),
    ):  # fmt: skip
        assert main(["evening", "--go-on", str(file)]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert err.strip().endswith(f"{file}: {said}")
