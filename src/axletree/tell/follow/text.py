"""How is following told: which knob, which way, how fast, how often?"""

from __future__ import annotations

import math

from axletree.stages.target.follow import FollowAnswer, FollowAssumption, FollowCaution
from axletree.tell.follow.altaz_text import comparison_text
from axletree.tell.follow.axis_text import axis_from_words, axis_work_words
from axletree.tell.follow.drive_text import camera_words, motor_words, object_words, rates_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.text import rotation_words
from axletree.tell.shared.words import (
    capital,
    compass_point,
    day_and_clock,
    degrees,
    duration,
    hours_minutes,
    to_the_second,
)

CAUTIONS = {
    FollowCaution.SUN: (
        "Never look at the Sun or point an unfiltered tube near it; finder capped, a filter "
        "made for it over the front of the tube."
    ),
    FollowCaution.OPEN_LOCK: (
        "A hand on the tube whenever its lock is open: out of balance, it swings."
    ),
    FollowCaution.MOTOR_RUNS_ON: (
        "A motor goes on turning: know when this side runs out of room ('point' says it)."
    ),
}


def _sense(clockwise: bool) -> str:
    return "clockwise" if clockwise else "anticlockwise"


def _time(seconds: float) -> str:
    return duration(seconds) if math.isfinite(seconds) else "never"


def headline(answer: FollowAnswer) -> str:
    """The one thing to do."""
    name, drive = object_words(answer), answer.drive
    low = "" if answer.above else f" ({capital(name)} is below the horizon now.)"
    if drive is not None:
        left = drive.drift_arcsec_per_min
        return (
            f"The motor follows {name} at its {drive.rate} rate; {left:.1f}″ a minute is left over."
            f"{low}"
        )
    if answer.knob is None or answer.turns_per_minute is None or answer.seconds_per_turn is None:
        return (
            f"This mount has no slow motion on its hour axis: push the tube west by hand after "
            f"{name}, 15° an hour, lock held so that it just turns.{low}"
        )
    return (
        f"Turn the hour knob {_sense(answer.knob.clockwise)} after {name}: "
        f"{answer.turns_per_minute:.3f} turns a minute, "
        f"{duration(answer.seconds_per_turn)} a turn.{low}"
    )


def follow_text(answer: FollowAnswer) -> str:
    """The whole answer as text."""
    whole = sections(
        paragraph(headline(answer)),
        _eyepieces(answer),
        _knobs(answer),
        motor_words(answer),
        rates_words(answer),
        camera_words(answer),
        _comparison(answer),
        listed("Cautions", caution_words(answer)),
        listed("Assumed", assumed_words(answer)),
    )
    return "\n".join([whole, *_moment(answer)])


def _moment(answer: FollowAnswer) -> list[str]:
    """When and where it holds, and what is uncertain about the clock."""
    if answer.at is None or answer.instants is None:
        return []
    rows = [f"  At {day_and_clock(answer.at, answer.kit.site.zone)}, {answer.kit.site.name}."]
    return [*rows, *(f"  {note}" for note in note_words(answer))]


def note_words(answer: FollowAnswer) -> list[str]:
    """What is uncertain about the moment, in a sentence; none where nothing is."""
    note = "" if answer.instants is None else rotation_words(answer.instants.doubts)
    return [note] if note else []


def _comparison(answer: FollowAnswer) -> str:
    if answer.comparison is None:
        return ""
    return comparison_text(answer.comparison, answer.rate_arcsec_per_s)


def _eyepieces(answer: FollowAnswer) -> str:
    rows = [
        f"{'eyepiece':<15}{'power':>6}{'field':>8}{'crosses':>12}{'nudge':>12}{'knob':>6}"
        f"{'nudges':>10}{'motor':>11}",
        f"{'':<29}{'it in':>12}{'every':>12}{'turn':>6}{'a visitor':>10}{'alone':>11}",
    ]
    for row in answer.eyepieces:
        knob = f"{row.knob_turn_deg:.0f}°" if row.knob_turn_deg is not None else "-"
        motor = "-" if row.motor_nudge_s is None else _short(row.motor_nudge_s)
        field = (
            f"{row.true_field_deg:.2f}°"
            if row.true_field_deg >= 1
            else f"{row.true_field_deg * 60:.1f}′"
        )
        visits = f"{row.nudges_per_visitor:.1f}" if row.nudges_per_visitor >= 0.05 else "-"
        rows.append(
            f"{row.label[:14]:<15}{row.magnification:>5.0f} {field:>8}"
            f"{_short(row.drift_time_s):>12}{_short(row.nudge_s):>12}{knob:>6}{visits:>10}{motor:>11}"
        )
    notes = [_keep_words(answer)]
    if answer.larger_than_field:
        labels = ", ".join(answer.larger_than_field)
        notes.append(f"Larger than the field of {labels}: keep its middle.")
    if answer.nudged_too_seldom:
        every = answer.kit.habits.nudge_every_s
        labels = ", ".join(answer.nudged_too_seldom)
        notes.append(
            f"Nudged every {to_the_second(every)}, as the kit says, it leaves the field of "
            f"{labels}."
        )
    return "\n".join([*rows, *(paragraph(n) for n in notes)])


