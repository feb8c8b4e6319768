"""How is the work of balancing told: its order, what can hurt, and what the places rest on?"""

from __future__ import annotations

from axletree.stages.set_up.balance import (
    BalanceAnswer,
    BalanceAssumption,
    BalanceCaution,
    WorkStep,
)
from axletree.tell.shared.words import length

STEPS = {
    WorkStep.TRIPOD: (
        "Tripod down, legs spread and locked, tray on. Both axes locked, shaft pointing down."
    ),
    WorkStep.WEIGHTS_THEN_TUBE: (
        "Weights on the shaft and the safety screw back in its end. Only then the tube, with the "
        "saddle's screws done up while one hand holds it."
    ),
    WorkStep.EYEPIECE: (
        "Eyepiece, finder and dew shield in place as they will be used, caps as they will be."
    ),
    WorkStep.DECLINATION: (
        "Declination first: shaft level, hour axis LOCKED. Hold the tube, open the declination "
        "lock, find the heavy end, hold, lock, slide the tube, try again."
    ),
    WorkStep.HOUR: (
        "Then the hour axis: shaft level, declination LOCKED. Hold the shaft, open the hour lock, "
        "slide the weights, try again."
    ),
    WorkStep.CROSSWISE: (
        "Last the crosswise part: tube upright, shaft level, and the declination lock opened with "
        "a hand on the tube."
    ),
    WorkStep.TAKING_DOWN: "Taking down: the tube comes off before the weights.",
}
CAUTIONS = {
    BalanceCaution.OVERLOADED: ("The mount is loaded beyond what it is rated for: put less on it."),
    BalanceCaution.WEIGHTS_FIRST: (
        "Weights on before the tube, tube off before the weights; with the tube alone the rig "
        "swings over when the lock is opened."
    ),
    BalanceCaution.LOCKS: (
        "Locks held while balancing: one hand stays on the tube or the shaft whenever a lock or "
        "clutch is open, and heads stay out of its way. A clutch that slips lets the tube swing."
    ),
    BalanceCaution.SAFETY_SCREW: (
        "The safety screw at the shaft's end stays in: it is all that stops a weight that slides "
        "off onto a foot."
    ),
    BalanceCaution.SADDLE_SCREWS: (
        "Never loosen the saddle's screws with the tube pointing up or down: it can slide out. "
        "Slide it with the tube level and the shaft level."
    ),
    BalanceCaution.PUSHED_OVER_EASILY: (
        "People near: this rig can be pushed over by a leaning child. Keep visitors' hands "
        "and cords off it, or do one of the things that help."
    ),
    BalanceCaution.HARDLY_STANDS_WITHOUT_TUBE: (
        "With the weights on and no tube it hardly stands: keep the shaft pointing down and "
        "hold it until the tube is on."
    ),
    BalanceCaution.PUBLIC_EVENT: (
        "Public events: the organiser's safety rules, permits and local codes come first; "
        "these figures assume hard ground, feet that do not sink or slide, and no wind."
    ),
    BalanceCaution.HARD_GROUND: (
        "These figures assume hard ground, feet that do not sink or slide, no wind."
    ),
}


def work_words(answer: BalanceAnswer) -> list[str]:
    """The order of work, a sentence or two a step."""
    return [STEPS[step] for step in answer.order_of_work]


def caution_words(answer: BalanceAnswer) -> list[str]:
    """What can hurt here."""
    return [CAUTIONS[caution] for caution in answer.cautions]


def assumed_words(answer: BalanceAnswer) -> list[str]:
    """What the placements rest on."""
    sure, units = answer.certainty, answer.kit.habits.units
    weights = "" if sure.weights_sigma_mm is None else length(sure.weights_sigma_mm, units)
    words = {
        BalanceAssumption.EYEPIECE: f"Eyepiece in the focuser: {answer.eyepiece[0]}.",
        BalanceAssumption.SLIDE_FROM_BARE_BALANCE: (
            "Slides are counted from where the bare tube balances, and the dovetail's middle is "
            "taken to lie there; give --now for where the saddle holds it now."
        ),
        BalanceAssumption.GUESSED_VALUES: (
            f"First placement only: weights ±{weights}, tube "
            f"±{length(sure.tube_sigma_mm, units)}, because the kit leaves these to be guessed "
            f"('kit check' says how well): {', '.join(sure.guessed)}. Finish by feel, or "
            "with a luggage scale (--scale)."
        ),
    }
    return [words[assumption] for assumption in answer.assumptions]
