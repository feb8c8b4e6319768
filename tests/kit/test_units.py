"""Units of the person's choice: exact factors, there and back.

Source: US Federal Register 24, 5348 (1959): 1 yard = 0.9144 m, 1 pound = 0.45359237 kg, exactly.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from axletree.kit.errors import AxletreeError
from axletree.kit.writing.groups import FIRST, GROUPS
from axletree.kit.writing.units import Unit, number_from, shown, stored, unit_of
from axletree.tell.kit.questions_text import title_of, unit_words, words_for


@pytest.mark.parametrize(
    ("key", "metric", "unit", "us"),
    [
        ("height_m", 0.9144, "ft", 3.0),
        ("length_mm", 914.4, "in", 36.0),
        ("mass_kg", 0.45359237, "lb", 1.0),
        ("temperature_c", 100.0, "°F", 212.0),
        ("temperature_c", -40.0, "°F", -40.0),
    ],
)
def test_factors(key: str, metric: float, unit: str, us: float) -> None:
    assert unit_words(unit_of(key, "us")) == unit
    assert shown(metric, key, "us") == pytest.approx(us, abs=1e-12)
    assert stored(us, key, "us") == pytest.approx(metric, abs=1e-6)
    assert shown(metric, key) == metric


def test_optics_stay_in_millimetres_and_angles_in_degrees() -> None:
    for key in ("focal_length_mm", "aperture_mm", "altitude_pitch_mm"):
        assert unit_of(key, "us") is Unit.MM
        assert shown(25.0, key, "us") == 25.0
    for key, words in (
        ("latitude_deg", "degrees"),
        ("bubble_arcmin_per_division", "arcminutes a division"),
        ("seeing_arcsec", "arcseconds"),
        ("sky_brightness_mag_arcsec2", "mag per square arcsecond"),
        ("name", ""),
    ):
        assert unit_words(unit_of(key, "us")) == words


@given(st.floats(-1e5, 1e5), st.sampled_from(["a_m", "a_mm", "a_kg", "a_c", "a_deg"]))
def test_there_and_back(value: float, key: str) -> None:
    assert stored(shown(value, key, "us"), key, "us") == pytest.approx(value, abs=1e-6)


def test_numbers_as_people_write_them() -> None:
    assert number_from(" 12,5 ") == 12.5
    assert number_from("−3") == -3
    assert number_from("1 250") == 1250
    for bad in ("", "twelve", "nan", "inf", "1,2,3", "0x10", "1e400"):
        with pytest.raises(AxletreeError, match="is not a number"):
            number_from(bad)


def test_every_group_is_a_table_of_the_kit_and_every_key_has_words() -> None:
    from axletree.app.answers.kit.kit_sheet import plain_fields, table_of

    asked = set()
    for path in GROUPS:
        assert title_of(path)
        model, _, _ = table_of(path)
        asked |= {f"{path}.{name}" for name, _ in plain_fields(model)}
    for key in asked:
        assert words_for(key)
    assert set(FIRST) <= asked
    assert all(unit_words(unit) for unit in Unit)
