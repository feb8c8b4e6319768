"""spot, north and level from the command line: text, JSON, drawings and bad input."""

from __future__ import annotations

import json
import math
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_text

NORTH = ["north", "--at", "2026-12-05T12:00"]
LEVEL = ["level", "--bubble", "1.5", "135"]
SPOT = ["spot", "--date", "2026-12-05"]


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(list(words))
    out = capsys.readouterr()
    return status, out.out, out.err


@pytest.mark.parametrize("command", [NORTH, LEVEL, SPOT], ids=lambda c: c[0])
@pytest.mark.parametrize("kit", ["courtyard", "paddock"])
def test_text_json_and_drawing(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, command: list[str], kit: str
) -> None:
    file = tmp_path / "drawing.svg"
    status, text, error = run(capsys, *command, "--kit", kit, "--draw", str(file))
    assert (status, error) == (0, "")
    assert max(len(row) for row in text.splitlines()) <= 80
    assert "Assumed" in text
    assert "Cautions" in text
    root = ElementTree.fromstring(file.read_text())
    assert root.tag.endswith("svg")
    status, text, _ = run(capsys, *command, "--kit", kit, "--json")
    assert status == 0
    data = json.loads(text)
    assert data["assumed"]
    assert data["cautions"]


def test_north_has_the_promised_names(capsys: pytest.CaptureFixture[str]) -> None:
    _, text, _ = run(capsys, *NORTH, "--json", "--landmark", "geo:38.6003,-7.9101;u=3")
    data = json.loads(text)
    assert data["magnetic_declination_deg"] == pytest.approx(-0.49, abs=0.02)
    assert data["magnetic_declination_sigma_deg"] == pytest.approx(0.33, abs=0.01)
    assert data["zone"] == "usual"
    assert data["compass_bearing_deg"] == pytest.approx(0.49, abs=0.02)
    assert {m["method"] for m in data["methods"]} >= {
        "compass", "sun shadow", "sun on the meridian", "moon", "star", "landmark", "pole star",
    }  # fmt: skip
    mark = next(m for m in data["methods"] if m["method"] == "landmark")
    # sqrt(5^2 + 3^2) m at 3231 m: the uncertainty of the URI counts.
    assert mark["error_parts_deg"]["the two positions"] == pytest.approx(0.1034, abs=0.001)


def test_level_takes_legs_rim_and_inclines(capsys: pytest.CaptureFixture[str]) -> None:
    _, text, _ = run(capsys, "level", "--bubble", "rim", "leg2")
    assert "at its rim" in text
    assert "at least" in text
    _, text, _ = run(capsys, "level", "--bubble", "9", "leg2")
    assert "at its rim" in text  # more than the rim allows
    _, text, _ = run(capsys, "level", "--incline", "0", "0.5", "--incline", "90", "-0.2", "--json")
    data = json.loads(text)
    assert data["tilt_towards_pole_deg"] == pytest.approx(0.5)
    assert data["tilt_to_the_right_deg"] == pytest.approx(-0.2)
    _, text, _ = run(capsys, *LEVEL, "--shorten")
    assert "shorten leg 2" in text
    _, text, _ = run(capsys, "level", "--bubble", "0", "0")
    assert "leave the legs alone" in text


def test_a_leg_that_is_longer_already_changes_the_others(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """By hand: a leg longer by e stands its foot e sin(slant) further out, and what it is high goes
    up by that times the tangent of the tilt; the other two stay (plane geometry)."""
    words = ["level", "--kit", "courtyard", "--incline", "0", "3", "--incline", "90", "0", "--json"]
    assert main(words) == 0
    plain = json.loads(capsys.readouterr().out)
    assert main([*words, "--longer", "leg1", "40"]) == 0
    longer = json.loads(capsys.readouterr().out)
    slant, tilt = math.radians(plain["leg_slant_deg"]), math.radians(3.0)
    out_mm = 40.0 * math.sin(slant) * math.sin(tilt)
    sunk_mm = 40.0 * math.cos(slant) * (1.0 - math.cos(tilt))
    more = [b["rise_mm"] - a["rise_mm"] for a, b in zip(plain["legs"], longer["legs"], strict=True)]
    assert more == pytest.approx([0.0, out_mm + sunk_mm, out_mm + sunk_mm], abs=0.01)
    assert main([*words, "--longer", "leg4", "40"]) == 2
    assert main([*words, "--longer", "leg1", "4000"]) == 2
    assert "a leg longer by 4000 mm" in capsys.readouterr().err


def test_us_units(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    kit = tmp_path / "kit.toml"
    kit.write_text(demo_text("courtyard").replace("[habits]", '[habits]\nunits = "us"'))
    _, text, _ = run(capsys, *LEVEL, "--kit", str(kit))
    assert " in" in text.splitlines()[0]
    _, text, _ = run(capsys, *SPOT, "--kit", str(kit))
    assert " ft across and " in text


def test_skyline_file_lies_beside_the_kit(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    text = demo_text("courtyard")
    start, stop = text.index("points = [\n"), text.index("[mount]")
    kit = tmp_path / "kit.toml"
    kit.write_text(text[:start] + 'file = "walk.csv"\n\n' + text[stop:])
    (tmp_path / "walk.csv").write_text("azimuth,altitude\n0,60\n90,60\n180,60\n270,60\n")
    status, out, _ = run(capsys, *SPOT, "--kit", str(kit))
    assert status == 0
    assert "No place in the area shows Polaris" in out
    assert "the measured skyline from 100 % of it" in " ".join(out.split())
    kit.write_text(text[:start] + 'file = "../walk.csv"\n\n' + text[stop:])
    status, _, error = run(capsys, *SPOT, "--kit", str(kit))
    assert status == 2
    assert "beside the kit" in error


@pytest.mark.parametrize(
    "words",
    [
        ["level"],
        ["level", "--bubble", "x", "3"],
        ["level", "--bubble", "1", "leg9"],
        ["level", "--bubble", "1", "nan"],
        ["level", "--bubble", "-1", "3"],
        ["level", "--incline", "0", "1"],
        ["level", "--bubble", "1", "3", "--incline", "0", "1"],
        ["level", "--bubble", "1", "3", "--sensitivity", "-4"],
        [*NORTH, "--landmark", "nowhere at all"],
        [*NORTH, "--landmark", "38.5712, -7.9093"],
        [*NORTH, "--lean-error", "-1"],
        ["north", "--at", "yesterday"],
        [*SPOT, "--view", "east"],
        [*SPOT, "--view", "90-400"],
        [*SPOT, "--spacing", "0"],
        [*SPOT, "--hours", "-1"],
        [*SPOT, "--objects", "Xyzzy"],
        [*SPOT, "--margin", "nan"],
        ["spot", "--date", "tomorrow"],
        ["spot", "--date", "2070-01-01"],
    ],
    ids=" ".join,
)
def test_bad_input_is_one_line_and_status_2(
    capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    try:
        status = main(words)
    except SystemExit as stop:
        status = int(stop.code or 0)
    out = capsys.readouterr()
    assert status == 2
    assert out.out == ""
    assert len(out.err.strip().splitlines()) == 1
    assert "Traceback" not in out.err
