"""In which words is the axis error told, in at most 80 columns, and on the page?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import TypedDict

from axletree.axis.frame import Pole
from axletree.pole.correct.advice import Verdict
from axletree.pole.solution.estimate import AxisEstimate
from axletree.stages.set_up.check import CheckAnswer, TurnedAnswer
from axletree.stages.set_up.check_findings import Finding
from axletree.stages.set_up.pictures_finding import PicturesFinding
from axletree.tell.check.circles_text import mount_facts
from axletree.tell.check.doubts_text import doubt_words
from axletree.tell.check.measured_text import (
    finding_table,
    finding_words,
    measured_words,
    remark_words,
)
from axletree.tell.check.pictures.text import CLOCK, picture_facts
from axletree.tell.check.turn_text import (
    CAUTION,
    arcmin,
    before_turning_words,
    next_words,
    see_words,
    turn_words,
)
from axletree.tell.enough.reason_text import reason_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.text import error_words as within_words
from axletree.tell.shared.words import clock, signed

# No mount and no tube are stiffer than this (common practice, no source).
LEAST_SHOWN_ARCMIN = 0.01


class CheckPageWords(TypedDict):
    """The sentences of the page about the axis."""

    error: str
    verdict: str
    before_turning: str
    turn: list[str]
    caution: str
    at_odds: list[str]
    looks_wrong: list[str]
    see: list[str]
    next: list[str]
    facts: list[str]
    assumed: list[str]


def check_text(answer: CheckAnswer, learned: Sequence[str] = (), noted: str = "") -> str:
    """The answer as text of at most 80 columns.

    `learned`: what the logbook taught; `noted`: where it was noted (`noted_in_words`).
    """
    finding, first = answer.finding, before_turning_words(answer)
    turn = [words for words in (first, *turn_words(answer)) if words]
    head = f"Axis error by {finding_words(finding)}" if finding else _together(answer)
    parts = [
        head,
        paragraph(error_words(answer.estimate, answer.pole)),
        paragraph(verdict_words(answer)),
    ]
    if finding is not None and answer.several:
        parts.append(
            paragraph(
                f"This measurement alone: {short_words(finding.estimate)}. Above: it and "
                f"{len(answer.known.since_turn) - 1} more since the last turn of a bolt."
            )
        )
    parts += [
        listed("What looks wrong", wrong_words(answer)),
        listed("They don't agree", odd_words(answer)),
        listed("Turn", [*turn, CAUTION] if turn else []),
        listed("See it at the eyepiece", see_words(answer)),
    ]
    if finding is not None:
        rows = ["Measured", *(f"  {row}" for row in finding_table(finding))]
        parts += ["\n".join(rows), listed("The mount itself", mount_facts(finding))]
        if isinstance(finding, PicturesFinding):
            parts.append(listed("The pictures", picture_facts(finding)))
    if answer.several or finding is None:
        parts.append(listed("Measurements that count", _measurements(answer)))
    parts += [
        listed("What to measure next", next_words(answer)),
        listed("Assumed", assumed_words(answer, learned)),
        paragraph(f"Noted in {noted}.") if noted else "",
    ]
    return sections(*parts)


def page_words(answer: CheckAnswer, learned: Sequence[str] = ()) -> CheckPageWords:
    """The sentences of the page; before anything is measured what is good enough."""
    finding, turn = answer.finding, turn_words(answer)
    return {
        "error": _error_on_page(answer),
        "verdict": verdict_words(answer),
        "before_turning": before_turning_words(answer),
        "turn": turn,
        "caution": CAUTION if turn else "",
        "at_odds": odd_words(answer),
        "looks_wrong": wrong_words(answer),
        "see": see_words(answer) if answer.measured else [],
        "next": next_words(answer) if answer.measured else [],
        "facts": [] if finding is None else _facts(finding),
        "assumed": assumed_words(answer, learned) if answer.measured else [],
    }


def _facts(finding: Finding) -> list[str]:
    return picture_facts(finding) if isinstance(finding, PicturesFinding) else mount_facts(finding)


def page_source() -> str:
    """What rows are called that were typed on the page."""
    return "this page"


def turned_text(answer: TurnedAnswer, noted: str) -> str:
    """What 'check turned' answers."""
    turns = [
        f"{bolt} {signed(turns, 2)} turns"
        for bolt, turns in (("altitude", answer.altitude_turns), ("azimuth", answer.azimuth_turns))
        if turns
    ]
    how = f": {', '.join(turns)}" if turns else ""
    return sections(
        paragraph(f"Bolts turned at {clock(answer.at, answer.zone)}{how}."),
        paragraph(
            "Earlier measurements of tonight no longer count. Measure again: one star near the "
            "meridian and one low in the east or west is enough to verify."
        ),
        paragraph(f"Noted in {noted}."),
    )


def noted_in_words(file: Path, *, in_logbook: bool) -> str:
    """Where something was noted: in the file, and in the logbook too."""
    return f"{file} and the logbook" if in_logbook else str(file)


def wrong_words(answer: CheckAnswer) -> list[str]:
    """What looked wrong in this measurement, and what stays doubtful in any that counts."""
    finding = answer.finding
    remarks = [] if finding is None else [*remark_words(finding), *_clock_set_back(answer)]
    return [*remarks, *doubt_words(answer)]


def _clock_set_back(answer: CheckAnswer) -> list[str]:
    finding, turned = answer.finding, answer.known.last_turn
    if finding is None or turned is None or not answer.dated_before_last_turn:
        return []
    return [
        f"A turn of the bolts is noted at {clock(turned, answer.zone)}, after this measurement of "
        f"{clock(finding.at, answer.zone)}: with the others it will not count. Is the clock right? "
        "If it was set back, note the turn again and measure again."
    ]


def _together(answer: CheckAnswer) -> str:
    count = len(answer.known.since_turn)
    since = "since the last turn of a bolt" if answer.known.last_turn else "tonight"
    return f"Axis error by {count} measurement{'s' if count > 1 else ''} {since}"


def short_words(estimate: AxisEstimate) -> str:
    """'10.0′ ± 1.2′ too high and 5.8′ ± 0.9′ too far east'."""
    if estimate.rank < 2:
        return "one mixture of both errors only"
    high = "high" if estimate.high_arcmin >= 0 else "low"
    east = "east" if estimate.east_arcmin >= 0 else "west"
    return (
        f"{arcmin(estimate.high_arcmin)} ± {_give(estimate.high_sigma_arcmin)} too {high} and "
        f"{arcmin(estimate.east_arcmin)} ± {_give(estimate.east_sigma_arcmin)} too far {east}"
    )


def _give(sigma_arcmin: float) -> str:
    """A standard deviation: never nothing."""
    return arcmin(max(sigma_arcmin, LEAST_SHOWN_ARCMIN))


def error_words(estimate: AxisEstimate, pole: Pole) -> str:
    """The error as a sentence."""
    if estimate.rank < 2:
        return _one_direction_words(estimate)
    return (
        f"The axis stands {arcmin(estimate.total_arcmin)} ± "
        f"{_give(estimate.total_sigma_arcmin)} from the {pole} pole: {short_words(estimate)}."
    )


def _error_on_page(answer: CheckAnswer) -> str:
    """The same where the distance stands above it in large figures; '' before the first star."""
    if not answer.measured:
        return ""
    estimate = answer.estimate
    if estimate.rank < 2:
        return error_words(estimate, answer.pole)
    return f"{short_words(estimate)}."


def _one_direction_words(estimate: AxisEstimate) -> str:
    """What is known when only one mixture of both errors is."""
    mixture = estimate.information @ estimate.values
    sizes = max(abs(estimate.information[0, 0]), abs(estimate.information[1, 1]))
    if sizes == 0.0 or estimate.rank == 0:
        return "Nothing is known of the axis yet."
    high = bool(estimate.information[0, 0] > estimate.information[1, 1])
    value = estimate.high_arcmin if high else estimate.east_arcmin
    more = value >= 0 or math.hypot(*mixture) == 0.0
    towards = ("high" if more else "low") if high else ("far east" if more else "far west")
    known = 1.0 / math.sqrt(sizes)
    return (
        f"Only one direction is known so far: the axis is about {arcmin(value)} ± "
        f"{arcmin(known)} too {towards} if its other error is small. A second star, six hours of "
        "hour angle away, tells the rest."
    )


def verdict_words(answer: CheckAnswer) -> str:
    """Whether that is good enough, and why so much is asked."""
    tolerance = answer.advice.tolerance
    if not answer.measured:
        good = within_words(tolerance.largest_arcmin)
        return f"Good enough is {good}, since {reason_words(tolerance)}."
    limit = arcmin(answer.limit_arcmin)
    why = "" if answer.good_arcmin is not None else f", since {reason_words(tolerance)}"
    chance = round(answer.advice.chance_good * 100)
    if answer.estimate.rank < 2:
        return f"Good enough would be {limit}{why}."
    if answer.advice.verdict is Verdict.GOOD and answer.standing:
        return f"That would be good enough: {limit} would do{why}; but see what looks wrong."
    if answer.advice.verdict is Verdict.GOOD:
        return f"That is good enough: {limit} would do{why} ({_sure(chance)})."
    if answer.advice.verdict is Verdict.BAD:
        return f"That is not good enough: {limit} is needed{why}."
    return (
        f"Whether that is good enough is open: {limit} is needed{why}; the chance that the axis "
        f"is within it is {chance} %."
    )


def _sure(chance: int) -> str:
    return "more than 99 % sure" if chance > 99 else f"{chance} % sure"


def odd_words(answer: CheckAnswer) -> list[str]:
    """Which measurements contradict the others."""
    measured, together = answer.known.since_turn, answer.together
    if together is None:
        return []
    items = [
        f"{measured_words(measured[k], answer.zone)} contradicts all the others "
        f"({together.misfit_sigmas[k]:.1f} σ away) and was left out."
        for k in together.left_out
    ]
    if together.at_odds:
        items.append(
            "The measurements contradict each other and none can be singled out; the uncertainty "
            f"was widened {together.widened:.1f} times. Was a bolt turned between them? Then note "
            "the turn, or measure once more."
        )
    return items


def _measurements(answer: CheckAnswer) -> list[str]:
    items, known = [], answer.known
    for k, measured in enumerate(known.since_turn):
        out = " Left out." if k in answer.left_out else ""
        off = math.nan if answer.together is None else answer.together.misfit_sigmas[k]
        away = f" {off:.1f} σ from the rest." if math.isfinite(off) else ""
        words = measured_words(measured, answer.zone)
        items.append(f"{words}: {short_words(measured.estimate)}.{away}{out}")
    if known.before_turn:
        items.append(f"{known.before_turn} made before the last turn don't count any more.")
    return items


def assumed_words(answer: CheckAnswer, learned: Sequence[str] = ()) -> list[str]:
    """What the answer takes for granted: errors, air, guessed bolts, and what was learned."""
    observer = answer.observer
    items = [
        "Errors are one standard deviation. "
        f"{observer.air_pressure_hpa:.0f} hPa and {observer.air_temperature_c:.0f} °C: the air "
        f"lifts the pole by {answer.pole_lift_arcmin:.2f}′."
    ]
    if isinstance(answer.finding, PicturesFinding):
        items.append(CLOCK)
    if answer.guessed and answer.advice.moves is not None:
        items.append(f"Guessed: {', '.join(answer.guessed)}.")
    return [*items, *(f"{words[:1].upper()}{words[1:]}." for words in learned)]
