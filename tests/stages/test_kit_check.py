"""A kit's guesses, each with its spread, unit and reason: typed, in words and as JSON."""

from __future__ import annotations

import pytest

from axletree.kit.kit import demo_text
from axletree.kit.parts.spreads import GuessReason
from axletree.kit.writing.template import new_kit_text
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.stages.kit.kit_check import KitCheckAnswer, KitCheckRequest, kit_check
from axletree.tell.kit.data import kit_check_data
from axletree.tell.kit.text import REASONS, kit_check_text

TEXTS = [demo_text("courtyard"), demo_text("paddock")] + [
    new_kit_text("x", "Évora", kind, 130, 900)
    for kind in ("newtonian", "refractor", "catadioptric")
]

# A lens has no obstruction.
NO_SPREAD = {"tube.obstruction_mm"}


def checked(text: str) -> KitCheckAnswer:
    answer = kit_check(KitCheckRequest(text))
    assert answer.kit is not None, [str(p) for p in answer.problems]
    return answer


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_every_guessed_number_has_a_spread_and_a_reason(text: str) -> None:
    answer = checked(text)
    numbers = [g for g in answer.guesses if isinstance(g.value, float | int)]
    assert len(numbers) > 35
    assert {g.key for g in numbers if g.sigma is None or not g.sigma > 0} <= NO_SPREAD
    assert answer.kit is not None
    known = dimensions_of(answer.kit)
    spread = dict(zip(known.names, known.sigmas, strict=True))
    shared = [g for g in answer.guesses if g.key in spread]
    assert len(shared) > 30
    for guess in shared:
        assert guess.sigma == pytest.approx(spread[guess.key]), guess.key


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_each_is_told_in_a_line_with_its_unit(text: str) -> None:
    answer = checked(text)
    lines = kit_check_text(answer, "x.toml").splitlines()
    told = {line.strip().split(" = ")[0]: line for line in lines if " = " in line}
    assert len(told) == len(answer.guesses) > 40
    for guess in answer.guesses:
        line = told[guess.key]
        assert line.endswith(f", {REASONS[guess.reason]}")
        assert (" ± " in line) == (guess.sigma is not None)
        if guess.key.endswith("_mm"):
            assert " mm," in line
    rows = kit_check_data(answer, "x.toml")["guesses"]
    assert [row["key"] for row in rows] == [guess.key for guess in answer.guesses]
    assert {row["unit"] for row in rows if row["key"].endswith("_kg")} == {"kg"}
    assert all(row["sigma"] is None or row["sigma"] > 0 for row in rows)


def test_a_worked_line() -> None:
    """By hand: 0.92 of 650 mm is 598 mm; 4 % of it and 0.92 times 2 % of the focal length."""
    lines = kit_check_text(checked(new_kit_text()), "x.toml")
    assert "tube.length_mm = 598 ± 27 mm, from the focal length" in lines


def test_every_reason_has_words() -> None:
    assert set(REASONS) == set(GuessReason)
    assert len(set(REASONS.values())) == len(REASONS)


def test_what_is_not_there_is_not_asked_for() -> None:
    keys = {guess.key for guess in checked(demo_text("courtyard")).guesses}
    assert "tube.focuser_reach_mm" in keys
    assert not keys & {"tube.diagonal_arm_mm", "tube.dew_shield_diameter_mm"}


def test_a_list_guessed_as_a_whole_is_told_by_its_dimensions() -> None:
    keys = [guess.key for guess in checked(new_kit_text()).guesses]
    assert "mount.weight" in keys
    assert "mount.weight[2].mass_kg" in keys
