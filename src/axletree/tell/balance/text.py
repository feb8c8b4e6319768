"""How is balance told: where things go, what is left over, and in which order to do it?"""

from __future__ import annotations

from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.balance.weights import Loading, longer_shaft_mm, missing_at_end_kg
from axletree.mount.steady.balanced import BalanceReport
from axletree.tell.balance.scale_text import moved, scale_text
from axletree.tell.balance.stand_text import stand_cautions, stand_text
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import length, mass

NOTICED_NM = 0.15  # what fingers and most locks begin to notice (our figure)
HANG_MM = 300.0

ORDER_OF_WORK = (
    "Tripod down, legs spread and locked, tray on. Both axes locked, shaft pointing down.",
    "Weights on the shaft and the safety screw back in its end. Only then the tube, with the "
    "saddle's screws done up while one hand holds it.",
    "Eyepiece, finder and dew shield in place as they will be used, caps as they will be.",
    "Declination first: shaft level, hour axis LOCKED. Hold the tube, open the declination lock, "
    "find the heavy end, hold, lock, slide the tube, try again.",
    "Then the hour axis: shaft level, declination LOCKED. Hold the shaft, open the hour lock, "
    "slide the weights, try again.",
    "Last the crosswise part: tube upright, shaft level, and the declination lock opened with a "
    "hand on the tube.",
    "Taking down: the tube comes off before the weights.",
)
CAUTIONS = (
    "Weights on before the tube, tube off before the weights; with the tube alone the rig swings "
    "over when the lock is opened.",
    "Locks held while balancing: one hand stays on the tube or the shaft whenever a lock or "
    "clutch is open, and heads stay out of its way. A clutch that slips lets the tube swing.",
    "The safety screw at the shaft's end stays in: it is all that stops a weight that slides "
    "off onto a foot.",
    "Never loosen the saddle's screws with the tube pointing up or down: it can slide out. "
    "Slide it with the tube level and the shaft level.",
)


def torque_words(torque_nm: float) -> str:
    """'0.37 N·m', with what hangs 300 mm out doing the same."""
    grams = torque_nm / STANDARD_GRAVITY_M_S2 / (HANG_MM / 1000) * 1000
    return f"{torque_nm:.2f} N·m (as {grams:.0f} g hung {HANG_MM:.0f} mm from the axis)"


def weights_words(loading: Loading, units: str) -> list[str]:
    """One line a weight, from the head outwards."""
    return [
        f"{mass(m, units)}: near face {length(gap, units)} from the shaft's start "
        f"(middle {length(at, units)} from the crossing of the axes)"
        for m, gap, at in zip(loading.mass_kg, loading.gap_mm, loading.position_mm, strict=True)
    ]


def headline(report: BalanceReport) -> str:
    """Where the weights and the tube go, in a sentence or two."""
    balance, units = report.balance, report.kit.habits.units
    loading = balance.loading
    if not loading.mass_kg:
        first = "Leave every weight off: none of those you own comes nearer than none at all"
    else:
        pairs = [
            f"{mass(m, units)} {length(gap, units)}"
            for m, gap in zip(loading.mass_kg, loading.gap_mm, strict=True)
        ]
        first = f"Weights: {' and '.join(pairs)} from the start of the shaft"
    over = length(balance.over_saddle_mm, units)
    second = f"tube: clamped {over} from its front end"
    if report.present_mm is not None:
        move = balance.slide_forward_mm
        second += f" (slide it {moved(move, 'forward', 'back', units)})"
    words = f"{first}; {second}."
    if not loading.exact:
        words += " " + short_words(report)
    return words


