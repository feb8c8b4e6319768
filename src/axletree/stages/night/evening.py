"""What is shown tonight, when, in which order? One date in, the whole evening out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

from axletree.axis.model import PointingModel
from axletree.axis.state import State
from axletree.evening.sheet.answer import EveningAnswer, EveningCaution
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import Kit
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import pointing_known

__all__ = ["EveningAnswer", "EveningCaution", "EveningRequest", "evening", "pointing_of_evening"]

# When the axis is taken to be set, for what the clock changes little; the same whoever asks when.
_SET_AT = time(21)


def evening(kit: Kit, request: EveningRequest) -> EveningAnswer:
    """The evening at the kit's site. Dates outside the years of the planets are refused."""
    if request.pointing is None:
        known = pointing_of_evening(kit, request.state, request.day, request.kit_folder)
        request = replace(request, pointing=known)
    return plan_evening(kit, observer_of(kit.site), request)


def pointing_of_evening(
    kit: Kit, state: State | None, day: date, kit_folder: Path | None = None
) -> PointingModel:
    """With which errors of the mount the ways to the stops are reckoned."""
    return pointing_known(kit, state, datetime.combine(day, _SET_AT, kit.site.zone), kit_folder)
