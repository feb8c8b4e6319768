"""What a log taught of a person's turns is in every way that is counted or read from a star."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime

import pytest

from axletree.evening.sheet.plan import EveningRequest, prepare
from axletree.find.finding import Finding
from axletree.find.practice.applied import learned_parallel
from axletree.find.practice.learned import FoundBy, LearnedFinding, Try, learn
from axletree.find.steps import Steps
from axletree.find.turning.sweep import Sweep
from axletree.kit.kit import demo_kit
from axletree.sky.observer import observer_of
from axletree.stages.night.evening import evening
from axletree.stages.target.find import FindRequest, find_object

AT = datetime(2026, 12, 5, 20, tzinfo=UTC)
SURE = learn([Try(FoundBy.STEPS, True, 2.0, 0.6)] * 30)
CLUMSY = learn([Try(FoundBy.STEPS, False, None, 0.9)] * 12)


def found_with(learned: LearnedFinding | None) -> Finding:
    found = find_object(demo_kit(), FindRequest("M15", AT, learned=learned)).finding
    assert found is not None
    return found


def test_turns_circles_and_search_have_one_persons_errors() -> None:
    """Errors times f: covariances times f squared, chances 1 - (1 - p)^(1/f^2) (Rayleigh)."""
    assumed = found_with(None)
    assert isinstance(assumed.steps, Steps)
    assert isinstance(assumed.sweep, Sweep)
    for learned, better in ((SURE, True), (CLUMSY, False)):
        way = learned.of(FoundBy.STEPS)
        assert way is not None
        assert (way.factor < 1.0) is better
        one = found_with(learned)
        assert isinstance(one.steps, Steps)
        assert isinstance(one.sweep, Sweep)
        for now, was in (
            (one.steps.by_turns, assumed.steps.by_turns),
            (one.steps.by_circles, assumed.steps.by_circles),
        ):
            assert now.covariance_deg2[0][0] == pytest.approx(
                was.covariance_deg2[0][0] * way.factor**2
            )
            assert now.eyepiece == pytest.approx(1 - (1 - was.eyepiece) ** (1 / way.factor**2))
        assert one.steps.hour.sigma_turns == pytest.approx(
            (assumed.steps.hour.sigma_turns or math.nan) * way.factor
        )
        # Who errs less searches less before it is there.
        assert (len(one.sweep.legs) <= len(assumed.sweep.legs)) is better
        assert (one.sweep.chance_before > assumed.sweep.chance_before) is better


def test_the_parallel_has_them_too() -> None:
    kit = demo_kit()
    names = ("M15", "M2", "M31", "M36", "M37", "M38", "M34", "M57", "M103", "M76", "M33", "M74")
    ways = [find_object(kit, FindRequest(name, AT)).finding for name in names]
    beside = [way.parallel for way in ways if way is not None and way.parallel is not None]
    assert beside
    for one in beside:
        told = learned_parallel(one, CLUMSY)
        assert told is not None
        assert told.by_turns.eyepiece < one.by_turns.eyepiece
        if one.by_waiting is not None:
            assert told.by_waiting is not None
            assert told.by_waiting < one.by_waiting


def test_the_evening_reckons_with_who_finds() -> None:
    """The stops' chances are this person's, and an hour lasts as long as they take to find."""
    kit = demo_kit()
    asked = EveningRequest(date(2026, 12, 5), made_at=AT, effort="quick")
    slow = learn([Try(FoundBy.STEPS, False, None, 0.9)] * 12 + [Try(FoundBy.EYE, True, 9.0)] * 40)
    for learned in (None, slow):
        request = EveningRequest(date(2026, 12, 5), made_at=AT, effort="quick", learned=learned)
        task = prepare(kit, observer_of(kit.site), request).task
        assert task is not None
        # Forty times nine minutes leave nothing of the three that are assumed.
        expected = 3 * 60.0 if learned is None else 9 * 60.0
        took = task.handling.find_s * task.handling.find_factor
        assert took == pytest.approx(expected, rel=0.1)
    was = {s.catalogue_id: s.finding for s in evening(kit, asked).stops}
    from dataclasses import replace

    now = {s.catalogue_id: s.finding for s in evening(kit, replace(asked, learned=CLUMSY)).stops}
    compared = 0
    for key in was.keys() & now.keys():
        one, other = was[key], now[key]
        assert one is not None
        assert other is not None
        if isinstance(one.steps, Steps) and isinstance(other.steps, Steps):
            compared += 1
            assert other.steps.by_turns.eyepiece < one.steps.by_turns.eyepiece
    assert compared >= 5
