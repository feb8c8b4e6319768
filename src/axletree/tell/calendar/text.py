"""How is the answer to 'which night?' said in words, and as data?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.year.nights_scored import Calendar, NoSession, ScoredNight, Shown
from axletree.kit.kit import Kit
from axletree.tell.seeing.text import session_end_words, sky_words
from axletree.tell.shared.paragraphs import COLUMNS, listed, paragraph, sections
from axletree.tell.shared.words import clock, duration

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


def assumed_words(calendar: Calendar) -> list[str]:
    """What was taken for granted, and which rows of one's own list were left out."""
    broken = [f"left out of your own list: {row.words}" for row in calendar.broken_rows]
    return [*map(sky_words, calendar.assumed), *broken]


def moon_words(night: ScoredNight, kit: Kit) -> str:
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
    return f"{lit} throughout, up to {night.moon_highest_deg:.0f}° high"


def _minutes_apart(a: Any, b: Any) -> float:
    return float(abs(a.timestamp() - b.timestamp())) / 60.0


def _heights(planets: Sequence[Shown]) -> str:
    bright = [p for p in planets if p.name not in ("Uranus", "Neptune")]
    said = [f"{p.name} {p.highest_deg:.0f}°" for p in bright]
    if not said:
        return ""
    joined = said[0] if len(said) == 1 else ", ".join(said[:-1]) + " and " + said[-1]
    return f"{joined} high"


def _name(one: Shown) -> str:
    return f"{one.name} ({one.common_name})" if one.common_name and len(one.name) < 5 else one.name


def calendar_text(
    calendar: Calendar, picks: Sequence[ScoredNight], kit: Kit, *, every: bool = False,
    apart_days: int = 0, weekdays: str = "",
) -> str:  # fmt: skip
    """The best night, the other good ones, and the nights or months one by one."""
    nights = calendar.nights
    span = f"{day_words(nights[0].date, year=True)} to {day_words(nights[-1].date, year=True)}"
    if len(nights) == 1:
        span = day_words(nights[0].date, year=True)
    count = f"{len(nights)} night{'s' if len(nights) > 1 else ''}"
    on = f" on {weekdays}" if weekdays else ""
    head = paragraph(f"{kit.site.name}, {kit.tube.name}: {count}, {span}")
    if not picks:
        answer = paragraph(f"No night{on} has darkness for stars within your hours.")
        return sections(head, answer, _table(calendar, kit, every), _notes(calendar, kit))
    top = max(picks, key=lambda n: n.score)
    answer = "\n".join(
        [
            f"Best{on}: {day_words(top.date, year=True)}, score {top.score:.0f} of 100",
            paragraph(reason(top, kit), "  "),
        ]
    )
    others = ""
    if len(picks) > 1:
        apart = f", at least {apart_days} days apart" if apart_days else ""
        year = nights[0].date.year != nights[-1].date.year
        rows = [_row(night, kit, year=year) for night in picks]
        others = "\n".join([f"The {len(picks)} best nights{on}{apart}:", *rows])
    return sections(head, answer, others, _table(calendar, kit, every), _notes(calendar, kit))


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
    row = f"{lead}{times}  {moon_words(night, kit).replace(' throughout, up to', ','):<28}"
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
        phases = [
            ", ".join(
                str(p.time.day)
                for p in calendar.phases
                if p.name == name and (p.time.year, p.time.month) == (year, month)
            )
            for name in ("new", "full")
        ]
        rows.append(
            f"  {mine[0].date:%B %Y}".ljust(20)
            + f"{mean:5.0f}{best.score:6.0f}  {on:<10}  {phases[0]:<8}  {phases[1]}".rstrip()
        )
    return "\n".join(row.rstrip() for row in rows)


def _notes(calendar: Calendar, kit: Kit) -> str:
    stops = calendar.wanted_stops
    what = (
        f"The score is what the night's best stops are worth together, of 100 for each of the "
        f"{stops} that {kit.habits.hours:g} hours hold ({calendar.stop_min:.0f} minutes each with "
        f"moving). {calendar.can_show:,} of {calendar.considered:,} objects can show from here; "
        "the weather is not in it."
    )
    return sections(paragraph(what), listed("Assumed:", assumed_words(calendar)))


def calendar_data(calendar: Calendar, picks: Sequence[ScoredNight], kit: Kit) -> dict[str, Any]:
    """Everything as plain data; units in the keys, moments with the site's offset."""
    return {
        "format": "axletree calendar",
        "version": 1,
        "place": {
            "name": kit.site.name,
            "latitude_deg": kit.site.latitude_deg,
            "longitude_deg": kit.site.longitude_deg,
            "time_zone": kit.site.time_zone,
        },
        "kit_name": kit.name,
        "from": calendar.nights[0].date.isoformat(),
        "to": calendar.nights[-1].date.isoformat(),
        "wanted_stops": calendar.wanted_stops,
        "stop_min": round(calendar.stop_min, 2),
        "objects_considered": calendar.considered,
        "objects_that_can_show": calendar.can_show,
        "best_nights": [night.date.isoformat() for night in picks],
        "nights": [_night_data(night, kit) for night in calendar.nights],
        "moon_phases": [
            {"phase": p.name, "at": p.time.replace(microsecond=0).isoformat()}
            for p in calendar.phases
        ],
        "assumed": assumed_words(calendar),
    }


def _night_data(night: ScoredNight, kit: Kit) -> dict[str, Any]:
    def moment(value: Any) -> str | None:
        return None if value is None else value.replace(microsecond=0).isoformat()

    return {
        "date": night.date.isoformat(),
        "score": night.score,
        "begin": moment(night.begin),
        "end": moment(night.end),
        "ended_by": end_words(night),
        "session_h": round(night.session_h, 3),
        "dark_h": round(night.dark_h, 3),
        "moonless_h": round(night.moonless_h, 3),
        "moon_lit_fraction": None if night.moon_lit is None else round(night.moon_lit, 3),
        "moon_highest_deg": (
            None if night.moon_highest_deg is None else round(night.moon_highest_deg, 1)
        ),
        "moon_up": [[moment(a), moment(b)] for a, b in night.moon_up],
        "stops": night.stops,
        "objects_showing": night.showing,
        "planets": [_shown_data(one) for one in night.planets],
        "best": [_shown_data(one) for one in night.best],
        "reason": reason(night, kit),
    }


def _shown_data(one: Shown) -> dict[str, Any]:
    return {
        "name": one.name,
        "common_name": one.common_name,
        "theme": one.theme,
        "highest_deg": round(one.highest_deg, 1),
        "points": round(one.points, 1),
    }
