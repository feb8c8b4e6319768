"""When the machine fails: full disks, shut folders, odd clocks, missing tables, a dead battery.

Each fault ends in one plain sentence and status 2, or in an answer that says what it had to do
without; no file is ever found half-written.
"""

from __future__ import annotations

import ctypes
import json
import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import astropy_iers_data
import numpy as np
import pytest

import killed
from axletree import cli
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.logbook.lines import append_line, read_lines
from axletree.logbook.read import evening_whole
from axletree.logbook.store import Logbook
from axletree.sky.observer import observer_of
from axletree.sky.time import earth_rotation
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from axletree.tell.shared.files import write_whole

PACKAGE = Path(cli.__file__).parent
DATE = ("--date", "2026-12-05")
AT = ("--at", "2026-12-05T20:30")
MADE = datetime(2026, 11, 25, 12, tzinfo=UTC)
CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH, PR_CAPBSET_DROP = 1, 2, 24

Made = tuple[int, str, str]


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path


def run(
    words: Sequence[str], folder: Path, before: Callable[[], None] | None = None,
    stdout: int | None = None, package: Path | None = None,
) -> Made:  # fmt: skip
    """One command in a process of its own."""
    environment = {**os.environ, "XDG_DATA_HOME": str(folder / "data")}
    if before is not None:  # byte code cut off by a full disk would be found by whoever comes next
        environment["PYTHONDONTWRITEBYTECODE"] = "1"
    if package is not None:
        environment["PYTHONPATH"] = str(package)
    made = subprocess.run(
        [sys.executable, "-m", "axletree.cli", *words], cwd=folder, env=environment, text=True,
        stdout=subprocess.PIPE if stdout is None else stdout, stderr=subprocess.PIPE,
        timeout=120, check=False, preexec_fn=before,
    )  # fmt: skip
    return made.returncode, made.stdout or "", made.stderr


def one_sentence(made: Made, *words: str) -> None:
    """Status 2, nothing printed, one line of refusal that holds the words."""
    status, out, err = made
    assert (status, out) == (2, ""), (out, err)
    assert len(err.strip().splitlines()) == 1, err
    assert "Traceback" not in err
    for word in words:
        assert word in err, err


def left_in(folder: Path) -> list[str]:
    return sorted(str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file())


# -- the disk is full ---------------------------------------------------------------------------

WRITERS = [
    ("kit", "new", "k.toml"),
    ("pole", *AT, "--draw", "p.svg"),
    ("log", "export", "x.json"),
    ("calendar", "--from", "2026-12-01", "--to", "2026-12-02", "--ics", "n.ics"),
    ("evening", *DATE, "--out", "night"),
    ("evening", *DATE, "--field-sheet", "f.html"),
    ("evening", *DATE, "--calendar", "c.ics"),
]


@pytest.mark.parametrize("words", WRITERS, ids=lambda w: f"{w[0]} {w[-1]}")
def test_a_disk_that_is_full_at_the_last_moment(
    words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    Logbook(tmp_path / "data" / "axletree" / "logbook.sqlite").close()
    before = left_in(tmp_path)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    status = cli.main(list(words))
    out, err = capsys.readouterr()
    one_sentence((status, out, err), "No space left on device", "cannot be written")
    assert left_in(tmp_path) == before


def _small_files() -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (2048, 2048))


def test_a_disk_that_takes_only_two_kilobytes(tmp_path: Path) -> None:
    one_sentence(run(("kit", "new", "k.toml"), tmp_path, _small_files), "k.toml", "File too large")
    one_sentence(run(("pole", *AT, "--draw", "p.svg"), tmp_path, _small_files), "p.svg")
    assert left_in(tmp_path) == []
    one_sentence(run(("log", "begin"), tmp_path, _small_files), "logbook")


