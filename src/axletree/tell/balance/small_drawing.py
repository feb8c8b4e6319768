"""Where do weights and tube go, in a picture no wider than a third of a sheet of paper?

Only the two measures to set, each along its part; the full drawing is `drawing`.
"""

from __future__ import annotations

from axletree.mount.balance.masses import tube_axis_m
from axletree.stages.set_up.balance import BalanceAnswer
from axletree.tell.balance.drawing import Ruler
from axletree.tell.balance.drawing_text import SmallBalanceWords, small_balance_words
from axletree.tell.shared.sheet import BRASS, INK, PAPER, Sheet
from axletree.tell.shared.words import length, mass

# 0.52 points a unit at a width of 62 mm: type of 15.6 units is 8.06 points high.
WIDTH, HEIGHT = 340.0, 292.0
_LEFT, _RIGHT, _TYPE = 8.0, 332.0, 15.6


def small_balance_drawing(answer: BalanceAnswer) -> str:
    """The drawing, as SVG text."""
    words = small_balance_words(answer)
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description, least=_TYPE)
    _shaft(sheet, answer, words)
    _tube(sheet, answer, words)
    return sheet.svg()


def _measure(sheet: Sheet, a: float, b: float, above: float, below: float, words: str) -> None:
    """A measure from a to b with its figure above it, and lines down to what it measures."""
    sheet.line((a, above), (b, above), stroke=BRASS, width=1.4)
    for x in (a, b):
        sheet.line((x, above - 4), (x, below), stroke=BRASS, width=0.8)
    sheet.text(((a + b) / 2, above - 6), words, size=18, anchor="middle", weight=600)


def _shaft(sheet: Sheet, answer: BalanceAnswer, words: SmallBalanceWords) -> None:
    kit, loading = answer.kit, answer.balance.loading
    head, tube = kit.mount.head, kit.tube
    end = head.shaft_start_mm + head.shaft_length_mm
    axis = tube_axis_m(tube, head) * 1000
    ruler = Ruler(-end - 12, axis + tube.diameter_mm / 2 + 6, _LEFT, _RIGHT, most=0.55)
    y = 78.0

    def bar(a_mm: float, b_mm: float, radius_mm: float, fill: str = PAPER) -> None:
        tall = 2 * radius_mm * ruler.per_mm
        sheet.box((ruler.x(a_mm), y - tall / 2), ruler.x(b_mm) - ruler.x(a_mm), tall, fill=fill)

    bar(-end, -head.shaft_start_mm, max(head.shaft_radius_mm, 6.0))
    bar(-head.shaft_start_mm, head.saddle_distance_mm, head.declination_radius_mm)
    sheet.circle((ruler.x(0), y), head.housing_radius_mm * ruler.per_mm, fill=PAPER)
    bar(head.saddle_distance_mm, head.saddle_distance_mm + tube.dovetail_height_mm, 35.0)
    sheet.circle((ruler.x(axis), y), tube.diameter_mm / 2 * ruler.per_mm, fill=PAPER)
    sheet.text((ruler.x(axis), y + 4), words.tube, anchor="middle")
    masses = []
    for m, at, thick in zip(
        loading.mass_kg, loading.position_mm, loading.thickness_mm, strict=True
    ):
        bar(-at - thick / 2, -at + thick / 2, 50.0, BRASS)
        masses.append((at, mass(m, kit.habits.units)))
    if masses:
        start = -head.shaft_start_mm
        _measure(sheet, ruler.x(start - loading.gap_mm[0]), ruler.x(start), 28.0, y - 4,
                 length(loading.gap_mm[0], kit.habits.units))  # fmt: skip
        # From the shaft's end inwards, as they hang; beside each other they would have no room.
        row = ", ".join(words for _, words in sorted(masses, reverse=True))
        sheet.text_within((_LEFT, y + 52), row, ruler.x(0) - _LEFT, size=15, weight=600)
    sheet.text((_LEFT, y + 69), words.from_shaft)


def _tube(sheet: Sheet, answer: BalanceAnswer, words: SmallBalanceWords) -> None:
    kit, over = answer.kit, answer.balance.over_saddle_mm
    tube = kit.tube
    ends = (-tube.dew_shield_length_mm, tube.length_mm)
    ruler = Ruler(ends[0], ends[1], _LEFT, _RIGHT, most=0.45)
    half = min(tube.diameter_mm / 2 * ruler.per_mm, 26.0)
    above, y = 190.0, 226.0
    if tube.dew_shield_length_mm > 0:
        sheet.box((ruler.x(ends[0]), y - half - 3), ruler.x(0) - ruler.x(ends[0]), 2 * half + 6,
                  fill=PAPER)  # fmt: skip
    sheet.box((ruler.x(0), y - half), ruler.x(tube.length_mm) - ruler.x(0), 2 * half, fill=PAPER)
    x = ruler.x(over)
    sheet.box((x - 22, y + half), 44, 9, fill=BRASS)
    sheet.path([(x, y + half - 1), (x - 5, y + half + 9), (x + 5, y + half + 9)], closed=True,
               fill=INK)  # fmt: skip
    _measure(sheet, ruler.x(0), x, above, y + half, length(over, kit.habits.units))
    sheet.text((_LEFT, y + half + 28), words.from_front)
