"""Dimensions with an error of their own: every key takes one, and each mistake is one line."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.kit.writing.units import number_and_error, shown_error

# Each length, mass and angle by the unit at the end of its key, looked up by hand.
UNITS = ("_mm", "_um", "_kg", "_deg", "_arcmin", "_arcsec")
TABLES = ("mount", "tube", "eyepiece", "barlow", "camera")
MORE = """
[[barlow]]
factor = 2
[camera]
pixel_um = 3.76
width_px = 3008
height_px = 3008
[[tube.accessory]]
mass_kg = 0.2
from_front_mm = 60
"""
OPTICS = 'aperture_mm = 30\nmagnification = 6\nfield_deg = 7\nlook = "upside down"\n'
TEXT = demo_text("courtyard").replace(OPTICS, "") + MORE
# What a key that the kit leaves empty may hold, with those that it needs beside it.
FILLED: dict[str, dict[str, Any]] = {
    "mount.bolts.altitude_pitch_mm": {"altitude_pitch_mm": 1.25, "altitude_arm_mm": 57},
    "mount.bolts.altitude_arm_mm": {"altitude_pitch_mm": 1.25, "altitude_arm_mm": 57},
    "mount.bolts.azimuth_pitch_mm": {"azimuth_pitch_mm": 1.25, "azimuth_arm_mm": 50},
    "mount.bolts.azimuth_arm_mm": {"azimuth_pitch_mm": 1.25, "azimuth_arm_mm": 50},
    "tube.finder.rings_deg": {"plain_sight": True, "rings_deg": [0.5, 2.0]},
}


def models(model: type[BaseModel], path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every table below a model with its path, found by its annotations."""
    yield path, model
    for name, field in model.model_fields.items():
        for part in (field.annotation, *getattr(field.annotation, "__args__", ())):
            if isinstance(part, type) and issubclass(part, BaseModel):
                yield from models(part, (*path, field.alias or name))


def keys() -> list[str]:
    found = []
    for path, model in models(Kit, ()):
        if path and path[0] in TABLES:
            found += [
                ".".join((*path, field.alias or name))
                for name, field in model.model_fields.items()
                if name.endswith(UNITS) and "float" in str(field.annotation)
            ]
    return found


def table_at(raw: dict[str, Any], path: list[str]) -> dict[str, Any]:
    at: Any = raw
    for part in path:
        at = at.setdefault(part, {})
        at = at[0] if isinstance(at, list) else at
    return at  # type: ignore[no-any-return]


def value_at(kit: Kit, key: str) -> Any:
    at: Any = kit
    for part in key.split("."):
        fields = type(at).model_fields
        at = getattr(at, next(n for n, f in fields.items() if part in (n, f.alias)))
        at = at[0] if isinstance(at, tuple) and at and isinstance(at[0], BaseModel) else at
    return at


KEYS = keys()
PLAIN, _ = check_text(TEXT)


def test_there_are_keys_of_every_table() -> None:
    assert {key.split(".")[0] for key in KEYS} == set(TABLES)
    assert {"mount.tripod.leg_directions_deg", "tube.finder.offset_mm"} <= set(KEYS)
    assert len(KEYS) > 70


@pytest.mark.parametrize("key", KEYS)
def test_every_dimension_takes_a_value_with_its_error(key: str) -> None:
    assert PLAIN is not None
    raw = tomllib.loads(TEXT)
    *path, name = key.split(".")
    table = table_at(raw, path)
    table.update(FILLED.get(key, {}))
    value = table.get(name, value_at(PLAIN, key))
    value = list(value) if isinstance(value, tuple) else 10.0 if value is None else value
    table[name] = {"value": value, "error": 0.25}
    kit, problems = check_text(tomlkit.dumps(raw))
    assert kit is not None, [str(p) for p in problems]
    whole = value_at(kit, key)
    assert (list(whole) if isinstance(whole, tuple) else whole) == value
    ((said, error),) = kit.known_errors
    assert said.replace("[1]", "") == key
    assert error == 0.25
    assert not [guess for guess in kit.guessed if guess == said]


