"""How many stops, and how long each: five to eight objects for a family, whoever leads; a newcomer
shows three to five an hour by hand, a practised host five to eight (common practice, no source)."""

from __future__ import annotations

import pytest

from axletree.evening.hosting.pace import most_stops, people_at, show_seconds
from axletree.evening.order.moving import handling_of
from axletree.kit.kit import Kit, demo_kit


def kit_with(**habits: object) -> Kit:
    kit = demo_kit("courtyard")
    return kit.model_copy(update={"habits": kit.habits.model_copy(update=habits)})


@pytest.mark.parametrize("observer", ["newcomer", "practised", "expert"])
@pytest.mark.parametrize("visitors", [0, 4])
def test_a_family_sees_no_more_than_eight_whoever_leads(observer: str, visitors: int) -> None:
    most = most_stops(kit_with(observer=observer, audience="family", visitors=visitors))
    assert most is not None
    assert 5 <= most <= 8


def test_who_is_named_without_a_number_still_looks() -> None:
    alone = kit_with(visitors=0, audience=None)
    assert people_at(alone.habits) == 0
    assert most_stops(alone) is None
    pupils = kit_with(visitors=0, audience="class")
    assert people_at(pupils.habits) > 10
    assert show_seconds(pupils) > show_seconds(alone)
    assert people_at(kit_with(visitors=7, audience="class").habits) == 7


@pytest.mark.parametrize(("observer", "least", "most"), [("newcomer", 3, 5), ("practised", 5, 8)])
@pytest.mark.parametrize("visitors", [0, 4])
def test_as_many_an_hour_by_hand_as_such_a_host_shows(
    observer: str, least: int, most: int, visitors: int
) -> None:
    """Of what the bare eye or the finder shows; turning the mount comes on top."""
    kit = kit_with(observer=observer, visitors=visitors)
    hands = handling_of(kit)
    an_hour = 3600.0 / (float(hands.with_slack_s(hands.find_s)) + show_seconds(kit))
    assert least <= an_hour <= most
