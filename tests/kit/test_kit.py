"""Kit files: what is refused, in which words, on which line; what is guessed."""

from __future__ import annotations

import re

import pytest

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import DEMO_KITS, check_text, demo_kit, demo_text, load_kit
from axletree.kit.reading.lines import key_lines
from axletree.kit.writing.template import new_kit_text

COURTYARD = demo_text("courtyard")


def _problems(old: str, new: str, text: str = COURTYARD) -> list[str]:
    assert old in text
    kit, problems = check_text(text.replace(old, new, 1))
    assert kit is None
    return [str(p) for p in problems]


def _line(text: str, start: str) -> int:
    return next(i for i, row in enumerate(text.splitlines(), 1) if row.startswith(start))


@pytest.mark.parametrize("name", DEMO_KITS)
def test_demo_kits_are_right(name: str) -> None:
    kit, problems = check_text(demo_text(name))
    assert not problems
    assert kit is not None
    assert kit.guessed, "the demo leaves something to guess, and says so"


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("latitude_deg = 38.5712", "latitude_deg = 95", r"site\.latitude_deg: 95 .* 90 degrees"),
        ("mass_kg = 5.2", "mass_kg = -5.2", r"tube\.mass_kg: -5\.2 must be more than 0 kilograms"),
        ("mass_kg = 5.2", "mass_kg = 0", r"tube\.mass_kg: 0 must be more than 0"),
        ("elevation_m = 292", "elevation_ft = 958", r"unknown key; did you mean 'elevation_m'"),
        ("focal_length_mm = 25", "focal_length_mm = 400", r"400 must be at most 100 millimetres"),
        ("focal_length_mm = 750", "focal_length_mm = 75", r"tube.*75"),
        ("focal_length_mm = 750", "focal_length_mm = 5000", r"f/33\.3"),
        ("aperture_mm = 150", 'aperture_mm = "150 mm"', r"not a number; .* in millimetres"),
        ("hours = 2.5", "hours = nan", r"habits\.hours"),
        ('"Europe/Lisbon"', '"Lisbon"', r"'Lisbon' is not an IANA time zone"),
        ('kind = "newtonian"', 'kind = "reflector"', r"'reflector' is not one of"),
        ("foot_radius_mm = 540", "foot_radius_mm = 540\nleg_directions_deg = [0, 5, 180]",
         r"two legs point the same way"),
        ("foot_radius_mm = 540", "foot_radius_mm = 540\nleg_directions_deg = [0, 60, 120]",
         r"one side"),
        ("kit_version = 1", "kit_version = 7", r"kit_version"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_with_its_line(old: str, new: str, says: str) -> None:
    problems = _problems(old, new)
    assert any(re.search(says, p) for p in problems), problems
    assert all(p.startswith("line ") for p in problems), problems


def test_the_line_is_the_right_one() -> None:
    broken = COURTYARD.replace("mass_kg = 5.2", "mass_kg = -1")
    kit, problems = check_text(broken)
    assert kit is None
    assert problems[0].line == _line(broken, "mass_kg = -1")
    broken = COURTYARD.replace("focal_length_mm = 6", "focal_length_mm = 0.6")
    _, problems = check_text(broken)
    assert problems[0].line == _line(broken, "focal_length_mm = 0.6")
    assert problems[0].key == "eyepiece[3].focal_length_mm"


def test_everything_that_is_wrong_is_said_at_once() -> None:
    broken = (
        COURTYARD.replace("latitude_deg = 38.5712", "latitude_deg = 95")
        .replace("mass_kg = 5.2", "mass_kg = -5.2")
        .replace("elevation_m = 292", "height = 292")
    )
    _, problems = check_text(broken)
    assert [p.key for p in problems] == ["site.latitude_deg", "site.height", "tube.mass_kg"]


def test_an_eyepiece_too_long_for_the_tube_is_refused() -> None:
    text = COURTYARD.replace("focal_length_mm = 25", "focal_length_mm = 100").replace(
        "focal_length_mm = 750", "focal_length_mm = 400"
    )
    _, found = check_text(text.replace("aperture_mm = 150", "aperture_mm = 100"))
    assert any("magnify only 4.0 times" in str(p) for p in found)


def test_guesses_are_named_and_given_values_are_not() -> None:
    kit = demo_kit("courtyard")
    assert "mount.head.saddle_distance_mm" in kit.guessed
    assert "tube.mass_kg" not in kit.guessed
    assert kit.tube.mass_kg == 5.2


def test_broken_toml_names_the_line() -> None:
    kit, problems = check_text("[site\nlatitude_deg = 1")
    assert kit is None
    assert "line 1" in str(problems[0])


def test_key_lines_see_through_arrays_strings_and_comments() -> None:
    text = 'a = [\n 1, # b = 2\n 2]\nb = """\nc = 3\n"""\n[[t]]\nx = 1\n[[t]]\nx = "]"\ny.z = 2\n'
    lines = key_lines(text)
    assert lines[("a",)] == 1
    assert lines[("b",)] == 4
    assert ("c",) not in lines
    assert lines[("t", 0, "x")] == 8
    assert lines[("t", 1, "x")] == 10
    assert lines[("t", 1, "y", "z")] == 11


def test_place_by_name_and_by_uri() -> None:
    text = (
        "latitude_deg = 38.5712\nlongitude_deg = -7.9093\nelevation_m = 292\n"
        'time_zone = "Europe/Lisbon"'
    )
    kit, problems = check_text(COURTYARD.replace(text, 'place = "Évora"'))
    assert kit is not None, problems
    assert kit.site.latitude_deg == pytest.approx(38.57, abs=0.05)
    assert kit.site.time_zone == "Europe/Lisbon"
    kit, problems = check_text(COURTYARD.replace(text, 'place = "geo:-44.021,170.462,720"'))
    assert kit is not None, problems
    assert (kit.site.elevation_m, kit.site.time_zone) == (720, "Pacific/Auckland")
    kit, problems = check_text(COURTYARD.replace(text, 'place = "Nowhereville-on-Sea"'))
    assert kit is None
    assert "Nowhereville" in str(problems[0])


@pytest.mark.parametrize("kind", ["newtonian", "refractor", "catadioptric"])
@pytest.mark.parametrize("size", ["small", "middle", "large"])
def test_a_new_kit_is_right(kind: str, size: str) -> None:
    text = new_kit_text('The "yard"', None, kind, 100, 1000, size, "motor")
    kit, problems = check_text(text)
    assert not problems
    assert kit is not None
    assert kit.name == 'The "yard"'


def test_a_missing_file_says_how_to_make_one(tmp_path) -> None:
    with pytest.raises(AxletreeError, match="axletree kit new"):
        load_kit(tmp_path / "none.toml")
    (tmp_path / "binary.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(AxletreeError, match="UTF-8"):
        load_kit(tmp_path / "binary.toml")
