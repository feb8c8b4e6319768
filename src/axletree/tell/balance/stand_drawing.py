"""How firmly does the rig stand? The feet from above, the centre of mass, and the worst push."""

from __future__ import annotations

import math

import numpy as np

from axletree.mount.steady.support import edges, margins_m
from axletree.mount.steady.tipping import Tipping, slope_of
from axletree.sky.arrays import Floats
from axletree.stages.set_up.balance import BalanceAnswer, BalanceCaution
from axletree.tell.balance.drawing_text import StandDrawingWords, stand_drawing_words
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet

WIDTH, HEIGHT = 1050.0, 700.0
RIGHT = 1010.0
MIDDLE: Point = (330.0, 368.0)
REACH = 222.0
BAR_M = {"metric": 0.5, "us": 0.6096}


def _nearest(feet: Floats, path: Floats) -> tuple[Point, Point]:
    """The centre of mass with the least margin, and the point of the edge that it is near."""
    margin = margins_m(feet, path)
    pose, edge = np.unravel_index(int(np.argmin(margin)), margin.shape)
    start, along = edges(feet)
    centre = path[pose, :2]
    level = along[edge, :2]
    share = float((centre - start[edge, :2]) @ level / (level @ level))
    foot = start[edge, :2] + share * level
    return (float(centre[0]), float(centre[1])), (float(foot[0]), float(foot[1]))


def stand_drawing(answer: BalanceAnswer) -> str:
    """The drawing, as SVG text. North is up, east to the right: seen from above."""
    now, units, words = answer.standing, answer.kit.habits.units, stand_drawing_words(answer)
    tripod = answer.kit.mount.tripod
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description)
    feet = now.feet_m
    per_m = REACH / float(np.max(np.hypot(feet[:, 0], feet[:, 1])))

    def at(x_m: float, y_m: float) -> Point:
        return MIDDLE[0] + x_m * per_m, MIDDLE[1] - y_m * per_m

    sheet.text((50, 44), words.head, size=24, weight=600)
    sheet.text_within((RIGHT, 44), answer.kit.name, 560, size=15, anchor="end", fill=FAINT)
    _north(sheet, words)
    sheet.path([at(x, y) for x, y, _ in feet], closed=True, width=1.6)
    for x, y, _ in feet:
        sheet.line(at(0, 0), at(x, y), stroke=FAINT, width=5)
        sheet.circle(at(x, y), 8, fill=INK)
    sheet.circle(at(0, 0), tripod.tray_radius_mm / 1000 * per_m, fill=PAPER, stroke=FAINT)
    sheet.circle(at(0, 0), 2.5, fill=FAINT, stroke=FAINT)
    for x, y, _ in now.centre_path_m:
        sheet.circle(at(float(x), float(y)), 1.4, fill=BRASS, stroke=BRASS, width=0.5)
    centre, edge = _nearest(feet, now.centre_path_m)
    sheet.line(at(*centre), at(*edge), width=1.6, stroke=BRASS)
    sheet.circle(at(*centre), 6, width=1.6)
    near = at(*edge)
    out = (near[0] - at(*centre)[0], near[1] - at(*centre)[1])
    size = math.hypot(*out) or 1.0
    # Upwards along the edge, out of the way of the push, which often leaves over the same edge.
    up = (out[1], -out[0]) if out[0] > 0 else (-out[1], out[0])
    label = (
        near[0] + (out[0] * 16 + up[0] * 40) / size,
        near[1] + (out[1] * 16 + up[1] * 40) / size + 7,
    )
    anchor = "start" if out[0] > 0.3 * size else "end" if out[0] < -0.3 * size else "middle"
    sheet.text(label, words.margin, size=22, anchor=anchor, weight=600)
    _push(sheet, now, words)
    _slope(sheet, answer, words)
    _column(sheet, answer, words)
    _bar(sheet, BAR_M[units] * per_m, words)
    sheet.text((50, HEIGHT - 30), words.foot, size=14)
    return sheet.svg()


def _north(sheet: Sheet, words: StandDrawingWords) -> None:
    sheet.line((80, 160), (80, 100), width=1.2)
    sheet.path([(80, 92), (75, 106), (85, 106)], closed=True, fill=INK)
    sheet.text((80, 180), words.north, size=14, anchor="middle")


def _bar(sheet: Sheet, long: float, words: StandDrawingWords) -> None:
    left, y = MIDDLE[0] - long / 2, HEIGHT - 70
    sheet.line((left, y), (left + long, y), width=1.2)
    for x in (left, left + long):
        sheet.line((x, y - 5), (x, y + 5), width=1.2)
    sheet.text((left + long + 10, y + 5), words.bar, size=13)


def _push(sheet: Sheet, now: Tipping, words: StandDrawingWords) -> None:
    if not math.isfinite(now.push_n):
        return
    a = math.radians(now.push_azimuth_deg)
    push = (math.sin(a), -math.cos(a))
    begin = (MIDDLE[0] + push[0] * (REACH - 92), MIDDLE[1] + push[1] * (REACH - 92))
    end = (MIDDLE[0] + push[0] * (REACH + 2), MIDDLE[1] + push[1] * (REACH + 2))
    colour = WARN if now.too_easy else INK
    sheet.line(begin, end, width=4, stroke=colour)
    side = (-push[1], push[0])
    tip = (end[0] + push[0] * 14, end[1] + push[1] * 14)
    sheet.path(
        [tip, (end[0] + side[0] * 9, end[1] + side[1] * 9),
         (end[0] - side[0] * 9, end[1] - side[1] * 9)],
        closed=True, fill=colour, stroke=colour,
    )  # fmt: skip
    label = (tip[0] + push[0] * 20, tip[1] + push[1] * 20)
    anchor = "start" if push[0] > 0.3 else "end" if push[0] < -0.3 else "middle"
    sheet.text((label[0], label[1] + 8), words.push, size=22, anchor=anchor,
               weight=600, fill=colour)  # fmt: skip


def _slope(sheet: Sheet, answer: BalanceAnswer, words: StandDrawingWords) -> None:
    slope, downhill = slope_of(answer.kit)
    if slope <= 0:
        return
    a = math.radians(downhill)
    x, y = 80.0, 560.0
    dx, dy = math.sin(a) * 26, -math.cos(a) * 26
    sheet.line((x - dx, y - dy), (x + dx, y + dy), stroke=FAINT, width=1.4)
    sheet.circle((x + dx, y + dy), 4, fill=FAINT, stroke=FAINT)
    sheet.text((x, y + 48), words.downhill, size=13, anchor="middle")


def _column(sheet: Sheet, answer: BalanceAnswer, words: StandDrawingWords) -> None:
    x, y = 660.0, 110.0
    for what, figure in words.rows:
        sheet.text((x, y), what, size=15)
        sheet.text((RIGHT, y), figure, size=18, anchor="end", weight=600)
        y += 30
    y += 6
    if answer.standing.too_easy:
        warning, whose = words.too_easy
        sheet.text((x, y), warning, size=16, fill=WARN, weight=600)
        sheet.text((x, y + 20), whose, size=13)
        y += 52
    if words.remedies:
        sheet.note((x, y), words.what_helps, size=15)
        y += 26
        for what, figure in words.remedies:
            sheet.text((x, y), what, size=15)
            sheet.text((RIGHT, y), figure, size=18, anchor="end", weight=600)
            y += 28
    if BalanceCaution.PUBLIC_EVENT in answer.cautions:
        sheet.lines((x, y + 18), words.public_event, size=14)
