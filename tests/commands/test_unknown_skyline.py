"""A skyline with a gap: kit check asks for a point in it, and every answer says so once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from axletree.cli import main
from axletree.ground.skyline.of_site import horizon_of
from axletree.kit.kit import load_kit

WALL = "points = [[60, 30], [200, 40]]"
GAP = {"from_deg": 200.0, "to_deg": 60.0, "taken_deg": 30.0}


@pytest.fixture
def kit(tmp_path: Path) -> str:
    file = tmp_path / "wall.toml"
    size = ["--aperture", "150", "--focal-length", "750"]
    assert main(["kit", "new", str(file), "--place", "Évora", *size]) == 0
    text = file.read_text(encoding="utf-8")
    lines = [WALL if "points = [[0, 10]" in line else line for line in text.splitlines()]
    assert WALL in lines
    file.write_text("\n".join(lines), encoding="utf-8")
    return str(file)


def told(capsys: pytest.CaptureFixture[str], words: list[str]) -> str:
    capsys.readouterr()
    assert main(words) == 0
    return " ".join(capsys.readouterr().out.split())


def test_kit_check_asks_for_one_point_in_the_gap(
    kit: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "measure one point in it, such as at 310°" in told(capsys, ["kit", "check", kit])
    data = json.loads(told(capsys, ["kit", "check", kit, "--json"]))
    assert data["skyline_unknown"] == [{**GAP, "measure_at_deg": 310.0}]
    whole = json.loads(told(capsys, ["kit", "check", "courtyard", "--json"]))
    assert whole["skyline_unknown"] == []


@pytest.mark.parametrize(
    "words",
    [
        ["point", "Vega", "--at", "2026-08-12T23:00"],
        ["room", "--at", "2026-08-12T23:00"],
        ["spot", "--date", "2026-08-12"],
        ["evening", "--date", "2026-08-12"],
    ],
    ids=lambda words: words[0],
)
def test_an_answer_says_once_what_it_took(
    words: list[str], kit: str, capsys: pytest.CaptureFixture[str]
) -> None:
    text = told(capsys, [*words, "--kit", kit])
    assert text.count("othing is known of the skyline from 200° to 60°: 30° is taken") == 1
    if words[0] != "evening":
        data = json.loads(told(capsys, [*words, "--kit", kit, "--json"]))
        assert data["skyline_unknown"] == [GAP]


def test_a_wall_typed_as_two_points_stands_in_the_skyline(kit: str) -> None:
    """By hand: at azimuth 130 the wall from (60, 30) to (200, 40) is 35 degrees high."""
    skyline = horizon_of(load_kit(kit).site.skyline, None)
    assert float(skyline.altitude_at(130.0)) == pytest.approx(35.0)
