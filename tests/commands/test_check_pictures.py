"""'check pictures' as a person types it, on simulated photographs."""

from __future__ import annotations

import json
import re
import sys
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from axletree.cli import main
from axletree.commands.set_up import watching
from axletree.kit.errors import AxletreeError

sys.path.insert(0, str(Path(__file__).parents[1] / "pole"))
import sky_camera as cam

SITE = cam.Site(38.5712, -7.9093, 292.0, 979.0, 12.0)  # of the demo kit
AXIS = cam.axis_direction(SITE, 30.0, 22.0)
CAMERA = cam.Camera(
    focal_mm=24.0, f_number=2.8, pixel_um=5.0, width_px=1200, height_px=800,
    bend_at_corner=0.006, middle_off=(0.004, -0.006),
)  # fmt: skip
AT = cam.Exposure(middle=datetime(2026, 10, 10, 21, 0, tzinfo=UTC), seconds=3.0)
BOLTS = cam.turn(np.array([1.0, 0.0, 0.0]), np.radians(-0.4)) @ cam.turn(
    np.array([0.0, 0.0, 1.0]), np.radians(0.3)
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("pictures")
    first = AXIS + np.array([0.03, 0.0, 0.05])
    run = cam.run_of(SITE, CAMERA, cam.Sky(), first, 33.0, AT, (0.0, -45.0, -90.0), AXIS)
    later = replace(AT, middle=AT.middle + timedelta(minutes=5), seed=77)
    # The bolts carry axis and camera along; the drive may turn meanwhile, about the new axis.
    driven = cam.turn(BOLTS @ AXIS, np.radians(-1.25))
    moved = cam.photograph(SITE, CAMERA, cam.Sky(), run[2].attitude @ (driven @ BOLTS).T, later)
    for name, photograph in zip("ABCD", [*run, moved], strict=True):
        (out / f"{name}.jpg").write_bytes(photograph.jpeg)
    return out


def typed(folder: Path, *more: str, names: str = "ABC") -> list[str]:
    files = [str(folder / f"{name}.jpg") for name in names]
    return ["check", "pictures", *files, "--kit", "courtyard", "--no-notes", *more]


def test_the_axis_as_text_and_drawing(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    svg = tmp_path / "seen.svg"
    assert main(typed(folder, "--draw", str(svg), "--good", "5")) == 0
    said = capsys.readouterr().out
    assert "Axis error by 3 pictures" in said
    assert "30.0′" in said
    assert "22.0′" in said
    assert max(map(len, said.splitlines())) <= 80
    drawn = svg.read_text(encoding="utf-8")
    assert "data:image/jpeg;base64," in drawn
    for words in ("Polaris", ">pole<", ">axis<", "altitude bolt"):
        assert words in drawn
    # The axis stands between the pole and Polaris: its word lies on neither's (letters of 17).
    found = re.findall(r' x="([\d.]+)" y="([\d.]+)" [^>]*>(pole|axis|Polaris)<', drawn)
    at = {word: (float(x), float(y)) for x, y, word in found}
    assert len(at) == 3
    x, y = at["axis"]
    # The pole's word is as wide as this one; the star stands 17 before its name of 42.
    for other, before, behind in (("pole", 16.0, 16.0), ("Polaris", 23.0, 42.0)):
        there, its = at[other]
        apart = x + 14.0 < there - before or x - 14.0 > there + behind
        assert apart or abs(y - its) > 15.0


def test_the_axis_as_data(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(typed(folder, "--json", names="AC")) == 0
    data = json.loads(capsys.readouterr().out)
    # A tenth of a pixel here is 4.3″.
    assert data["high_arcmin"] == pytest.approx(30.0, abs=0.07)
    assert data["east_arcmin"] == pytest.approx(22.0, abs=0.07)
    measured = data["this_measurement"]
    assert measured["method"] == "pictures"
    assert measured["lens"]["field_width_deg"] == pytest.approx(14.25, abs=0.05)
    assert [p["file"] for p in measured["pictures"]] == ["A.jpg", "C.jpg"]
    assert all(p["log10_chance_by_accident"] < -7.0 for p in measured["pictures"])


def test_what_is_noted_counts_with_the_rest(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    notes = str(tmp_path / "notes.jsonl")
    words = [w for w in typed(folder, names="AC") if w != "--no-notes"]
    assert main([*words, "--notes", notes]) == 0
    assert main(["check", "--kit", "courtyard", "--notes", notes, "--at", "2026-10-10T23:00"]) == 0
    assert "pictures" in capsys.readouterr().out


def test_while_the_bolts_are_turned_each_picture_tells_the_axis(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    came = tmp_path / "came"
    came.mkdir()
    body = (folder / "D.jpg").read_bytes()
    waits = 0

    def wait(_: float) -> None:
        nonlocal waits
        waits += 1
        if waits == 1:
            (came / "D.jpg").write_bytes(body[:2000])
        elif waits == 2:
            (came / "D.jpg").write_bytes(body)
            (came / "note.txt").write_text("no picture")
        elif waits == 5:
            (came / "E.jpg").write_text("no picture")
        elif waits == 9:
            raise KeyboardInterrupt

    monkeypatch.setattr(watching.new_pictures, "__defaults__", (wait, 60.0))
    svg = tmp_path / "axis.svg"
    assert main(typed(folder, "--watch", str(came), "--draw", str(svg))) == 0
    said = capsys.readouterr().out
    new = BOLTS @ AXIS
    pole = cam.axis_direction(SITE, 0.0, 0.0)
    off = 60.0 * np.degrees(np.arccos(new @ pole))
    line = next(line for line in said.splitlines() if line.startswith("D.jpg"))
    assert f"{off:.1f}′" in line
    assert "E.jpg: no picture that can be read" in said
    assert "check turned" in said
    assert svg.read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["A"], "takes 2 to 12 pictures"),
        (["A", "C", "--towards", "here"], "is not azimuth and altitude"),
        (["A", "C", "--zone", "Nowhere/Land"], "is not a zone such as"),
        (["A", "C", "--taken", "today"], "is not a date and time"),
        (["A", "C", "--taken", "2026-10-10T21:00"], "once for each"),
        (["A", "C", "--field", "0.01"], "must lie between"),
        (["A", "C", "--watch", "nowhere", "--json"], "prints no JSON"),
        (["A", "A"], "same spots on the same pixels"),
    ],
)
def test_what_cannot_be_is_one_line(
    words: list[str], said: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    names = "".join(w for w in words if len(w) == 1)
    assert main(typed(folder, *(w for w in words if len(w) > 1), names=names)) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1


def test_a_folder_to_watch_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(AxletreeError, match="no such folder"):
        next(watching.new_pictures(tmp_path / "none"))


def test_one_long_exposure_takes_one_picture(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(typed(folder, "--still", "12")) == 2
    assert "--still goes with one picture" in capsys.readouterr().err
    # At rest all the while: dots, and no arcs.
    assert main(typed(folder, "--still", "3", names="A")) == 2
    assert "recognised stars seem to have drawn an arc" in capsys.readouterr().err
