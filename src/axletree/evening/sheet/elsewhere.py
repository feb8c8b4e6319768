"""How does an evening read for a place nearby, with its stops and times as they were planned?"""

from __future__ import annotations

from axletree.evening.document import Evening
from axletree.evening.sheet import set_up as setup
from axletree.evening.sheet.finish import place_of
from axletree.evening.sheet.set_up_words import words_of
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.kit import Kit
from axletree.sky.observer import Observer


def told_from(evening: Evening, kit: Kit, observer: Observer, horizon: Horizon) -> Evening:
    """The evening with the place, north, pole and the set-up's sentences of another kit's site.

    `kit` is the evening's own but for its site, `observer` stands there, and `horizon` is the
    evening's; stops, times, balance and order stay.
    """
    north = setup.north_answer(kit, evening.pole.at)
    pole = setup.pole_answer(kit, observer, evening.pole.at, horizon)
    words = words_of(kit, north, pole, evening.balance, horizon)
    stages = []
    for stage in evening.stages:
        if stage.name in ("spot", "level", "north", "pole"):
            answer, details, cautions = words[stage.name]
            told = {"answer": answer, "details": details, "cautions": cautions}
            stage = stage.model_copy(update=told)
        stages.append(stage)
    return evening.model_copy(
        update={
            "place": place_of(kit, observer),
            "rig": evening.rig.model_copy(update={"kit_name": kit.name}),
            "north": north,
            "pole": pole,
            "stages": tuple(stages),
        }
    )
