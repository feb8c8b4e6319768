"""The commands `pole` and `enough` as a person types them."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import pytest

from axletree.cli import main

AT = ["--at", "2026-12-05T22:00"]


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(list(words))
    out, err = capsys.readouterr()
    return status, out, err


def data_of(capsys: pytest.CaptureFixture[str], *words: str) -> dict:
    status, out, err = run(capsys, *words, "--json")
    assert status == 0, err
    return json.loads(out)


@pytest.mark.parametrize("kit", ["courtyard", "paddock"])
def test_pole_says_at_least_what_was_agreed(capsys, kit) -> None:
    data = data_of(capsys, "pole", "--kit", kit, *AT)
    for key in (
        "pole_altitude_deg", "star", "pole_distance_arcmin", "star_hour_angle_h", "clock_hour",
    ):  # fmt: skip
        assert key in data
    assert data["star"] == ("Polaris" if kit == "courtyard" else "σ Octantis")
    assert 0 < data["clock_hour"] <= 12
    assert -12 < data["star_hour_angle_h"] <= 12
    # Refraction at 38.57 and 44.02 degrees: between 0.8' and 1.3' (ERFA: 1.15' at 40, 0.81' at 50).
    assert 0.8 < data["refraction_arcmin"] < 1.3
    assert data["pole_altitude_deg"] - data["pole_altitude_true_deg"] == pytest.approx(
        data["refraction_arcmin"] / 60
    )


def test_the_true_pole_on_request(capsys) -> None:
    data = data_of(capsys, "pole", *AT, "--true-pole")
    assert data["pole_altitude_deg"] == data["pole_altitude_true_deg"] == 38.5712


def test_readings_become_bolt_turns(capsys) -> None:
    data = data_of(capsys, "pole", *AT, "--scale-reading", "40", "--azimuth-error-arcmin", "60")
    moves = data["moves"]
    # 1 degree along the horizon is cos(38.6) on the sky: 46.9'.
    assert moves["east_arcmin"] == pytest.approx(60 * math.cos(math.radians(38.59)), rel=0.03)
    assert moves["move_east_deg"] == pytest.approx(-1.0, abs=1e-6)
    assert moves["raise_deg"] == pytest.approx(data["pole_altitude_deg"] - 40.0, abs=1e-6)
    assert moves["altitude_turns"] == pytest.approx(0.8 * moves["raise_deg"])
    _, text, _ = run(capsys, "pole", *AT, "--scale-reading", "40", "--azimuth-error-arcmin", "60")
    assert text.index("loosen the west azimuth bolt") < text.index("tighten the east azimuth bolt")
    assert "anticlockwise" in text
    on_it = data_of(capsys, "pole", *AT, "--high-arcmin", "0", "--east-arcmin", "0")
    assert on_it["moves"]["steps"] == []


def kit_file(tmp_path: Path, latitude: float, scope: str, **bolts: float) -> str:
    lines = [
        "kit_version = 1", 'name = "x"', "[site]", f"latitude_deg = {latitude}",
        "longitude_deg = 19.0", 'time_zone = "UTC"', "[mount]", 'size = "middle"',
        "[mount.polar_scope]", scope, "[tube]", 'kind = "refractor"', "aperture_mm = 80",
        "focal_length_mm = 560",
    ]  # fmt: skip
    if bolts:
        lines += ["[mount.bolts]", *(f"{k} = {v}" for k, v in bolts.items())]
    path = tmp_path / "kit.toml"
    path.write_text("\n".join(lines), encoding="utf-8")
    return str(path)


SCOPE = 'kind = "scope"\nfield_deg = 6\naperture_mm = 10'
HOLLOW = 'kind = "hollow"\nbore_diameter_mm = 20\nbore_length_mm = 200'
NONE = 'kind = "none"'


@pytest.mark.parametrize(
    ("latitude", "scope", "at", "words"),
    [
        (0.0, SCOPE, "2026-12-05T20:00", "pole stands on the horizon"),
        (70.0, SCOPE, "2026-06-21T20:00", "doesn't get dark enough"),
        (-70.0, SCOPE, "2026-12-21T20:00", "doesn't get dark enough"),
        (89.9, HOLLOW, "2026-12-21T20:00", "Look along the bore and put Polaris"),
        (45.0, HOLLOW, "2026-12-21T20:00", "24 % of the way"),
        (-45.0, NONE, "2026-12-21T22:00", "nothing to look along the axis with"),
        (10.0, SCOPE, "2026-12-21T22:00", "weights may meet"),
        (90.0, SCOPE, "2026-12-21T22:00", "Put Polaris"),
        (-90.0, SCOPE, "2026-06-21T22:00", "Put σ Octantis"),
    ],
)
def test_hard_places_get_a_clear_answer(capsys, tmp_path, latitude, scope, at, words) -> None:
    kit = kit_file(tmp_path, latitude, scope)
    status, text, err = run(
        capsys, "pole", "--kit", kit, "--at", at, "--draw", str(tmp_path / "pole.svg")
    )
    assert status == 0, err
    assert words in " ".join(text.split())
    assert max(len(line) for line in text.splitlines()) <= 80
    assert "nan" not in text.lower().split()
    assert (tmp_path / "pole.svg").read_text(encoding="utf-8").startswith("<svg")
    status, out, err = run(capsys, "pole", "--kit", kit, "--at", at, "--json")
    assert status == 0, err
    json.loads(out)


def test_no_stars_for_drift_under_the_midnight_sun(capsys, tmp_path) -> None:
    kit = kit_file(tmp_path, 70.0, SCOPE)
    _, text, _ = run(capsys, "pole", "--kit", kit, "--at", "2026-06-21T20:00")
    words = " ".join(text.split())
    assert re.search(r"It comes out again on the evening of \d+ August 2026\.", words)
    assert "Sun's shadow" in words
    assert "never look near it" in words


def test_compass_zones_are_told_where_a_compass_is_needed(capsys, tmp_path) -> None:
    # WMM2025: at 89 N 121 W the horizontal field is 1504 nT, a blackout zone (below 2000 nT).
    kit = Path(kit_file(tmp_path, 89.0, NONE))
    kit.write_text(kit.read_text().replace("19.0", "-121.0"), encoding="utf-8")
    _, text, _ = run(capsys, "pole", "--kit", str(kit), *AT)
    assert "Magnetic blackout zone" in " ".join(text.split())
    _, text, _ = run(capsys, "pole", "--kit", str(kit), "--at", "2040-12-05T20:00")
    assert "Magnetic" in " ".join(text.split())


def test_a_field_that_no_scope_has_is_refused(capsys, tmp_path) -> None:
    for scope in (SCOPE.replace("6", "200"), HOLLOW.replace("20\n", "600\n")):
        status, _, err = run(capsys, "pole", "--kit", kit_file(tmp_path, 40.0, scope), *AT)
        assert status == 2
        assert "mount.polar_scope" in err


def test_the_ring_of_another_year_is_told(capsys, tmp_path) -> None:
    # Mean distance 41.576' in 2010 (computed with ERFA); now 37.2'.
    kit = kit_file(tmp_path, 40.0, SCOPE + "\nring_radius_arcmin = 41.6")
    _, text, _ = run(capsys, "pole", "--kit", kit, *AT)
    words = " ".join(text.split())
    assert "right in about 2010" in words
    assert "inside it" in words
    kit = kit_file(tmp_path, -40.0, SCOPE + "\nring_radius_arcmin = 41.6")
    _, text, _ = run(capsys, "pole", "--kit", kit, *AT)
    assert "in no year" in " ".join(text.split())


def test_a_scale_that_ends_before(capsys, tmp_path) -> None:
    kit = kit_file(tmp_path, 62.0, SCOPE, latitude_scale_max_deg=60.0)
    _, text, _ = run(capsys, "pole", "--kit", kit, *AT)
    assert "The scale ends at 60°, 2.0° short" in " ".join(text.split())


@pytest.mark.parametrize(
    "words",
    [
        ["pole", "--scale-reading", "400"],
        ["pole", "--scale-reading", "nan"],
        ["pole", "--azimuth-error-arcmin", "99999"],
        ["pole", "--azimuth-error-arcmin", "5", "--high-arcmin", "3"],
        ["pole", "--high-arcmin", "1e9"],
        ["pole", "--high-arcmin", "inf"],
        ["pole", "--at", "yesterday"],
        ["pole", "--kit", "no-such-file.toml"],
        ["enough", "--nudge-minutes", "-1"],
        ["enough", "--magnification", "0"],
        ["enough", "--eyepiece-mm", "6", "--magnification", "100"],
        ["enough", "--use-of-field", "3"],
        ["enough", "--for", "camera"],
        ["enough", "--kit", "paddock", "--exposure-s", "nan"],
        ["enough", "--kit", "paddock", "--pixel-um", "-2"],
        ["enough", "--kit", "paddock", "--width-px", "-2"],
        ["enough", "--kit", "paddock", "--trail-px", "0"],
        ["enough", "--kit", "paddock", "--focal-mm", "-4"],
        ["enough", "--declination", "90"],
        ["enough", "--object", "Moon"],
        ["enough", "--object", "no such thing"],
    ],
)
def test_bad_input_is_one_line_and_status_two(capsys, words) -> None:
    status, out, err = run(capsys, *words)
    assert status == 2
    assert out == ""
    assert len(err.strip().splitlines()) == 1


def test_enough_for_the_demo_kits(capsys, tmp_path) -> None:
    data = data_of(capsys, "enough", *AT)
    assert data["camera"] is None
    assert data["quickest"] == "compass, level and scale"  # nobody aligns longer than needed
    south = data_of(capsys, "enough", "--kit", "paddock", *AT)
    assert south["largest_axis_error_arcmin"] == south["camera"]["largest_axis_error_arcmin"]
    assert south["limited_by"] == "drift"
    # drift of 1' is 0.26252" a minute: 30 s, one pixel of 1.385" -> 10.55'
    assert south["largest_axis_error_arcmin"] == pytest.approx(1.385 / 0.26252 * 2, rel=0.01)
    picture = tmp_path / "enough.svg"
    status, text, err = run(capsys, "enough", "--kit", "paddock", *AT, "--draw", str(picture))
    assert status == 0, err
    assert max(len(line) for line in text.splitlines()) <= 80
    assert picture.read_text(encoding="utf-8").startswith("<svg")


def test_enough_from_options_alone(capsys) -> None:
    data = data_of(
        capsys, "enough", "--for", "camera", "--focal-mm", "300", "--pixel-um", "5",
        "--width-px", "6000", "--height-px", "4000", "--exposure-s", "300", "--guided",
        "--guide-star-deg", "0", "--declination", "41", "--trail-px", "1",
    )  # fmt: skip
    # Hook 1989: E = trail x 45018.6 cos d / (t F A); A is the half diagonal, 3.44 degrees.
    corner = math.degrees(math.atan(math.hypot(6000, 4000) / 2 * 0.005 / 300))
    hook = 5 * 45018.6 * math.cos(math.radians(41)) / (5 * 300 * corner)
    assert data["largest_axis_error_arcmin"] == pytest.approx(hook, rel=0.01)
    assert data["camera"]["by_drift_arcmin"] is None
    eye = data_of(capsys, "enough", "--magnification", "100", "--nudge-minutes", "10")
    assert eye["eye"]["time_s"] == 600
    longer = data_of(capsys, "enough", "--magnification", "100", "--nudge-minutes", "20")
    assert longer["largest_axis_error_arcmin"] < eye["largest_axis_error_arcmin"]


def test_a_hidden_pole_in_enough(capsys, tmp_path) -> None:
    kit = Path(kit_file(tmp_path, 45.0, SCOPE))
    text = kit.read_text(encoding="utf-8")
    walled = text.replace(
        "[mount]\n", "[site.skyline]\npoints = [[0, 60], [90, 60], [180, 60], [270, 60]]\n[mount]\n"
    )
    kit.write_text(walled, encoding="utf-8")
    data = data_of(capsys, "enough", "--kit", str(kit), *AT)
    scope = next(m for m in data["methods"] if "polar scope" in m["name"])
    assert not scope["possible"]
    pole = data_of(capsys, "pole", "--kit", str(kit), *AT)
    assert pole["without_view"]["needed"]
    assert pole["tonight"]["in_view"] == []
    _, words, _ = run(capsys, "pole", "--kit", str(kit), *AT)
    assert "the skyline hides the pole star" in " ".join(words.split())
