"""Every value that nobody gave is named as a guess, and none that somebody gave."""

from __future__ import annotations

import tomllib

import pytest
import tomlkit

from axletree.kit.kit import Kit, check_text, demo_text
from axletree.kit.parts.assumed import ASSUMED

LEAST = """
[site]
latitude_deg = 38.57
longitude_deg = -7.91
[tube]
kind = "newtonian"
aperture_mm = 130
focal_length_mm = 650
[tube.finder]
[[tube.accessory]]
mass_kg = 0.2
from_front_mm = 60
[[eyepiece]]
focal_length_mm = 25
[[eyepiece]]
focal_length_mm = 10
[[barlow]]
[camera]
pixel_um = 3.76
width_px = 3008
height_px = 3008
[[mount.weight]]
mass_kg = 5
"""


def kit_of(text: str) -> Kit:
    kit, problems = check_text(text)
    assert kit is not None, [str(p) for p in problems]
    return kit


def test_parts_that_nobody_measured_are_guesses() -> None:
    assert set(kit_of(LEAST).guessed) >= {
        "tube.focuser_radius_mm", "tube.ring_turn_deg",
        "tube.finder.length_mm", "tube.finder.radius_mm", "tube.finder.angle_deg",
        "tube.finder.mass_kg", "tube.finder.from_front_mm", "tube.finder.offset_mm",
        "tube.finder.aperture_mm", "tube.finder.magnification", "tube.finder.field_deg",
        "tube.finder.look",
        "tube.accessory[1].offset_mm", "eyepiece[1].radius_mm", "eyepiece[2].radius_mm",
        "eyepiece[2].mass_kg", "barlow[1].mass_kg", "camera.radius_mm", "camera.length_mm",
        "camera.mass_kg", "mount.weight[1].radius_mm", "mount.tripod.leg_directions_deg",
        "mount.tripod.turned_deg", "mount.tripod.lean_to_pole_deg",
    }  # fmt: skip


def test_no_guess_is_named_twice() -> None:
    for text in (LEAST, demo_text("courtyard"), demo_text("paddock")):
        guessed = kit_of(text).guessed
        assert len(set(guessed)) == len(guessed) > 30


ONE_BY_ONE = [f"{path}.{key}" for path, keys in ASSUMED.items() for key in keys]


@pytest.mark.parametrize("key", ONE_BY_ONE)
def test_what_is_given_is_no_guess(key: str) -> None:
    *path, name = key.split(".")
    raw = tomllib.loads(LEAST)
    at = raw
    for part in path:
        at = at.setdefault(part, {})
        at = at[0] if isinstance(at, list) else at
    at[name] = [10, 130, 250] if name == "leg_directions_deg" else 2.5 if name == "factor" else 50
    if "lean" in name:
        at[name] = 1
    guessed = {g.replace("[1]", "") for g in kit_of(tomlkit.dumps(raw)).guessed}
    assert key in {g.replace("[1]", "") for g in kit_of(LEAST).guessed}
    assert key not in guessed


def test_what_is_not_there_is_no_guess() -> None:
    """No column, no dew shield and an empty tray are what a kit means that doesn't name them."""
    guessed = kit_of(LEAST).guessed
    for key in ("mount.tripod.column_height_mm", "mount.tripod.tray_load_kg",
                "tube.dew_shield_length_mm"):  # fmt: skip
        assert key not in guessed
    assert not [g for g in kit_of(demo_text("courtyard")).guessed if g.startswith("camera")]


def test_a_list_guessed_as_a_whole_is_one_guess() -> None:
    text = LEAST[: LEAST.index("[[mount.weight]]")]
    guessed = kit_of(text).guessed
    assert "mount.weight" in guessed
    assert not [g for g in guessed if g.startswith("mount.weight[")]
