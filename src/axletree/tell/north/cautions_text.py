"""In which sentences is told what bars a way to north, what to beware of and what is assumed?"""

from __future__ import annotations

from axletree.ground.magnetism import MagneticField
from axletree.ground.north.method import (
    ClosedMethod,
    ClosedReason,
)
from axletree.stages.set_up.north import NorthAnswer, NorthCaution
from axletree.tell.north.method_text import (
    Kind,
    plus_minus,
    pole_word,
)
from axletree.tell.shared.words import compass_point
from axletree.tell.skyline.text import skyline_words

CAUTIONS = {
    NorthCaution.SUN: (
        "The Sun: never look at it, nor towards it through anything. Caps on tube and finder; "
        "stand with the Sun behind you and work with the shadow."
    ),
    NorthCaution.STEEL: (
        "A compass lies beside steel: read it more than 2 m from tripod, weights, telephone and "
        "fence, and more than 10 m from a car; read it twice, a few steps apart."
    ),
}


def closed_name(item: ClosedMethod) -> str:
    """What a method that isn't open is called."""
    names = {
        Kind.SUN_SHADOW: "the Sun's shadow",
        Kind.SUN_ON_MERIDIAN: "the Sun on the meridian",
        Kind.MOON: "the Moon",
        Kind.STAR: "bright stars",
    }
    return names.get(item.kind, item.object_name or "")


def closed_words(item: ClosedMethod) -> str:
    """Why a method isn't open, without until when."""
    body = "the Sun" if item.kind is Kind.SUN_SHADOW else "the Moon"
    stays = " and stays so for the next day" if item.opens is None else ""
    what = "stars" if item.kind is Kind.STAR else "it"
    words = {
        ClosedReason.BELOW_HORIZON: f"{body} is below the horizon{stays}",
        ClosedReason.BEHIND_SKYLINE: f"{body} is behind the skyline or too low{stays}",
        ClosedReason.PASSES_BELOW_SKYLINE: "it crosses below the skyline within the next day",
        ClosedReason.NEAR_SUN: "too near the Sun to be seen",
        ClosedReason.TOO_LIGHT: f"too light for {what}",
        ClosedReason.SUN_STAYS_HIGH: f"the Sun stays too high for {what} for the next day",
        ClosedReason.NONE_ABOVE_SKYLINE: "none stands well above the skyline",
        ClosedReason.HIDDEN: (
            f"hidden: it stands {item.altitude_deg or 0.0:.1f}° high, the skyline there "
            f"{item.skyline_deg or 0.0:.1f}°"
        ),
        ClosedReason.TOO_FAINT: (
            f"magnitude {item.magnitude or 0.0:.1f}: too faint without a polar scope"
        ),
    }
    return words[item.reason]


def compass_words(answer: NorthAnswer) -> str:
    """The compass bearing with the field behind it."""
    field = answer.field
    side = "east" if field.declination_deg >= 0 else "west"
    zone = {
        "usual": "",
        "caution": " The level field is weak here: a caution zone for compasses.",
        "blackout": " A blackout zone: no compass can be trusted here.",
    }[field.zone]
    bearing = answer.compass_bearing_deg
    return (
        f"Compass: true {pole_word(answer)} is at {bearing:.1f}° on the compass "
        f"({compass_point(bearing)}), {plus_minus(answer.compass_sigma_deg)} "
        f"with the reading. The needle points {abs(field.declination_deg):.2f}° {side} of true "
        f"north here ({plus_minus(field.declination_sigma_deg)}, World Magnetic Model 2025, "
        f"{field.year:.1f}; level field {field.horizontal_nt:.0f} nT).{zone}"
    )


def near_enough_words(answer: NorthAnswer) -> str:
    """How near is near enough, where the kit says so; else empty."""
    if answer.near_enough_deg is None:
        return ""
    enough = answer.near_enough
    which = "the better of these"
    if not enough:
        which = "none of these"
    elif len(enough) == len(answer.usable):
        which = "every one of these"
    return (
        f"Near enough: within {answer.near_enough_deg:.1f}° the pole lies in the field of the "
        "polar axis, and its bolts do the rest. Two times the error in mind, "
        f"{which} will do."
    )


def caution_words(answer: NorthAnswer) -> list[str]:
    """The cautions, a sentence or two each."""
    return [CAUTIONS[caution] for caution in answer.cautions]


def assumed_words(answer: NorthAnswer) -> list[str]:
    """What the figures rest on."""
    errors = answer.errors
    notes = [
        *model_age_words(answer.field),
        *skyline_words(answer.horizon),
    ]
    days = answer.sky_unknown
    if days is not None:
        notes.append(
            "Sun, Moon and stars are left out: the Sun, Moon and planets are known from "
            f"{days.known_from} to {days.known_to}; {days.asked_from} to {days.asked_to} was asked"
        )
    return [
        f"one standard deviation each: compass reading {errors.compass_deg:g}°, sighting by eye "
        f"{errors.sighting_deg:g}°, clock {errors.clock_s:g} s, leaning rod "
        f"{errors.lean_deg:g}°, middle of a shadow {errors.shadow_deg:g}°, star in the polar "
        f"scope {errors.scope_deg:g}°; positions {errors.site_m:g} m and {errors.mark_m:g} m.",
        *(f"{note}." for note in notes),
    ]


def model_age_words(field: MagneticField) -> list[str]:
    """That the date lies outside the magnetic model, without a full stop; nothing within it."""
    if field.valid:
        return []
    return [
        f"the date lies {field.years_outside:.1f} years outside the magnetic model (2025.0 to "
        "2030.0); its declination is carried on in a straight line and the uncertainty widened"
    ]
