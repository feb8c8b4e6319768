"""A US kit speaks feet, inches, pounds and pounds-force: no newton, kilogram or metre is left.

The international pound is 0.45359237 kg, the pound-force 4.4482216152605 N: NIST SP 811, B.8.
Eyepieces, apertures and the bubble keep their millimetres, as the trade has them.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_text
from axletree.tell.shared.words import force, light_mass, temperature, torque

# A metric unit after a figure; minutes of an hour angle, '5h 10m', stand right behind theirs.
METRIC = re.compile(r"\d (?:N·m|N|kg|g|cm|m)\b")
COMMANDS = (
    ["evening", "--date", "2026-10-10"],
    ["balance"],
    ["balance", "--stand", "--tray", "2"],
    ["balance", "--scale", "hour", "tube", "0.8kg", "300mm"],
)


def test_the_conversions() -> None:
    assert force(44.482216152605, "us") == "10.0 lbf"
    assert force(41.2) == "41 N"
    assert torque(0.3389544832, "us") == "3.0 lbf·in"
    assert torque(0.371) == "0.37 N·m"
    assert light_mass(0.45359237, "us") == "16.0 oz"
    assert light_mass(0.3579) == "358 g"
    assert temperature(-40.0, "us") == "−40 °F"
    assert temperature(12.0, "us") == "54 °F"
    assert temperature(12.0) == "12 °C"


@pytest.fixture(scope="module", params=["courtyard", "paddock"])
def kit_file(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    text = re.sub(r'units = "\w+"\n', "", demo_text(request.param))
    path = tmp_path_factory.mktemp("us") / "kit.toml"
    path.write_text(text.replace("[habits]", '[habits]\nunits = "us"', 1), encoding="utf-8")
    return path


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_nothing_metric_is_left(
    kit_file: Path, command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command[0], "--kit", str(kit_file), *command[1:]]) == 0
    printed = capsys.readouterr().out
    assert re.search(r"\d (?:in|lb|lbf|lbf·in)\b", printed)
    left = [line for line in printed.splitlines() if METRIC.search(line)]
    assert left == []
