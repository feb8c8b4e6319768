"""In which words is told what of a plan begins, while somebody waits for it?"""

from __future__ import annotations

from axletree.evening.event.share import SHARING
from axletree.evening.sheet.plan import PlanStep


def plan_step_words(step: PlanStep) -> str:
    """What begins of one evening."""
    return {
        PlanStep.NIGHT: "the night",
        PlanStep.ROOM: "room on both tube sides",
        PlanStep.SET_UP: "north, pole, balance",
        PlanStep.OBJECTS: "objects worth a stop",
        PlanStep.ORDER: "the order of the stops",
    }[step]


def event_step_words(label: str) -> str:
    """What begins of an event: a telescope's evening by its label, or the sharing out."""
    return "who shows what" if label == SHARING else label
