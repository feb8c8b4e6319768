"""In which sentences is the way to the pole told: the star, the scale, tonight?"""

from __future__ import annotations

import math
from datetime import datetime
from typing import TypedDict

from axletree.logbook.own import Learned
from axletree.pole.aim.view import Guide
from axletree.pole.aim.visible import StarNight
from axletree.stages.set_up.pole import PoleAnswer
from axletree.tell.pole.bolts_text import (
    bare_step_words,
    made_steps,
    moves_words,
    step_rows,
    turns_words,
)
from axletree.tell.pole.cautions_text import assumed_words, caution_words
from axletree.tell.pole.rough_text import no_view_words, rough_page_words, rough_words
from axletree.tell.pole.tube_text import picture_words, star_about_point, tube_steps, tube_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.text import stop_words
from axletree.tell.shared.words import (
    capital,
    clock,
    compass_point,
    day_and_clock,
    day_words,
    degrees,
    dial_hour,
    dial_place,
)


def pole_text(answer: PoleAnswer, learned: Learned | None = None) -> str:
    """The answer as text: the bolts first, then the star, the scale, tonight, cautions."""
    when = day_and_clock(answer.at, answer.zone)
    return sections(
        paragraph(f"The pole from {answer.site_name}, {when}"),
        _moves(answer),
        paragraph(headline(answer)),
        paragraph(stop_words(answer.stop_arcmin)),
        paragraph(ring_words(answer)),
        listed("Axis", axis_words(answer)),
        "" if _hidden(answer) else _next_hours(answer),
        "" if _hidden(answer) else listed("To find it", guide_words(answer)),
        _through_tube(answer),
        listed("Tonight", first_words(answer) + tonight_words(answer)),
        "" if answer.no_view is None else listed("Without a view of the pole", rough_words(answer)),
        listed("Cautions", caution_words(answer)),
        listed("Assumed", assumed_words(answer, learned)),
    )


def _through_tube(answer: PoleAnswer) -> str:
    """The steps, where the tube is looked through, or might be better than what the mount has."""
    if _hidden(answer) or answer.axis_view.kind == "scope":
        return ""
    return listed("Through the tube", tube_steps(answer))


def _hidden(answer: PoleAnswer) -> bool:
    return answer.no_view is not None and answer.axis_view.kind != "none"


def headline(answer: PoleAnswer) -> str:
    """What to do with the pole star, or that it can't be had."""
    view = answer.view
    face = dial_place(view.clock_hour)
    away = f"{view.pole_distance_arcmin:.1f}′"
    if answer.no_view is not None and answer.axis_view.kind == "none":
        return (
            f"Set the altitude scale to {answer.setting.setting_deg:.1f}°, turn the axis to true "
            f"{'north' if answer.target.north else 'south'}, then measure the drift of two stars: "
            f"{no_view_words(answer)}. {view.star} stands {away} from the pole, {face} on "
            "a dial around it (12 is up)."
        )
    if answer.no_view is not None:
        return (
            f"Set the altitude scale to {answer.setting.setting_deg:.1f}° and go the way without "
            f"a view of the pole: {no_view_words(answer)}."
        )
    if answer.axis_view.kind == "tube":
        return f"{star_about_point(answer)}: about it the mount turns."
    if answer.axis_view.kind == "hollow":
        if answer.off_centre >= 1.0:
            return (
                f"{view.star} stays outside the bore's field: {away} from the pole, and the field "
                f"reaches {view.field_deg * 30:.0f}′. Bring it to the edge {face} on the dial, and "
                "then as far again as it lacks."
            )
        return (
            f"Look along the bore and put {view.star} {face} on the dial (12 is up), "
            f"{100 * answer.off_centre:.0f} % of the way from the middle of the bright disc to "
            f"its edge ({away} in a field of {view.field_deg:.1f}°)."
        )
    turned = f" and turned by {view.rotation_deg:g}°" if view.rotation_deg else ""
    outside = (
        f" That is outside its field of {view.field_deg:g}°: use the drift of two stars."
        if answer.off_centre >= 1.0
        else ""
    )
    return (
        f"Put {view.star} {face} on the dial (12 is up), {away} from the middle, as the "
        f"eye sees it {view.look}{turned} in the polar scope.{outside}"
    )


def ring_words(answer: PoleAnswer) -> str:
    """What an engraved ring is worth today; '' if there is none."""
    ring = answer.view.engraved_ring_arcmin
    if ring is None or answer.axis_view.kind != "scope" or answer.no_view is not None:
        return ""
    gap = answer.view.pole_distance_arcmin - ring
    if answer.ring_year is None:
        return (
            f"The engraved ring of {ring:g}′ fits {answer.view.star} in no year from 1950 to 2100:"
            " it was made for something else. Go by the distance from the middle."
        )
    made = f"The engraved ring of {ring:g}′ was right in about {answer.ring_year:.0f}"
    if abs(gap) < 0.25:
        return f"{made}: put the star on it."
    side = "outside" if gap > 0 else "inside"
    return f"{made}; the star is at {ring + gap:.1f}′ now, so put it {abs(gap):.1f}′ {side} it."