def test_a_logbook_on_a_full_disk_keeps_what_it_had(tmp_path: Path) -> None:
    with Logbook(tmp_path / "log.sqlite") as book:
        evening = book.begin_evening(date(2026, 12, 5), demo_kit(), demo_text(), MADE)
        book.add_note(evening, MADE, "kept")
        pages = book.connection.execute("PRAGMA page_count").fetchone()[0]
        book.connection.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(AxletreeError, match="full"):
            _fill(book, evening)
    with Logbook(tmp_path / "log.sqlite") as book:
        assert evening_whole(book, evening)["note"][0]["text"] == "kept"
        assert book.kept_aside is None


def _fill(book: Logbook, evening: int) -> None:
    for _ in range(50):
        book.add_note(evening, MADE, "x" * 4000)


def test_another_file_named_as_the_logbook_stays_where_it_is(tmp_path: Path, capsys) -> None:
    (tmp_path / "kit.toml").write_text(demo_text(), encoding="utf-8")
    for words in (["log", "begin"], ["pole", *AT], ["evening", *DATE]):
        assert cli.main([*words, "--logbook", "kit.toml"]) in (0, 2)
        assert left_in(tmp_path) == ["kit.toml"]
        assert (tmp_path / "kit.toml").read_text(encoding="utf-8") == demo_text()
    assert "not a logbook" in capsys.readouterr().err


