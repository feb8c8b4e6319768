"""How is the way to the pole told: where the star goes, what to turn, what is in the way?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.pole.aim.scope_orientation import face_words
from axletree.pole.aim.view import Guide
from axletree.pole.aim.visible import StarTonight
from axletree.pole.correct.bolts import BoltMoves, BoltStep
from axletree.pole.correct.report import PoleReport
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import clock, compass_point, degrees

LOCK_CAUTION = "Hold the tube, or take it off, while you turn the bolts: a head can drop suddenly."
DAY_CAUTION = (
    "The Sun is up: leave the caps on tube and finder while you set up, and never look near it."
)
STEEL_CAUTION = "Read the compass two metres from steel, cars and the mount."
_SMALLEST_TURN = 0.005
# With the Sun higher than this all night no star shows well enough for a drift test.
DRIFT_STARS_SUN_DEG = -6.0


def pole_text(
    report: PoleReport, site_name: str, zone: ZoneInfo, step_deg: float, assumed: Sequence[str]
) -> str:
    """The answer as text: what was asked first, then the star, the scale, tonight, cautions."""
    when = report.at.astimezone(zone).strftime("%Y-%m-%d %H:%M")
    return sections(
        paragraph(f"The pole from {site_name}, {when}"),
        _moves(report),
        paragraph(headline(report)),
        paragraph(ring_words(report)),
        listed("Axis", axis_words(report, step_deg)),
        "" if _hidden(report) else _next_hours(report, zone),
        "" if _hidden(report) else listed("To find it", guide_words(report)),
        listed("Tonight", first_words(report, zone) + tonight_words(report.tonight, zone)),
        listed("Without a view of the pole", blind_words(report)) if report.blind_needed else "",
        listed("Cautions", cautions(report)),
        listed("Assumed", assumed),
    )


def _hidden(report: PoleReport) -> bool:
    return report.blind_needed and report.sight.kind != "none"


def headline(report: PoleReport) -> str:
    """What to do with the pole star, or that it can't be had."""
    view = report.view
    face = face_words(view.clock_hour)
    away = f"{view.pole_distance_arcmin:.1f}′"
    if report.blind_needed and report.sight.kind == "none":
        return (
            f"Set the altitude scale to {report.setting.setting_deg:.1f}°, turn the axis to true "
            f"{'north' if report.target.north else 'south'}, then measure the drift of two stars: "
            f"{report.blind_because}. {view.star} stands {away} from the pole, at {face} "
            "on a clock face around it (12 is up)."
        )
    if report.blind_needed:
        return (
            f"Set the altitude scale to {report.setting.setting_deg:.1f}° and go the way without "
            f"a view of the pole: {report.blind_because}."
        )
    if report.sight.kind == "hollow":
        if report.off_centre >= 1.0:
            return (
                f"{view.star} stays outside the bore's field: {away} from the pole, and the field "
                f"reaches {view.field_deg * 30:.0f}′. Bring it to the edge at {face}, and then as "
                "far again as it lacks."
            )
        return (
            f"Look along the bore and put {view.star} at {face} (12 is up), "
            f"{100 * report.off_centre:.0f} % of the way from the middle of the bright disc to "
            f"its edge ({away} in a field of {view.field_deg:.1f}°)."
        )
    turned = f" and turned by {view.rotation_deg:g}°" if view.rotation_deg else ""
    outside = (
        f" That is outside its field of {view.field_deg:g}°: use the drift of two stars."
        if report.off_centre >= 1.0
        else ""
    )
    return (
        f"Put {view.star} at {face} on the clock face (12 is up), {away} from the middle, as the "
        f"eye sees it {view.look}{turned} in the polar scope.{outside}"
    )


def ring_words(report: PoleReport) -> str:
    """What an engraved ring is worth today; '' if there is none."""
    ring = report.view.engraved_ring_arcmin
    if ring is None or report.sight.kind != "scope" or report.blind_needed:
        return ""
    gap = report.view.pole_distance_arcmin - ring
    if report.ring_year is None:
        return (
            f"The engraved ring of {ring:g}′ fits {report.view.star} in no year from 1950 to 2100:"
            " it was made for something else. Go by the distance from the middle."
        )
    made = f"The engraved ring of {ring:g}′ was right in about {report.ring_year:.0f}"
    if abs(gap) < 0.25:
        return f"{made}: put the star on it."
    side = "outside" if gap > 0 else "inside"
    return f"{made}; the star is at {ring + gap:.1f}′ now, so put it {abs(gap):.1f}′ {side} it."


