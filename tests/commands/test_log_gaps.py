"""Touches and gaps as a person types them: `log add`, then `point`, `room` and `evening`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_text

AT = "2026-11-30T03:00"


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    Path("axletree.toml").write_text(demo_text("courtyard"), encoding="utf-8")
    return tmp_path


def run(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*words, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    assert main([*words]) == 2
    said: str = capsys.readouterr().err
    return said


def point(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    return run(capsys, "point", "Capella", "--at", "2026-11-29T23:00", *words)


def width(told: dict[str, Any]) -> float:
    return float(told["room_errors"][1]["end_error_s"])


def test_a_gap_narrows_the_next_answer_and_is_repeated_there(
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = point(capsys)
    assert "rig_learned" not in before
    for name, left in (("Capella", "25mm"), ("Menkalinan", "15mm")):
        run(capsys, "log", "add", "gap", name, "--left", left, "--side", "west", "--at",
            "2026-11-29T22:30")  # fmt: skip
    after = point(capsys)
    told = after["rig_learned"]
    assert len(told["used"]) + len(told["left_out"]) == 2
    assert told["used"][0]["note"]["object"] == "Capella"
    assert "state" not in after["circles"]  # the notes say nothing of the circles
    assert width(after) != width(before)
    assert "rig_learned" not in point(capsys, "--as-kit")
    room = run(capsys, "room", "--at", "2026-11-30T01:00")
    assert room["rig_learned"]["dimensions"] == told["dimensions"]


def test_gaps_are_listed_and_taken_back(capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "log", "add", "touch", "Capella", "--side", "west", "--at", AT)
    run(capsys, "log", "add", "gap", "--circles", "-2.5 46", "--left", "2in", "--error", "0.4in",
        "--side", "west", "--at", AT)  # fmt: skip
    listed = run(capsys, "log", "gaps", "--at", AT)["notes"]
    assert [note["object"] for note in listed] == ["Capella", ""]
    assert listed[1]["gap_mm"] == pytest.approx(50.8)
    assert listed[1]["error_mm"] == pytest.approx(10.16)
    # A touch is seen to 3 mm (our figure).
    assert (listed[0]["gap_mm"], listed[0]["error_mm"]) == (0.0, 3.0)
    assert run(capsys, "log", "undo", "gap")["taken_back"] is True
    assert len(run(capsys, "log", "gaps", "--at", AT)["notes"]) == 1
    # What happened later teaches nothing of an earlier moment.
    assert run(capsys, "log", "gaps", "--at", "2026-11-29T20:00")["notes"] == []


def test_what_is_no_gap_is_refused_in_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    for words, said in (
        (("add", "touch", "Capella"), "--side"),
        (("add", "gap", "Capella", "--side", "west"), "--left"),
        (("add", "gap", "Capella", "--side", "west", "--left", "15"), "unit"),
        (("add", "touch", "Antares", "--side", "west", "--at", AT), "isn't up"),
        (("add", "touch", "--side", "west"), "--circles"),
        (("add", "touch", "Capella", "--side", "west", "--kit", "courtyard"), "demo"),
        (("undo", "gap"), "no gap"),
    ):
        line = refused(capsys, "log", *words)
        assert said in line
        assert line.count("\n") == 1
    assert not Path("axletree-axis.jsonl").exists()


def test_a_torn_or_foreign_line_teaches_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "log", "add", "touch", "Capella", "--side", "west", "--at", AT)
    file = Path("axletree-axis.jsonl")
    line = file.read_text(encoding="utf-8")
    other = line.replace('"gap_mm": 0.0', '"gap_mm": 1e9').replace('"key": "', '"key": "b')
    file.write_text(line + other + line[:40], encoding="utf-8")
    assert len(run(capsys, "log", "gaps", "--at", AT)["notes"]) == 1
