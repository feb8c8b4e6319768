"""Where do weights and tube go? Shaft, tube and the tube's cross-section, each to scale.

Brass is what can be moved. Scales are those of a ruler held to the part: along the shaft from
its start, along the tube from its front end.
"""

from __future__ import annotations

import math

from axletree.mount.balance.masses import around, eye_point_m, tube_axis_m
from axletree.stages.set_up.balance import BalanceAnswer
from axletree.tell.balance.drawing_text import BalanceDrawingWords, balance_drawing_words
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet
from axletree.tell.shared.words import length, mass

WIDTH, HEIGHT = 1000.0, 820.0
LEFT, RIGHT = 50.0, 950.0


class Ruler:
    """Millimetres along a part to the sheet's own units; `a_mm` lies at `x0`."""

    def __init__(self, a_mm: float, b_mm: float, x0: float, x1: float, most: float = 2.0) -> None:
        self.per_mm = min((x1 - x0) / (b_mm - a_mm), most)
        self.a_mm = a_mm
        self.x0 = x0 + ((x1 - x0) - self.per_mm * (b_mm - a_mm)) / 2

    def x(self, mm: float) -> float:
        """Place on the sheet of a millimetre along the part."""
        return self.x0 + (mm - self.a_mm) * self.per_mm


def _scale(sheet: Sheet, ruler: Ruler, y: float, last_mm: float, to_x: float = 1.0,
           origin_mm: float = 0.0) -> None:  # fmt: skip
    """Ticks each 10 mm, longer each 50, figures each 100; `to_x` -1 counts to the left."""
    sheet.line((ruler.x(origin_mm), y), (ruler.x(origin_mm + to_x * last_mm), y), width=1.0)
    for mm in range(0, int(last_mm) + 1, 10):
        x = ruler.x(origin_mm + to_x * mm)
        tall = 12.0 if mm % 100 == 0 else 8.0 if mm % 50 == 0 else 4.5
        sheet.line((x, y), (x, y + tall), width=0.8 if mm % 50 else 1.1)
        if mm % 100 == 0 or (mm % 50 == 0 and ruler.per_mm > 1.0):
            sheet.text((x, y + 27), str(mm), size=13, anchor="middle")


def balance_drawing(answer: BalanceAnswer) -> str:
    """The drawing, as SVG text."""
    kit, words = answer.kit, balance_drawing_words(answer)
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description)
    sheet.text_within((LEFT, 44), words.head, 560, size=24, weight=600)
    sheet.text_within((RIGHT, 44), kit.name, 320, size=15, anchor="end", fill=FAINT)
    _shaft(sheet, answer, words)
    _tube(sheet, answer, words)
    _across(sheet, answer, words)
    _figures(sheet, words)
    if answer.shortfall is not None:
        sheet.text((RIGHT, 70), words.unbalanced, size=15, anchor="end", fill=WARN)
    return sheet.svg()


def _shaft(sheet: Sheet, answer: BalanceAnswer, words: BalanceDrawingWords) -> None:
    kit, units = answer.kit, answer.kit.habits.units
    head, loading = kit.mount.head, answer.balance.loading
    end = head.shaft_start_mm + head.shaft_length_mm
    axis = tube_axis_m(kit.tube, head) * 1000
    top = axis + kit.tube.diameter_mm / 2
    ruler = Ruler(-end - 25, top + 10, LEFT, RIGHT, most=1.25)
    y = 205.0

    def bar(a_mm: float, b_mm: float, radius_mm: float, *, fill: str = PAPER, stroke: str = INK,
            pen: float = 1.2) -> None:  # fmt: skip
        x0, x1 = ruler.x(a_mm), ruler.x(b_mm)
        tall = radius_mm * 2 * ruler.per_mm
        sheet.box((min(x0, x1), y - tall / 2), abs(x1 - x0), tall, fill=fill, stroke=stroke,
                  pen=pen)  # fmt: skip

    bar(-end, -head.shaft_start_mm, max(head.shaft_radius_mm, 5.0))
    bar(-end - 8, -end, 16.0)  # safety screw
    bar(-head.shaft_start_mm, head.saddle_distance_mm, head.declination_radius_mm)
    sheet.circle((ruler.x(0), y), head.housing_radius_mm * ruler.per_mm, fill=PAPER, width=1.2)
    sheet.circle((ruler.x(0), y), 3.5, fill=INK)
    below = y + head.housing_radius_mm * ruler.per_mm + 20
    sheet.text((ruler.x(0), below), words.hour_axis, size=13, anchor="middle")
    bar(head.saddle_distance_mm, head.saddle_distance_mm + kit.tube.dovetail_height_mm, 35.0)
    sheet.circle((ruler.x(axis), y), kit.tube.diameter_mm / 2 * ruler.per_mm, fill=PAPER, width=1.4)
    sheet.text((ruler.x(axis), y + 5), words.tube, size=14, anchor="middle")
    for m, at, thick in zip(
        loading.mass_kg, loading.position_mm, loading.thickness_mm, strict=True
    ):
        radius = next(
            (w.radius_mm for w in kit.mount.weights
             if w.mass_kg == m and w.thickness_mm == thick), 55.0,
        )  # fmt: skip
        bar(-at - thick / 2, -at + thick / 2, radius, fill=BRASS, stroke=INK)
        narrow = thick * ruler.per_mm < 48
        sheet.text((ruler.x(-at) + (5 if narrow else 0), y + (0 if narrow else 5)),
                   mass(m, units), size=15, anchor="middle", fill=PAPER, weight=600,
                   turn_deg=-90.0 if narrow else 0.0)  # fmt: skip
    start = -head.shaft_start_mm
    if loading.mass_kg:
        # The others touch the first: one measure places the whole block.
        a, b, above = ruler.x(start - loading.gap_mm[0]), ruler.x(start), 105.0
        sheet.line((a, above), (b, above), stroke=BRASS, width=1.6)
        for x, down in ((a, y - 40), (b, y - 12)):
            sheet.line((x, above - 6), (x, down), stroke=BRASS, width=0.8)
        gap = length(loading.gap_mm[0], units)
        sheet.text(((a + b) / 2, above - 8), gap, size=22, anchor="middle", weight=600)
    _scale(sheet, ruler, 292.0, head.shaft_length_mm, to_x=-1.0, origin_mm=start)
    sheet.text((ruler.x(start), 334), words.shaft_ruler, size=13,
               anchor="end")  # fmt: skip