def _moves(report: PoleReport) -> str:
    moves = report.moves
    if moves is None:
        return ""
    return "\n".join(
        [
            paragraph(moves_words(moves)),
            *(f"  {i}. {row}" for i, row in enumerate(step_rows(moves), 1)),
        ]
    )


def moves_words(moves: BoltMoves) -> str:
    """'Lower the axis by 2.00° and turn it 0.43° to the west.'"""
    parts = []
    if abs(moves.raise_deg) >= 0.0005:
        parts.append(
            f"{'raise' if moves.raise_deg > 0 else 'lower'} the axis by {abs(moves.raise_deg):.2f}°"
        )
    if abs(moves.move_east_deg) >= 0.0005:
        side = "east" if moves.move_east_deg > 0 else "west"
        parts.append(f"turn it {abs(moves.move_east_deg):.2f}° to the {side} along the horizon")
    if not parts:
        return "The axis is on the pole as far as this reading tells: leave the bolts alone."
    words = " and ".join(parts) + "."
    if moves.beyond_bolts:
        words += (
            " That is more than azimuth bolts usually reach (about 5°): turn the tripod, level it "
            "again, and read again."
        )
    return words[0].upper() + words[1:]


def step_rows(moves: BoltMoves) -> list[str]:
    """One row for each thing that the hand does."""
    rows = []
    for step in moves.steps:
        if step.turns < _SMALLEST_TURN:
            continue
        sigma = moves.altitude_turns_sigma if step.bolt == "altitude" else moves.azimuth_turns_sigma
        rows.append(step_words(step) + (f" (±{sigma:.2f})" if sigma >= _SMALLEST_TURN else ""))
    return rows


def step_words(step: BoltStep) -> str:
    """'loosen the west azimuth bolt by 0.30 turns (anticlockwise)'."""
    turns = f"{step.turns:.2f} turns"
    if step.verb == "turn":
        return f"{step.bolt} bolt: {turns} {step.way}"
    return f"{step.verb} the {step.bolt} bolt by {turns} ({step.way})"


def axis_words(report: PoleReport, step_deg: float) -> list[str]:
    """Altitude of the target, and what the scale must show."""
    target, setting = report.target, report.setting
    side = "north" if target.north else "south"
    if target.refracted:
        pole = (
            f"pole: {target.altitude_deg:.2f}° high as seen, due {side}: latitude "
            f"{target.true_altitude_deg:.2f}° and {target.lift_arcmin:.1f}′ of refraction "
            f"({report.pressure_hpa:.0f} hPa, {report.temperature_c:.0f} °C)."
        )
    else:
        pole = (
            f"pole: the true one, {target.altitude_deg:.2f}° high, due {side}; seen through the "
            f"air it stands {target.lift_arcmin:.1f}′ higher."
        )
    low = math.floor(setting.setting_deg / step_deg) * step_deg
    part = (setting.setting_deg - low) / step_deg
    between = (
        f"on the mark {setting.nearest_mark_deg:g}"
        if min(part, 1.0 - part) < 0.05
        else f"from the mark {low:g}, {part:.1f} of the way to {low + step_deg:g}"
    )
    scale = f"scale: {setting.setting_deg:.1f}° (±{setting.sigma_deg:.1f}°), {between}."
    return [pole, scale]


def _next_hours(report: PoleReport, zone: ZoneInfo) -> str:
    cells = [
        f"{clock(datetime.fromisoformat(p.at), zone)}  {face_words(p.clock_hour):>5}"
        for p in report.view.quarters
    ]
    rows = ["    ".join(cells[i : i + 4]) for i in range(0, len(cells), 4)]
    way = "clockwise" if report.view.turn_deg_per_h > 0 else "anticlockwise"
    return "\n".join([f"Later ({way} in this view)", *(f"  {row}" for row in rows)])


def guide_words(report: PoleReport) -> list[str]:
    """Where the figures stand that show the way, outside and in the picture."""
    rows = [_guide(g, report.sight.kind) for g in report.view.guides]
    if not report.target.north:
        rows.append(
            "around the pole: σ, χ, υ and τ Octantis make a long kite of four faint stars (5.3 "
            "to 5.8 mag); σ is the corner nearest to the pole."
        )
    return rows


def _guide(guide: Guide, kind: str) -> str:
    place = (
        f"{guide.altitude_deg:.0f}° high in the {compass_point(guide.azimuth_deg)}"
        if guide.up
        else "below the horizon"
    )
    behind = ", behind the skyline" if guide.up and guide.clear is False else ""
    where = "from the pole" if kind == "none" else "in the view"
    return f"{guide.name}: {place}{behind}; {where} towards {face_words(guide.clock_hour)}."


