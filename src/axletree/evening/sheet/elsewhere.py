"""How does an evening read for a place nearby, with its stops and times as they were planned?"""

from __future__ import annotations

from dataclasses import replace

from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.set_up import north_answer, pole_answer
from axletree.evening.special.crossings import crossings_from
from axletree.kit.kit import Kit
from axletree.sky.observer import Observer


def moved_to(answer: EveningAnswer, kit: Kit, observer: Observer) -> EveningAnswer:
    """The evening with the place, north, pole and satellites of another kit's site.

    `kit` is the evening's own but for its site, `observer` stands there; the skyline, stops, times,
    balance and order stay.
    """
    at = answer.set_up.pole.at
    set_up = replace(
        answer.set_up,
        north=north_answer(kit, at),
        pole=pole_answer(kit, observer, at, answer.horizon),
    )
    crossings = answer.crossings
    return replace(
        answer, kit=kit, observer=observer, set_up=set_up,
        crossings=None if crossings is None else crossings_from(crossings, observer),
    )  # fmt: skip
