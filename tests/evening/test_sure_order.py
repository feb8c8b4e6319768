"""The evening keeps it improbable that anything touches, and says what that costs."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest

from axletree.evening.given_up import GivenUpReason
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.evening.sheet.sure_order import ALLOWED, ALLOWED_NEWCOMER, allowed_chance
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.observer import observer_of

DAY = date(2026, 9, 18)


def kit_that_allows(percent: float | None, observer: str = "practised") -> Kit:
    kit = demo_kit("courtyard")
    changed = {"touch_chance_percent": percent, "observer": observer}
    return kit.model_copy(update={"habits": kit.habits.model_copy(update=changed)})


def evening_of(percent: float) -> EveningAnswer:
    kit = kit_that_allows(percent)
    made_at = datetime(2026, 9, 1, tzinfo=UTC)
    return plan_evening(kit, observer_of(kit.site), EveningRequest(DAY, made_at))


def joint_chance(evening: EveningAnswer) -> float:
    """Counted by the rigs drawn of each stop's own room, not by what the order was made with."""
    touched = [
        stop.chosen.doubt.first_s < (stop.end - stop.begin).total_seconds()
        for stop in evening.stops
        if stop.chosen.doubt is not None
    ]
    return float(np.any(touched, axis=0).mean())


@pytest.fixture(scope="module")
def careless() -> EveningAnswer:
    return evening_of(100.0)


def touch_chances(evening: EveningAnswer) -> dict[str, float]:
    """Of each stop, by the same rigs."""
    return {
        stop.name: float(
            (stop.chosen.doubt.first_s < (stop.end - stop.begin).total_seconds()).mean()
        )
        for stop in evening.stops
        if stop.chosen.doubt is not None
    }


def test_a_careful_evening_shows_what_may_touch_when_it_does_not(careless: EveningAnswer) -> None:
    careful = evening_of(1.0)
    before, after = touch_chances(careless), touch_chances(careful)
    moved = [name for name, chance in before.items() if chance > 0.01 and name in after]
    assert len(moved) >= 2, "they come at another hour or on the other side, not never"
    assert max(after[name] for name in moved) < 0.005
    assert joint_chance(careless) > 0.03
    # Up to twice as much: the whole room is looked at in other steps than the stop alone.
    assert joint_chance(careful) < 0.02
    assert len(careful.stops) >= len(careless.stops) - 1
    may = {left.name for left in careful.given_up if left.reason is GivenUpReason.MAY_TOUCH}
    assert not may & {stop.name for stop in careful.stops}


def test_an_evening_that_allows_all_bars_nothing(careless: EveningAnswer) -> None:
    reasons = {left.reason for left in careless.given_up}
    assert GivenUpReason.MAY_TOUCH not in reasons


def test_newcomers_are_allowed_less_and_the_kit_decides() -> None:
    assert allowed_chance(kit_that_allows(None)) == ALLOWED
    assert allowed_chance(kit_that_allows(None, "newcomer")) == ALLOWED_NEWCOMER < ALLOWED
    assert allowed_chance(kit_that_allows(3.0, "newcomer")) == 0.03