def first_words(report: PoleReport, zone: ZoneInfo) -> list[str]:
    """Where the star will stand when it comes out, asked before that."""
    first, tonight = report.first_place, report.tonight
    if first is None or report.blind_needed or tonight.comes_out is None:
        return []
    return [
        f"it isn't dark yet: when {tonight.star} comes out at {clock(tonight.comes_out, zone)} it "
        f"stands at {face_words(first.clock_hour)}, {first.distance_arcmin:.1f}′ from the middle."
    ]


def tonight_words(tonight: StarTonight, zone: ZoneInfo) -> list[str]:
    """When the pole star comes out and whether the skyline lets it be seen."""
    rows = []
    down = f"the Sun {tonight.sun_depression_deg:.0f}° down"
    if tonight.state == "never dark enough":
        row = (
            f"{tonight.star} doesn't come out: the Sun is lowest at "
            f"{degrees(tonight.lowest_sun_altitude_deg)} and must be "
            f"{tonight.sun_depression_deg:.0f}° down."
        )
        if tonight.next_night is not None:
            row += f" It comes out again on the evening of {tonight.next_night.isoformat()}."
        rows.append(row)
    elif tonight.state == "dark all along":
        rows.append(f"{tonight.star} shows all along: the Sun stays low enough ({down}).")
    else:
        start = clock(tonight.comes_out, zone) if tonight.comes_out else "noon"
        stop = clock(tonight.fades, zone) if tonight.fades else "noon"
        rows.append(f"{tonight.star} comes out at {start} and fades at {stop} ({down}).")
    if tonight.pole_margin_deg is None:
        rows.append("skyline: not in the kit; look whether anything stands before the pole.")
    elif tonight.least_margin_deg is not None and tonight.least_margin_deg >= 0:
        rows.append(
            f"skyline: the pole stands {tonight.pole_margin_deg:.1f}° above it, {tonight.star} "
            f"never less than {tonight.least_margin_deg:.1f}°."
        )
    elif tonight.out:
        times = ", ".join(f"{clock(a, zone)}-{clock(b, zone)}" for a, b in tonight.out)
        rows.append(f"skyline: {tonight.star} dips behind it; it is in view {times}.")
    else:
        margin = tonight.pole_margin_deg
        rows.append(
            f"skyline: it stands {-margin:.1f}° above the pole."
            if margin < 0
            else f"skyline: {tonight.star} is in view at no dark moment."
        )
    return rows


def blind_words(report: PoleReport) -> list[str]:
    """The path step by step with the error that each leaves."""
    blind = report.blind
    rows = []
    for step in blind.steps:
        parts = []
        if step.high_arcmin >= 0.5:
            parts.append(f"±{step.high_arcmin:.0f}′ up and down")
        if step.east_arcmin >= 0.5:
            parts.append(f"±{step.east_arcmin:.0f}′ east and west")
        rows.append(f"{step.name}: {step.source}: {', '.join(parts) or 'nothing to speak of'}.")
    rows.append(
        f"together: ±{blind.high_sigma_arcmin:.0f}′ up and down, ±{blind.east_sigma_arcmin:.0f}′ "
        "east and west (one standard deviation)."
    )
    rows.append(_drift_words(report))
    return rows


def _drift_words(report: PoleReport) -> str:
    blind = report.blind
    if report.tonight.lowest_sun_altitude_deg > DRIFT_STARS_SUN_DEG:
        return (
            "no stars come out tonight to measure drift with: take north from the Sun's shadow "
            "('axletree north'), which is better than the compass, and leave it at that."
        )
    once, twice = (math.hypot(*pair) for pair in blind.after_drift[:2])
    words = (
        "then measure the drift of two stars ('axletree check') and turn the bolts: about "
        f"±{once:.0f}′ is left after {blind.drift_minutes:.0f} min on each"
    )
    if once - twice >= 1.0:
        words += f", ±{twice:.0f}′ after a second round"
    longer = math.sqrt(2.0) * blind.drift_sigma_arcmin / 3.0
    return words + f"; three times as long leaves ±{longer:.0f}′."


def cautions(report: PoleReport) -> list[str]:
    """What can hurt or mislead here."""
    rows = list(report.setting.cautions)
    if report.blind_needed:
        rows.append(report.magnetic_note or STEEL_CAUTION)
    if report.moves is not None:
        rows.append(LOCK_CAUTION)
    if report.sun_altitude_deg > -1.0:
        rows.append(DAY_CAUTION)
    return rows
