"""In which sentences is told which night, in the answer, its drawing and the calendar file?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.special.of_kit import is_great
from axletree.evening.year.nights_scored import Calendar, NoSession, ScoredNight, Shown
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.events.moon_phases import SkyDate
from axletree.sky.special.kinds import SpecialNight
from axletree.stages.night.calendar import CalendarAnswer
from axletree.tell.seeing.text import session_end_words, sky_words
from axletree.tell.shared.paragraphs import COLUMNS, listed, paragraph, sections
from axletree.tell.shared.words import clock, duration, one_and_another
from axletree.tell.special.text import (
    SUN_CAUTION,
    special_caution,
    special_short,
    special_words,
)

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
    named = [one for one in night.best if one.theme != "moon and planets"]
    fixed = ", ".join(_name(one) for one in named[:3])
    second = "; ".join(p for p in (seen, f"best: {fixed}" if fixed else "") if p)
    return f"{first}. {second[:1].upper()}{second[1:]}." if second else f"{first}."


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
    said = [f"{p.name} {p.highest_deg:.0f}°" for p in bright]
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
    head = paragraph(f"{kit.site.name}, {kit.tube.name}: {count}, {span}")
    if not picks:
        none = paragraph(f"No night{on} has darkness for stars within your hours.")
        special = _special(answer, every)
        return sections(head, none, special, _table(calendar, kit, every), _notes(answer))
    top = max(picks, key=lambda n: n.score)
    lead = "\n".join(
        [
            f"Best{on}: {day_words(top.date, year=True)}, score {top.score:.0f} of 100",
            paragraph(reason(top, kit), "  "),
        ]
    )
    others = ""
    if len(picks) > 1:
        apart = f", at least {answer.apart_days} days apart" if answer.apart_days else ""
        year = nights[0].date.year != nights[-1].date.year
        rows = [_row(night, kit, year=year) for night in picks]
        others = "\n".join([f"The {len(picks)} best nights{on}{apart}:", *rows])
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
    lead = f"  {short_day(night.date, year=year)}  {night.score:3.0f}  "
    return paragraph(reason(night, kit), lead, " " * len(lead))


def _table(calendar: Calendar, kit: Kit, every: bool) -> str:
    if every or len(calendar.nights) <= FEW_NIGHTS:
        return "\n".join(["Night by night:", *(_short_row(n, kit) for n in calendar.nights)])
    return _months(calendar)


def _short_row(night: ScoredNight, kit: Kit) -> str:
    zone = kit.site.zone
    lead = f"  {short_day(night.date)} {night.score:4.0f}  "
    if night.begin is None or night.end is None:
        return (lead + end_words(night))[:COLUMNS]
    times = f"{clock(night.begin, zone)}-{clock(night.end, zone)}"
    row = f"{lead}{times}  {moon_words(night, kit, brief=True):<28}"
    names = [one.name for one in night.best[:3]]
    while names and len(f"{row}  {', '.join(names)}") > COLUMNS:
        names.pop()
    return f"{row}  {', '.join(names)}".rstrip()


def _months(calendar: Calendar) -> str:
    rows = ["Month by month:      mean  best  on          new Moon  full Moon"]
    months = sorted({(n.date.year, n.date.month) for n in calendar.nights})
    for year, month in months:
        mine = [n for n in calendar.nights if (n.date.year, n.date.month) == (year, month)]
        mean = sum(n.score for n in mine) / len(mine)
        best = max(mine, key=lambda n: (n.score, -n.date.day))
        on = short_day(best.date)[:6] if best.score > 0 else ""
        here = [p for p in calendar.phases if (p.time.year, p.time.month) == (year, month)]
        new = ", ".join(str(p.time.day) for p in here if p.name == "new")
        full = ", ".join(str(p.time.day) for p in here if p.name == "full")
        rows.append(
            f"  {mine[0].date:%B %Y}".ljust(20)
            + f"{mean:5.0f}{best.score:6.0f}  {on:<10}  {new:<8}  {full}".rstrip()
        )
    return "\n".join(row.rstrip() for row in rows)


def _on(weekdays: frozenset[int] | None) -> str:
    if weekdays is None:
        return ""
    return " on " + " and ".join(DAYS[day] + "s" for day in sorted(weekdays))


def _notes(answer: CalendarAnswer) -> str:
    calendar, kit = answer.calendar, answer.kit
    stops = calendar.wanted_stops
    what = (
        f"The score is what the night's best stops are worth together, of 100 for each of the "
        f"{stops} that {kit.habits.hours:g} hours hold ({calendar.stop_min:.0f} minutes each with "
        f"moving). {calendar.can_show:,} of {calendar.considered:,} objects can show from here; "
        "the weather is not in it."
    )
    return sections(paragraph(what), listed("Assumed:", assumed_words(answer)))


@dataclass(frozen=True)
class DrawingWords:
    """What stands on the drawing beside the nights themselves."""

    title: str
    description: str
    heading: str
    place: str
    best: str
    moonlight: str
    foot: str


def drawing_words(answer: CalendarAnswer) -> DrawingWords:
    """All words of the drawing but those of single nights."""
    nights, place = answer.calendar.nights, answer.kit.site.name
    first, last = nights[0].date, nights[-1].date
    span = f"{_brief_day(first)} {first.year} to {_brief_day(last)} {last.year}"
    top = max(answer.best, key=lambda n: n.score, default=None)
    best = "None: there is no darkness for stars in these hours."
    if top is not None:
        best = f"{top.date:%A} {_brief_day(top.date)} {top.date.year}, score {top.score:.0f} of 100"
    caution = f" {SUN_CAUTION}" if any(one.of_the_sun for one in answer.special) else ""
    return DrawingWords(
        title=f"Which night? {place}",
        description=f"Score of every night from {span}.",
        heading="Which night?",
        place=f"{place}, {span}",
        best=best,
        moonlight="moonlight",
        foot=(
            "A tooth is a night, as tall as its score. Brass: the nights to choose. The band under "
            "the rule is thick where moonlight fills the hours of showing. Diamonds: what the sky "
            f"has on that evening.{caution}"
        ),
    )


def night_label(night: ScoredNight) -> str:
    """'Sat 5 Dec, 61' at a chosen night."""
    return f"{night.date:%a} {_brief_day(night.date)}, {night.score:.0f}"


def month_label(day: date, *, year: bool) -> str:
    """'December', or 'December 2026'."""
    return f"{day:%B}" + (f" {day.year}" if year else "")


def phase_label(phase: SkyDate) -> str | None:
    """'new Moon 9'; None for the quarters, which the drawing leaves out."""
    if phase.name == "new":
        return f"new Moon {phase.time.date().day}"
    return f"full Moon {phase.time.date().day}" if phase.name == "full" else None


def special_label(night: SpecialNight) -> str:
    """'27 eclipse of the Moon' beside a diamond; the full words stand in the text."""
    return f"{night.day.day} {special_short(night)}"


def _brief_day(day: date) -> str:
    return f"{day.day} {day:%b}"


def file_name(kit: Kit) -> str:
    """What the calendar file is called in somebody's calendar."""
    return f"Nights for the telescope: {kit.site.name}"


def file_summary(night: ScoredNight) -> str:
    """The heading of a night in the calendar file."""
    return f"Telescope night, score {night.score:.0f} of 100"


def file_description(night: ScoredNight, kit: Kit) -> str:
    """What is said of a night in the calendar file."""
    return f"{reason(night, kit)} The weather is not in the score."


def written_words(file: str, nights: int, special: int) -> str:
    """That the calendar file is written."""
    more = f", {special} special" if special else ""
    return f"Written: {file} ({nights} nights{more})"
