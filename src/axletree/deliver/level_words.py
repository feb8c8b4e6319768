"""How is levelling told: which leg, how much, and what a leftover tilt does?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from axletree.deliver.paragraphs import listed, paragraph, sections
from axletree.deliver.words import compass_point, degrees, length
from axletree.ground.leftover import Leftover
from axletree.ground.level import LegChanges, Tilt

STABLE_CAUTION = (
    "Take the tube off, or let somebody hold it, before a leg is let go; tighten the leg before "
    "you let go of the top."
)
LONG_CHANGE_MM = 250.0


def level_text(
    changes: LegChanges,
    after: Leftover,
    leg_directions_deg: Sequence[float],
    facing_deg: float,
    scale_deg: float,
    units: str,
    assumed: Sequence[str],
) -> str:
    """The answer as text: the legs first, then what follows from leaving it."""
    tilt = changes.tilt
    return sections(
        paragraph(headline(changes, units)),
        paragraph(tilt_words(tilt, facing_deg)),
        _legs(changes, leg_directions_deg, facing_deg, units),
        paragraph(_again(changes, units)),
        listed("Left as it is", leftover_words(after, tilt, scale_deg)),
        listed("Cautions", [STABLE_CAUTION, *_long(changes, units)]),
        listed("Assumed", assumed),
    )


def headline(changes: LegChanges, units: str) -> str:
    """'Lengthen leg 1 by 17 mm and leg 3 by 13 mm.'"""
    # What the reading can't tell from nothing isn't worth a hand.
    small = max(0.5, 0.5 * changes.sigma_mm)
    least = "at least " if changes.tilt.at_least else ""
    legs: dict[str, list[str]] = {}
    for i, mm in enumerate(changes.along_leg_mm, start=1):
        if abs(mm) >= small:
            verb = "lengthen" if mm > 0 else "shorten"
            legs.setdefault(verb, []).append(f"leg {i} by {least}{length(abs(mm), units)}")
    parts = [f"{verb} {' and '.join(which)}" for verb, which in legs.items()]
    if changes.tilt.at_least:
        words = "; ".join(parts)
        return (
            f"The bubble is at its rim, so this is the least: {words}. Go on in the same "
            "proportion until it leaves the rim, then read it again."
        )
    if not parts:
        return "Level as far as the reading can tell: leave the legs alone."
    words = "; ".join(parts)
    return words[0].upper() + words[1:] + "."


def tilt_words(tilt: Tilt, facing_deg: float) -> str:
    """The lean of the top in words."""
    high = (tilt.high_side_deg + facing_deg) % 360.0
    least = "at least " if tilt.at_least else ""
    return (
        f"The top leans {least}{tilt.tilt_deg:.2f}° (±{tilt.sigma_deg:.2f}°), high side to the "
        f"{compass_point(high)} ({tilt.high_side_deg:.0f}° clockwise from the pole's direction)."
    )


def _legs(
    changes: LegChanges, leg_directions_deg: Sequence[float], facing_deg: float, units: str
) -> str:
    rows = ["leg  stands to the        along the leg   top rises by"]
    for i, (along, rise, direction) in enumerate(
        zip(changes.along_leg_mm, changes.rise_mm, leg_directions_deg, strict=True), start=1
    ):
        point = compass_point(direction + facing_deg)
        sign = "+" if along > 0.05 else ""
        rows.append(
            f"{i:>3}  {point:<18}{sign + length(along, units):>16}   {length(rise, units):>12}"
        )
    return "\n".join(rows)


def _again(changes: LegChanges, units: str) -> str:
    return (
        f"Each is good to ±{length(max(changes.sigma_mm, 0.5), units)} from this one reading; "
        "the legs slant "
        f"{degrees(changes.slant_deg, 0)} from upright. Read the level again afterwards."
    )


def _long(changes: LegChanges, units: str) -> list[str]:
    most = max(abs(mm) for mm in changes.along_leg_mm)
    if most < LONG_CHANGE_MM:
        return []
    return [
        f"{length(most, units)} on one leg is much: look for flatter ground, or set that leg "
        "uphill; a tripod with uneven legs tips more easily."
    ]


def leftover_words(after: Leftover, tilt: Tilt, scale_deg: float) -> list[str]:
    """What the tilt does if nobody corrects it, in numbers; `scale_deg` on a level base."""
    (a_high, a_east), (z_high, z_east) = after.bolts.tolist()
    way = "more" if after.scale_shift_deg >= 0 else "less"
    turned = "east" if after.base_turn_deg >= 0 else "west"
    return [
        "tracking: nothing. Once the axis is on the pole, a leaning base makes no drift and no "
        "field rotation.",
        f"latitude scale: it shows {abs(after.scale_shift_deg):.2f}° {way} when the axis is on the "
        f"pole; start from {scale_deg + after.scale_shift_deg:.2f}° instead of {scale_deg:.2f}°, "
        f"with the head turned {abs(after.base_turn_deg):.2f}° {turned}.",
        f"altitude bolt: one degree of it moves the axis {_move(a_high, a_east)}.",
        f"azimuth bolts: one degree of turn moves the axis {_move(z_high, z_east)}.",
        _passes(after, tilt),
    ]


def _move(high: float, east: float) -> str:
    up = f"{abs(high):.1f}′ {'up' if high >= 0 else 'down'}"
    side = f"{abs(east):.1f}′ {'east' if east >= 0 else 'west'}"
    return f"{up} and {side}"


def _passes(after: Leftover, tilt: Tilt) -> str:
    if tilt.tilt_deg == 0.0:
        return "bolts: they don't mix."
    if not after.remains_per_pass < 0.5:
        return "bolts: so near to the zenith they mix wholly; level the base first."
    return (
        f"so setting first the one and then the other leaves {100 * after.remains_per_pass:.2g} % "
        "of the error; a second round removes that."
    )


def level_data(changes: LegChanges, after: Leftover, assumed: Sequence[str]) -> dict[str, Any]:
    """The answer for programs; keys carry units."""
    tilt = changes.tilt
    return {
        "tilt_deg": tilt.tilt_deg,
        "tilt_sigma_deg": tilt.sigma_deg,
        "tilt_is_lower_bound": tilt.at_least,
        "high_side_from_pole_deg": tilt.high_side_deg,
        "tilt_towards_pole_deg": tilt.towards_pole_deg,
        "tilt_to_the_right_deg": tilt.to_the_right_deg,
        "legs": [
            {"leg": i, "along_leg_mm": along, "rise_mm": rise}
            for i, (along, rise) in enumerate(
                zip(changes.along_leg_mm, changes.rise_mm, strict=True), start=1
            )
        ],
        "leg_sigma_mm": changes.sigma_mm,
        "leg_slant_deg": changes.slant_deg,
        "top_sinks_mm": changes.top_sinks_mm,
        "left_as_it_is": {
            "tracking_error_arcsec": after.tracking_arcsec,
            "latitude_scale_shift_deg": after.scale_shift_deg,
            "head_turn_east_deg": after.base_turn_deg,
            "altitude_bolt_high_arcmin_per_deg": float(after.bolts[0, 0]),
            "altitude_bolt_east_arcmin_per_deg": float(after.bolts[0, 1]),
            "azimuth_bolt_high_arcmin_per_deg": float(after.bolts[1, 0]),
            "azimuth_bolt_east_arcmin_per_deg": float(after.bolts[1, 1]),
            "error_left_per_round": min(after.remains_per_pass, 1e9),
        },
        "cautions": [STABLE_CAUTION, *_long(changes, "metric")],
        "assumed": list(assumed),
    }
