"""What is shown tonight, when, in which order? One date in, the whole evening out."""

from __future__ import annotations

from dataclasses import replace

from axletree.evening.sheet.answer import EveningAnswer, EveningCaution
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import Kit
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import pointing_known

__all__ = ["EveningAnswer", "EveningCaution", "EveningRequest", "evening"]


def evening(kit: Kit, request: EveningRequest) -> EveningAnswer:
    """The evening at the kit's site. Dates outside the years of the planets are refused."""
    if request.pointing is None:
        known = pointing_known(kit, request.state, request.made_at, request.kit_folder)
        request = replace(request, pointing=known)
    return plan_evening(kit, observer_of(kit.site), request)
