"""Setting up takes longer for a newcomer, a heavy tube, more pieces: common practice, no source.

A newcomer's 30 to 45 minutes and a practised person's 20 to 30 are for a small rig whose place is
known; the stages here include looking for it, north and the balance.
"""

from __future__ import annotations

import itertools
from datetime import UTC, date, datetime, timedelta
from types import SimpleNamespace

import pytest

from axletree.evening.night.set_up_pace import set_up_minutes, unloading_min
from axletree.evening.night.set_up_times import BY_STARS, session_of, stage_times
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.observer import observer_of


def kit_with(**habits: object) -> Kit:
    kit = demo_kit("courtyard")
    return kit.model_copy(update={"habits": kit.habits.model_copy(update=habits)})


def before_stars(kit: Kit) -> float:
    return sum(least for name, least in set_up_minutes(kit) if name not in BY_STARS)


def test_by_experience() -> None:
    by = [before_stars(kit_with(observer=who)) for who in ("expert", "practised", "newcomer")]
    assert by[0] < by[1] < by[2] < 2.5 * by[0]
    carry = [unloading_min(kit_with(observer=who)) for who in ("expert", "practised", "newcomer")]
    assert carry == sorted(carry)


def test_by_what_there_is_to_lift_and_to_place() -> None:
    kit = kit_with(observer="practised")
    heavy = kit.model_copy(update={"tube": kit.tube.model_copy(update={"mass_kg": 13.0})})
    assert before_stars(heavy) > before_stars(kit)
    more = kit.mount.weights * 3
    loaded = kit.model_copy(update={"mount": kit.mount.model_copy(update={"weights": more})})
    assert before_stars(loaded) > before_stars(kit)
    assert unloading_min(loaded) > unloading_min(kit)
    scope = kit.mount.polar_scope.model_copy(update={"kind": "none"})
    without = kit.model_copy(update={"mount": kit.mount.model_copy(update={"polar_scope": scope})})
    # By the still point of the finder it takes longer; with a tube that shows too little nothing
    # is placed.
    assert dict(set_up_minutes(without))["pole"] > dict(set_up_minutes(kit))["pole"]
    narrow = without.tube.model_copy(update={"finder": None, "focal_length_mm": 2500.0})
    blind = without.model_copy(update={"tube": narrow})
    assert dict(set_up_minutes(blind))["pole"] < dict(set_up_minutes(kit))["pole"]


def test_the_kits_own_key_goes_before() -> None:
    assert before_stars(kit_with(set_up_min=90.0)) == pytest.approx(90.0, abs=3.0)
    made = []
    for minutes in (30.0, 90.0):
        kit = kit_with(set_up_min=minutes)
        request = EveningRequest(date(2026, 10, 10), made_at=datetime(2026, 10, 1, tzinfo=UTC))
        made.append(plan_evening(kit, observer_of(kit.site), request))
    quick, slow = made
    assert quick.session is not None
    assert slow.session is not None
    assert quick.session.first_stop == slow.session.first_stop
    later = (quick.session.arrive - slow.session.arrive).total_seconds() / 60.0
    assert later == pytest.approx(60.0, abs=4.0)
    begins = [stage.begin for stage in slow.stages]
    assert begins == sorted(begins)
    assert slow.stages[0].end - slow.stages[0].begin >= quick.stages[0].end - quick.stages[0].begin


def test_in_a_polar_night_all_stages_follow_each_other_up_to_the_first_stop() -> None:
    """The pole star shows at 16:01 there, the evening begins at 17:00 by people's clocks: a random
    evening at 74 degrees south had its spot chosen 38 minutes before anybody arrived."""
    noon = datetime(2027, 5, 17, 12, 30, tzinfo=UTC)
    habits = kit_with(bedtime=None).habits
    session = session_of(
        SimpleNamespace(sunset=None), ((noon, noon + timedelta(hours=23)),), habits, 25.0,
        star_at=noon.replace(hour=16, minute=1),
    )  # fmt: skip
    assert session is not None
    stages = [
        s for s in stage_times(session, SimpleNamespace(sunset=None), 25.0) if s.name != "cool"
    ]
    assert (stages[0].name, stages[0].begin) == ("arrive", session.arrive)
    assert all(before.end == after.begin for before, after in itertools.pairwise(stages))
    assert stages[-1].end == session.first_stop == noon.replace(hour=17, minute=0)
