"""The finder's optics: what is guessed, and each mistake in one line."""

from __future__ import annotations

import pytest

from axletree.kit.kit import Kit, check_text
from axletree.kit.parts.tube import Finder

LEAST = """
[site]
latitude_deg = 38.57
longitude_deg = -7.91
[tube]
kind = "newtonian"
aperture_mm = 130
focal_length_mm = 650
[tube.finder]
"""
OPTICS = ("aperture_mm", "magnification", "field_deg", "look")


def kit_of(text: str) -> tuple[Kit, Finder]:
    kit, problems = check_text(LEAST + text)
    assert kit is not None, [str(p) for p in problems]
    assert kit.tube.finder is not None
    return kit, kit.tube.finder


def test_the_usual_finder_stands_in_and_is_named_as_guessed() -> None:
    """6x30 with 7 degrees, upside down: common practice, no source."""
    kit, finder = kit_of("")
    assert (finder.aperture_mm, finder.magnification, finder.field_deg) == (30, 6, 7)
    assert finder.look == "upside down"
    assert {f"tube.finder.{key}" for key in OPTICS} <= set(kit.guessed)


def test_what_is_given_stays_and_is_no_guess() -> None:
    kit, finder = kit_of('aperture_mm = 50\nmagnification = 8\nfield_deg = 5\nlook = "mirrored"')
    assert (finder.aperture_mm, finder.magnification, finder.field_deg) == (50, 8, 5)
    assert finder.look == "mirrored"
    assert not {f"tube.finder.{key}" for key in OPTICS} & set(kit.guessed)


def test_nothing_of_a_plain_sight_is_assumed() -> None:
    kit, finder = kit_of("plain_sight = true\nrings_deg = [0.25, 1, 2]")
    assert finder.rings_deg == (0.25, 1, 2)
    assert [getattr(finder, key) for key in OPTICS] == [None] * 4
    assert not {f"tube.finder.{key}" for key in (*OPTICS, "rings_deg")} & set(kit.guessed)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("plain_sight = true\nrings_deg = [1]\nmagnification = 6", "has no magnification"),
        ("plain_sight = true", "needs rings_deg"),
        ("plain_sight = true\nrings_deg = [2, 1]", "from the inside out"),
        ("plain_sight = true\nrings_deg = [0]", "rings_deg[1]: 0 must be more than 0"),
        ("rings_deg = [1]", "belong to a plain sight"),
        ("magnification = 8", "8 times without its field_deg"),
        ("magnification = 8\nfield_deg = 12", "at most 10.0 degrees"),
        ("field_deg = 15", "at 6 times would fill 90 degrees"),
        ("field_deg = 0", "0 must be more than 0 degrees"),
        ('look = "sideways"', "'sideways' is not one of"),
    ],
)
def test_each_mistake_is_one_line(text: str, said: str) -> None:
    kit, problems = check_text(LEAST + text)
    assert kit is None
    (problem,) = problems
    assert said in str(problem)
    assert "\n" not in str(problem)
