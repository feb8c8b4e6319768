"""How is tipping told: how firmly the rig stands, and what helps?"""

from __future__ import annotations

from typing import Any

from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.steady.balanced import BalanceReport
from axletree.mount.steady.steadier import Remedy
from axletree.mount.steady.tipping import LEANING_CHILD_N, HalfBuilt, PoseWords, Tipping
from axletree.tell.shared.paragraphs import listed, paragraph
from axletree.tell.shared.words import (
    above_ground,
    compass_point,
    degrees,
    hours_minutes,
    length,
    mass,
)

THIN_MARGIN_MM = 60.0  # of a half-built rig: a bump or a soft spot may use it up (our figure)


def _pose(pose: PoseWords, units: str) -> str:
    return (
        f"tube side {pose.side}, hour angle {hours_minutes(pose.hour_angle_h, signed=True)}, "
        f"declination {degrees(pose.declination_deg, 0, signed=True)}, eyepiece "
        f"{above_ground(pose.eye_height_mm, units)} up"
    )


def _push(value_n: float, sigma_n: float = 0.0) -> str:
    sure = f"±{sigma_n:.0f} " if sigma_n >= 0.5 else ""
    return f"{value_n:.0f} {sure}N ({value_n / STANDARD_GRAVITY_M_S2:.1f} kg on a scale)"


def _remedy(remedy: Remedy, units: str) -> str:
    got = f"{remedy.push_n:.0f} N"
    if remedy.kind == "tray":
        enough = "" if remedy.enough else ", still not enough, and more is no load for a tray"
        return f"{mass(remedy.amount, units)} more in the tray: {got}{enough}"
    if remedy.kind == "wider":
        enough = "" if remedy.enough else ", as wide as legs should go"
        return (
            f"feet {length(remedy.amount, units)} further out, legs as long as they are (the top "
            f"comes down {length(remedy.drop_mm, units)}): {got}{enough}"
        )
    if remedy.kind == "lower":
        return f"{length(remedy.amount, units)} lower with the feet where they are: {got}"
    return (
        f"{length(remedy.amount, units)} lower by pushing the legs in, so that the feet come in "
        f"too: {got}"
    )


def _half(state: HalfBuilt, units: str) -> str:
    what = "weights on, no tube yet" if state.part == "weights only" else "tube on, no weights"
    if state.margin_mm < 0:
        return f"{what}: it FALLS OVER by itself in some turn of the hour axis"
    return f"{what}: {length(state.margin_mm, units)} inside the feet at worst"


def stand_text(report: BalanceReport) -> str:
    """The paragraph and lists about tipping."""
    units, now = report.kit.habits.units, report.standing
    tray = f"with {mass(now.tray_kg, units)} in the tray" if now.tray_kg else "with the tray empty"
    if now.margin_mm <= 0:
        head = f"Stand: it FALLS OVER by itself in some poses ({_pose(now.margin_pose, units)})."
        return "\n".join([paragraph(head), _help(report)])
    push = _push(now.push_n, report.push_sigma_n)
    words = (
        f"Stand: {mass(now.mass_kg, units)} in all. The centre of mass stays at least "
        f"{length(now.margin_mm, units)} inside the feet ({_pose(now.margin_pose, units)}); it "
        f"would fall at a lean of {degrees(now.lean_deg)}. A level push of {push} at "
        f"the eyepiece, towards the {compass_point(now.push_azimuth_deg)}, tips it {tray} "
        f"({_pose(now.push_pose, units)})."
    )
    if now.too_easy:
        words += (
            f" This is LESS than {LEANING_CHILD_N:.0f} N, a leaning child (our own figure, no "
            "standard)."
        )
    if now.tray_kg:
        words += f" With the tray empty {report.empty_tray.push_n:.0f} N do."
    if now.pull_down_n < 1000:
        words += f" Hanging on the eyepiece tips it from {_push(now.pull_down_n)} on."
    if report.leaning is not None:
        lean = report.leaning
        words += (
            f" If the tripod is left leaning with the slope instead of levelled: "
            f"{length(lean.margin_mm, units)} and {lean.push_n:.0f} N."
        )
    states = listed("While it is put up", [_half(h, units) for h in report.half_built])
    return "\n".join(part for part in (paragraph(words), _help(report), states) if part)


def _help(report: BalanceReport) -> str:
    if not report.remedies:
        return ""
    rows = [_remedy(r, report.kit.habits.units) for r in report.remedies]
    return listed("What helps, push that tips it then", rows)


def stand_cautions(report: BalanceReport) -> list[str]:
    """What can hurt when it tips."""
    found = []
    if report.standing.too_easy:
        found.append(
            "People near: this rig can be pushed over by a leaning child. Keep visitors' hands "
            "and cords off it, or do one of the things that help."
        )
    weights = report.half_built[0]
    if weights.margin_mm < THIN_MARGIN_MM:
        found.append(
            "With the weights on and no tube it hardly stands: keep the shaft pointing down and "
            "hold it until the tube is on."
        )
    if report.kit.habits.visitors > 0:
        found.append(
            "Public events: the organiser's safety rules, permits and local codes come first; "
            "these figures assume hard ground, feet that do not sink or slide, and no wind."
        )
    else:
        found.append("These figures assume hard ground, feet that do not sink or slide, no wind.")
    return found


def _pose_data(pose: PoseWords) -> dict[str, Any]:
    return {
        "side": pose.side,
        "hour_angle_h": pose.hour_angle_h,
        "declination_deg": pose.declination_deg,
        "eye_height_mm": pose.eye_height_mm,
    }


def _tipping_data(found: Tipping) -> dict[str, Any]:
    return {
        "mass_kg": found.mass_kg,
        "tray_kg": found.tray_kg,
        "margin_mm": found.margin_mm,
        "margin_pose": _pose_data(found.margin_pose),
        "lean_deg": found.lean_deg,
        "push_n": found.push_n,
        "push_azimuth_deg": found.push_azimuth_deg,
        "push_pose": _pose_data(found.push_pose),
        "pull_down_n": found.pull_down_n if found.pull_down_n != float("inf") else None,
    }


def stand_data(report: BalanceReport) -> dict[str, Any]:
    """The tipping part of the JSON answer."""
    leaning = report.leaning
    return {
        "tipping": {
            **_tipping_data(report.standing),
            "push_sigma_n": report.push_sigma_n,
            "margin_sigma_mm": report.margin_sigma_mm,
            "push_empty_tray_n": report.empty_tray.push_n,
            "push_wanted_n": LEANING_CHILD_N,
            "push_wanted_source": "our own figure: a leaning child",
            "too_easy": report.standing.too_easy,
            "leaning_with_slope": _tipping_data(leaning) if leaning else None,
            "half_built": [
                {"part": h.part, "margin_mm": h.margin_mm, "mass_kg": h.mass_kg}
                for h in report.half_built
            ],
            "remedies": [_remedy_data(r) for r in report.remedies],
        }
    }


def _remedy_data(remedy: Remedy) -> dict[str, Any]:
    unit = "kg" if remedy.kind == "tray" else "mm"
    return {
        "kind": remedy.kind,
        f"amount_{unit}": remedy.amount,
        "push_n": remedy.push_n,
        "enough": remedy.enough,
        "drop_mm": remedy.drop_mm,
    }
