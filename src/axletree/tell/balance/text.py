"""How is balance told: where things go, what is left over, and in which order to do it?"""

from __future__ import annotations

from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2, Slide
from axletree.mount.balance.weights import Loading
from axletree.stages.set_up.balance import (
    MUCH_FOR_CAMERA,
    BalanceAnswer,
    Crosswise,
    LoadVerdict,
    Shortfall,
    ShortfallKind,
)
from axletree.tell.balance.scale_text import moved, scale_text
from axletree.tell.balance.stand_text import stand_text
from axletree.tell.balance.work_text import assumed_words, caution_words, work_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import length, light_mass, mass, torque

HANG_MM = 300.0

SLIDE_WORDS = {Slide.BACK: "back", Slide.FORWARD: "forward"}
SLIDE_ENDS = {Slide.BACK: "back", Slide.FORWARD: "front"}


def balance_text(answer: BalanceAnswer) -> str:
    """What a scale asks for, placements, then reasons, stand, order of work and cautions."""
    return sections(
        scale_text(answer.corrections, answer.kit.habits.units),
        paragraph(headline(answer)),
        _places(answer),
        _left_over(answer),
        _crosswise(answer),
        _swap_table(answer),
        _others(answer),
        _load(answer),
        stand_text(answer),
        listed("Order of work", [f"{i}. {s}" for i, s in enumerate(work_words(answer), 1)]),
        listed("Cautions", caution_words(answer)),
        listed("Assumed", assumed_words(answer)) if answer.assumptions else "",
    )


def headline(answer: BalanceAnswer) -> str:
    """Where the weights and the tube go, in a sentence or two."""
    found, units = answer.balance, answer.kit.habits.units
    loading = found.loading
    if not loading.mass_kg:
        first = "Leave every weight off: none of those you own comes nearer than none at all"
    else:
        pairs = [
            f"{mass(m, units)} {length(gap, units)}"
            for m, gap in zip(loading.mass_kg, loading.gap_mm, strict=True)
        ]
        first = f"Weights: {' and '.join(pairs)} from the start of the shaft"
    second = f"tube: clamped {length(found.over_saddle_mm, units)} from its front end"
    if answer.front_to_saddle_mm is not None:
        second += f" (slide it {moved(found.slide_forward_mm, 'forward', 'back', units)})"
    words = f"{first}; {second}."
    if answer.shortfall is not None:
        words += " " + shortfall_words(answer.shortfall, units)
    return words


def shortfall_words(lack: Shortfall, units: str) -> str:
    """What is missing, or too much, when no combination of owned weights balances."""
    extra = mass(lack.missing_at_end_kg, units)
    if lack.kind is ShortfallKind.NO_WEIGHT_FITS:
        return (
            f"The tube's side is then {torque(lack.torque_nm, units)} too heavy; {extra} at the "
            "shaft's end would balance it, and every weight you own is too heavy even against "
            "the head."
        )
    if lack.kind is ShortfallKind.NOT_ENOUGH:
        words = (
            "That is not enough: this is the nearest of all combinations you own, at the end of "
            f"the shaft. {extra} more at the shaft's end would do"
        )
        if lack.longer_shaft_mm is not None:
            words += f", or a shaft {length(lack.longer_shaft_mm, units)} longer"
        return words + "."
    if lack.kind is ShortfallKind.SHAFT_TOO_HEAVY:
        return (
            f"The shaft alone is {torque(lack.torque_nm, units)} too heavy for this tube; carry "
            "more on the saddle."
        )
    return (
        f"That is still {torque(lack.torque_nm, units)} too much with the weights against "
        "the head: a lighter weight is needed."
    )


def position_from_words() -> str:
    """From where the places of the weights are counted."""
    return "middle of the weight from the crossing of the axes; gap_mm from the shaft's start"


def slide_from_words(answer: BalanceAnswer) -> str:
    """From where the tube's slide is counted."""
    return "bare tube's balance point" if answer.front_to_saddle_mm is None else "now"


def _places(answer: BalanceAnswer) -> str:
    found, units = answer.balance, answer.kit.habits.units
    rows = _weight_rows(found.loading, units)
    where = moved(found.behind_bare_mm, "behind", "in front of", units)
    rows.append(
        f"tube: {length(found.over_saddle_mm, units)} from its front end over the declination "
        f"axis, {where} the bare tube's own balance point"
    )
    stuck = found.stuck_slide
    if stuck is not None:
        rows.append(
            f"the dovetail is {length(abs(found.short_of_slide_mm), units)} too short to slide "
            f"the tube far enough {SLIDE_WORDS[stuck]}: add weight at its "
            f"{SLIDE_ENDS[stuck]} end, or move the rings"
        )
    return listed("Where things go", rows)


def _weight_rows(loading: Loading, units: str) -> list[str]:
    """One line a weight, from the head outwards."""
    return [
        f"{mass(m, units)}: near face {length(gap, units)} from the shaft's start "
        f"(middle {length(at, units)} from the crossing of the axes)"
        for m, gap, at in zip(loading.mass_kg, loading.gap_mm, loading.position_mm, strict=True)
    ]