def _tube(sheet: Sheet, answer: BalanceAnswer, words: BalanceDrawingWords) -> None:
    kit, balance, units = answer.kit, answer.balance, answer.kit.habits.units
    tube = kit.tube
    eye = eye_point_m(tube, kit.mount.head, balance.over_saddle_mm)
    eye_from_front = balance.over_saddle_mm - eye[1] * 1000
    ends = [-tube.dew_shield_length_mm, 0.0, tube.length_mm, eye_from_front]
    radius = tube.diameter_mm / 2
    highest = max(radius, abs(eye[2] * 1000 - _axis(answer)))
    lowest = radius + tube.dovetail_height_mm + 22
    if tube.finder is not None:
        highest = max(highest, tube.finder.offset_mm + tube.finder.radius_mm)
    ruler = Ruler(min(ends) - 15, max(ends) + 30, LEFT, 660.0,
                  most=min(1.0, 178.0 / (highest + lowest)))  # fmt: skip
    above = 384.0
    y = above + 14 + highest * ruler.per_mm
    half = radius * ruler.per_mm

    def band(a_mm: float, b_mm: float, low_mm: float, high_mm: float, *, fill: str = PAPER,
             stroke: str = INK, pen: float = 1.2) -> None:  # fmt: skip
        x0, x1 = sorted((ruler.x(a_mm), ruler.x(b_mm)))
        sheet.box((x0, y - high_mm * ruler.per_mm), x1 - x0, (high_mm - low_mm) * ruler.per_mm,
                  fill=fill, stroke=stroke, pen=pen)  # fmt: skip

    if tube.dew_shield_length_mm > 0:
        wide = tube.dew_shield_diameter_mm / 2
        band(-tube.dew_shield_length_mm, 0, -wide, wide)
    if tube.finder is not None:
        finder = tube.finder
        height = finder.offset_mm * math.cos(math.radians(finder.angle_deg))
        band(finder.from_front_mm - finder.length_mm / 2,
             finder.from_front_mm + finder.length_mm / 2,
             height - finder.radius_mm, height + finder.radius_mm)  # fmt: skip
    if tube.kind == "newtonian":
        out = math.cos(math.radians(tube.ring_turn_deg)) * tube.focuser_reach_mm
        low, high = sorted((math.copysign(radius * abs(out) / tube.focuser_reach_mm, out), out))
        band(tube.focuser_from_front_mm - 28, tube.focuser_from_front_mm + 28, low, high)
    else:
        band(tube.length_mm, tube.length_mm + tube.focuser_reach_mm, -24, 24)
        corner = (ruler.x(tube.length_mm + tube.focuser_reach_mm), y)
        at_eye = (ruler.x(eye_from_front), y - (eye[2] * 1000 - _axis(answer)) * ruler.per_mm)
        sheet.line(corner, at_eye, width=13, cap="round")
        sheet.line(corner, at_eye, width=10.6, stroke=PAPER, cap="round")
    band(0, tube.length_mm, -radius, radius, pen=1.4)
    sheet.line((ruler.x(0), y), (ruler.x(tube.length_mm), y), stroke=FAINT, width=0.8, dash="8 4")
    # The saddle, in brass: the tube moves over it.
    over = balance.over_saddle_mm
    bottom = -radius - tube.dovetail_height_mm
    band(over - 60, over + 60, bottom - 22, bottom, fill=BRASS)
    reach = tube.dovetail_length_mm / 2
    band(tube.balance_from_front_mm - reach, tube.balance_from_front_mm + reach, bottom, -radius)
    x, foot = ruler.x(over), y - (bottom - 22) * ruler.per_mm
    sheet.path([(x, foot), (x - 11, foot + 20), (x + 11, foot + 20)], closed=True, fill=BRASS,
               width=1.0)  # fmt: skip
    bare = ruler.x(tube.balance_from_front_mm)
    sheet.line((bare, y - half), (bare, y + half), stroke=FAINT, width=1.0, dash="3 3")
    sheet.line((ruler.x(0), above), (x, above), stroke=BRASS, width=1.6)
    for at, down in ((ruler.x(0), y - half), (x, y + half)):
        sheet.line((at, above - 6), (at, down), stroke=BRASS, width=0.8)
    sheet.text(((ruler.x(0) + x) / 2, above - 8), length(over, units), size=22, anchor="middle",
               weight=600)  # fmt: skip
    ticks = foot + 34
    _scale(sheet, ruler, ticks, tube.length_mm)
    for line, below in zip(words.tube_ruler, (44, 61), strict=True):
        sheet.text((ruler.x(0), ticks + below), line, size=13)