def test_a_value_with_an_error_counts_where_others_are_guessed_from_it() -> None:
    """A Newtonian's balance point follows its length: the plain and the full form agree."""
    text = demo_text("courtyard")
    plain, _ = check_text(text.replace("length_mm = 700", "length_mm = 640"))
    full, _ = check_text(text.replace("length_mm = 700", "length_mm = { value = 640, error = 4 }"))
    assert plain is not None
    assert full is not None
    assert full.tube == plain.tube
    assert full.guessed == plain.guessed


@pytest.mark.parametrize(
    ("written", "key", "said"),
    [
        ("{ value = 700 }", "tube.length_mm", "has no error"),
        ("{ error = 3 }", "tube.length_mm", "has no value"),
        ("{ value = 700, error = -3 }", "tube.length_mm.error", "-3 must be more than 0"),
        ("{ value = 700, error = 0 }", "tube.length_mm.error", "0 must be more than 0"),
        ("{ value = 700, error = nan }", "tube.length_mm.error", "not a number"),
        ("{ value = 700, error = true }", "tube.length_mm.error", "not a number"),
        ('{ value = 700, error = "3 mm" }', "tube.length_mm.error", "not a number"),
        ("{ value = 700, error = inf }", "tube.length_mm.error", "at most"),
        ("{ value = 700, sigma = 3 }", "tube.length_mm.sigma", "unknown key"),
        ('{ value = "700", error = 3, unit = "mm" }', "tube.length_mm.unit", "unknown key"),
        ("{ value = -700, error = 3 }", "tube.length_mm", "-700 must be more than 0"),
    ],
)
def test_what_is_wrong_in_it_is_one_line(written: str, key: str, said: str) -> None:
    text = demo_text("courtyard").replace("length_mm = 700", f"length_mm = {written}")
    line = next(i for i, row in enumerate(text.splitlines(), 1) if written in row)
    kit, problems = check_text(text)
    assert kit is None
    assert [(p.key, p.line) for p in problems] == [(key, line)]
    assert said in problems[0].message


def test_a_list_tells_the_line_of_its_own_entry() -> None:
    text = demo_text("courtyard").replace("mass_kg = 0.14", "mass_kg = { value = 0.14, err = 1 }")
    _, (problem,) = check_text(text)
    assert problem.key == "eyepiece[2].mass_kg.err"
    assert "err = 1" in text.splitlines()[(problem.line or 0) - 1]


@pytest.mark.parametrize("name", ["latitude_deg = 38.5712", "hours = 2.5"])
def test_what_is_no_dimension_takes_no_error(name: str) -> None:
    key, value = name.split(" = ")
    text = demo_text("courtyard").replace(name, f"{key} = {{ value = {value}, error = 1 }}")
    kit, problems = check_text(text)
    assert kit is None
    assert any("not a number" in p.message for p in problems)


def test_no_file_says_what_the_kit_fills_in_itself() -> None:
    for key in ("guessed", "known_errors"):
        kit, problems = check_text(f"{key} = []\n" + demo_text("courtyard"))
        assert kit is None
        assert [p.key for p in problems] == [key]


def test_old_kits_have_no_errors_of_their_own() -> None:
    assert demo_kit("courtyard").known_errors == ()


@given(value=st.floats(0.01, 9999), error=st.floats(0.01, 99))
def test_typed_numbers_come_back_with_their_error(value: float, error: float) -> None:
    for mark in ("±", "+-", "+/-"):
        assert number_and_error(f" {value!r} {mark} {error!r}") == (value, error)
    assert number_and_error(repr(value)) == (value, None)


@pytest.mark.parametrize("typed", ["3 ± ", "± 3", "3 ± -1", "3 ± 0", "3 ± 1 ± 1", "3 ± nan"])
def test_half_an_error_is_refused(typed: str) -> None:
    with pytest.raises(AxletreeError):
        number_and_error(typed)


def test_errors_follow_the_units() -> None:
    """1 in = 25.4 mm and 1 lb = 0.45359237 kg by definition (1959); 1 K = 1.8 °F."""
    assert shown_error(25.4, "tube.length_mm", "us") == pytest.approx(1.0)
    assert shown_error(0.45359237, "tube.mass_kg", "us") == pytest.approx(1.0)
    assert shown_error(1.0, "site.temperature_c", "us") == pytest.approx(1.8)
