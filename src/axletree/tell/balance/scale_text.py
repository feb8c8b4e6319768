"""How is a scale reading answered?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.balance.scale_reading import Axis, Correction, LeverEnd
from axletree.tell.shared.paragraphs import listed
from axletree.tell.shared.words import length, light_mass, mass, torque

AXES = {Axis.HOUR: "hour axis", Axis.DECLINATION: "declination axis"}
ON_SCALE = {
    LeverEnd.TUBE: "tube's end held up",
    LeverEnd.WEIGHTS: "weights' end held up",
    LeverEnd.FRONT: "front held up",
    LeverEnd.BACK: "back held up",
    LeverEnd.LEFT: "top pulled left",
    LeverEnd.RIGHT: "top pulled right",
}


def moved(value_mm: float, plus: str, minus: str, units: str) -> str:
    """A length with the word for its sign: '26 mm back'."""
    return f"{length(abs(value_mm), units)} {plus if value_mm >= 0 else minus}"


def _read(value_kg: float, units: str) -> str:
    """A scale's reading, finer than masses are told elsewhere."""
    return mass(value_kg, units) if units == "us" else f"{value_kg:.2f} kg"


def correction_words(fix: Correction, units: str) -> str:
    """What one scale reading asks for."""
    r = fix.reading
    begin = (
        f"{AXES[r.axis]}, {ON_SCALE[r.end]} with {_read(r.reading_kg, units)} at "
        f"{length(r.distance_mm, units)} ({torque(r.torque_nm, units)}): "
    )
    sure = f" (±{length(fix.sigma_mm, units)})" if fix.sigma_mm is not None else ""
    if fix.slide_forward_mm is not None:
        return (
            f"{begin}slide the tube {moved(fix.slide_forward_mm, 'forward', 'back', units)}{sure}"
        )
    if fix.trim_kg is not None:
        side = "right" if fix.trim_angle_deg == 90 else "left"
        trim = light_mass(fix.trim_kg, units)
        return f"{begin}strap {trim} to the {side} of the tube over the saddle"
    if fix.weights_outward_mm is None:
        words = "there are no weights on the shaft to move"
    else:
        words = f"move all weights {moved(fix.weights_outward_mm, 'out', 'in', units)}{sure}"
    if fix.loadings:
        best = fix.loadings[0]
        pairs = [
            f"{mass(m, units)} at {length(gap, units)}"
            for m, gap in zip(best.mass_kg, best.gap_mm, strict=True)
        ]
        words += f"; of all you own, best: {', '.join(pairs) or 'none'} from the shaft's start"
        if not best.exact:
            left = abs(best.leftover_kg_m) * STANDARD_GRAVITY_M_S2
            how = "missing" if best.leftover_kg_m > 0 else "too much"
            words += f" (leaves {torque(left, units)} {how})"
    return begin + words


def scale_text(corrections: Sequence[Correction], units: str) -> str:
    """What all readings ask for; empty where there are none."""
    rows = [correction_words(c, units) for c in corrections]
    if not rows:
        return ""
    rows.append(
        "Read the scale twice, just before the end rises and just before it sinks, and give the "
        "mean: the axis' own friction drops out."
    )
    return listed("From what the scale says", rows)
