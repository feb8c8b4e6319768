"""How is 'good enough' told: the largest axis error that doesn't matter, and what reaches it?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from axletree.pole.enough.methods import Method
from axletree.pole.enough.need import CameraUse, EyeUse, Need
from axletree.pole.enough.tolerance import Tolerance
from axletree.tell.enough.drawing import error_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import degrees, duration

ESTIMATES = (
    "errors and minutes of the methods are estimates for a careful person and an ordinary mount "
    "(common practice)"
)


def enough_text(need: Need, assumed: Sequence[str]) -> str:
    """The answer as text: how good, by what, why; then every method."""
    return sections(
        paragraph(headline(need)),
        listed("What it is for", use_words(need)),
        listed("What each method leaves, nine times in ten", map(method_words, need.methods)),
        listed("Also", also_words(need)),
        listed("Assumed", [*assumed, ESTIMATES]),
    )


def headline(need: Need) -> str:
    """'An axis within 12′ of the pole is good enough: ...'"""
    if need.strictest.limited_by == "nothing":
        first = "No axis error that a mount can have matters for this."
    else:
        first = (
            f"An axis within {error_words(need.strictest.largest_arcmin)} of the pole is good "
            f"enough{_to_hold(need)}."
        )
    best = need.best
    circles = need.circles_arcmin
    by_circles = need.strictest.limited_by == "nothing" or need.strictest.largest_arcmin > circles
    if best is not None and by_circles:
        # Long before an object leaves the field the circles stop bringing it there.
        return (
            f"{first} To find objects by the setting circles too: within "
            f"{error_words(circles)}. Quickest to hold them: {best.name}, about "
            f"{best.minutes:.0f} min; it ends within {error_words(best.within_90_arcmin)} nine "
            f"times in ten{_for_circles(need)}."
        )
    if best is not None:
        return (
            f"{first} Quickest: {best.name}, about {best.minutes:.0f} min; it ends within "
            f"{error_words(best.within_90_arcmin)} nine times in ten. A better axis "
            "would not be noticed."
        )
    if need.drift_minutes is not None:
        return (
            f"{first} No method of this kit is sure to reach that as usually done; a drift test "
            f"of {need.drift_minutes:.0f} min on each of two stars would."
        )
    return (
        f"{first} No method of this kit is sure to reach that: its bolts can't be stopped finely "
        "enough. Make shorter exposures, or more nudges."
    )


def _to_hold(need: Need) -> str:
    return " to hold an object" if need.strictest.largest_arcmin > need.circles_arcmin else ""


def _for_circles(need: Need) -> str:
    """', which serves the circles too', or the quickest method that does."""
    best = need.best
    if best is not None and best.within_90_arcmin <= need.circles_arcmin:
        return ", which serves the circles too"
    serving = [m for m in need.methods if m.possible and m.within_90_arcmin <= need.circles_arcmin]
    if not serving:
        return ""
    quick = min(serving, key=lambda m: m.minutes)
    return f"; for the circles: {quick.name}, about {quick.minutes:.0f} min"


def use_words(need: Need) -> list[str]:
    """One sentence for each use and its own limit."""
    rows = []
    if need.eye is not None and need.eye_use is not None:
        rows.append(_eye(need.eye, need.eye_use))
    if need.camera is not None and need.camera_use is not None:
        rows.append(_camera(need.camera, need.camera_use))
    return rows


def _eye(found: Tolerance, use: EyeUse) -> str:
    how = "motor" if use.motor else "by hand; only the declination knob counts, the other turns"
    return (
        f"eye: {use.magnification:.0f}× ({use.eyepiece}, field {use.true_field_deg * 60:.0f}′), a "
        f"nudge every {duration(use.nudge_every_s)}, {how}: {_limit(found)}, since "
        f"{found.because}."
    )


def _camera(found: Tolerance, use: CameraUse) -> str:
    guided = "guided" if use.guided else "unguided"
    parts = ""
    if found.by_drift_arcmin is not None and found.by_rotation_arcmin is not None:
        parts = (
            f" (drift alone {error_words(found.by_drift_arcmin)}, field rotation alone "
            f"{error_words(found.by_rotation_arcmin)})"
        )
    elif found.by_rotation_arcmin is not None:
        parts = " (field rotation about the guide star; the drift is guided out)"
    return (
        f"camera: {use.focal_length_mm:g} mm, {use.pixel_um:g} µm, {use.width_px} × "
        f"{use.height_px}, {duration(use.exposure_s)} {guided}, at declination "
        f"{degrees(found.declination_deg, 0)}: {_limit(found)}{parts}, since {found.because}."
    )


def _limit(found: Tolerance) -> str:
    if found.limited_by == "nothing":
        return "any axis error will do"
    return f"up to {error_words(found.largest_arcmin)}"


def method_words(method: Method) -> str:
    """One row for a method."""
    if not method.possible:
        return f"{method.name}: not here; {method.why}."
    often = round(100 * method.chance)
    verdict = (
        "enough" if method.enough else f"enough in {often} of 100" if often else "never enough"
    )
    return (
        f"{method.name}: {error_words(method.within_90_arcmin)}, about {method.minutes:.0f} min, "
        f"{verdict}. ({method.why}.)"
    )


def also_words(need: Need) -> list[str]:
    """What a better axis is good for besides."""
    return [
        "finding objects with the setting circles wants an axis within "
        f"{error_words(need.circles_arcmin)}: half the field of the widest eyepiece.",
        "periodic error of the worm, refraction and bending are not in this; they don't get less "
        "with a better axis.",
    ]


def enough_data(need: Need, assumed: Sequence[str]) -> dict[str, Any]:
    """The answer for programs; keys carry units."""
    return {
        "largest_axis_error_arcmin": need.strictest.largest_arcmin,
        "limited_by": need.strictest.limited_by,
        "eye": None if need.eye is None else _task(need.eye, need.eye_use),
        "camera": None if need.camera is None else _task(need.camera, need.camera_use),
        "methods": [asdict(m) | {"within_90_arcmin": m.within_90_arcmin} for m in need.methods],
        "quickest": None if need.best is None else need.best.name,
        "drift_test_needed_min": need.drift_minutes,
        "setting_circles_arcmin": need.circles_arcmin,
        "assumed": [*assumed, ESTIMATES],
    }


def _task(found: Tolerance, use: EyeUse | CameraUse | None) -> dict[str, Any]:
    assert use is not None
    return {
        "largest_axis_error_arcmin": found.largest_arcmin,
        "by_drift_arcmin": found.by_drift_arcmin,
        "by_field_rotation_arcmin": found.by_rotation_arcmin,
        "limited_by": found.limited_by,
        "time_s": found.seconds,
        "declination_deg": found.declination_deg,
        "allowed_movement_arcsec": found.allowed_arcsec,
        "because": found.because,
        "use": asdict(use),
    }
