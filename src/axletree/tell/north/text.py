"""In which sentences is the way to true north told, on the screen, the drawing and the page?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from axletree.ground.north.method import (
    ClosedMethod,
    NorthMethod,
)
from axletree.kit.frozen import dataclass
from axletree.stages.set_up.north import NorthAnswer
from axletree.tell.north.cautions_text import (
    assumed_words,
    caution_words,
    closed_name,
    closed_words,
    compass_words,
    near_enough_words,
)
from axletree.tell.north.method_text import (
    Kind,
    how_to,
    method_name,
    plus_minus,
    pole_word,
    rank_words,
)
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import (
    clock,
    day_and_clock,
)


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


def _place(answer: NorthAnswer) -> str:
    return f"{answer.site_name}, {day_and_clock(answer.at, answer.zone)}"


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
    day = "" if days == 0 else "tomorrow " if days == 1 else f"{local.day} {local:%B} "
    return day + text


def _closed_words(item: ClosedMethod, answer: NorthAnswer) -> str:
    until = f" until {_when(item.opens, answer)}" if item.opens else ""
    return f"{closed_name(item)}: {closed_words(item)}{until}."


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