def short_words(report: BalanceReport) -> str:
    """What is missing, or too much, when no combination of owned weights balances."""
    head, units = report.kit.mount.head, report.kit.habits.units
    loading = report.balance.loading
    if loading.leftover_kg_m > 0 and not loading.mass_kg:
        extra = missing_at_end_kg(loading, head.shaft_start_mm, head.shaft_length_mm)
        torque = loading.leftover_kg_m * STANDARD_GRAVITY_M_S2
        return (
            f"The tube's side is then {torque:.2f} N·m too heavy; {mass(extra, units)} at the "
            "shaft's end would balance it, and every weight you own is too heavy even against "
            "the head."
        )
    if loading.leftover_kg_m > 0:
        extra = missing_at_end_kg(loading, head.shaft_start_mm, head.shaft_length_mm)
        longer = longer_shaft_mm(loading)
        words = (
            "That is not enough: this is the nearest of all combinations you own, at the end of "
            f"the shaft. {mass(extra, units)} more at the shaft's end would do"
        )
        if longer < 2 * head.shaft_length_mm:
            words += f", or a shaft {length(longer, units)} longer"
        return words + "."
    heavy = -loading.leftover_kg_m * STANDARD_GRAVITY_M_S2
    if not loading.mass_kg:
        return (
            f"The shaft alone is {heavy:.2f} N·m too heavy for this tube; carry more on the saddle."
        )
    return (
        f"That is still {heavy:.2f} N·m too much with the weights against the head: a lighter "
        "weight is needed."
    )


def balance_text(report: BalanceReport) -> str:
    """What a scale asks for, placements, then reasons, stand, order of work and cautions."""
    kit = report.kit
    return sections(
        scale_text(report.corrections, report.kit.habits.units),
        paragraph(headline(report)),
        _places(report),
        _left_over(report),
        _crosswise(report),
        _swap_table(report),
        _others(report),
        _load(report),
        stand_text(report),
        listed("Order of work", [f"{i}. {s}" for i, s in enumerate(ORDER_OF_WORK, 1)]),
        listed("Cautions", cautions(report)),
        listed("Assumed", assumed(report)) if kit.guessed else "",
    )


def cautions(report: BalanceReport) -> list[str]:
    """What can hurt here."""
    found = list(CAUTIONS)
    if report.balance.load.fraction > 1:
        found.insert(0, "The mount is loaded beyond what it is rated for: put less on it.")
    return found + stand_cautions(report)


def assumed(report: BalanceReport) -> list[str]:
    """What the placements rest on."""
    sure, units = report.certainty, report.kit.habits.units
    found = [f"Eyepiece in the focuser: {report.eyepiece[0]}."]
    if report.present_mm is None:
        found.append(
            "Slides are counted from where the bare tube balances, and the dovetail's middle is "
            "taken to lie there; give --now for where the saddle holds it now."
        )
    if sure.guessed and sure.weights_sigma_mm is not None:
        found.append(
            f"First placement only: weights ±{length(sure.weights_sigma_mm, units)}, tube "
            f"±{length(sure.tube_sigma_mm, units)}, because the kit leaves these to be guessed "
            f"(each taken as known to a tenth): {', '.join(sure.guessed)}. Finish by feel, or "
            "with a luggage scale (--scale)."
        )
    return found


def _places(report: BalanceReport) -> str:
    balance, units = report.balance, report.kit.habits.units
    bare = report.kit.tube.balance_from_front_mm
    rows = weights_words(balance.loading, units)
    move = balance.over_saddle_mm - bare
    where = moved(move, "behind", "in front of", units)
    rows.append(
        f"tube: {length(balance.over_saddle_mm, units)} from its front end over the declination "
        f"axis, {where} the bare tube's own balance point"
    )
    if abs(balance.short_of_slide_mm) > 0.5:
        way = "back" if balance.short_of_slide_mm < 0 else "forward"
        rows.append(
            f"the dovetail is {length(abs(balance.short_of_slide_mm), units)} too short to slide "
            f"the tube far enough {way}: add weight at its "
            f"{'back' if balance.short_of_slide_mm < 0 else 'front'} end, or move the rings"
        )
    return listed("Where things go", rows)


def _left_over(report: BalanceReport) -> str:
    balance = report.balance
    rows = [
        f"hour axis        {torque_words(balance.hour_torque_nm)}",
        f"declination axis {torque_words(balance.declination_torque_nm)}",
    ]
    return listed("Left over when that is done, at worst over all poses", rows)