def _moves(answer: PoleAnswer) -> str:
    if answer.moves is None:
        return ""
    rows = (f"  {i}. {row}" for i, row in enumerate(step_rows(answer.moves), 1))
    return "\n".join([paragraph(moves_words(answer.moves)), *rows])


class PageStep(TypedDict):
    """One step for the hand on the page: the count of turns, then which bolt and how."""

    turns: str
    step: str


class PageWords(TypedDict):
    """What the page says in the server's words; '' and none where there is nothing to say."""

    no_view: str
    moves: str
    steps: list[PageStep]
    without_view: list[str]
    through_tube: list[str]
    tube: str
    tube_picture: str


def page_words(answer: PoleAnswer) -> PageWords:
    """The sentences of the page that don't change while its clock runs."""
    moves, why = answer.moves, no_view_words(answer)
    return {
        "no_view": why[:1].upper() + why[1:],
        "moves": "" if moves is None else moves_words(moves),
        "steps": []
        if moves is None
        else [{"turns": turns_words(s), "step": bare_step_words(s)} for s in made_steps(moves)],
        "without_view": rough_page_words(answer.rough),
        "through_tube": list(map(capital, tube_steps(answer))),
        "tube": tube_words(answer.through_tube.view),
        "tube_picture": picture_words(answer.through_tube),
    }


def drawing_rows(answer: PoleAnswer) -> list[str]:
    """Short lines beside the whole field of the drawing."""
    view, target, tonight = answer.view, answer.target, answer.tonight
    sense = "clockwise" if view.turn_deg_per_h > 0 else "anticlockwise"
    rows = [
        f"Pole {target.altitude_deg:.2f}° high, due {'north' if target.north else 'south'}",
        f"Altitude scale {answer.setting.setting_deg:.1f}°",
        f"Star {100 * answer.off_centre:.0f} % of the way to the edge",
        f"The view turns {sense}, 15° an hour",
    ]
    rows += [
        f"{guide.name} {guide.altitude_deg:.0f}° high, {compass_point(guide.azimuth_deg)}"
        for guide in view.guides
        if guide.up
    ]
    if tonight.comes_out is not None:
        rows.append(f"{tonight.star} comes out at {clock(tonight.comes_out, answer.zone)}")
    return rows


def axis_words(answer: PoleAnswer) -> list[str]:
    """Altitude of the target, and what the scale must show."""
    target, setting, step_deg = answer.target, answer.setting, answer.scale_step_deg
    side = "north" if target.north else "south"
    if target.refracted:
        pole = (
            f"pole: {target.altitude_deg:.2f}° high as seen, due {side}: latitude "
            f"{target.true_altitude_deg:.2f}° and {target.lift_arcmin:.1f}′ of refraction "
            f"({answer.pressure_hpa:.0f} hPa, {answer.temperature_c:.0f} °C)."
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


def _next_hours(answer: PoleAnswer) -> str:
    cells = [
        f"{clock(datetime.fromisoformat(p.at), answer.zone)}  {dial_hour(p.clock_hour):<21}"
        for p in answer.view.quarters
    ]
    rows = ["    ".join(cells[i : i + 2]).rstrip() for i in range(0, len(cells), 2)]
    sense = "clockwise" if answer.view.turn_deg_per_h > 0 else "anticlockwise"
    return "\n".join([f"Later, on the dial ({sense} in this view)", *(f"  {row}" for row in rows)])


def guide_words(answer: PoleAnswer) -> list[str]:
    """Where the figures stand that show the way, outside and in the picture."""
    rows = [_guide(g, answer.axis_view.kind) for g in answer.view.guides]
    if not answer.target.north:
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
    return f"{guide.name}: {place}{behind}; {where} towards {dial_hour(guide.clock_hour)}."


def first_words(answer: PoleAnswer) -> list[str]:
    """Where the star will stand when it comes out, asked before that."""
    first, tonight, zone = answer.first_place, answer.tonight, answer.zone
    if first is None or answer.no_view is not None or tonight.comes_out is None:
        return []
    return [
        f"it isn't dark yet: when {tonight.star} comes out at {clock(tonight.comes_out, zone)} it "
        f"stands {dial_place(first.clock_hour)} on the dial, "
        f"{first.distance_arcmin:.1f}′ from the middle."
    ]


def tonight_words(answer: PoleAnswer) -> list[str]:
    """When the pole star comes out and whether the skyline lets it be seen."""
    tonight, zone = answer.tonight, answer.zone
    rows = []
    down = f"the Sun {tonight.sun_depression_deg:.0f}° down"
    if tonight.state is StarNight.NEVER_DARK_ENOUGH:
        row = (
            f"{tonight.star} doesn't come out: the Sun is lowest at "
            f"{degrees(tonight.lowest_sun_altitude_deg)} and must be "
            f"{tonight.sun_depression_deg:.0f}° down."
        )
        if tonight.next_night is not None:
            row += f" It comes out again on the evening of {day_words(tonight.next_night)}."
        rows.append(row)
    elif tonight.state is StarNight.DARK_ALL_ALONG:
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
