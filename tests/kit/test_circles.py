"""The setting circles of the kit: their keys, the older ones, and what silence means."""

from __future__ import annotations

import pytest

from axletree.kit.kit import Kit, check_text
from axletree.kit.parts.circles import READ_DIVISION

LEAST = """
[site]
latitude_deg = 38.57
longitude_deg = -7.91
[tube]
kind = "newtonian"
aperture_mm = 130
focal_length_mm = 650
"""


def kit_of(more: str) -> Kit:
    kit, problems = check_text(LEAST + more)
    assert kit is not None, [str(p) for p in problems]
    return kit


def test_a_silent_kit_guesses_its_circles_and_says_so() -> None:
    kit = kit_of("")
    circles = kit.mount.circles
    assert (circles.hour_marks, circles.hour_circle) == ("hour angle", "fixed")
    keys = set(type(circles).model_fields)
    assert keys == {k.removeprefix("mount.circles.") for k in kit.guessed if "circles" in k}


def test_the_older_keys_still_count() -> None:
    kit = kit_of("[mount]\nhour_circle_step_min = 20\ndeclination_circle_step_deg = 5\n")
    circles = kit.mount.circles
    assert (circles.hour_division_min, circles.declination_division_deg) == (20.0, 5.0)
    assert "mount.circles.hour_division_min" not in kit.guessed


def test_the_newer_key_wins_over_the_older() -> None:
    kit = kit_of("[mount]\nhour_circle_step_min = 20\n[mount.circles]\nhour_division_min = 4\n")
    assert kit.mount.circles.hour_division_min == 4.0


@pytest.mark.parametrize("who", ["newcomer", "practised", "expert"])
def test_circles_are_read_as_experience_has_it(who: str) -> None:
    kit = kit_of(f'[habits]\nobserver = "{who}"\n')
    assert kit.mount.circles.read_division == READ_DIVISION[who]
    given = kit_of(f'[habits]\nobserver = "{who}"\n[mount.circles]\nread_division = 0.4\n')
    assert given.mount.circles.read_division == 0.4


def test_right_ascension_marks_are_taken_as_slipped_and_cannot_be_fixed() -> None:
    """A circle on the housing that is never set can't follow the vernal equinox: by geometry."""
    kit = kit_of('[mount.circles]\nhour_marks = "right ascension"\n')
    assert kit.mount.circles.hour_circle == "slipped"
    none, problems = check_text(
        LEAST + '[mount.circles]\nhour_marks = "right ascension"\nhour_circle = "fixed"\n'
    )
    assert none is None
    assert [p.key for p in problems] == ["mount.circles"]
