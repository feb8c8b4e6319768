"""Which chances have turns and hop for this very person, by what the log taught?"""

from __future__ import annotations

from dataclasses import replace

from axletree.find.hopping.answer import HopAnswer, HopOutcome
from axletree.find.hopping.hop import OFFERED
from axletree.find.practice.learned import FoundBy, LearnedFinding
from axletree.find.steps import ChanceFrom, Steps, StepsRefusal


def learned_steps(
    turned: Steps | StepsRefusal | None, learned: LearnedFinding | None
) -> Steps | StepsRefusal | None:
    """The turns with the chances that this person has; as they are where nothing was learned."""
    way = None if learned is None else learned.of(FoundBy.STEPS)
    if way is None or not way.tries or not isinstance(turned, Steps):
        return turned
    told, finder = turned.by_turns, turned.by_turns.finder
    better = replace(
        told, eyepiece=way.chance(told.eyepiece)[0],
        finder=None if finder is None else way.chance(finder)[0],
    )  # fmt: skip
    return replace(turned, by_turns=better, chance_from=ChanceFrom.LEARNED)


def learned_hop(hopped: HopAnswer | None, learned: LearnedFinding | None) -> HopAnswer | None:
    """The hop with this person's chance; offered or not by that."""
    way = None if learned is None else learned.of(FoundBy.HOP)
    if way is None or not way.tries or hopped is None or hopped.chance is None:
        return hopped
    if hopped.outcome not in (HopOutcome.HOP, HopOutcome.UNSURE):
        return hopped
    chance = way.chance(hopped.chance)[0]
    outcome = HopOutcome.HOP if chance >= OFFERED else HopOutcome.UNSURE
    told = replace(hopped, chance=chance, outcome=outcome)
    return told if outcome is HopOutcome.UNSURE else replace(told, weakest=None, helps=())
