"""In which sentences is one method of finding north told: what to do, and how good it is?"""

from __future__ import annotations

from axletree.ground.north.method import (
    NorthMethod,
    NorthMethodKind,
    Rank,
    RankReason,
)
from axletree.ground.north.pointers import ErrorCause
from axletree.stages.set_up.north import NorthAnswer
from axletree.tell.shared.words import degrees

Kind = NorthMethodKind


CAUSES = {
    ErrorCause.CLOCK: "clock",
    ErrorCause.LEANING_ROD: "leaning rod",
    ErrorCause.LEANING_SIGHT: "leaning sight",
    ErrorCause.BLURRED_SHADOW: "blurred shadow",
    ErrorCause.SIGHTING: "sighting",
    ErrorCause.MAGNETIC_MODEL: "magnetic model",
    ErrorCause.COMPASS_READING: "reading",
    ErrorCause.POSITIONS: "the two positions",
}


def pole_word(answer: NorthAnswer) -> str:
    """'north', or 'south' where that pole is the elevated one."""
    return "north" if answer.north else "south"


def method_name(method: NorthMethod) -> str:
    """What a method is called: by what it finds north."""
    name = method.object_name or "the landmark"
    names = {
        Kind.COMPASS: "a compass",
        Kind.SUN_SHADOW: "the Sun's shadow",
        Kind.SUN_ON_MERIDIAN: "the Sun on the meridian",
        Kind.MOON: "the Moon's shadow" if method.shadow else "the Moon, sighted",
        Kind.MOON_ON_MERIDIAN: "the Moon on the meridian",
        Kind.STAR: name,
        Kind.STAR_ON_MERIDIAN: f"{name} on the meridian",
        Kind.LANDMARK: name,
        Kind.POLE_STAR: name,
    }
    return names[method.kind]


def plus_minus(sigma_deg: float) -> str:
    """An uncertainty, as '±0.15°' or '±3°'."""
    return f"±{sigma_deg:.2f}°" if sigma_deg < 2.0 else f"±{sigma_deg:.0f}°"


def turn_words(turn_deg: float, pole: str, start: str) -> str:
    """Where the pole is, seen from a line: 'true north is 5.8° to the right of it'."""
    if abs(turn_deg) < 0.05:
        return f"true {pole} is along {start}"
    if abs(turn_deg) > 179.95:
        return f"true {pole} is straight opposite {start}"
    side = "right" if turn_deg > 0 else "left"
    return f"true {pole} is {abs(turn_deg):.1f}° to the {side} of {start}"


def how_to(method: NorthMethod, answer: NorthAnswer) -> str:
    """One sentence: what to do with this method."""
    pole = pole_word(answer)
    turn = turn_words(method.turn_to_pole_deg, pole, "it")
    high = method.altitude_deg or 0.0
    if method.kind is Kind.COMPASS:
        return "Turn until the compass shows the bearing below."
    if method.kind is Kind.LANDMARK:
        return f"It stands at {method.azimuth_deg:.2f}° true; {turn}."
    if method.kind is Kind.POLE_STAR:
        off = -method.turn_to_pole_deg
        side = "right" if off > 0 else "left"
        return (
            f"It stands {abs(off):.2f}° to the {side} of true {pole}, {degrees(high)} high; "
            f"{_seen_through(method)}."
        )
    if method.kind is Kind.SUN_ON_MERIDIAN:
        return (
            "Hang a plumb line in its light. At that moment the shadow lies exactly along the "
            "meridian."
        )
    if method.kind in (Kind.STAR_ON_MERIDIAN, Kind.MOON_ON_MERIDIAN):
        due = "north" if method.azimuth_deg < 90.0 else "south"
        return f"It stands due {due} then, {degrees(high)} high."
    if method.shadow:
        return (
            f"Hang a plumb line in its light. The shadow points to {method.line_deg:.1f}°; {turn}."
        )
    return (
        f"Sight it along a plumb line: it stands at {method.line_deg:.1f}°, "
        f"{degrees(high, 0)} high; {turn}."
    )


def _seen_through(method: NorthMethod) -> str:
    through = dict(method.parts).get(ErrorCause.LEANING_SIGHT, 0.0) == 0.0
    return "set it through the polar axis" if through else "sight it along a plumb line"


def rank_words(method: NorthMethod) -> str:
    """Why a method ranks where it does, in a few words."""
    rank = method.rank
    words = {
        RankReason.WEAK_FIELD: (
            f"the level field is weak here ({rank.figure:.0f} nT): read with care"
        ),
        RankReason.BLACKOUT_ZONE: (
            f"the level field is only {rank.figure:.0f} nT: don't use a compass"
        ),
        RankReason.NEAR_ZENITH: (
            f"it passes {rank.figure:.1f}° from the zenith, the shadow is short and turns fast"
        ),
        RankReason.TOO_STEEP: (f"{rank.figure:.1f}° from the zenith: too steep to point anywhere"),
        RankReason.MIDNIGHT_SUN: "the midnight Sun, below the pole",
    }
    return words[rank.reason] if rank.reason in words else _parts_words(method, rank)


def _parts_words(method: NorthMethod, rank: Rank) -> str:
    parts = dict(method.parts)
    if rank.reason is RankReason.MODEL_AND_READING:
        model, reading = parts[ErrorCause.MAGNETIC_MODEL], parts[ErrorCause.COMPASS_READING]
        return f"model {model:.2f}°, reading {reading:.1f}°"
    if rank.reason is RankReason.POSITIONS:
        turned = parts[ErrorCause.POSITIONS]
        return f"{rank.figure:.0f} m away, the positions turn it by {turned:.2f}°"
    cause = "" if rank.cause is None else CAUSES[rank.cause]
    return f"most of it: {cause}, {rank.figure:.2f}°"
