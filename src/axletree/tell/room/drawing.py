"""Where can each tube side follow, and for how long?

Two strips, one a tube side: hour angle along, declination up, as the mount's own circles read.
Following an object is moving to the right along its line. The deeper the brass, the more room;
the figures say it in hours and minutes, so that the tint isn't needed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.room.reach import Reach
from axletree.sky.arrays import Floats, Mask
from axletree.stages.target.room import RoomAnswer
from axletree.tell.room.text import RoomDrawingWords, drawing_words
from axletree.tell.shared.measure import width_of, wrapped
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet
from axletree.tell.shared.words import duration

WIDTH = 1120.0
LEFT, RIGHT = 84.0, 1092.0
STRIP = 330.0
TOP = 118.0
BETWEEN = 88.0

# Least room in hours of each tint, and how deep it is.
STEPS = ((0.0, 0.10), (0.5, 0.22), (1.0, 0.36), (2.0, 0.52), (4.0, 0.72))


@dataclass(frozen=True)
class Mark:
    """An object on the map."""

    name: str
    hour_angle_h: float
    declination_deg: float


def room_drawing(answer: RoomAnswer) -> str:
    """SVG of the room of both sides over the open sky, with the objects that were named."""
    found, words = answer.reach, drawing_words(answer)
    marks = [
        Mark(named.thing.name, named.choice.hour_angle_h, named.choice.declination_deg)
        for named in answer.objects
        if named.choice is not None
    ]
    bottom, top = _declination_span(found)
    sheet = Sheet(WIDTH, TOP + 2 * STRIP + BETWEEN + 110.0, words.title, words.description)
    sheet.text_within((LEFT, 40.0), words.title, RIGHT - LEFT, size=24, weight=600)
    sheet.lines((LEFT, 62.0), wrapped(words.sub, RIGHT - LEFT, size=14), size=14, leading=1.2,
                fill=FAINT)  # fmt: skip
    for i in range(len(words.sides)):
        y0 = TOP + i * (STRIP + BETWEEN)
        sheet.text((LEFT, y0 - 10.0), words.sides[i], size=18, weight=600)
        sheet.text((RIGHT, y0 - 10.0), words.reaches[i], size=15, anchor="end")
        strip = _Strip(y0, bottom, top)
        _tints(sheet, found, i, strip)
        _scales(sheet, strip, words)
        taken = _taken(strip, marks, _weights(i, words))
        _figures(sheet, found.room_h[i], found, strip, taken, words.all_night)
        _level(sheet, strip, i, words)
        for mark in marks:
            _mark(sheet, strip, mark)
    _key(sheet, TOP + 2 * STRIP + BETWEEN + 62.0, words)
    return sheet.svg()


@dataclass(frozen=True)
class _Strip:
    y0: float
    bottom: float
    top: float

    def at(self, hour_angle_h: float, declination_deg: float) -> Point:
        x = LEFT + (hour_angle_h + 12.0) / 24.0 * (RIGHT - LEFT)
        part = (self.top - declination_deg) / (self.top - self.bottom)
        return x, self.y0 + part * STRIP


def _declination_span(found: Reach) -> tuple[float, float]:
    """Declinations that ever come into the open sky, to the next ten degrees."""
    rows = np.flatnonzero(found.open_sky.any(axis=1))
    if not rows.size:
        return -90.0, 90.0
    low = float(np.floor((found.declinations[rows[0]] - 1.0) / 10.0) * 10.0)
    high = float(np.ceil((found.declinations[rows[-1]] + 1.0) / 10.0) * 10.0)
    return max(low, -90.0), min(high, 90.0)


def _tints(sheet: Sheet, found: Reach, i: int, strip: _Strip) -> None:
    """Runs of equal tint as boxes: closed sky nothing, open but out of reach hatched."""
    rooms = found.room_h[i]
    edges = np.array([s[0] for s in STEPS[1:]])
    level = np.where(np.isnan(rooms), -2, np.where(rooms <= 0, -1, np.digitize(rooms, edges)))
    step_h = float(found.hours[1] - found.hours[0])
    step_d = float(found.declinations[1] - found.declinations[0])
    height = strip.at(0, 0)[1] - strip.at(0, step_d)[1]
    for code in range(-1, len(STEPS)):
        # One group a tint, so that boxes that touch don't show their seams.
        sheet.raw(f'<g opacity="{1.0 if code < 0 else STEPS[code][1]}">')
        for j, d in enumerate(found.declinations):
            if not strip.bottom < d < strip.top:
                continue
            y = strip.at(0.0, float(d) + step_d / 2)[1]
            for a, b in _runs(level[j] == code):
                x = max(strip.at(float(found.hours[a]) - step_h / 2, 0.0)[0], LEFT)
                wide = strip.at(float(found.hours[b - 1]) + step_h / 2, 0.0)[0] - x
                if code < 0:
                    middle = y + height / 2
                    sheet.line((x, middle), (x + wide, middle), stroke=WARN, width=0.9)
                else:
                    sheet.box((x, y), wide, height + 0.4, stroke="none", fill=BRASS)
        sheet.raw("</g>")


def _runs(yes: Mask) -> list[tuple[int, int]]:
    """Begins and ends of the runs of True."""
    change = np.flatnonzero(np.diff(np.r_[False, yes, False].astype(np.int8)))
    return [(int(a), int(b)) for a, b in zip(change[::2], change[1::2], strict=True)]


def _scales(sheet: Sheet, strip: _Strip, words: RoomDrawingWords) -> None:
    sheet.box((LEFT, strip.y0), RIGHT - LEFT, STRIP, pen=1.4)
    base = strip.y0 + STRIP
    for tenth in range(-24, 25):
        x = strip.at(tenth / 2, 0)[0]
        size = 10.0 if tenth % 4 == 0 else 5.0
        sheet.line((x, base), (x, base + size))
        sheet.line((x, strip.y0), (x, strip.y0 - size / 2))
        if tenth % 4 == 0:
            hour = tenth // 2
            figure = f"{'−' if hour < 0 else ''}{abs(hour)}h" if hour else "0"
            sheet.text((x, base + 25.0), figure, size=14, anchor="middle")
    for d in range(int(strip.bottom), int(strip.top) + 1, 10):
        y = strip.at(0, d)[1]
        sheet.line((LEFT - (10.0 if d % 30 == 0 else 6.0), y), (LEFT, y))
        sheet.line((RIGHT, y), (RIGHT + 5.0, y))
        if d % 20 == 0 or strip.top - strip.bottom <= 100:
            sign = "−" if d < 0 else "+" if d > 0 else ""
            sheet.text((LEFT - 14.0, y + 5.0), f"{sign}{abs(d)}°", size=14, anchor="end")
    sheet.text((LEFT, base + 42.0), words.before_the_meridian, size=13, fill=FAINT)
    sheet.text((RIGHT, base + 42.0), words.after_it, size=13, anchor="end", fill=FAINT)


def _level(sheet: Sheet, strip: _Strip, i: int, words: RoomDrawingWords) -> None:
    """Where the shaft is level: to one side of it the weights are above the tube."""
    x = strip.at(0.0, 0.0)[0]
    sheet.line((x, strip.y0), (x, strip.y0 + STRIP), dash="6 4", width=1.2)
    up, down = _weights(i, words)
    sheet.text((x - 8.0, strip.y0 + STRIP - 8.0), up, size=13, anchor="end")
    sheet.bring_forward()
    sheet.text((x + 8.0, strip.y0 + STRIP - 8.0), down, size=13)
    sheet.bring_forward()


def _weights(i: int, words: RoomDrawingWords) -> tuple[str, str]:
    """What is said on both sides of the level shaft, east first."""
    return (words.weights_down, words.weights_up) if i else (words.weights_up, words.weights_down)


def _taken(
    strip: _Strip, marks: Sequence[Mark], weights: tuple[str, str]
) -> list[tuple[float, float, float, float]]:
    """Where words stand: left, top, right, bottom."""
    x, low = strip.at(0.0, 0.0)[0], strip.y0 + STRIP
    before, after = (width_of(words, 13) for words in weights)
    boxes = [(x - 12.0 - before, low - 24.0, x + 12.0 + after, low)]
    for mark in marks:
        a, b = strip.at(mark.hour_angle_h, mark.declination_deg)
        wide = width_of(mark.name, 14, 600) + 16.0
        boxes.append((a - 8.0 - wide, b - 22.0, a + 8.0 + wide, b + 8.0))
    return boxes


def _figures(
    sheet: Sheet, room_h: Floats, found: Reach, strip: _Strip,
    taken: Sequence[tuple[float, float, float, float]], all_night: str,
) -> None:  # fmt: skip
    """Room in hours and minutes at every second hour and twentieth degree of declination.

    Left out where other words stand.
    """
    for d in range(-80, 90, 20):
        if not strip.bottom < d < strip.top:
            continue
        j = int(np.abs(found.declinations - d).argmin())
        for h in range(-11, 12, 2):
            k = int(np.abs(found.hours - h).argmin())
            value = float(room_h[j, k])
            if np.isnan(value) or value <= 0:
                continue
            if round(value * 60) == 0:
                continue
            figure = all_night if value > 23.9 else _room_words(value)
            x, y = strip.at(h, d)
            half = width_of(figure, 13) / 2.0 + 4.0
            if any(x - half < c and x + half > a and y - 9.0 < e and y + 8.0 > b
                   for a, b, c, e in taken):  # fmt: skip
                continue
            sheet.box((x - half, y - 9.0), 2.0 * half, 17.0, stroke="none", fill=PAPER,
                      opacity=0.75)  # fmt: skip
            sheet.text((x, y + 5.0), figure, size=13, anchor="middle")


def _room_words(room_h: float) -> str:
    """The room as it is told anywhere, from ten hours on to the full hour below."""
    return duration((math.floor(room_h) if room_h >= 10.0 else room_h) * 3600.0).replace(
        " h 00 min", " h"
    )


def _mark(sheet: Sheet, strip: _Strip, mark: Mark) -> None:
    if not strip.bottom < mark.declination_deg < strip.top:
        return
    x, y = strip.at(mark.hour_angle_h, mark.declination_deg)
    sheet.line((x - 7, y), (x + 7, y), width=1.6)
    sheet.line((x, y - 7), (x, y + 7), width=1.6)
    anchor, off = ("start", 11.0) if x < RIGHT - 140.0 else ("end", -11.0)
    wide = width_of(mark.name, 14, 600) + 6.0
    sheet.box((x + off - 3.0 if off > 0 else x + off + 3.0 - wide, y - 21.0), wide, 19.0,
              stroke="none", fill=PAPER, opacity=0.85)  # fmt: skip
    sheet.text((x + off, y - 7.0), mark.name, size=14, anchor=anchor, weight=600)


def _key(sheet: Sheet, y: float, words: RoomDrawingWords) -> None:
    x = LEFT
    for (_, depth), text in zip(STEPS, words.tints, strict=True):
        sheet.box((x, y - 12.0), 26.0, 16.0, stroke=INK, pen=0.6, fill=BRASS, opacity=depth)
        sheet.text((x + 33.0, y + 1.0), text, size=14)
        x += 148.0
    for k in range(3):
        sheet.line((x, y - 9.0 + 5 * k), (x + 26.0, y - 9.0 + 5 * k), stroke=WARN, width=0.9)
    sheet.text((x + 33.0, y + 1.0), words.out_of_reach, size=14)
    sheet.text((LEFT, y + 26.0), words.figures, size=14, fill=FAINT)