def _crosswise(report: BalanceReport) -> str:
    balance, ways, units = report.balance, report.trim, report.kit.habits.units
    torque = abs(balance.crosswise_kg_m) * STANDARD_GRAVITY_M_S2
    if torque < 0.005:
        return ""
    side = "right" if balance.crosswise_kg_m > 0 else "left"
    off_mm = abs(balance.crosswise_kg_m) * 1000 / balance.tube.total_kg
    words = (
        f"The centre of mass lies {length(off_mm, units)} to the {side} of the tube's axis (seen "
        f"from behind, saddle below): {torque:.2f} N·m that no sliding takes away and that comes "
        "and goes as the declination turns."
    )
    if torque < NOTICED_NM:
        return paragraph(f"Crosswise: {words} Too little to trim.")
    angle = "left" if ways.mass_angle_deg == 270 else "right"
    options = []
    if ways.turn_deg is not None and ways.turn_under_deg is not None:
        for turn, what in (
            (ways.turn_deg, "puts the heavy side away from the saddle"),
            (ways.turn_under_deg, "puts it towards the saddle, with less counterweight"),
        ):
            sense = "clockwise" if turn > 0 else "counter-clockwise"
            options.append(
                f"turn the tube in its rings {abs(turn):.0f}° {sense} seen from behind: {what} "
                "(the eyepiece goes round with it)"
            )
    further = (
        f"; the weights then go {length(ways.weights_outward_mm, units)} further out"
        if ways.weights_outward_mm is not None
        else ""
    )
    options.append(
        f"or strap {ways.mass_kg * 1000:.0f} g to the {angle} of the tube over the saddle, "
        f"{length(ways.radius_mm, units)} from its axis{further}"
    )
    return f"{paragraph('Crosswise: ' + words)}\n{listed('To trim it', options)}"


def _swap_table(report: BalanceReport) -> str:
    if len(report.swaps) < 2:
        return ""
    units = report.kit.habits.units
    rows = [
        f"Swapping eyepieces, nothing else moved (balanced with {report.eyepiece[0]})",
        f"  {'worst torque, N·m:':<19}{'hour':>5}{'decl.':>7}   to balance it again",
    ]
    for swap in report.swaps:
        tube = "leave it"
        if abs(swap.slide_forward_mm) >= 0.5:
            tube = "tube " + moved(swap.slide_forward_mm, "forward", "back", units)
            if swap.weights_outward_mm is not None and abs(swap.weights_outward_mm) >= 0.5:
                tube += ", weights " + moved(swap.weights_outward_mm, "out", "in", units)
        rows.append(
            f"  {swap.eyepiece[:18]:<19}{swap.hour_torque_nm:>5.2f}"
            f"{swap.declination_torque_nm:>7.2f}   {tube}"
        )
    return "\n".join(rows)


def _others(report: BalanceReport) -> str:
    units = report.kit.habits.units
    rows = []
    for other in report.balance.loadings[1:4]:
        if not other.mass_kg:
            continue
        pairs = [
            f"{mass(m, units)} at {length(gap, units)}"
            for m, gap in zip(other.mass_kg, other.gap_mm, strict=True)
        ]
        left = (
            "balances too"
            if other.exact
            else f"leaves {abs(other.leftover_kg_m) * STANDARD_GRAVITY_M_S2:.2f} N·m "
            + ("missing" if other.leftover_kg_m > 0 else "too much")
        )
        rows.append(f"{', '.join(pairs)} from the shaft's start: {left}")
    return listed("Other combinations of your weights", rows)


def _load(report: BalanceReport) -> str:
    load, units = report.balance.load, report.kit.habits.units
    share = load.fraction * 100
    heaviest = max(report.swaps, key=lambda s: s.mass_kg)
    extra = heaviest.mass_kg - report.eyepiece[1]
    more = ""
    if extra > 0.05:
        whole = load.carried_kg + extra
        more = f" With {heaviest.eyepiece} it is {mass(whole, units)}."
    verdict = "within what it is rated for"
    if share > 100:
        verdict = "MORE than it is rated for"
    elif report.kit.camera is not None and share > 60:
        verdict = "within its rating, but much for long exposures (60 % is common practice)"
    return paragraph(
        f"Load: {mass(load.carried_kg, units)} on the saddle, {share:.0f} % of the mount's "
        f"{mass(load.limit_kg, units)}, counterweights not counted: {verdict}.{more}"
    )
