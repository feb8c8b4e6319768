"""Which words stand on the drawings of balance and stand?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.mount.steady.steadier import Remedy, RemedyKind
from axletree.mount.steady.tipping import LEANING_CHILD_N, Built, slope_of
from axletree.stages.set_up.balance import BalanceAnswer
from axletree.tell.shared.words import (
    above_ground,
    compass_point,
    force,
    length,
    light_mass,
    mass,
    torque,
)


@dataclass(frozen=True)
class BalanceDrawingWords:
    """What stands beside shaft, tube and section; `columns` are (what, figure)."""

    title: str
    description: str
    head: str
    hour_axis: str
    tube: str
    shaft_ruler: str
    tube_ruler: tuple[str, str]
    centre_of_mass: tuple[str, str]
    trim: str
    from_behind: str
    columns: tuple[tuple[str, str], ...]
    unbalanced: str
    foot: str


@dataclass(frozen=True)
class SmallBalanceWords:
    """What stands on the small drawing of the two measures."""

    title: str
    description: str
    tube: str
    from_shaft: str
    from_front: str


@dataclass(frozen=True)
class StandDrawingWords:
    """What stands beside the feet; `rows` and `remedies` are (what, figure)."""

    title: str
    description: str
    head: str
    north: str
    margin: str
    push: str
    bar: str
    downhill: str
    rows: tuple[tuple[str, str], ...]
    too_easy: tuple[str, str]
    what_helps: str
    remedies: tuple[tuple[str, str], ...]
    public_event: tuple[str, ...]
    foot: str


def balance_drawing_words(answer: BalanceAnswer) -> BalanceDrawingWords:
    """All words of the drawing of shaft and tube."""
    found, sure, units = answer.balance, answer.certainty, answer.kit.habits.units
    columns = [
        ("left over, hour axis", f"{torque(found.hour_torque_nm, units)}"),
        ("left over, declination", f"{torque(found.declination_torque_nm, units)}"),
        ("on the saddle", mass(found.load.carried_kg, units)),
        ("of its rating", f"{found.load.fraction * 100:.0f} %"),
    ]
    if sure.guessed and sure.weights_sigma_mm is not None:
        columns.append(("first placement", f"±{length(sure.weights_sigma_mm, units)}"))
    return BalanceDrawingWords(
        title=f"Balance of {answer.kit.name}",
        description=(
            "Shaft with its weights, tube on the saddle, and the tube from behind, to scale."
        ),
        head=f"Balance, {answer.eyepiece[0]} in the focuser",
        hour_axis="hour axis",
        tube="tube",
        shaft_ruler="millimetres from the start of the shaft",
        tube_ruler=(
            "millimetres from the tube's front end;",
            "broken line: where the bare tube balances",
        ),
        centre_of_mass=("centre of", "mass"),
        trim=f"{light_mass(answer.trim.mass_kg, units)}",
        from_behind="from behind, saddle below",
        columns=tuple(columns),
        unbalanced="the weights you own do not balance this tube",
        foot=(
            "Weights on before the tube, tube off before the weights. A hand on "
            "the tube or the shaft whenever a lock is open."
        ),
    )


def small_balance_words(answer: BalanceAnswer) -> SmallBalanceWords:
    """All words of the small drawing."""
    return SmallBalanceWords(
        title=f"Balance of {answer.kit.name}",
        description="How far the weights stand from the shaft's start, and the saddle from the "
        "tube's front end.",
        tube="tube",
        from_shaft="from the start of the shaft to the first weight",
        from_front="from the tube's front end to the saddle's middle",
    )


def stand_drawing_words(answer: BalanceAnswer) -> StandDrawingWords:
    """All words of the drawing of the feet."""
    now, units = answer.standing, answer.kit.habits.units
    tray = mass(now.tray_kg, units) if now.tray_kg else "nothing"
    rows = [
        ("push at the eyepiece that tips it", f"{force(now.push_n, units)}"),
        ("pushed towards the", compass_point(now.push_azimuth_deg)),
        ("with the eyepiece at", above_ground(now.push_pose.eye_height_mm, units)),
        ("least margin inside the feet", length(now.margin_mm, units)),
        ("falls at a lean of", f"{now.lean_deg:.0f}°"),
        ("in the tray", tray),
    ]
    for half in answer.half_built:
        weights_only = half.part is Built.WEIGHTS_ONLY
        what = "weights on, no tube" if weights_only else "tube on, no weights"
        fall = "falls" if half.margin_mm < 0 else length(half.margin_mm, units)
        rows.append((f"margin: {what}", fall))
    return StandDrawingWords(
        title=f"How firmly {answer.kit.name} stands",
        description=(
            "The three feet from above, the centre of mass in every pose, and the push that tips "
            "it."
        ),
        head="Stand, seen from above",
        north="north",
        margin=length(now.margin_mm, units),
        push=f"{force(now.push_n, units)}",
        bar="500 mm" if units == "metric" else "2 ft",
        downhill=f"downhill, {slope_of(answer.kit)[0]:.1f}°",
        rows=tuple(rows),
        too_easy=(
            f"Less than {force(LEANING_CHILD_N, units)}: a leaning child tips it.",
            "(our own figure, no standard)",
        ),
        what_helps="what helps, and the push then",
        remedies=tuple((_remedy(r, units), f"{force(r.push_n, units)}") for r in answer.remedies),
        public_event=(
            "Public events: the organiser's safety rules,",
            "permits and local codes come first.",
        ),
        foot=(
            f"{mass(now.mass_kg, units)} in all. Brass: the centre of mass "
            "in every pose above the lowest altitude; feet taken not to sink or slide, no wind."
        ),
    )


def _remedy(remedy: Remedy, units: str) -> str:
    if remedy.kind is RemedyKind.TRAY:
        return f"{mass(remedy.amount, units)} more in the tray"
    if remedy.kind is RemedyKind.WIDER:
        return f"feet {length(remedy.amount, units)} further out"
    if remedy.kind is RemedyKind.LOWER:
        return f"{length(remedy.amount, units)} lower, feet where they are"
    return f"{length(remedy.amount, units)} lower, legs pushed in"
