"""Which way is the pole: the ground from above, with every line that leads to it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from axletree.ground.north.method import NorthMethod, NorthMethodKind
from axletree.stages.set_up.north import NorthAnswer
from axletree.tell.north.method_text import plus_minus
from axletree.tell.north.text import NorthDrawingWords, drawing_words, drawn_method_words
from axletree.tell.shared.measure import wrapped
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet

WIDTH, HEIGHT = 1100.0, 770.0
CENTRE: Point = (325.0, 410.0)
RING = 225.0
MOST_SHOWN = 9


def north_view(answer: NorthAnswer) -> str:
    """SVG: a ring of true azimuths, the pole's direction in brass, each method's numbered line."""
    words = drawing_words(answer)
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description)
    sheet.text((40, 42), words.head, size=26, weight=600)
    sheet.text_within((40, 64), words.place, 560, size=14)
    _ring(sheet)
    _needle(sheet, answer, words)
    _pole_line(sheet, answer.pole_azimuth_deg)
    shown = answer.usable[:MOST_SHOWN]
    taken: list[Point] = []
    for number, method in enumerate(shown, start=1):
        _line(sheet, number, method, taken)
    _points(sheet, words)
    _list(sheet, answer, shown, words)
    return sheet.svg()


def _at(azimuth_deg: float, radius: float) -> Point:
    angle = math.radians(azimuth_deg)
    return CENTRE[0] + radius * math.sin(angle), CENTRE[1] - radius * math.cos(angle)


def _ring(sheet: Sheet) -> None:
    sheet.circle(CENTRE, RING, width=1.6)
    sheet.circle(CENTRE, RING - 16, stroke=FAINT, width=0.8)
    for azimuth in range(0, 360, 2):
        deep = 16.0 if azimuth % 30 == 0 else 10.0 if azimuth % 10 == 0 else 5.0
        sheet.line(_at(azimuth, RING), _at(azimuth, RING - deep), width=0.9)
    for azimuth in range(0, 360, 30):
        if azimuth % 90:
            x, y = _at(azimuth, RING - 28)
            sheet.text((x, y + 4), str(azimuth), size=12, anchor="middle", fill=FAINT)
            sheet.bring_forward()


def _points(sheet: Sheet, words: NorthDrawingWords) -> None:
    """The four words."""
    for azimuth, word in zip((0, 90, 180, 270), words.points, strict=True):
        x, y = _at(azimuth, RING - 36)
        sheet.text((x, y + 5), word, size=15, anchor="middle", weight=600)
        sheet.bring_forward()


def _pole_line(sheet: Sheet, pole_azimuth_deg: float) -> None:
    tip = _at(pole_azimuth_deg, RING - 52)
    sheet.line(CENTRE, tip, stroke=BRASS, width=6.0)
    # An axle seen from above.
    sheet.circle(CENTRE, 10.0, stroke=BRASS, width=2.0, fill=PAPER)
    sheet.circle(CENTRE, 3.0, stroke=BRASS, fill=BRASS)


def _needle(sheet: Sheet, answer: NorthAnswer, words: NorthDrawingWords) -> None:
    """Where a compass needle points, with its uncertainty as a wedge (two standard deviations)."""
    points = answer.field.declination_deg
    radius = 0.62 * RING
    spread = min(2.0 * answer.compass_sigma_deg, 60.0)
    arc = [_at(points + spread * k / 10.0, radius) for k in range(-10, 11)]
    sheet.path([CENTRE, *arc], stroke=FAINT, width=0.8, fill=FAINT, closed=True, opacity=0.35)
    sheet.line(_at(points + 180.0, radius * 0.55), _at(points, radius), width=1.4, dash="6 3")
    x, y = _at(points + (14.0 if points >= 0.0 else -14.0), radius * 0.72)
    anchor = "start" if points >= 0.0 else "end"
    sheet.note((x, y), words.needle, size=13, anchor=anchor)
    sheet.bring_forward()


def _line(sheet: Sheet, number: int, method: NorthMethod, taken: list[Point]) -> None:
    """A short line at the ring in the direction of a sight or shadow, with its number."""
    if method.kind is NorthMethodKind.COMPASS:
        return
    azimuth = method.line_deg
    dash = "" if method.now else "3 4"
    sheet.line(_at(azimuth, 26.0), _at(azimuth, RING + 10), width=1.2 if method.now else 0.9,
               dash=dash, opacity=1.0 if method.now else 0.7)  # fmt: skip
    # Numbers step outwards so that they don't cover each other.
    radius = RING + 24.0
    while any(math.dist(_at(azimuth, radius), other) < 22.0 for other in taken):
        radius += 11.0
    at = _at(azimuth, radius)
    taken.append(at)
    sheet.circle(at, 10.0, width=1.0, fill=PAPER)
    sheet.text((at[0], at[1] + 5), str(number), size=14, anchor="middle", weight=600)


def _list(
    sheet: Sheet, answer: NorthAnswer, shown: Sequence[NorthMethod], words: NorthDrawingWords
) -> None:
    x, y = 640.0, 60.0
    sheet.text((x, y), words.expected_error, size=13, fill=FAINT)
    y += 12
    for number, method in enumerate(shown, start=1):
        y += 30
        sheet.text((x, y), str(number), size=16, weight=600)
        error = plus_minus(method.sigma_deg)
        sheet.text((x + 96, y), error, size=20, anchor="end", weight=600)
        name, line = drawn_method_words(method, answer)
        sheet.text_within((x + 110, y), name, WIDTH - x - 124, size=15)
        y += 17
        sheet.text_within((x + 110, y), line, WIDTH - x - 124, size=13)
    y += 34
    sheet.text((x, y), words.compass, size=13, fill=INK)
    for caution in words.cautions:
        for row in wrapped(caution, WIDTH - x - 20.0, size=13):
            y += 17
            sheet.text((x, y), row, size=13, fill=WARN)
