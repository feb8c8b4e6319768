"""Which nights are worth it? A rule for each stretch of the year, with a tooth for every night.

The tooth is as tall as the night's score; under the rule a band tells how much moonlight falls
into the hours of showing. The named nights are brass. Under the phases, a diamond at each night
with something great in the sky, and what it is where there is room.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from axletree.evening.special.of_kit import is_great
from axletree.evening.year.nights_scored import ScoredNight
from axletree.sky.events.moon_phases import SkyDate
from axletree.sky.special.kinds import MOON_ECLIPSES, SpecialNight
from axletree.stages.night.calendar import CalendarAnswer
from axletree.tell.calendar.text import (
    drawing_words,
    end_words,
    month_label,
    night_label,
    phase_label,
    special_label,
)
from axletree.tell.shared.measure import width_of, wrapped
from axletree.tell.shared.sheet import BRASS, FAINT, INK, Sheet

WIDTH, LEFT, RIGHT = 1120.0, 74.0, 24.0
HEAD, ROW, TOOTH, BAND = 92.0, 264.0, 96.0, 16.0
DIAMOND, LABEL_LINE = 4.2, 15.0
PER_ROW, WIDEST = 92, 48.0


def calendar_view_svg(answer: CalendarAnswer) -> str:
    """The drawing as SVG text; at most one rule for each 92 nights."""
    nights, words = answer.calendar.nights, drawing_words(answer)
    rows = _rows(nights)
    foot = wrapped(words.foot, WIDTH - LEFT - RIGHT, size=13)
    height = HEAD + ROW * len(rows) + 26.0 + 17.0 * len(foot)
    sheet = Sheet(WIDTH, height, words.title, words.description)
    sheet.text((LEFT, 38), words.heading, size=26, weight=600)
    sheet.text_within((WIDTH - RIGHT, 38), words.place, 780, size=14, anchor="end", fill=FAINT)
    if answer.best:
        sheet.text((LEFT, 66), words.best, size=17, fill=BRASS, weight=600)
    else:
        sheet.text((LEFT, 66), words.best, size=17)
    step = min((WIDTH - LEFT - RIGHT) / max(len(row) for row in rows), WIDEST)
    named = {night.date for night in answer.best}
    for k, row in enumerate(rows):
        top = HEAD + ROW * k
        _rule(sheet, row, top, step, named, answer.calendar.phases, words.moonlight)
        _special(sheet, row, answer.special, top + 30.0 + TOOTH + 106.0, step)
    sheet.lines((LEFT, height - 20 - 17 * (len(foot) - 1)), foot, size=13, fill=FAINT)
    return sheet.svg()


def _rows(nights: Sequence[ScoredNight]) -> list[list[ScoredNight]]:
    """Whole months a row, where there is more than one row."""
    if len(nights) <= PER_ROW:
        return [list(nights)]
    rows: list[list[ScoredNight]] = []
    months: list[list[ScoredNight]] = []
    for night in nights:
        if not months or months[-1][-1].date.month != night.date.month:
            months.append([])
        months[-1].append(night)
    for month in months:
        if rows and len(rows[-1]) + len(month) <= PER_ROW:
            rows[-1].extend(month)
        else:
            rows.append(list(month))
    return rows


def _rule(
    sheet: Sheet, row: Sequence[ScoredNight], top: float, step: float, named: set[date],
    phases: Sequence[SkyDate], moonlight: str,
) -> None:  # fmt: skip
    base = top + 30.0 + TOOTH
    end = LEFT + step * len(row)
    sheet.line((LEFT, base), (end, base), width=1.6)
    for value in (0, 25, 50, 75, 100):
        y = base - TOOTH * value / 100.0
        sheet.line((LEFT - (10 if value % 50 == 0 else 6), y), (LEFT, y), width=1.0)
        if value % 50 == 0:
            sheet.text((LEFT - 14, y + 4), str(value), size=12, anchor="end")
    sheet.line((LEFT, base - TOOTH), (LEFT, base), width=1.0)
    labels = _spread([night for night in row if night.date in named], row, step)
    for k, night in enumerate(row):
        x = LEFT + step * (k + 0.5)
        y = base - TOOTH * night.score / 100.0
        chosen = night.date in named
        wide = step * (0.72 if chosen else 0.42)
        if night.score > 0:
            sheet.line((x, base), (x, y), stroke=BRASS if chosen else INK, width=wide)
        if night.date in labels:
            _pointer(sheet, (x, y), labels[night.date], top, night)
        _tick(sheet, night, x, base, step, first=k == 0)
    _moonlight(sheet, row, base + 50.0, step)
    _never_dark(sheet, row, base, step)
    sheet.text((LEFT - 8, base + 54.0), moonlight, size=12, anchor="end", fill=FAINT)
    _phases(sheet, row, phases, base + 82.0, step)


def _never_dark(sheet: Sheet, row: Sequence[ScoredNight], base: float, step: float) -> None:
    """Words where nights are worth nothing for so long that they fit."""
    begin = 0
    for k in range(len(row) + 1):
        if k < len(row) and row[k].score <= 0.0:
            continue
        if step * (k - begin) > 120.0:
            x = LEFT + step * (begin + k) / 2
            sheet.text((x, base - 12), end_words(row[begin]), size=13, anchor="middle", fill=FAINT)
        begin = k + 1


def _special(
    sheet: Sheet, row: Sequence[ScoredNight], special: Sequence[SpecialNight], y: float, step: float
) -> None:
    """Diamonds; where two labels would touch, the one that is ranked less is left out."""
    start, last = row[0].date, row[-1].date
    here = [s for s in special if is_great(s) and start <= s.day <= last]
    ranked = sorted(here, key=lambda s: (not s.of_the_sun, s.kind not in MOON_ECLIPSES, s.day))
    places = {s.day: LEFT + step * ((s.day - start).days + 0.5) for s in here}
    d = DIAMOND
    # Two lines for the labels: beside the diamonds, and under them where that is full.
    taken = [[(x - d, x + d) for x in places.values()], []]
    named: set[date] = set()
    for night in ranked:
        x, label = places[night.day], special_label(night)
        points = [(x, y - 4 - d), (x + d, y - 4), (x, y - 4 + d), (x - d, y - 4)]
        sheet.path(points, fill=INK, stroke=INK, width=0.4, closed=True)
        wide = width_of(label, 12) + 6.0
        ways = [(x + d + 4, 0), (x - d - 4 - wide, 0), (x - d, 1), (x + d - wide, 1)]
        for begin, level in ways:
            free = all(begin + wide < a or b < begin for a, b in taken[level])
            if free and begin >= LEFT and begin + wide <= WIDTH and night.day not in named:
                taken[level].append((begin, begin + wide))
                named.add(night.day)
                sheet.text((begin, y + LABEL_LINE * level), label, size=12)
                break


def _spread(
    chosen: Sequence[ScoredNight], row: Sequence[ScoredNight], step: float
) -> dict[date, float]:
    """Places for the labels of the chosen nights, moved apart to the sides where they'd touch.

    Where there are more than fit side by side, the best are named.
    """
    least = max((width_of(night_label(n), 12, 600) for n in chosen), default=0.0) + 6.0
    most = int((WIDTH - RIGHT - LEFT + 8.0) / least)
    best = sorted(chosen, key=lambda n: -n.score)[:most]
    chosen = [n for n in chosen if n in best]
    start = row[0].date
    wanted = [LEFT + step * ((n.date - start).days + 0.5) for n in chosen]
    placed: list[float] = []
    for x in wanted:
        placed.append(max(x, placed[-1] + least) if placed else max(x, LEFT + 40.0))
    limit = WIDTH - RIGHT - 40.0
    for k in range(len(placed) - 1, -1, -1):
        placed[k] = min(placed[k], limit)
        limit = placed[k] - least
    return {night.date: x for night, x in zip(chosen, placed, strict=True)}


def _pointer(
    sheet: Sheet, tip: tuple[float, float], label_x: float, top: float, night: ScoredNight
) -> None:
    x, y = tip
    sheet.line((x, y - 3), (label_x, top + 18), stroke=BRASS, width=0.9)
    sheet.text(
        (label_x, top + 12), night_label(night), size=12, anchor="middle", fill=BRASS, weight=600,
    )  # fmt: skip


def _tick(
    sheet: Sheet, night: ScoredNight, x: float, base: float, step: float, *, first: bool
) -> None:
    """Short ticks for nights, longer on Mondays, the longest with its name where a month begins."""
    edge = x - step / 2
    day = night.date
    if day.day == 1 or first:
        sheet.line((edge, base), (edge, base + 34), width=1.2)
        sheet.text((edge + 5, base + 35), month_label(day, year=first), size=13)
    elif day.weekday() == 0:
        sheet.line((edge, base), (edge, base + 9), width=0.9)
        if day.day > 1:
            sheet.text((edge, base + 20), str(day.day), size=11, anchor="middle", fill=FAINT)
    else:
        sheet.line((edge, base), (edge, base + 5), width=0.6)


def _moonlight(sheet: Sheet, row: Sequence[ScoredNight], middle: float, step: float) -> None:
    """A band as thick as the share of the hours that moonlight fills, times the lit fraction."""
    upper: list[tuple[float, float]] = []
    for k, night in enumerate([*row, None]):
        share = _moonlit(night) if night is not None else 0.0
        if share > 0.01:
            x, half = LEFT + step * k, BAND / 2 * share
            upper += [(x, middle - half), (x + step, middle - half)]
        elif upper:
            lower = [(x, 2 * middle - y) for x, y in reversed(upper)]
            sheet.path([*upper, *lower], fill=INK, stroke=INK, width=0.4, closed=True)
            upper = []


def _moonlit(night: ScoredNight) -> float:
    if night.moon_lit is None or night.session_h <= 0.0:
        return 0.0
    return night.moon_lit * (1.0 - min(night.moonless_h / night.session_h, 1.0))


def _phases(
    sheet: Sheet, row: Sequence[ScoredNight], phases: Sequence[SkyDate], y: float, step: float
) -> None:
    start, last = row[0].date, row[-1].date
    for phase in phases:
        day = phase.time.date()
        label = phase_label(phase)
        if label is None or not start <= day <= last:
            continue
        x = LEFT + step * ((day - start).days + 0.5)
        sheet.line((x, y - 22), (x, y - 12), width=0.8, stroke=FAINT)
        anchor = "end" if x > WIDTH - RIGHT - 60 else "start" if x < LEFT + 40 else "middle"
        sheet.text((x, y), label, size=12, anchor=anchor, fill=FAINT)
