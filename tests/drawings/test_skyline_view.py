"""The skyline's strip where part of it was never measured: said in the drawing, above its edge."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_text

SVG = "{http://www.w3.org/2000/svg}"
LEFT, WIDTH, TOP, HEIGHT = 60.0, 940.0, 80.0, 250.0


def drawn(tmp_path: Path, skyline: str) -> ET.Element:
    """`axletree spot --draw` of the demo kit with another skyline and no plan of the yard."""
    text = demo_text()
    text = text[: text.index("points = [")] + skyline + "\n\n" + text[text.index("[mount]") :]
    text = text[: text.index("[yard]")] if "[yard]" in text else text
    kit, file = tmp_path / "kit.toml", tmp_path / "sky.svg"
    kit.write_text(text)
    words = ["spot", "--kit", str(kit), "--date", "2026-12-05", "--draw", str(file)]
    assert main(words) == 0
    return ET.parse(file).getroot()


def strokes(root: ET.Element) -> list[tuple[float, float]]:
    """Azimuth and altitude below each stroke that marks a gap; the top of the strip is 50°."""
    found = []
    for one in root.iter(f"{SVG}line"):
        x1, x2, y1, y2 = (float(one.attrib[k]) for k in ("x1", "x2", "y1", "y2"))
        if x1 == x2 and y1 - y2 == pytest.approx(9.0):
            azimuth = ((x1 - LEFT) / WIDTH * 360.0 - 180.0) % 360.0
            found.append((azimuth, (TOP + HEIGHT - (y1 + 3.0)) / HEIGHT * 50.0))
    return found


def test_what_was_not_measured_is_marked_on_the_edge(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    root = drawn(
        tmp_path,
        "points = [[300, 20], [340, 12], [20, 15], [80, 25]]\nopen_altitude_deg = 5",
    )
    told = " ".join(capsys.readouterr().out.split())
    assert "nothing is known of the skyline from 80° to 300°: 20° is taken" in told
    marks = strokes(root)
    assert len(marks) > 30
    assert all(80.0 < azimuth < 300.0 for azimuth, _ in marks)
    assert all(altitude == pytest.approx(20.0, abs=0.05) for _, altitude in marks)
    (words,) = (t for t in root.iter(f"{SVG}text") if "".join(t.itertext()) == "not measured")
    assert LEFT + 40.0 <= float(words.attrib["x"]) <= LEFT + WIDTH - 40.0
    # The other words stand where something is known: within 60° west or 80° east of north.
    (lowest,) = (t for t in root.iter(f"{SVG}text") if "".join(t.itertext()) == "lowest used")
    off = (float(lowest.attrib["x"]) - LEFT) / WIDTH * 360.0 - 180.0
    assert -60.0 < off < 80.0


def test_a_skyline_known_all_round_has_no_such_marks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    root = drawn(tmp_path, "points = [[0, 10], [90, 20], [180, 5], [270, 15]]")
    assert strokes(root) == []
    assert "not measured" not in ET.tostring(root, encoding="unicode")
