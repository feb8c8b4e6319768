"""Which chances have the ways for this very person, by what the log taught?

The errors of turns are those of this person's hands and mount: whatever is counted or read from a
star (both knobs, both circles, a star on the parallel, the search around the place) has them.
"""

from __future__ import annotations

from dataclasses import replace

from axletree.find.hopping.answer import HopAnswer, HopOutcome
from axletree.find.hopping.hop import OFFERED
from axletree.find.parallel import Parallel
from axletree.find.practice.learned import FoundBy, LearnedFinding, LearnedWay, with_factor
from axletree.find.steps import AxisTurn, ChanceFrom, Steps, StepsRefusal
from axletree.find.turning.arrival import Arrival


def learned_steps(
    turned: Steps | StepsRefusal | None, learned: LearnedFinding | None
) -> Steps | StepsRefusal | None:
    """The turns with the errors and chances that this person has; as they are where nothing was
    learned."""
    way = _tried(learned, FoundBy.STEPS)
    if way is None or not isinstance(turned, Steps):
        return turned
    return replace(
        turned, hour=_turn(turned.hour, way), declination=_turn(turned.declination, way),
        by_turns=_arrival(turned.by_turns, way), by_circles=_arrival(turned.by_circles, way),
        chance_from=ChanceFrom.LEARNED,
    )  # fmt: skip


def learned_parallel(beside: Parallel | None, learned: LearnedFinding | None) -> Parallel | None:
    """The way along the parallel with the errors and chances that this person has."""
    way = _tried(learned, FoundBy.STEPS)
    if way is None or beside is None:
        return beside
    waits = beside.by_waiting
    return replace(
        beside, by_turns=_arrival(beside.by_turns, way),
        turns_sigma=_times(beside.turns_sigma, way),
        wait_sigma_minutes=_times(beside.wait_sigma_minutes, way),
        by_waiting=None if waits is None else with_factor(waits, way.factor),
    )  # fmt: skip


def learned_hop(hopped: HopAnswer | None, learned: LearnedFinding | None) -> HopAnswer | None:
    """The hop with this person's chance; offered or not by that."""
    way = _tried(learned, FoundBy.HOP)
    if way is None or hopped is None or hopped.chance is None:
        return hopped
    if hopped.outcome not in (HopOutcome.HOP, HopOutcome.UNSURE):
        return hopped
    chance = way.chance(hopped.chance)[0]
    outcome = HopOutcome.HOP if chance >= OFFERED else HopOutcome.UNSURE
    told = replace(hopped, chance=chance, outcome=outcome)
    return told if outcome is HopOutcome.UNSURE else replace(told, weakest=None, helps=())


def _tried(learned: LearnedFinding | None, by: FoundBy) -> LearnedWay | None:
    """What tries of a way taught; None without any."""
    way = None if learned is None else learned.of(by)
    return way if way is not None and way.tries else None


def _turn(turn: AxisTurn, way: LearnedWay) -> AxisTurn:
    return replace(
        turn, sigma_deg=turn.sigma_deg * way.factor, sigma_turns=_times(turn.sigma_turns, way),
        circle_sigma_deg=turn.circle_sigma_deg * way.factor,
    )  # fmt: skip


def _arrival(told: Arrival, way: LearnedWay) -> Arrival:
    (a, b), (c, d) = told.covariance_deg2
    f2 = way.factor**2
    return Arrival(
        covariance_deg2=((f2 * a, f2 * b), (f2 * c, f2 * d)),
        eyepiece=way.chance(told.eyepiece)[0],
        finder=None if told.finder is None else way.chance(told.finder)[0],
    )


def _times(sigma: float | None, way: LearnedWay) -> float | None:
    return None if sigma is None else sigma * way.factor
