"""Which leg, how much: the tripod from above, with millimetres at each foot."""

from __future__ import annotations

import math

from axletree.ground.level.legs import LegChanges
from axletree.stages.set_up.level import LevelAnswer
from axletree.tell.level.text import LevelDrawingWords, drawing_words, leg_words
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, Point, Sheet

WIDTH, HEIGHT = 880.0, 640.0
CENTRE: Point = (440.0, 330.0)
FOOT = 205.0
TOP = 62.0
VIAL = 34.0


def level_drawing(answer: LevelAnswer) -> str:
    """SVG of the legs seen from above, the pole's direction upwards on the sheet."""
    words = drawing_words(answer)
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description)
    _pole_arrow(sheet, words)
    for number in range(1, len(answer.changes.along_leg_mm) + 1):
        _leg(sheet, answer, number)
    sheet.circle(CENTRE, TOP, width=2.0, fill=PAPER)
    _bubble(sheet, answer.changes, words)
    _foot_line(sheet, words)
    return sheet.svg()


def _at(direction_deg: float, radius: float) -> Point:
    angle = math.radians(direction_deg)
    return CENTRE[0] + radius * math.sin(angle), CENTRE[1] - radius * math.cos(angle)


def _pole_arrow(sheet: Sheet, words: LevelDrawingWords) -> None:
    top = (CENTRE[0], CENTRE[1] - FOOT - 92.0)
    sheet.line((top[0], top[1] + 34.0), top, width=1.5)
    sheet.path([(top[0] - 6, top[1] + 12), top, (top[0] + 6, top[1] + 12)], fill=INK, closed=True)
    sheet.text((top[0] + 14, top[1] + 14), words.to_the_pole, size=15)


def _leg(sheet: Sheet, answer: LevelAnswer, number: int) -> None:
    mm = answer.changes.along_leg_mm[number - 1]
    direction = answer.tripod.leg_directions_deg[number - 1]
    moved = abs(mm) >= max(0.5, 0.02 * answer.longest_change_mm)
    pen = BRASS if moved else INK
    foot, hip = _at(direction, FOOT), _at(direction, TOP - 6.0)
    across = math.radians(direction + 90.0)
    dx, dy = math.sin(across), -math.cos(across)
    sheet.path(
        [
            (hip[0] - 9 * dx, hip[1] - 9 * dy), (hip[0] + 9 * dx, hip[1] + 9 * dy),
            (foot[0] + 5 * dx, foot[1] + 5 * dy), (foot[0] - 5 * dx, foot[1] - 5 * dy),
        ],
        stroke=pen, width=2.0, fill=PAPER, closed=True,
    )  # fmt: skip
    for part in range(1, 6):  # ticks, as on a sliding leg
        x, y = _at(direction, TOP + (FOOT - TOP) * part / 6.0)
        sheet.line((x - 4 * dx, y - 4 * dy), (x + 4 * dx, y + 4 * dy), stroke=pen, width=0.8)
    sheet.circle(foot, 7.0, stroke=pen, width=2.0, fill=pen if moved else PAPER)
    side = math.sin(math.radians(direction))
    anchor = "start" if side > 0.3 else "end" if side < -0.3 else "middle"
    shift = 16.0 if side > 0.3 else -16.0 if side < -0.3 else 0.0
    low = math.cos(math.radians(direction)) < 0.3
    at = (foot[0] + shift, foot[1] + (10.0 if low else -18.0))
    figure, place = leg_words(answer, number, moved=moved)
    if not low:
        at = (foot[0] + 20.0, foot[1] - 14.0)
        anchor = "start"
    sheet.text(at, figure, size=30, weight=600, anchor=anchor, fill=pen)
    sheet.text((at[0], at[1] + 20), place, size=14, anchor=anchor)


def _bubble(sheet: Sheet, changes: LegChanges, words: LevelDrawingWords) -> None:
    """The round vial with its bubble, which goes to the high side."""
    tilt = changes.tilt
    sheet.circle(CENTRE, VIAL, width=1.5)
    for ring in (12.0, 22.0):
        sheet.circle(CENTRE, ring, stroke=FAINT, width=0.8)
    shown = min(tilt.tilt_deg / 1.5, 1.0) * (VIAL - 9.0)
    at = _at(tilt.high_side_deg, shown)
    sheet.circle(at, 8.0, stroke=INK, width=1.5, fill=PAPER)
    if tilt.tilt_deg > 0.0:
        tip, tail = _at(tilt.high_side_deg, TOP + 34.0), _at(tilt.high_side_deg, TOP + 8.0)
        sheet.line(tail, tip, width=1.2, dash="3 3")
        beyond = _at(tilt.high_side_deg, TOP + 50.0)
        sheet.note((beyond[0], beyond[1] + 4), words.high_side, size=13, anchor="middle")
        sheet.bring_forward()


def _foot_line(sheet: Sheet, words: LevelDrawingWords) -> None:
    sheet.text((40, 44), words.leans, size=20, weight=600)
    sheet.text((40, 66), words.reading, size=14)
    sheet.lines((40, HEIGHT - 44), words.foot, size=14)