def test_a_note_that_fits_only_half(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "axletree-axis.jsonl"
    append_line(path, {"n": 1})
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, data[: len(data) // 2]))
    with pytest.raises(AxletreeError, match="full"):
        append_line(path, {"n": 2})
    monkeypatch.undo()
    append_line(path, {"n": 3})
    assert read_lines(path) == [{"n": 1}, {"n": 3}]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
@pytest.mark.parametrize("words", [(), ("where", "Vega", *AT), ("pole", *AT, "--json")])
def test_an_answer_that_cannot_be_printed(words: tuple[str, ...], tmp_path: Path) -> None:
    full = os.open("/dev/full", os.O_WRONLY)
    try:
        one_sentence(run(words, tmp_path, stdout=full), "No space left on device")
    finally:
        os.close(full)


def test_a_reader_that_goes_away(tmp_path: Path) -> None:
    """As in 'axletree evening | head -1': no complaint."""
    read_end, write_end = os.pipe()
    os.close(read_end)
    try:
        status, _, err = run(("balance", "--json"), tmp_path, stdout=write_end)
    finally:
        os.close(write_end)
    assert (status, err) == (0, "")


def test_a_terminal_that_knows_no_degree_sign(tmp_path, monkeypatch) -> None:
    monkeypatch.setenv("PYTHONIOENCODING", "ascii")
    status, out, err = run(("where", "Vega", *AT), tmp_path)
    assert (status, err) == (0, "")
    assert "Vega" in out


# -- folders that can't be written to -----------------------------------------------------------


def _without_privileges() -> None:
    """Drop what lets a superuser write anywhere; for others nothing changes (capabilities(7))."""
    libc = ctypes.CDLL(None)
    for capability in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
        libc.prctl(PR_CAPBSET_DROP, capability, 0, 0, 0)


@pytest.fixture
def read_only(tmp_path: Path) -> Path:
    folder = tmp_path / "shut"
    folder.mkdir()
    (folder / "drift.csv").write_text(
        "hour_angle_h,declination_deg,watched_s,drift_arcsec\n0,10,600,12\n-5,10,600,9\n"
    )
    folder.chmod(0o555)
    probe = subprocess.run(
        ["touch", str(folder / "probe")], check=False, capture_output=True,
        preexec_fn=_without_privileges,
    )  # fmt: skip
    if probe.returncode == 0:
        pytest.skip("this system lets us write anywhere")
    return folder


@pytest.mark.parametrize(
    "words",
    [
        ("kit", "new", "k.toml"), ("pole", *AT, "--draw", "p.svg"),
        ("check", "drift", "drift.csv", *AT), ("log", "begin"), ("log",),
        ("check", "turned", "--altitude-turns", "1", *AT),
    ],
    ids=" ".join,
)  # fmt: skip
def test_a_folder_that_is_read_only(words: tuple[str, ...], read_only: Path) -> None:
    before = left_in(read_only)
    one_sentence(run(words, read_only, _without_privileges), "ermission denied")
    assert left_in(read_only) == before


def test_measuring_goes_on_in_a_read_only_folder_without_notes(read_only: Path) -> None:
    words = ("check", "drift", "drift.csv", "--no-notes", *AT)
    status, out, err = run(words, read_only, _without_privileges)
    assert (status, err) == (0, "")
    assert "The axis stands" in out


# -- clocks -------------------------------------------------------------------------------------

DRIFTS = """star,started,watched_s,drift_arcsec,sigma_arcsec
Altair,19:20,600,-12.5,1.5
Menkar,20:00,600,9.0,1.5
Capella,20:20,600,11.5,1.5
"""


def test_a_clock_that_jumps_back_an_hour_between_bolt_and_measurement(tmp_path, capsys) -> None:
    """The bolt was turned at 21:00 by a clock that then was set back: said, and nothing lost."""
    (tmp_path / "drift.csv").write_text(DRIFTS)
    assert cli.main(["check", "turned", "--altitude-turns", "1", "--at", "2026-12-05T21:00"]) == 0
    capsys.readouterr()
    assert cli.main(["check", "drift", "drift.csv", *AT]) == 0
    out = capsys.readouterr().out
    assert "Is the clock right?" in " ".join(out.split())
    assert "The axis stands" in out
    assert len(read_lines(tmp_path / "axletree-axis.jsonl")) == 2
    assert cli.main(["check", *AT]) == 2
    assert "nothing was measured since the last turn" in capsys.readouterr().err


def test_a_logbook_over_a_clock_that_jumps_back(tmp_path, capsys) -> None:
    for clock, note in (("21:30", "first"), ("21:40", "second"), ("20:45", "after the jump")):
        at = ["--at", f"2026-12-05T{clock}"]
        if note == "first":
            assert cli.main(["log", "begin", *at]) == 0
        assert cli.main(["log", "add", "note", note, *at]) == 0
    capsys.readouterr()
    assert cli.main(["log", "show"]) == 0
    out = capsys.readouterr().out
    assert out.index("after the jump") < out.index("first") < out.index("second")


def _past_midnight(text: str) -> Kit:
    """A session of three and a half hours about the change of clocks."""
    late = text.replace("hours = 2.5", "start = 23:30:00\nhours = 3.5\nmost_stops = 30")
    kit, problems = check_text(late.replace("bedtime = 22:30:00", ""))
    assert kit is not None, problems
    return kit


@pytest.mark.parametrize(
    ("day", "way", "shift_h"), [(date(2026, 10, 24), "back", 1), (date(2027, 3, 27), "forward", -1)]
)
def test_clocks_that_change_during_the_night(day: date, way: str, shift_h: int) -> None:
    """European Union, directive 2000/84/EC: at 01:00 UTC on the last Sunday of the month."""
    kit = _past_midnight(demo_text())
    made = evening_document(
        plan_evening(kit, observer_of(kit.site), EveningRequest(day, made_at=MADE, effort="quick"))
    )
    stamps = [m.timestamp() for s in made.stops for m in (s.begin, s.end)]
    assert stamps == sorted(stamps)
    change = datetime.combine(day + timedelta(days=1), datetime.min.time(), UTC).timestamp() + 3600
    assert stamps[0] < change < stamps[-1], "the session has to lie across the change"
    before = [s.begin.utcoffset() for s in made.stops if s.begin.timestamp() < change]
    after = [s.begin.utcoffset() for s in made.stops if s.begin.timestamp() >= change]
    assert len(set(before)) == len(set(after)) == 1
    assert (before[0] - after[0]) == timedelta(hours=shift_h)
    for stop in made.stops:
        for side in filter(None, (stop.chosen, stop.other)):
            if side.room_ends is not None:
                lasts = side.room_ends.timestamp() - stop.begin.timestamp()
                assert lasts == pytest.approx(side.room_s, abs=1.0)
    text = " ".join(evening_text(made).split())
    assert f"Clocks are put {way} by 60 minutes in this night" in text
    stages = [m.timestamp() for s in made.stages for m in (s.begin,)]
    assert stages == sorted(stages)


def test_nothing_is_said_of_clocks_that_do_not_change() -> None:
    made = evening_document(
        plan_evening(
            demo_kit(),
            observer_of(demo_kit().site),
            EveningRequest(date(2026, 12, 5), made_at=MADE),
        )
    )
    assert not any("Clocks" in note for note in made.notes)


# -- tables that ran out or are missing -----------------------------------------------------------


def test_after_the_last_announced_leap_second(capsys) -> None:
    assert cli.main(["where", "Vega", "--at", "2027-06-20T22:00"]) == 0
    assert "Leap seconds" not in capsys.readouterr().out
    assert cli.main(["where", "Vega", "--at", "2027-08-20T22:00"]) == 0
    out = capsys.readouterr().out
    assert "Leap seconds are announced only to 28 June 2027" in " ".join(out.split())
    assert max(map(len, out.splitlines())) <= 80


def test_a_leap_second_list_without_its_date(tmp_path, monkeypatch) -> None:
    (tmp_path / "leap.dat").write_text("# nothing\n")
    monkeypatch.setattr(astropy_iers_data, "IERS_LEAP_SECOND_FILE", str(tmp_path / "leap.dat"))
    earth_rotation.leap_seconds_known_to_mjd.cache_clear()
    try:
        doubts = earth_rotation.earth_rotation_at(np.array([61400.5]))[3]
    finally:
        earth_rotation.leap_seconds_known_to_mjd.cache_clear()
    kinds = {doubt.kind for doubt in doubts}
    assert earth_rotation.RotationDoubtKind.LEAP_SECONDS in kinds


def test_beyond_the_span_of_the_earths_turn(capsys) -> None:
    kit = demo_kit("paddock")
    made = evening_document(
        plan_evening(
            kit,
            observer_of(kit.site),
            EveningRequest(date(2031, 6, 5), made_at=MADE, effort="quick"),
        )
    )
    assert made.stops
    assert any("Earth rotation is known and predicted only to" in note for note in made.notes)
    assert "Earth rotation is known" in evening_text(made)


def test_a_table_of_the_earths_turn_that_ends_early(tmp_path, monkeypatch) -> None:
    """A shorter file is no failure: its last value is held and that is said."""
    lines = Path(astropy_iers_data.IERS_A_FILE).read_bytes().splitlines(keepends=True)
    (tmp_path / "short.all").write_bytes(b"".join(lines[:17000]))
    whole = earth_rotation.earth_rotation_at(np.array([61379.0]))
    monkeypatch.setattr(astropy_iers_data, "IERS_A_FILE", str(tmp_path / "short.all"))
    earth_rotation.earth_rotation_table.cache_clear()
    try:
        held = earth_rotation.earth_rotation_at(np.array([61379.0]))
    finally:
        earth_rotation.earth_rotation_table.cache_clear()
    kinds = {doubt.kind for doubt in held[3]}
    assert earth_rotation.RotationDoubtKind.AFTER_TABLE in kinds
    assert abs(held[0][0] - whole[0][0]) < 0.5


NEEDED = {
    "planets.bsp": ("where", "Saturn", *AT),
    "stars.npy": ("where", "Vega", *AT),
    "stars_gaps.npy": ("pole", *AT),
    "stars_faint.npy": ("find", "M31", *AT),
    "star_names.csv": ("where", "Vega", *AT),
    "deep_sky.csv": ("where", "M31", *AT),
    "doubles_gaia.csv": ("where", "Albireo", *AT),
    "doubles_own.csv": ("where", "Albireo", *AT),
    "places.txt": ("place", "Évora"),
    "star_figures.json": ("pole", *AT, "--draw", "p.svg"),
}


@pytest.mark.parametrize("name", NEEDED)
def test_a_data_file_that_is_missing(name: str, tmp_path: Path) -> None:
    package = tmp_path / "python" / "axletree"
    package.mkdir(parents=True)
    for entry in PACKAGE.iterdir():
        if entry.name != "data":
            (package / entry.name).symlink_to(entry)
    shutil.copytree(
        PACKAGE / "data", package / "data", ignore=shutil.ignore_patterns(name),
        copy_function=os.symlink,
    )  # fmt: skip
    (tmp_path / "work").mkdir()
    made = run(NEEDED[name], tmp_path / "work", package=package.parent)
    one_sentence(made, name, "incomplete")
    assert left_in(tmp_path / "work") == []


def test_the_earths_table_missing(tmp_path, monkeypatch, capsys) -> None:
    monkeypatch.setattr(astropy_iers_data, "IERS_A_FILE", str(tmp_path / "gone.all"))
    earth_rotation.earth_rotation_table.cache_clear()
    try:
        status = cli.main(["where", "Vega", *AT])
    finally:
        earth_rotation.earth_rotation_table.cache_clear()
    out, err = capsys.readouterr()
    one_sentence((status, out, err), "gone.all", "No such file")


# -- killed while writing ----------------------------------------------------------------------


def test_a_kit_is_whole_after_every_kill(tmp_path: Path) -> None:
    file = tmp_path / "kit.toml"
    texts = killed.kits()
    write_whole(file, texts[0])
    wrote = killed.confirmed("kit", file, 60, 3)
    assert file.read_bytes() in texts
    assert wrote > 10, "killed before anything was written"
    # What was under way at a kill lies beside under a name of its own, and goes later on.
    for scrap in tmp_path.glob(".kit.toml.*"):
        os.utime(scrap, (1.0, 1.0))
    write_whole(file, texts[0])
    assert left_in(tmp_path) == ["kit.toml"]


def test_a_run_sheet_is_whole_after_every_kill(tmp_path: Path) -> None:
    file = tmp_path / "run-sheet.json"
    write_whole(file, killed.sheet(-1))
    seen = set()
    for seed in range(4, 8):
        killed.confirmed("sheet", file, 12, seed)
        held = json.loads(file.read_bytes())
        assert len(held["body"]) == killed.SHEET_LETTERS
        seen.add(held["n"])
    assert len(seen) > 1


def test_notes_are_whole_lines_after_every_kill(tmp_path: Path) -> None:
    path = tmp_path / "axletree-axis.jsonl"
    wrote = killed.confirmed("notes", path, 40, 5)
    append_line(path, {"n": "last"})
    records = read_lines(path)
    assert records[-1] == {"n": "last"}
    assert len(records) > wrote, "every confirmed record is there, and the last"
    assert all(len(r["body"]) == killed.NOTE_LETTERS for r in records[:-1])


def test_go_on_by_a_clock_that_was_put_back_forgets_no_stop(tmp_path, capsys) -> None:
    """Two stops were noted, then the clock jumps an hour back: both count, and that is said."""
    assert cli.main(["evening", *DATE, "--out", "night"]) == 0
    sheet = json.loads((tmp_path / "night" / "run-sheet.json").read_text(encoding="utf-8"))
    first, second, *rest = [stop["name"] for stop in sheet["stops"]]
    end = datetime.fromisoformat(sheet["stops"][1]["end"])
    assert cli.main(["log", "begin", "--at", sheet["stops"][0]["begin"]]) == 0
    for name in (first, second):
        assert cli.main(["log", "add", "done", name, "--at", end.isoformat()]) == 0
    capsys.readouterr()
    go_on = ["evening", "--go-on", "night/run-sheet.json", "--at"]
    assert cli.main([*go_on, (end + timedelta(seconds=30)).isoformat()]) == 0
    assert "Is the clock right?" not in capsys.readouterr().out
    assert cli.main([*go_on, (end - timedelta(hours=1)).isoformat()]) == 0
    out = capsys.readouterr().out
    assert "Is the clock right?" in out
    assert f"{first}: tube" not in out
    assert f"{second}: tube" not in out
    assert all(f"{name}: tube" in out for name in rest)