def _short(seconds: float) -> str:
    if not math.isfinite(seconds):
        return "never"
    if seconds >= 86400:
        return "over a day"
    return to_the_second(seconds)


def _keep_words(answer: FollowAnswer) -> str:
    words = (
        "Crosses: from edge to edge with nothing turning. Nudge: when it is "
        f"{100.0 * answer.keep:.0f} % of the way from the middle to the edge"
    )
    if answer.place.diameter_deg > 0.02:
        words += " (sooner where it would not fit)"
    return words + "; set it as far ahead to the east instead of in the middle, and it lasts twice."


def _knobs(answer: FollowAnswer) -> str:
    rows = []
    knob, declination = answer.knob, answer.declination
    if knob is not None:
        rows.append(
            f"Hour knob: {degrees(knob.degrees_per_turn, 3)} a turn, {knob.seconds_per_turn:.1f} s "
            f"of the stars' turn; {_sense(knob.clockwise)} goes west, on both tube sides (in the "
            "other hemisphere the other way)."
        )
        if knob.backlash_knob_deg > 0:
            rows.append(
                f"Backlash: after a turn back, {knob.backlash_knob_deg:.0f}° of the knob move "
                f"nothing, {knob.backlash_s:.0f} s of sky. Overshoot to the west and wait, or "
                "always end with a turn west."
            )
    if declination is None:
        rows.append("Declination has no slow motion: set it by hand and lock it.")
        rows += axis_work_words(answer.axis_work, None)
        return listed("Knobs", rows)
    if declination.degrees_per_turn is None:
        turn = "turns not counted in the kit"
    else:
        turn = f"{degrees(declination.degrees_per_turn, 3)} a turn"
    what = "Declination arm" if declination.arm else "Declination knob"
    rows.append(
        f"{what}: {turn}; clockwise goes {declination.clockwise_east} with the tube on side east, "
        f"{declination.clockwise_west} on side west."
    )
    if declination.arm_range_deg is not None:
        rows.append(
            f"The arm reaches {degrees(declination.arm_range_deg)} in all: bring it to its middle "
            "before each object."
        )
    if declination.backlash_arcmin is not None and declination.backlash_knob_deg > 0:
        rows.append(
            f"Its backlash: {declination.backlash_knob_deg:.0f}° of the knob, "
            f"{declination.backlash_arcmin:.1f}′ of sky."
        )
    rows += axis_work_words(answer.axis_work, declination)
    drift = answer.declination_by_hand_arcsec_per_min
    if drift is not None and not answer.axis_work:
        pole = "north" if drift > 0 else "south"
        rows.append(
            f"Seen through the air, {object_words(answer)} goes {pole} by {abs(drift):.1f}″ "
            "a minute; follow it with the declination knob now and then."
        )
    return listed("Knobs", rows)


def caution_words(answer: FollowAnswer) -> list[str]:
    """What can hurt here."""
    return [CAUTIONS[caution] for caution in answer.cautions]


def assumed_words(answer: FollowAnswer) -> list[str]:
    """What the figures rest on."""
    place = answer.place
    words = {
        FollowAssumption.REFRACTED_POLE: "Rates and turns are those about the refracted pole.",
        FollowAssumption.PLACE: (
            f"{capital(object_words(answer))}: hour angle "
            f"{hours_minutes(place.hour_angle_h, signed=True)}, declination "
            f"{degrees(place.declination_deg, 2, signed=True)}, "
            f"{degrees(place.altitude_deg)} high in the {compass_point(place.azimuth_deg)}."
        ),
        FollowAssumption.GUESSED_GEARS: f"Guessed, count them: {', '.join(answer.guessed_gears)}.",
        FollowAssumption.FIELD_FROM_APPARENT: (
            f"True field of {', '.join(answer.rough_fields)} from its apparent field, good to a "
            "few per cent; field_stop_mm makes it exact."
        ),
    }
    said = [words[assumption] for assumption in answer.assumptions]
    if answer.state is not None and answer.axis_work:
        said.append(axis_from_words(answer.state))
    return said
