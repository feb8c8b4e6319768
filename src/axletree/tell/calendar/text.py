"""In which sentences is told which night?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.objects.worth import UNGROUPED_THEME
from axletree.evening.special.of_kit import is_great
from axletree.evening.year.figures import shares_of
from axletree.evening.year.night_stops import Shown
from axletree.evening.year.nights_scored import Calendar, NoSession, ScoredNight
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Audience, audience_of
from axletree.stages.night.calendar import CalendarAnswer
from axletree.tell.seeing.text import session_end_words, sky_words
from axletree.tell.shared.paragraphs import COLUMNS, listed, paragraph, sections
from axletree.tell.shared.words import capital, clock, duration, one_and_another
from axletree.tell.special.text import special_caution, special_title, special_words

AUDIENCES: dict[Audience, str] = {
    "alone": "whoever is out alone",
    "family": "a family",
    "class": "a class",
    "public": "visitors",
}
COLUMNS_MEAN = "score, deep sky, Moon and planets"
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
FEW_NIGHTS = 45
FAINT_MOON = 0.02


def day_words(day: date, *, year: bool = False) -> str:
    """'Saturday 21 February' or 'Saturday 21 February 2026'."""
    return f"{day:%A} {day.day} {day:%B}" + (f" {day.year}" if year else "")


def short_day(day: date, *, year: bool = False) -> str:
    """'Sat 21 Feb' or 'Sat 21 Feb 2026'."""
    return f"{day:%a} {day.day:>2} {day:%b}" + (f" {day.year}" if year else "")


def reason(night: ScoredNight, kit: Kit) -> str:
    """Why the night is worth what it is, in a sentence or two."""
    zone = kit.site.zone
    if night.begin is None or night.end is None:
        return f"No stars to show: {end_words(night)}."
    hours = f"{duration(night.session_h * 3600.0)} from {clock(night.begin, zone)}"
    until = f"to {clock(night.end, zone)}"
    if night.ended_by == SessionEnd.BEDTIME and night.session_h < kit.habits.hours - 0.1:
        until = f"to bedtime at {clock(night.end, zone)}"
    if night.ended_by == SessionEnd.DAWN:
        until = f"to dawn at {clock(night.end, zone)}"
    first = f"{hours} {until}, {moon_words(night, kit)}"
    seen = _heights([*night.planets])
    named = [one for one in night.best if one.theme != UNGROUPED_THEME]
    fixed = ", ".join(f"{_name(one)} at {clock(one.begin, zone)}" for one in named[:3])
    second = "; ".join(p for p in (seen, f"best: {fixed}" if fixed else "") if p)
    told = [*special_of_night(night, kit), first, *([second] if second else [])]
    return " ".join(f"{capital(part)}." for part in told)


def special_of_night(night: ScoredNight, kit: Kit) -> list[str]:
    """What lifts this night above the others, the eclipses of the Sun left to their caution."""
    zone = kit.site.zone
    here = [one for one in night.special if is_great(one) and not one.of_the_sun]
    return [special_title(one, zone) for one in here if one.day == night.date]


def figures_words(night: ScoredNight) -> str:
    """'score 72 of 100 (deep sky 88, Moon and planets 41)'."""
    return (
        f"score {night.score:.0f} of 100 (deep sky {night.deep_sky:.0f}, "
        f"Moon and planets {night.moon_and_planets:.0f})"
    )


def end_words(night: ScoredNight) -> str:
    """What the session ends with, or why there is none."""
    if isinstance(night.ended_by, SessionEnd):
        return session_end_words(night.ended_by)
    return {
        NoSession.DARK_AFTER_HOURS: "darkness comes after your hours",
        NoSession.NEVER_DARK: "it does not get dark",
    }[night.ended_by]


def assumed_words(answer: CalendarAnswer) -> list[str]:
    """What was taken for granted, and which rows of one's own list were left out."""
    broken = [f"left out of your own list: {row.refusal}" for row in answer.broken_rows]
    return [*map(sky_words, answer.calendar.assumed), *broken]


