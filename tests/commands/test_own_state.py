"""What was measured and moved, as a person types it: `check`, `log`, then `point`."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_text

# A declination circle that shows 1 degree too much on side east, on a mount that is nearly right.
READINGS = """star,hour_angle_h,declination_deg,tube_side,hour_circle_h,declination_circle_deg
S0,0.30081,4.7259,east,0.30200,5.7100
S1,3.49502,39.7236,east,3.50100,40.7000
S2,4.99710,19.7698,east,5.00000,20.9800
S3,-3.10000,55.2000,east,-3.10500,56.3500
S0,-0.29911,4.7494,west,11.70100,3.9900
S1,-3.48477,39.9611,west,8.50000,38.9800
S2,-4.99515,20.0597,west,7.00200,19.0100
"""
NOTES = Path("axletree-axis.jsonl")


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    Path("axletree.toml").write_text(demo_text("courtyard"), encoding="utf-8")
    Path("circles.csv").write_text(READINGS, encoding="utf-8")
    return tmp_path


def run(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    assert main(list(words)) == 0
    return capsys.readouterr().out


def point(capsys: pytest.CaptureFixture[str], *words: str, at: str = "21:00") -> dict[str, Any]:
    when = at if "T" in at else f"2026-12-05T{at}"
    found: dict[str, Any] = json.loads(
        run(capsys, "point", "Mirach", "--at", when, "--json", *words)
    )
    return found


def check(capsys: pytest.CaptureFixture[str], *words: str) -> None:
    run(capsys, "check", "readings", "circles.csv", "--at", "2026-12-05T20:30", *words)


def told_as_set(told: dict[str, Any]) -> bool:
    """Whether the circles are those of a mount that nobody measured, with an error all the same."""
    circles = told["circles"]
    return (
        "state" not in circles
        and all(one["known_code"] in ("set", "usual") for one in circles["known"])
        and all(side["declination_sigma_deg"] > 0.5 for side in circles["sides"])
    )


def test_point_shows_what_this_mount_shows_and_from_when(capsys):
    assert told_as_set(point(capsys))
    check(capsys)
    told = point(capsys)
    state = told["circles"]["state"]
    assert (state["evening"], state["measurements"]) == ("2026-12-05", 1)
    assert state["at"] == "2026-12-05T20:30:00+00:00"
    east, west = told["circles"]["sides"]
    perfect = {side["side"]: side["declination_circle_deg"] for side in told["sides"]}
    # As read: 1 degree too much on side east, as much too little on west, give or take the rest.
    assert east["declination_circle_deg"] - perfect["east"] == pytest.approx(1.0, abs=0.3)
    assert west["declination_circle_deg"] - perfect["west"] == pytest.approx(-1.0, abs=0.3)
    words = " ".join(run(capsys, "point", "Mirach", "--at", "2026-12-05T21:00").split())
    assert "by the notes of the evening of 5 December 2026; --as-kit leaves them out" in words
    measured = (
        r"measured 5 December 2026, 20:30: axis ±\S+′ high, ±\S+′ east, hour circle ±\S+′, "
        r"declination circle ±\S+′"
    )
    assert re.search(measured, words)
    assert told_as_set(point(capsys, "--as-kit"))
    assert told_as_set(point(capsys, at="20:00"))  # before it was measured


def test_a_demo_kit_never_learns(capsys):
    check(capsys, "--kit", "courtyard")
    assert told_as_set(point(capsys, "--kit", "courtyard"))
    Path("axletree.toml").unlink()
    assert told_as_set(point(capsys))
    assert told_as_set(point(capsys, "--notes", str(NOTES)))


@pytest.mark.parametrize(
    ("words", "part"),
    [
        ("bolt", "axis"), ("tripod", "axis"), ("circle hour", "index_hour"),
        ("circle declination", "index_declination"), ("tube", "cone"),
    ],
)  # fmt: skip
def test_what_is_moved_counts_no_more_until_it_is_taken_back(capsys, words, part):
    check(capsys)
    before = point(capsys)["circles"]
    noted = json.loads(run(capsys, "log", *words.split(), "--at", "2026-12-05T20:50", "--json"))
    assert noted["voids_code"] == part
    known = {one["part_code"]: one for one in point(capsys)["circles"]["known"]}
    assert known[part]["known_code"] == "voided"
    assert known[part]["at"] == "2026-12-05T20:50:00+00:00"
    assert [p for p, one in known.items() if one["known_code"] == "voided"] == [part]
    assert "Taken back, as noted for 5 December 2026, 20:50" in run(capsys, "log", "undo")
    assert point(capsys)["circles"] == before


def test_the_mount_stands_where_it_stood(capsys):
    check(capsys)
    next_evening = "2026-12-06T21:00"
    axis = point(capsys, at=next_evening)["circles"]["known"][0]
    assert (axis["part_code"], axis["known_code"]) == ("axis", "set")
    run(capsys, "log", "mount", "stands", "--at", "2026-12-06T20:00")
    told = point(capsys, at=next_evening)["circles"]
    assert told["known"][0]["known_code"] == "measured"
    assert told["state"]["stands_since"] == "2026-12-05"
    words = " ".join(run(capsys, "point", "Mirach", "--at", next_evening).split())
    assert "the mount stands where it stood on 5 December 2026" in words


def test_turns_that_the_logbook_was_told_void_the_axis_too(capsys):
    run(capsys, "log", "begin", "--at", "2026-12-05T19:00")
    turn = ("log", "add", "bolt", "--altitude", "0.3", "--at")
    run(capsys, *turn, "2026-12-05T19:30")
    assert not NOTES.exists()  # there was nothing yet to void
    check(capsys)
    run(capsys, *turn, "2026-12-05T20:45")
    assert point(capsys)["circles"]["known"][0]["known_code"] == "voided"


def test_the_evening_and_the_rest_of_it_tell_this_mounts_circles(capsys):
    sheet = ("evening", "--date", "2025-12-05", "--minutes-per-stop", "60")
    run(capsys, "check", "readings", "circles.csv", "--at", "2025-12-05T20:30")
    run(capsys, *sheet, "--out", "night")
    told = json.loads(Path("night/run-sheet.json").read_text(encoding="utf-8"))
    assert told["state"]["evening"] == "2025-12-05"
    assert all(stop["start"]["circles_code"] == "own" for stop in told["stops"])
    assert "±" in Path("night/run-sheet.txt").read_text(encoding="utf-8")
    perfect = json.loads(run(capsys, *sheet, "--as-kit", "--json"))
    assert perfect["state"] is None
    again = ("evening", "--go-on", "night/run-sheet.json", "--at", "2025-12-05T22:00", "--json")
    rest = json.loads(run(capsys, *again))
    assert rest["state"] == told["state"]
    assert rest["assumptions"] == told["assumptions"]
    assert json.loads(run(capsys, *again, "--as-kit"))["state"] is None


def test_words_that_mean_nothing_and_nothing_to_take_back_are_refused(capsys):
    for words in (("circle",), ("mount",), ("circle", "square"), ("bolt", "left"), ("undo",)):
        assert main(["log", *words]) == 2
        out, error = capsys.readouterr()
        assert (out, error.count("\n")) == ("", 1)
    assert main(["point", "Mirach", "--notes", "nosuch.jsonl"]) == 2
    assert "no such file" in capsys.readouterr().err


def test_find_repeats_which_notes_it_used(capsys):
    def found(*more: str, at: str = "21:00") -> dict[str, Any]:
        when = f"2026-12-05T{at}"
        told: dict[str, Any] = json.loads(run(capsys, "find", "M31", "--at", when, "--json", *more))
        return told

    before = found()
    assert before["state"] is None
    assert "nobody measured" in before["reckoned_with"]
    check(capsys)
    told = found()
    assert told["state"] == {
        "evening": "2026-12-05", "at": "2026-12-05T20:30:00+00:00", "measurements": 1,
        "stands_since": None,
    }  # fmt: skip
    assert "by the notes of the evening of 5 December 2026" in told["reckoned_with"]
    assert "--as-kit leaves them out" in " ".join(told["words"].split())
    assert found("--as-kit")["reckoned_with"] == before["reckoned_with"]
    assert found(at="20:00")["state"] is None  # before it was measured