def _axis(answer: BalanceAnswer) -> float:
    return tube_axis_m(answer.kit.tube, answer.kit.mount.head) * 1000


def _across(sheet: Sheet, answer: BalanceAnswer, words: BalanceDrawingWords) -> None:
    """The tube from behind: what sits to its side, and the trim that answers it."""
    kit, balance, trim = answer.kit, answer.balance, answer.trim
    tube = kit.tube
    eye = eye_point_m(tube, kit.mount.head, balance.over_saddle_mm)
    reach = max(
        trim.radius_mm,
        tube.diameter_mm / 2,
        math.hypot(eye[0] * 1000, eye[2] * 1000 - _axis(answer)),
        tube.finder.offset_mm + tube.finder.radius_mm if tube.finder else 0.0,
    )
    middle, per_mm = (815.0, 500.0), 110.0 / reach

    def at(r_mm: float, a_mm: float) -> Point:
        return middle[0] + r_mm * per_mm, middle[1] - a_mm * per_mm

    low = -tube.diameter_mm / 2
    base = low - tube.dovetail_height_mm
    corner = at(-35, low)
    sheet.box(corner, 70 * per_mm, tube.dovetail_height_mm * per_mm, fill=PAPER)
    corner = at(-50, base)
    sheet.box(corner, 100 * per_mm, 22 * per_mm, fill=BRASS)
    out = at(eye[0] * 1000, eye[2] * 1000 - _axis(answer))
    sheet.line(middle, out, width=14)
    sheet.line(middle, out, width=11, stroke=PAPER)
    sheet.circle(middle, tube.diameter_mm / 2 * per_mm, fill=PAPER, width=1.4)
    if tube.finder is not None:
        r, a = around(tube.finder.offset_mm, tube.finder.angle_deg)
        sheet.circle(at(r, a), tube.finder.radius_mm * per_mm, fill=PAPER, width=1.2)
    for extra in tube.accessories:
        r, a = around(extra.offset_mm, extra.angle_deg)
        sheet.circle(at(r, a), max(extra.radius_mm * per_mm, 5.0), fill=PAPER, width=1.2)
    total = balance.tube.total_kg
    centre = at(
        balance.crosswise_kg_m * 1000 / total, balance.across_from_saddle_kg_m * 1000 / total
    )
    sheet.line((middle[0], middle[1] - 40), (middle[0], middle[1] + 40), stroke=FAINT, dash="8 4")
    sheet.circle(centre, 5.0, fill=INK)
    label = at(tube.diameter_mm / 2, -tube.diameter_mm / 4)
    sheet.line(centre, (label[0] + 14, label[1]), width=0.8)
    for line, below in zip(words.centre_of_mass, (4, 19), strict=True):
        sheet.text((label[0] + 18, label[1] + below), line, size=13)
    if trim.mass_kg * 1000 >= 5:
        r, a = around(trim.radius_mm, trim.mass_angle_deg)
        spot = at(r, a)
        sheet.circle(spot, 9.0, stroke=BRASS, fill=BRASS, width=1.6)
        side = -1.0 if r < 0 else 1.0
        sheet.text((spot[0] + side * 13, spot[1] + 28), words.trim, size=15,
                   anchor="middle", weight=600)  # fmt: skip
    sheet.text((middle[0], 364), words.from_behind, size=13, anchor="middle")


def _figures(sheet: Sheet, words: BalanceDrawingWords) -> None:
    y = 716.0
    sheet.line((LEFT, y - 26), (RIGHT, y - 26), width=0.8)
    step = (RIGHT - LEFT) / len(words.columns)
    for i, (what, figure) in enumerate(words.columns):
        sheet.text((LEFT + i * step, y), what, size=13)
        sheet.text((LEFT + i * step, y + 30), figure, size=24, weight=600)
    sheet.text((LEFT, y + 72), words.foot, size=14)
