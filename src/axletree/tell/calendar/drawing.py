"""Which nights are worth it? A rule for each stretch of the year, with a tooth for every night.

The tooth is as tall as the night's score; the named nights are brass. Under the rule stand smaller
teeth for the deep sky and for Moon and planets, then each night's hours of showing, dusk on top,
as a band, the Moon's filled in. Under the phases, a diamond at each night with something great in
the sky, and what it is where there is room.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from axletree.evening.special.of_kit import is_great
from axletree.evening.year.nights_scored import ScoredNight
from axletree.sky.events.moon_phases import SkyDate
from axletree.sky.special.kinds import MOON_ECLIPSES, SpecialNight
from axletree.stages.night.calendar import CalendarAnswer
from axletree.tell.calendar.drawing_text import (
    DrawingWords,
    drawing_words,
    month_label,
    night_label,
    phase_label,
    special_label,
)
from axletree.tell.calendar.text import end_words
from axletree.tell.shared.measure import width_of, wrapped
from axletree.tell.shared.sheet import BRASS, FAINT, INK, Point, Sheet

WIDTH, LEFT, RIGHT = 1120.0, 74.0, 24.0
HEAD, ROW, TOOTH = 92.0, 364.0, 96.0
# Below the rule: where the smaller teeth stand and how tall they are, where the hours begin and how
# much room they have, where the phases and the diamonds stand.
DEEP, BODIES, SMALL_TOOTH, HOURS, HOURS_TALL, PHASES, SPECIAL = 70, 102, 24, 112, 40, 184, 206
DIAMOND, LABEL_LINE = 4.2, 15.0
PER_ROW, WIDEST = 92, 48.0
# How dark the Moon's hours are: of a thin one, and of the full one. Neighbours lie over one another
# by a hair, so that no light shows between them.
MOON_LEAST, MOON_FULL, _TOUCHING = 0.12, 0.75, 1.02


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
    longest_h = max(0.1, *(night.session_h for night in nights))
    for k, row in enumerate(rows):
        top = HEAD + ROW * k
        _rule(sheet, row, top, step, named)
        base = top + 30.0 + TOOTH
        _figures(sheet, row, base, step, words)
        _hours(sheet, row, base + HOURS, HOURS_TALL / longest_h, step)
        sheet.text((LEFT - 8, base + HOURS + 9), words.moon[0], size=11, anchor="end", fill=FAINT)
        sheet.text(
            (LEFT - 8, base + HOURS + HOURS_TALL), words.moon[1], size=11, anchor="end", fill=FAINT
        )
        _phases(sheet, row, answer.calendar.phases, base + PHASES, step)
        _special(sheet, row, answer.special, base + SPECIAL, step)
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
    sheet: Sheet, row: Sequence[ScoredNight], top: float, step: float, named: set[date]
) -> None:
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
    _never_dark(sheet, row, base, step)


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
    ranked = sorted(here, key=lambda s: (rank_of(s), s.day))
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


def rank_of(night: SpecialNight) -> int:
    """Who is named first where two have no room: the Sun's eclipses 0, the Moon's 1, others 2."""
    return 0 if night.of_the_sun else 1 if night.kind in MOON_ECLIPSES else 2


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


def _figures(
    sheet: Sheet, row: Sequence[ScoredNight], base: float, step: float, words: DrawingWords
) -> None:
    """Small teeth for the deep sky, and for Moon and planets, each on a thin rule."""
    end = LEFT + step * len(row)
    for under, label, values in (
        (DEEP, words.deep_sky, [n.deep_sky for n in row]),
        (BODIES, words.bodies, [n.moon_and_planets for n in row]),
    ):
        y = base + under
        sheet.line((LEFT, y), (end, y), width=0.6)
        sheet.text((LEFT - 8, y - 4), label, size=12, anchor="end", fill=FAINT)
        teeth = [
            ((x, y), (x, y - SMALL_TOOTH * value / 100.0))
            for x, value in ((LEFT + step * (k + 0.5), v) for k, v in enumerate(values))
            if value >= 1.0
        ]
        sheet.strokes(teeth, width=step * 0.42)


def _hours(
    sheet: Sheet, row: Sequence[ScoredNight], top: float, per_hour: float, step: float
) -> None:
    """The hours of showing as a band from dusk down, without a gap from night to night; in it the
    Moon's, the stronger the more of it is lit."""
    edges: list[tuple[Point, Point]] = []
    moon: dict[float, list[tuple[Point, Point]]] = {}
    for k, night in enumerate(row):
        if night.begin is None:
            continue
        x, end = LEFT + step * (k + 0.5), top + per_hour * night.session_h
        edges += [((x - step / 2, y), (x + step / 2, y)) for y in (top, end)]
        dark = round(MOON_LEAST + (MOON_FULL - MOON_LEAST) * (night.moon_lit or 0.0), 1)
        for rises, sets in night.moon_up:
            begin, end = (
                top + per_hour * (moment.timestamp() - night.begin.timestamp()) / 3600.0
                for moment in (rises, sets)
            )
            moon.setdefault(dark, []).append(((x, begin), (x, end)))
    for dark, bars in moon.items():
        sheet.strokes(bars, width=step * _TOUCHING, opacity=dark)
    sheet.strokes(edges, stroke=FAINT, width=0.8)


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