def _torque(torque_nm: float, units: str) -> str:
    """'0.37 N·m', with what hangs 300 mm out doing the same."""
    hung = light_mass(torque_nm / STANDARD_GRAVITY_M_S2 / (HANG_MM / 1000), units)
    return f"{torque(torque_nm, units)} (as {hung} hung {length(HANG_MM, units)} from the axis)"


def _left_over(answer: BalanceAnswer) -> str:
    units = answer.kit.habits.units
    rows = [
        f"hour axis        {_torque(answer.balance.hour_torque_nm, units)}",
        f"declination axis {_torque(answer.balance.declination_torque_nm, units)}",
    ]
    return listed("Left over when that is done, at worst over all poses", rows)


def _crosswise(answer: BalanceAnswer) -> str:
    found, trim, units = answer.balance, answer.trim, answer.kit.habits.units
    if answer.crosswise is Crosswise.NONE:
        return ""
    side = "right" if found.crosswise_kg_m > 0 else "left"
    words = (
        f"The centre of mass lies {length(found.off_axis_mm, units)} to the {side} of the tube's "
        f"axis (seen from behind, saddle below): {torque(found.crosswise_torque_nm, units)} that "
        "no sliding takes away and that comes and goes as the declination turns."
    )
    if answer.crosswise is Crosswise.NOT_FELT:
        return paragraph(f"Crosswise: {words} Too little to trim.")
    angle = "left" if trim.mass_angle_deg == 270 else "right"
    options = []
    if trim.turn_deg is not None and trim.turn_under_deg is not None:
        for turn, what in (
            (trim.turn_deg, "puts the heavy side away from the saddle"),
            (trim.turn_under_deg, "puts it towards the saddle, with less counterweight"),
        ):
            sense = "clockwise" if turn > 0 else "anticlockwise"
            options.append(
                f"turn the tube in its rings {abs(turn):.0f}° {sense} seen from behind: {what} "
                "(the eyepiece goes round with it)"
            )
    further = (
        f"; the weights then go {length(trim.weights_outward_mm, units)} further out"
        if trim.weights_outward_mm is not None
        else ""
    )
    options.append(
        f"or strap {light_mass(trim.mass_kg, units)} to the {angle} of the tube over the saddle, "
        f"{length(trim.radius_mm, units)} from its axis{further}"
    )
    return f"{paragraph('Crosswise: ' + words)}\n{listed('To trim it', options)}"


def _swap_table(answer: BalanceAnswer) -> str:
    if len(answer.swaps) < 2:
        return ""
    units = answer.kit.habits.units
    unit = torque(0.0, units).split()[1]
    rows = [
        f"Swapping eyepieces, nothing else moved (balanced with {answer.eyepiece[0]})",
        f"  {f'worst torque, {unit}:':<21}{'hour':>5}{'decl.':>7}   to balance it again",
    ]
    for swap in answer.swaps:
        tube = "leave it"
        if abs(swap.slide_forward_mm) >= 0.5:
            tube = "tube " + moved(swap.slide_forward_mm, "forward", "back", units)
            if swap.weights_outward_mm is not None and abs(swap.weights_outward_mm) >= 0.5:
                tube += ", weights " + moved(swap.weights_outward_mm, "out", "in", units)
        rows.append(
            f"  {swap.eyepiece[:20]:<21}{torque(swap.hour_torque_nm, units).split()[0]:>5}"
            f"{torque(swap.declination_torque_nm, units).split()[0]:>7}   {tube}"
        )
    return "\n".join(rows)


def _others(answer: BalanceAnswer) -> str:
    units = answer.kit.habits.units
    rows = []
    for other in answer.balance.loadings[1:4]:
        if not other.mass_kg:
            continue
        pairs = [
            f"{mass(m, units)} at {length(gap, units)}"
            for m, gap in zip(other.mass_kg, other.gap_mm, strict=True)
        ]
        left = (
            "balances too"
            if other.exact
            else f"leaves {torque(abs(other.leftover_kg_m) * STANDARD_GRAVITY_M_S2, units)} "
            + ("missing" if other.leftover_kg_m > 0 else "too much")
        )
        rows.append(f"{', '.join(pairs)} from the shaft's start: {left}")
    return listed("Other combinations of your weights", rows)


def _load(answer: BalanceAnswer) -> str:
    load, units = answer.balance.load, answer.kit.habits.units
    more = ""
    if answer.heaviest is not None:
        label, carried_kg = answer.heaviest
        more = f" With {label} it is {mass(carried_kg, units)}."
    verdict = {
        LoadVerdict.WITHIN: "within what it is rated for",
        LoadVerdict.MORE_THAN_RATED: "MORE than it is rated for",
        LoadVerdict.MUCH_FOR_CAMERA: (
            "within its rating, but much for long exposures "
            f"({MUCH_FOR_CAMERA * 100:.0f} % is common practice)"
        ),
    }[answer.load_verdict]
    return paragraph(
        f"Load: {mass(load.carried_kg, units)} on the saddle, {load.fraction * 100:.0f} % of the "
        f"mount's {mass(load.limit_kg, units)}, counterweights not counted: {verdict}.{more}"
    )