def moon_words(night: ScoredNight, kit: Kit, *, brief: bool = False) -> str:
    """'no Moon', 'Moon 62 % lit until 20:15' and so on."""
    zone = kit.site.zone
    if night.moon_highest_deg is None or not night.moon_up or night.moon_lit is None:
        return "no Moon"
    if night.moon_lit < FAINT_MOON:
        return "new Moon"
    lit = f"Moon {night.moon_lit * 100:.0f} % lit"
    begin, end = night.moon_up[0][0], night.moon_up[-1][1]
    rises, sets = begin != night.begin, _minutes_apart(end, night.end) > 1.0
    if rises and not sets:
        return f"{lit} from {clock(begin, zone)} on"
    if sets and not rises:
        return f"{lit} until {clock(end, zone)}"
    if rises and sets:
        return f"{lit} from {clock(begin, zone)} to {clock(end, zone)}"
    throughout = "," if brief else " throughout, up to"
    return f"{lit}{throughout} {night.moon_highest_deg:.0f}° high"


def _minutes_apart(a: Any, b: Any) -> float:
    return float(abs(a.timestamp() - b.timestamp())) / 60.0


def _heights(planets: Sequence[Shown]) -> str:
    bright = [p for p in planets if p.name not in ("Uranus", "Neptune")]
    said = [f"{p.name} {p.height_deg:.0f}°" for p in bright]
    if not said:
        return ""
    return f"{one_and_another(said)} high"


def _name(one: Shown) -> str:
    return f"{one.name} ({one.common_name})" if one.common_name and len(one.name) < 5 else one.name


def calendar_text(answer: CalendarAnswer, *, every: bool = False) -> str:
    """The best night, the other good ones, and the nights or months one by one."""
    kit, calendar, picks = answer.kit, answer.calendar, answer.best
    nights = calendar.nights
    span = f"{day_words(nights[0].date, year=True)} to {day_words(nights[-1].date, year=True)}"
    if len(nights) == 1:
        span = day_words(nights[0].date, year=True)
    count = f"{len(nights)} night{'s' if len(nights) > 1 else ''}"
    on = _on(answer.weekdays)
    head = paragraph(f"{kit.site.name}, {kit.tube.label}: {count}, {span}")
    if not picks:
        none = paragraph(f"No night{on} has darkness for stars within your hours.")
        special = _special(answer, every)
        return sections(head, none, special, _table(calendar, kit, every), _notes(answer))
    top = max(picks, key=lambda n: n.score)
    lead = "\n".join(
        [
            paragraph(
                f"Best{on}: {day_words(top.date, year=True)}, {figures_words(top)}", "", "  "
            ),
            paragraph(reason(top, kit), "  "),
        ]
    )
    others = ""
    if len(picks) > 1:
        apart = f", at least {answer.apart_days} days apart" if answer.apart_days else ""
        year = nights[0].date.year != nights[-1].date.year
        rows = [_row(night, kit, year=year) for night in picks]
        head_of_rows = f"The {len(picks)} best nights{on}{apart} ({COLUMNS_MEAN}):"
        others = "\n".join([paragraph(head_of_rows), *rows])
    special = _special(answer, every)
    return sections(head, lead, others, special, _table(calendar, kit, every), _notes(answer))


def _special(answer: CalendarAnswer, every: bool) -> str:
    """What the sky has on these nights: of a long range only what people come out for."""
    whole = every or len(answer.calendar.nights) <= FEW_NIGHTS
    told = [night for night in answer.special if whole or is_great(night)]
    if not told:
        return ""
    nights, zone = answer.calendar.nights, answer.kit.site.zone
    year = nights[0].date.year != nights[-1].date.year
    rows = ["Special nights, by the evening's date (eclipses of the Sun by the day's):"]
    for night in told:
        lead = f"  {short_day(night.day, year=year)}  "
        rows.append(paragraph(special_words(night, zone), lead, " " * len(lead)))
        caution = special_caution(night, answer.sun_filters)
        if caution:
            indent = " " * len(lead)
            rows.append(paragraph(f"! {caution}", indent, indent + "  "))
    more = len(answer.special) - len(told)
    if more:
        rows.append(paragraph(f"{more} smaller ones are listed with --every.", "  "))
    return "\n".join(rows)


def _row(night: ScoredNight, kit: Kit, *, year: bool) -> str:
    lead = f"  {short_day(night.date, year=year)} {_figures(night)}  "
    return paragraph(reason(night, kit), lead, " " * len(lead))


