"""How is tipping told: how firmly the rig stands, and what helps?"""

from __future__ import annotations

from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.steady.steadier import Remedy, RemedyKind
from axletree.mount.steady.tipping import LEANING_CHILD_N, Built, HalfBuilt, TippingPose
from axletree.stages.set_up.balance import BalanceAnswer
from axletree.tell.shared.paragraphs import listed, paragraph
from axletree.tell.shared.words import (
    above_ground,
    compass_point,
    degrees,
    force,
    hours_minutes,
    length,
    mass,
)

_SPOKEN_OF = 0.01  # chances below, or so near to certainty, aren't (our figure)


def _pose(pose: TippingPose, units: str) -> str:
    return (
        f"tube side {pose.side}, hour angle {hours_minutes(pose.hour_angle_h, signed=True)}, "
        f"declination {degrees(pose.declination_deg, 0, signed=True)}, eyepiece "
        f"{above_ground(pose.eye_height_mm, units)} up"
    )


def _push(value_n: float, units: str, sigma_n: float = 0.0) -> str:
    push = force(value_n, units)
    if sigma_n >= 0.5:
        push = f"{push.split()[0]} ± {force(sigma_n, units)}"
    return f"{push} ({mass(value_n / STANDARD_GRAVITY_M_S2, units)} on a scale)"


def _remedy(remedy: Remedy, units: str) -> str:
    got = f"{force(remedy.push_n, units)}"
    if remedy.kind is RemedyKind.TRAY:
        enough = "" if remedy.enough else ", still not enough, and more is no load for a tray"
        return f"{mass(remedy.amount, units)} more in the tray: {got}{enough}"
    if remedy.kind is RemedyKind.WIDER:
        enough = "" if remedy.enough else ", as wide as legs should go"
        return (
            f"feet {length(remedy.amount, units)} further out, legs as long as they are (the top "
            f"comes down {length(remedy.drop_mm, units)}): {got}{enough}"
        )
    if remedy.kind is RemedyKind.LOWER:
        return f"{length(remedy.amount, units)} lower with the feet where they are: {got}"
    return (
        f"{length(remedy.amount, units)} lower by pushing the legs in, so that the feet come in "
        f"too: {got}"
    )


def _half(state: HalfBuilt, units: str) -> str:
    what = "weights on, no tube yet" if state.part is Built.WEIGHTS_ONLY else "tube on, no weights"
    if state.margin_mm < 0:
        return f"{what}: it FALLS OVER by itself in some turn of the hour axis"
    return f"{what}: {length(state.margin_mm, units)} inside the feet at worst"


def stand_text(answer: BalanceAnswer) -> str:
    """The paragraph and lists about tipping."""
    units, now = answer.kit.habits.units, answer.standing
    tray = f"with {mass(now.tray_kg, units)} in the tray" if now.tray_kg else "with the tray empty"
    if now.margin_mm <= 0:
        head = f"Stand: it FALLS OVER by itself in some poses ({_pose(now.margin_pose, units)})."
        return "\n".join([paragraph(head), _help(answer)])
    push = _push(now.push_n, units, answer.push_sigma_n)
    words = (
        f"Stand: {mass(now.mass_kg, units)} in all. The centre of mass stays at least "
        f"{length(now.margin_mm, units)} inside the feet ({_pose(now.margin_pose, units)}); it "
        f"would fall at a lean of {degrees(now.lean_deg)}. A level push of {push} at "
        f"the eyepiece, towards the {compass_point(now.push_azimuth_deg)}, tips it {tray} "
        f"({_pose(now.push_pose, units)})."
    )
    if now.too_easy:
        words += (
            f" This is LESS than {force(LEANING_CHILD_N, units)}, a leaning child (our own figure, "
            "no standard)."
        )
    words += _of_child(answer.child_tips_chance)
    if now.tray_kg:
        words += f" With the tray empty {force(answer.empty_tray.push_n, units)} do."
    if now.pull_down_n < 1000:
        words += f" Hanging on the eyepiece tips it from {_push(now.pull_down_n, units)} on."
    if answer.leaning is not None:
        lean = answer.leaning
        words += (
            f" If the tripod is left leaning with the slope instead of levelled: "
            f"{length(lean.margin_mm, units)} and {force(lean.push_n, units)}."
        )
    states = listed("While it is put up", [_half(h, units) for h in answer.half_built])
    return "\n".join(part for part in (paragraph(words), _help(answer), states) if part)


def _of_child(chance: float) -> str:
    """How probable it is that a leaning child tips it; '' where it is as good as sure or never."""
    if not _SPOKEN_OF < chance < 1.0 - _SPOKEN_OF:
        return ""
    return f" From what is known of the rig, the chance that such a child tips it is {chance:.0%}."


def _help(answer: BalanceAnswer) -> str:
    if not answer.remedies:
        return ""
    rows = [_remedy(r, answer.kit.habits.units) for r in answer.remedies]
    return listed("What helps, push that tips it then", rows)


def push_wanted_source() -> str:
    """Where the push that a rig should take comes from."""
    return "our own figure: a leaning child"
