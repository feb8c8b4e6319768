"""How is the axis error told to a person, in at most 80 columns?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from axletree.kit.kit import Kit
from axletree.pole.correct.advice import LEAST_TURN, MoveStar
from axletree.pole.solution.doubt import DoubtKind
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.mount_frame import Pole
from axletree.tell.check.data import Report, measured_words, step_words
from axletree.tell.check.doubts import check_star_words, doubt_remarks
from axletree.tell.check.findings import north_south, signed
from axletree.tell.enough.reason_text import reason_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import clock, degrees, duration

CAUTION = (
    "Both axes locked and the rig balanced, a hand on the tube; never undo the altitude bolt so "
    "far that the head can drop, nor one azimuth bolt further than the other is tightened."
)


def check_text(report: Report) -> str:
    """The answer as text of at most 80 columns."""
    finding = report.finding
    estimate = report.together.estimate
    head = f"Axis error by {finding.words}" if finding else _together_words(report)
    parts = [head, paragraph(error_words(estimate, report.pole)), paragraph(_verdict(report))]
    if finding is not None and report.several:
        parts.append(
            paragraph(f"This measurement alone: {short_words(finding.estimate)}. Above: it and "
                      f"{len(report.known.since_turn) - 1} more since the last turn of a bolt.")
        )  # fmt: skip
    remarks = [] if finding is None else [*finding.remarks, *_clock_words(report)]
    parts.append(listed("What looks wrong", [*remarks, *doubt_remarks(report)]))
    parts += [_odd_words(report), _turn_words(report), _proof_words(report)]
    if finding is not None:
        rows = ["Measured", *(f"  {row}" for row in finding.rows)]
        parts += ["\n".join(rows), listed("The mount itself", finding.facts)]
    if report.several or finding is None:
        parts.append(_measurements(report))
    parts += [_next_words(report), listed("Assumed", _assumed(report))]
    if report.noted:
        parts.append(paragraph(f"Noted in {report.noted}."))
    return sections(*parts)


def _clock_words(report: Report) -> list[str]:
    """What is said when the clock seems to have been set back since a bolt was turned."""
    finding, turned = report.finding, report.known.last_turn
    if finding is None or turned is None or not report.dated_before_last_turn:
        return []
    zone = report.kit.site.zone
    return [
        f"A turn of the bolts is noted at {clock(turned, zone)}, after this measurement of "
        f"{clock(finding.at, zone)}: with the others it will not count. Is the clock right? If it "
        "was set back, note the turn again ('axletree check turned') and measure again."
    ]


def _together_words(report: Report) -> str:
    count = len(report.known.since_turn)
    since = "since the last turn of a bolt" if report.known.last_turn else "tonight"
    return f"Axis error by {count} measurement{'s' if count > 1 else ''} {since}"


def short_words(estimate: AxisEstimate) -> str:
    """'10.0′ ± 1.2′ too high and 5.8′ ± 0.9′ too far east'."""
    if estimate.rank < 2:
        return "one mixture of both errors only"
    high = "high" if estimate.high_arcmin >= 0 else "low"
    east = "east" if estimate.east_arcmin >= 0 else "west"
    return (
        f"{_arcmin(estimate.high_arcmin)} ± {_arcmin(estimate.high_sigma_arcmin)} too {high} and "
        f"{_arcmin(estimate.east_arcmin)} ± {_arcmin(estimate.east_sigma_arcmin)} too far {east}"
    )


def error_words(estimate: AxisEstimate, pole: Pole) -> str:
    """The error as a sentence."""
    if estimate.rank < 2:
        return _one_direction_words(estimate)
    return (
        f"The axis stands {_arcmin(estimate.total_arcmin)} ± "
        f"{_arcmin(estimate.total_sigma_arcmin)} from the {pole} pole: {short_words(estimate)}."
    )


def _one_direction_words(estimate: AxisEstimate) -> str:
    """What is known when only one mixture of both errors is."""
    mixture = estimate.information @ estimate.values
    size = math.hypot(*mixture)
    sizes = max(abs(estimate.information[0, 0]), abs(estimate.information[1, 1]))
    if sizes == 0.0 or estimate.rank == 0:
        return "Nothing is known of the axis yet."
    mostly = "high" if estimate.information[0, 0] > estimate.information[1, 1] else "east"
    value = estimate.high_arcmin if mostly == "high" else estimate.east_arcmin
    opposite = {"high": "low", "east": "west"}[mostly]
    way = mostly if value >= 0 else opposite
    known = 1.0 / math.sqrt(sizes)
    if size == 0.0:
        way = mostly
    return (
        f"Only one direction is known so far: the axis is about {_arcmin(value)} ± "
        f"{_arcmin(known)} too {'far ' if mostly == 'east' else ''}{way} if its other error is "
        "small. A second star, six hours of hour angle away, tells the rest."
    )


def _arcmin(value: float) -> str:
    size = abs(value)
    return f"{size:.2f}′" if size < 1.0 else f"{size:.1f}′" if size < 100.0 else f"{size:.0f}′"


def _verdict(report: Report) -> str:
    limit = _arcmin(report.limit_arcmin)
    why = (
        "" if report.good_arcmin is not None else f", since {reason_words(report.advice.tolerance)}"
    )
    chance = round(report.advice.chance_good * 100)
    if report.together.estimate.rank < 2:
        return f"Good enough would be {limit}{why}."
    if report.advice.verdict == "good" and report.standing:
        return f"That would be good enough: {limit} would do{why}; but see what looks wrong."
    if report.advice.verdict == "good":
        return f"That is good enough: {limit} would do{why} ({_sure(chance)})."
    if report.advice.verdict == "bad":
        return f"That is not good enough: {limit} is needed{why}."
    return (
        f"Whether that is good enough is open: {limit} is needed{why}; the chance that the axis "
        f"is within it is {chance} %."
    )


def _sure(chance: int) -> str:
    return "more than 99 % sure" if chance > 99 else f"{chance} % sure"


def _odd_words(report: Report) -> str:
    measured, together = report.known.since_turn, report.together
    items = [
        f"{measured_words(measured[k], report)} contradicts all the others "
        f"({together.misfit_sigmas[k]:.1f} σ away) and was left out."
        for k in together.left_out
    ]
    if together.at_odds:
        items.append(
            "The measurements contradict each other and none can be singled out; the uncertainty "
            f"was widened {together.widened:.1f} times. Was a bolt turned between them? Then say "
            "so with 'axletree check turned', or measure once more."
        )
    return listed("They don't agree", items)


def _turn_words(report: Report) -> str:
    moves = report.advice.moves
    if moves is None or report.advice.verdict == "good":
        return ""
    up, around = moves.raise_deg, moves.move_east_deg
    items = []
    if moves.altitude_steps and abs(moves.altitude_turns) >= LEAST_TURN:
        step = step_words(moves.altitude_steps[0])
        items.append(
            f"{step[0].upper()}{step[1:]} (± {moves.altitude_turns_sigma:.2f}): it "
            f"{'raises' if up > 0 else 'lowers'} the axis by {_angle(up)}."
        )
    if moves.azimuth_steps and abs(moves.azimuth_turns) >= LEAST_TURN:
        steps = ", then ".join(step_words(s) for s in moves.azimuth_steps)
        items.append(
            f"{steps[0].upper()}{steps[1:]} (± {moves.azimuth_turns_sigma:.2f}): the axis goes "
            f"{_angle(around)} {'east' if around > 0 else 'west'} along the horizon."
        )
    if not items:
        items.append("The bolts can't be turned more finely than this; leave them.")
    if moves.beyond_bolts:
        items.append("That is more than azimuth bolts reach: turn the tripod first.")
    if any(doubt.kind is DoubtKind.DISAGREEING for _, doubt in report.standing):
        items.insert(0, "First settle what looks wrong; as it stands it would be this.")
    items.append(CAUTION)
    return listed("Turn", items)


def _angle(value_deg: float) -> str:
    return _arcmin(value_deg * 60.0) if abs(value_deg) < 5.0 else degrees(abs(value_deg))


def _proof_words(report: Report) -> str:
    mover, star = report.advice.move_star, report.advice.proof_star
    if star is None or mover is None:
        return ""
    watch = duration(star.watched_s)
    if report.advice.verdict == "good":
        return listed(
            "See it at the eyepiece",
            [f"{star.name} (hour angle {signed(star.hour_angle_h)} h) should drift "
             f"{north_south(star.drift.before_arcsec)} in {watch}."],
        )  # fmt: skip
    after = (
        f"Afterwards {star.name} (hour angle {signed(star.hour_angle_h)} h) should drift "
        f"{north_south(star.drift.after_arcsec)} ± {star.drift.sigma_arcsec:.1f}″ in {watch}; "
        f"before the turn it is {north_south(star.drift.before_arcsec)}."
    )
    return listed("See it at the eyepiece", [move_words(mover), after])


def move_words(star: MoveStar) -> str:
    """Which way a star goes in the field while the bolts are turned."""
    first, second = star.move.by_altitude, star.move.by_azimuth
    return (
        f"Put {star.name} (hour angle {signed(star.hour_angle_h)} h) in the middle and turn the "
        f"bolts within a minute or two, the drive on or the hour knob following. It should move "
        f"{_way(*first)} with the altitude bolt, then {_way(*second)} with the azimuth bolts: "
        f"{_way(star.move.north_arcmin, star.move.west_arcmin)} in all."
    )


def _way(north: float, west: float) -> str:
    parts = []
    if round(abs(north), 1):
        parts.append(f"{_arcmin(north)} {'north' if north > 0 else 'south'}")
    if round(abs(west), 1):
        parts.append(f"{_arcmin(west)} {'west' if west > 0 else 'east'}")
    return " and ".join(parts) if parts else "not at all"


def _measurements(report: Report) -> str:
    items = []
    for k, measured in enumerate(report.known.since_turn):
        out = " Left out." if k in report.together.left_out else ""
        off = report.together.misfit_sigmas[k]
        away = f" {off:.1f} σ from the rest." if math.isfinite(off) else ""
        words = measured_words(measured, report)
        items.append(f"{words}: {short_words(measured.estimate)}.{away}{out}")
    if report.known.before_turn:
        items.append(f"{report.known.before_turn} made before the last turn don't count any more.")
    return listed("Measurements that count", items)


def _next_words(report: Report) -> str:
    items = []
    finding, step = report.finding, report.advice.next_drift
    if finding is not None and finding.advice:
        items.append(finding.advice)
    if step is not None:
        then = (
            f"the worst direction shrinks from ± {_arcmin(step.worst_now_arcmin)} to ± "
            f"{_arcmin(step.worst_then_arcmin)}"
            if math.isfinite(step.worst_now_arcmin)
            else "that makes the second direction known to ± " + _arcmin(step.worst_then_arcmin)
            if math.isfinite(step.worst_then_arcmin)
            else "it tells most of all stars that are up"
        )
        items.append(f"Watch {report.advice.next_name} drift for {duration(step.watch_s)}: {then}.")
    elif not report.advice.any_star:
        items.append("No star to suggest: the Sun is up, or no bright star stands clear.")
    check = report.advice.check_star
    if check is not None:
        items.append(check_star_words(check, [doubt for _, doubt in report.standing]))
    return listed("What to measure next", items)


def _assumed(report: Report) -> list[str]:
    from axletree.sky.air.refraction import refracted_pole_altitude_deg

    lift = (refracted_pole_altitude_deg(report.observer) - abs(report.observer.latitude_deg)) * 60.0
    air = (
        f"{report.observer.air_pressure_hpa:.0f} hPa and "
        f"{report.observer.air_temperature_c:.0f} °C: the air lifts the pole by {lift:.2f}′"
    )
    items = [f"Errors are one standard deviation. {air}."]
    guessed = [g for g in report.kit.guessed if g.startswith("mount.bolts")]
    if guessed and report.advice.moves is not None:
        items.append(f"Guessed: {', '.join(guessed)}.")
    items += [f"{words[:1].upper()}{words[1:]}." for words in report.learned]
    return items


def turned_text(record: Mapping[str, Any], noted: str, kit: Kit) -> str:
    """What 'check turned' answers."""
    turns = [
        f"{bolt} {signed(record[f'{bolt}_turns'], 2)} turns"
        for bolt in ("altitude", "azimuth")
        if record[f"{bolt}_turns"]
    ]
    at = clock(datetime.fromisoformat(record["at"]), kit.site.zone)
    return sections(
        paragraph(f"Bolts turned at {at}{': ' + ', '.join(turns) if turns else ''}."),
        paragraph(
            "Earlier measurements of tonight no longer count. Measure again: one star near the "
            "meridian and one low in the east or west is enough to verify."
        ),
        paragraph(f"Noted in {noted}."),
    )