def _table(calendar: Calendar, kit: Kit, every: bool) -> str:
    if every or len(calendar.nights) <= FEW_NIGHTS:
        head = f"Night by night ({COLUMNS_MEAN}):"
        return "\n".join([head, *(_short_row(n, kit) for n in calendar.nights)])
    return _months(calendar)


def _short_row(night: ScoredNight, kit: Kit) -> str:
    zone = kit.site.zone
    lead = f"  {short_day(night.date)} {_figures(night)}  "
    if night.begin is None or night.end is None:
        return (lead + end_words(night))[:COLUMNS]
    times = f"{clock(night.begin, zone)}-{clock(night.end, zone)}"
    row = f"{lead}{times}  {moon_words(night, kit, brief=True):<24}"
    names = [one.name for one in night.best[:3]]
    while names and len(f"{row}  {', '.join(names)}") > COLUMNS:
        names.pop()
    return f"{row}  {', '.join(names)}".rstrip()


def _figures(night: ScoredNight) -> str:
    return f"{night.score:4.0f}{night.deep_sky:5.0f}{night.moon_and_planets:5.0f}"


def _months(calendar: Calendar) -> str:
    rows = [
        "Month by month, the best figure of each kind and the day that has it:",
        f"{'':17}{'mean':>5}{'score':>9}{'deep sky':>11}{'planets':>10}{'new Moon':>11}"
        f"{'full Moon':>11}",
    ]
    months = sorted({(n.date.year, n.date.month) for n in calendar.nights})
    for year, month in months:
        mine = [n for n in calendar.nights if (n.date.year, n.date.month) == (year, month)]
        mean = sum(n.score for n in mine) / len(mine)
        tops = (
            _top([(n.score, n.date) for n in mine]),
            _top([(n.deep_sky, n.date) for n in mine]),
            _top([(n.moon_and_planets, n.date) for n in mine]),
        )
        here = [p for p in calendar.phases if (p.time.year, p.time.month) == (year, month)]
        new = ", ".join(str(p.time.day) for p in here if p.name == "new")
        full = ", ".join(str(p.time.day) for p in here if p.name == "full")
        rows.append(
            f"  {mine[0].date:%B %Y}".ljust(17)
            + f"{mean:5.0f}{tops[0]:>9}{tops[1]:>11}{tops[2]:>10}{new:>11}{full:>11}".rstrip()
        )
    return "\n".join(row.rstrip() for row in rows)


def _top(figures: Sequence[tuple[float, date]]) -> str:
    """The best figure and its day of the month: '72 18'."""
    best, day = max(figures, key=lambda one: (one[0], -one[1].day))
    return f"{best:.0f}  {day.day:>2}" if best > 0 else ""


def _on(weekdays: frozenset[int] | None) -> str:
    if weekdays is None:
        return ""
    return " on " + " and ".join(DAYS[day] + "s" for day in sorted(weekdays))


def _notes(answer: CalendarAnswer) -> str:
    calendar, kit = answer.calendar, answer.kit
    what = (
        f"{counted_words(answer)} {calendar.can_show:,} of {calendar.considered:,} objects can "
        f"show from here, in {calendar.wanted_stops} stops of {calendar.stop_min:.0f} minutes each "
        f"with moving, that {kit.habits.hours:g} hours hold; the weather is not in it."
    )
    return sections(paragraph(what), listed("Assumed:", assumed_words(answer)))


def counted_words(answer: CalendarAnswer) -> str:
    """What the three figures count, and how they are weighed for whom."""
    kit = answer.kit
    shares = shares_of(kit)
    parts = [
        f"{100 * share:.0f} % {words}"
        for share, words in (
            (shares.deep_sky, "deep sky"),
            (shares.moon_and_planets, "Moon and planets"),
            (shares.stops, "the best stops together"),
        )
        if share > 0.0
    ]
    return (
        "100 is the best night of your own year. Every stop has its slot in time and the sky of "
        "that slot: 'deep sky' is what Moon and twilight leave of nebulae, galaxies and clusters, "
        "'Moon and planets' how those stand and look. The score weighs them for "
        f"{AUDIENCES[audience_of(kit.habits)]}: {one_and_another(parts)}; what the sky has on a "
        "night lifts it."
    )


def written_words(file: str, nights: int, special: int) -> str:
    """That the calendar file is written."""
    more = f", {special} special" if special else ""
    return f"Written: {file} ({nights} nights{more})"
