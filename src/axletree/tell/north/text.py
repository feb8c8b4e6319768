"""In which sentences is the way to true north told, on the screen, the drawing and the page?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from axletree.ground.magnetism import MagneticField
from axletree.ground.north.method import (
    ClosedMethod,
    ClosedReason,
    NorthMethod,
    NorthMethodKind,
    Rank,
    RankReason,
)
from axletree.ground.north.pointers import ErrorCause
from axletree.stages.set_up.north import NorthAnswer, NorthCaution
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import clock, compass_point, degrees
from axletree.tell.skyline.text import skyline_words

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


@dataclass(frozen=True)
class NorthDrawingWords:
    """What stands on the drawing beside the lines themselves."""

    title: str
    description: str
    head: str
    place: str
    points: tuple[str, str, str, str]
    needle: str
    expected_error: str
    compass: str
    cautions: tuple[str, ...]


def north_text(answer: NorthAnswer) -> str:
    """The answer as text of at most 80 columns: best method first, then all, then conditions."""
    now = [m for m in answer.usable if m.now]
    later = [m for m in answer.usable if not m.now]
    poor = [m for m in answer.methods if not m.usable]
    return sections(
        f"True {pole_word(answer)} from {_place(answer)}",
        paragraph(_best_words(answer, now, later)),
        _table("Works now, by expected error", now, answer),
        _table("Later", later, answer),
        listed("Not to be trusted", [f"{method_name(m)}: {rank_words(m)}." for m in poor]),
        listed("Not open", [_closed_words(c, answer) for c in answer.closed]),
        paragraph(compass_words(answer)),
        paragraph(near_enough_words(answer)),
        listed("Cautions", caution_words(answer)),
        listed("Assumed", assumed_words(answer)),
    )


def pole_word(answer: NorthAnswer) -> str:
    """'north', or 'south' where that pole is the elevated one."""
    return "north" if answer.north else "south"


def _place(answer: NorthAnswer) -> str:
    local = answer.at.astimezone(answer.zone)
    return f"{answer.site_name}, {local:%Y-%m-%d %H:%M}"


def _best_words(
    answer: NorthAnswer, now: Sequence[NorthMethod], later: Sequence[NorthMethod]
) -> str:
    if now:
        best = now[0]
        how = how_to(best, answer)
        return f"Best now: {method_name(best)}, {plus_minus(best.sigma_deg)}. {how}"
    if later:
        first = later[0]
        at = _when(first.at, answer)
        return f"Nothing works now. First: {method_name(first)} at {at}. {how_to(first, answer)}"
    return (
        "No method can be trusted here now; set the axis by level and latitude scale and "
        "find its direction by drift."
    )


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


def _table(title: str, methods: Sequence[NorthMethod], answer: NorthAnswer) -> str:
    lines = []
    for method in methods:
        when = "" if method.now else f"{_when(method.at, answer, seconds=True)}  "
        until = f" Until {_when(method.until, answer)}." if method.until else ""
        how = f"{method_name(method)}. {how_to(method, answer)}"
        row = f"{plus_minus(method.sigma_deg):>6}  {when}{how}"
        lines.append(paragraph(row, "  ", " " * 10))
        lines.append(paragraph(f"({rank_words(method)}.{until})", " " * 10))
    return "\n".join([title, *lines]) if lines else ""


def _when(at: datetime, answer: NorthAnswer, *, seconds: bool = False) -> str:
    """'18:50', with seconds or with the day where it isn't the asked one."""
    zone = answer.zone
    local = at.astimezone(zone)
    text = f"{local:%H:%M:%S}" if seconds else clock(at, zone)
    days = (local.date() - answer.at.astimezone(zone).date()).days
    return text if days == 0 else f"tomorrow {text}" if days == 1 else f"{local:%d %b} {text}"


def _closed_words(item: ClosedMethod, answer: NorthAnswer) -> str:
    until = f" until {_when(item.opens, answer)}" if item.opens else ""
    return f"{closed_name(item)}: {closed_words(item)}{until}."


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


def drawing_words(answer: NorthAnswer) -> NorthDrawingWords:
    """The words of the drawing but for those of each method."""
    points = answer.field.declination_deg
    side = "east" if points >= 0.0 else "west"
    usable = answer.field.zone != "blackout"
    pole = pole_word(answer)
    return NorthDrawingWords(
        title=f"The way to true {pole}",
        description="The ground seen from above, true north up.",
        head=f"True {pole}",
        place=_place(answer),
        points=("north", "east", "south", "west"),
        needle=f"needle, {abs(points):.1f}° {side}" if usable else "needle: don't trust it",
        expected_error="expected error",
        compass=f"Compass: {answer.compass_bearing_deg:.1f}° on the dial is true {pole}.",
        cautions=tuple(caution_words(answer)),
    )


def drawn_method_words(method: NorthMethod, answer: NorthAnswer) -> tuple[str, str]:
    """Two rows of the drawing's list: name and time, then what to do."""
    when = "now" if method.now else f"{method.at.astimezone(answer.zone):%H:%M:%S}"
    return f"{method_name(method)}, {when}", _drawn_line(method, pole_word(answer))


def _drawn_line(method: NorthMethod, pole: str) -> str:
    if method.kind is Kind.COMPASS:
        return "turn until it shows the bearing below"
    turn = method.turn_to_pole_deg
    line = "shadow" if method.shadow else "sight"
    if abs(turn) < 0.05:
        return f"{line} along {method.line_deg:.1f}°: that is true {pole}"
    if abs(turn) > 179.95:
        return f"{line} along {method.line_deg:.1f}°; true {pole} is straight opposite"
    side = "right" if turn > 0 else "left"
    return f"{line} along {method.line_deg:.1f}°; true {pole} {abs(turn):.1f}° to the {side}"
