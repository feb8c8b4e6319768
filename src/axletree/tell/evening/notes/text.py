"""In which sentences are the evening's cautions, notes and assumptions told?"""

from __future__ import annotations

from axletree.evening.night.darkness import ClockChange, MoonPhase, NightLight
from axletree.evening.night.set_up_pace import OwnMinutes
from axletree.evening.night.set_up_times import at_clock
from axletree.evening.people.children import ChildrensPart
from axletree.evening.sheet.answer import EveningAnswer, EveningCaution
from axletree.evening.sheet.brought_back import BroughtBack
from axletree.find.practice.rig_work import RigWork
from axletree.sky.events.twilight import Darkest
from axletree.sky.sun_rule import AFTER_STOP_S
from axletree.tell.evening.circles_text import circles_assumed
from axletree.tell.kit.dimension_text import dimension_words
from axletree.tell.learned.text import assumed_of_rig
from axletree.tell.logbook.text import repeats_words
from axletree.tell.seeing.text import sky_words
from axletree.tell.shared.text import rotation_words
from axletree.tell.shared.words import one_and_another, own_clock, small


def caution_words(answer: EveningAnswer) -> tuple[str, ...]:
    """What to keep in mind all evening, in the order of the answer's cautions."""
    said = {
        EveningCaution.SUN: (
            "The Sun: caps on while it is up. While any part of it is above the horizon, or will "
            f"be within {AFTER_STOP_S / 60:.0f} minutes of a stop's end, no stop comes within "
            f"{answer.kit.habits.sun_distance_deg:.0f}° of it: one look through a tube blinds. "
            "When it is down, nearness doesn't count."
        ),
        EveningCaution.WEIGHTS_AND_TUBE: (
            "Weights on before the tube, tube off before the weights. Hold the tube while a lock "
            "is open."
        ),
        EveningCaution.FEET_AND_CORDS: (
            "Mark the tripod's feet and keep cords off the ground where people walk in the dark."
        ),
        EveningCaution.VISITORS: (
            "Visitors: the organiser's safety rules, permits and local codes come first. Nobody "
            "leans on the tube or the tripod."
        ),
        EveningCaution.LASERS: (
            "Pointing lasers: only where local law allows, and never near aircraft."
        ),
    }
    return tuple(said[caution] for caution in answer.cautions)


def note_words(answer: EveningAnswer) -> tuple[str, ...]:
    """What is out of the ordinary about this night, its reckoning, and the person's own list."""
    notes = [
        rotation_words(answer.rotation_doubts),
        clock_change_words(answer.clocks),
        start_words(answer),
        "" if answer.brings_back is None else brings_back_words(answer.brings_back),
    ]
    if answer.session is None:
        notes.append("There is no darkness for stars in this session: choose another night.")
    notes += [f"Left out of your own list: {row.refusal}." for row in answer.broken_rows]
    return tuple(note for note in notes if note)


def brings_back_words(back: BroughtBack) -> str:
    """What to measure, and what may be shown again once it is found as the kit has it."""
    what = one_and_another([small(dimension_words(name)) for name in back.dimensions])
    they, this, come = ("It", "is", "comes") if len(back.objects) == 1 else ("They", "are", "come")
    return (
        f"{one_and_another(back.objects)} {this} left out because something of the mount may "
        f"touch. {they} {come} back once this is measured and found as the kit has it: {what}."
    )


def children_words(part: ChildrensPart) -> str:
    """Until when the children are there, and what comes after."""
    end = f"The children's part ends at {own_clock(part.until)}"
    if part.stops == 0:
        return f"{end}, before anything could be shown: bring them on a night that is dark earlier."
    said = f"{end}, after stop {part.stops}."
    if part.later:
        asks = "asks" if len(part.later) == 1 else "ask"
        said += f" After it: {one_and_another(part.later)}, which {asks} for patience."
    return said


def start_words(answer: EveningAnswer) -> str:
    """Why the first stop comes later than the kit asks; '' where it doesn't."""
    session, start = answer.session, answer.kit.habits.start
    if session is None or start is None:
        return ""
    asked = at_clock(session.first_stop, start)
    if session.first_stop.timestamp() - asked.timestamp() < 60.0:
        return ""
    shows = answer.darkness.pole_star_visible
    why = "the Sun isn't far enough down before"
    if session.by_star and shows:
        axis = f"the axis takes {session.by_stars_min:.0f} minutes"
        why = f"the pole star shows at {shows:%H:%M}, and {axis}"
    return (
        f"You asked to begin at {asked:%H:%M}. The first stop comes at {session.first_stop:%H:%M}: "
        f"{why}."
    )


def clock_change_words(change: ClockChange | None) -> str:
    """That local clocks are put forward or back in this night, or ''."""
    if change is None:
        return ""
    way, jump = (
        ("forward", "times in between don't exist")
        if change.forward
        else ("back", "times in between come twice")
    )
    return (
        f"Clocks are put {way} by {change.minutes} minutes in this night, from "
        f"{change.old:%H:%M} to {change.new:%H:%M}: {jump}. All times here are by the clock of "
        "their moment."
    )


def night_words(night: NightLight) -> str:
    """That the Sun does not set, or the night not get dark, or the noon not light; else ''."""
    noon = "The Sun doesn't rise above the horizon at noon." if night.dark_noon else ""
    lowest = f"the Sun is lowest at {night.lowest_sun_altitude_deg:.1f}°."
    dark = {
        Darkest.SUN_UP: (
            f"The Sun doesn't set this night; it is lowest at {night.lowest_sun_altitude_deg:.1f}°."
        ),
        Darkest.CIVIL: f"Civil twilight lasts all night; {lowest}",
        Darkest.NAUTICAL: f"Nautical twilight lasts all night; {lowest}",
        Darkest.ASTRONOMICAL: f"It doesn't get fully dark this night; {lowest}",
        Darkest.NIGHT: "",
    }[night.darkest]
    return " ".join(said for said in (noon, dark) if said)


def assumption_words(answer: EveningAnswer) -> tuple[str, ...]:
    """What was taken for granted, without capitals and full stops."""
    return (
        f"{answer.stop_min:.0f} minutes at each stop",
        *map(own_minutes_words, answer.own_minutes),
        *map(sky_words, answer.assumed_sky),
        *(() if answer.seen is None else repeats_words(answer.seen)),
        *circles_assumed(answer.state, answer.pointing),
        *assumed_of_rig(answer.rig_learned, answer.kit.site.zone, answer.kit.habits.units),
    )


def own_minutes_words(own: OwnMinutes) -> str:
    """How long setting up or taking down takes by the person's own notes, with its spread."""
    work = {RigWork.SET_UP: "setting up", RigWork.TAKE_DOWN: "taking down"}[own.work]
    evenings = "one evening" if own.evenings == 1 else f"{own.evenings} evenings"
    return (
        f"{own.minutes:.0f} ± {own.sigma_min:.0f} minutes for {work} by your own notes of "
        f"{evenings} ({own.assumed_min:.0f} without them)"
    )


def phase_words(phase: MoonPhase) -> str:
    """The Moon's phase in common words."""
    return {
        MoonPhase.NEW: "new",
        MoonPhase.WAXING_CRESCENT: "waxing crescent",
        MoonPhase.FIRST_QUARTER: "first quarter",
        MoonPhase.WAXING_GIBBOUS: "waxing gibbous",
        MoonPhase.FULL: "full",
        MoonPhase.WANING_GIBBOUS: "waning gibbous",
        MoonPhase.LAST_QUARTER: "last quarter",
        MoonPhase.WANING_CRESCENT: "waning crescent",
    }[phase]
