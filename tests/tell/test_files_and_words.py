"""Files are whole or absent; figures read as people write them."""

from __future__ import annotations

import os
import stat
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from axletree.kit.errors import AxletreeError
from axletree.tell.shared import words
from axletree.tell.shared.files import write_whole


def test_a_file_is_replaced_whole(tmp_path: Path) -> None:
    file = tmp_path / "deep" / "sheet.txt"
    write_whole(file, b"one")
    write_whole(file, b"two")
    assert file.read_bytes() == b"two"
    assert [p.name for p in file.parent.iterdir()] == ["sheet.txt"]
    assert stat.S_IMODE(file.stat().st_mode) & 0o400


def test_a_failing_write_leaves_the_old_file_and_no_scraps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "sheet.txt"
    write_whole(file, b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(AxletreeError, match="No space left"):
        write_whole(file, b"new")
    assert file.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.txt"]


def test_a_folder_that_is_a_file_is_refused_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(AxletreeError, match="cannot be written"):
        write_whole(tmp_path / "file" / "sheet.txt", b"x")


@pytest.mark.parametrize(
    ("value", "text"),
    [(1.5, "1h 30m"), (-0.25, "−0h 15m"), (11.9999, "12h 00m"), (0.0, "0h 00m")],
)
def test_hours(value: float, text: str) -> None:
    assert words.hours_minutes(value) == text


def test_signs_and_zero() -> None:
    assert words.degrees(-0.04) == "0.0°"
    assert words.degrees(-0.06) == "−0.1°"
    assert words.degrees(3.0, signed=True) == "+3.0°"
    assert words.degrees_minutes(-38.5712) == "−38° 34′"
    assert words.hours_minutes(-0.001, signed=True) == "+0h 00m"


def test_compass_points_clock_and_lengths() -> None:
    assert [words.compass_point(a) for a in (0, 359, 11.24, 11.26, 225)] == [
        "north", "north", "north", "north-north-east", "south-west",
    ]  # fmt: skip
    moment = datetime(2026, 12, 5, 19, 59, 45, tzinfo=UTC)
    assert words.clock(moment, ZoneInfo("Europe/Lisbon")) == "20:00"
    assert words.length(1234) == "1.23 m"
    assert words.length(85) == "85 mm"
    # 1 inch is 25.4 mm, 1 pound 0.45359237 kg (international yard and pound, 1959).
    assert words.length(304.8 * 5, "us") == "5 ft 0 in"
    assert words.mass(4.5359237, "us") == "10.0 lb"


def test_clock_face_runs_like_a_clock() -> None:
    said = [words.clock_face(a) for a in (0, 90, 135, 178, 359.9)]
    assert said == ["12", "3", "midway from 4 to 5", "just before 6", "12"]
    assert [words.dial_place(h) for h in (12.0, 7.1, 12.7, 11.99)] == [
        "at 12", "just past 7", "a third short of 1", "at 12",
    ]  # fmt: skip


def test_what_is_said_of_a_dial_lies_near_its_hour() -> None:
    """Each saying, read back by its words alone, within an eighth of an hour of what was given."""
    way = {"third past": 1 / 3, "past": 0.145, "midway": 0.5, "short": 2 / 3, "before": 0.855}
    for k in range(1, 1201):
        said = words.dial_hour(k / 100)
        hour = next(int(word) for word in said.split() if word.isdigit())
        kind = next((word for word in way if word in said), "")
        back = hour + way.get(kind, 0.0) - (1.0 if kind in ("short", "before") else 0.0)
        assert abs((back - k / 100 + 6.0) % 12.0 - 6.0) < 0.125, (k, said)


def test_durations() -> None:
    assert [words.duration(s) for s in (35, 720, 7500)] == ["35 s", "12 min", "2 h 05 min"]
