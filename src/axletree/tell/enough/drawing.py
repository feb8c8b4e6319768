"""Is the alignment good enough? A ruler of axis errors, with what each method leaves.

The ruler runs from a third of an arcminute to 45 degrees, each ten-fold step as long as the
others. In brass, what is allowed; in ink, where each method ends nine times out of ten.
"""

from __future__ import annotations

import math

from axletree.pole.enough.methods import Method
from axletree.pole.enough.tolerance import LARGEST_ERROR_ARCMIN
from axletree.stages.set_up.enough import EnoughAnswer
from axletree.tell.enough.text import METHOD_WORDS, ruler_words, verdict_words
from axletree.tell.shared.measure import width_of, wrapped
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, Point, Sheet

WIDTH = 900.0
_LEFT, _RIGHT = 40.0, 860.0
_TOP = 210.0
_ROW = 92.0
_FIRST, _LAST = 0.3, LARGEST_ERROR_ARCMIN
_MARKS = (
    (0.3, "0.3′"), (1, "1′"), (3, "3′"), (10, "10′"), (30, "30′"), (60, "1°"), (180, "3°"),
    (600, "10°"), (1800, "30°"),
)  # fmt: skip


def tolerance_svg(answer: EnoughAnswer) -> str:
    """The drawing as SVG text, each use in words below the methods."""
    words, methods = ruler_words(answer), answer.methods
    rows = [line for row in words.rows for line in wrapped(row, _RIGHT - _LEFT, size=20)]
    foot = _TOP + 40 + _ROW * len(methods)
    height = foot + 76 + 29 * len(rows)
    sheet = Sheet(WIDTH, height, words.head, words.description)
    sheet.text_within((_LEFT, 58), words.head, _RIGHT - _LEFT, size=36, weight=600)
    sheet.text_within((_LEFT, 96), words.below_head, _RIGHT - _LEFT, size=25)
    limit = _x(answer.stop_arcmin)
    _ruler(sheet, _TOP - 8)
    for k, method in enumerate(methods):
        _method(sheet, method, _TOP + 40 + k * _ROW, answer)
    # The brass and its tint stay off the rows of words.
    sheet.line((limit, _TOP - 34), (limit, _TOP - 8), stroke=BRASS, width=5)
    for k in range(len(methods)):
        bar = _TOP + 40 + k * _ROW + 46
        sheet.box((_LEFT, bar - 8), limit - _LEFT, 32, stroke="none", pen=0, fill=BRASS,
                  opacity=0.14)  # fmt: skip
        sheet.line((limit, bar - 8), (limit, bar + 24), stroke=BRASS, width=5)
    sheet.path(
        [(limit - 11, _TOP - 52), (limit + 11, _TOP - 52), (limit, _TOP - 32)],
        fill=BRASS, stroke=BRASS, closed=True,
    )  # fmt: skip
    anchor = "start" if limit < 330 else "end"
    shift = 18 if anchor == "start" else -18
    sheet.text((limit + shift, _TOP - 50), words.allowed, size=23, anchor=anchor, weight=600)
    sheet.lines((_LEFT, foot + 52), rows, size=20, leading=1.4)
    return sheet.svg()


def _x(arcmin: float) -> float:
    part = math.log(min(max(arcmin, _FIRST), _LAST) / _FIRST) / math.log(_LAST / _FIRST)
    return _LEFT + part * (_RIGHT - _LEFT)


def _ruler(sheet: Sheet, y: float) -> None:
    sheet.line((_LEFT, y), (_RIGHT, y), width=2.5)
    for arcmin, words in _MARKS:
        x = _x(arcmin)
        sheet.line((x, y), (x, y - 16), width=2.5)
        sheet.text((x, y + 24), words, size=20, anchor="start" if x < _LEFT + 9 else "middle")
    for decade in (0.1, 1.0, 10.0, 100.0, 1000.0):
        for step in range(1, 10):
            if _FIRST < decade * step < _LAST:
                sheet.line((_x(decade * step), y), (_x(decade * step), y - 8), width=1)


def _method(sheet: Sheet, method: Method, y: float, answer: EnoughAnswer) -> None:
    """A bar from the pole to where the axis ends nine times out of ten, and its words above."""
    reach, best = _x(method.within_90_arcmin), method is answer.quickest_to_stop
    bar: Point = (_LEFT, y + 46)
    if method.possible:
        sheet.box(bar, reach - _LEFT, 16, pen=2, fill=INK if best else PAPER)
        if not best and method.within_90_arcmin <= answer.stop_arcmin:
            sheet.box(bar, reach - _LEFT, 16, pen=2, fill=FAINT)
        sheet.line((reach, y + 40), (reach, y + 68), width=4)
    else:
        sheet.box(bar, reach - _LEFT, 16, pen=1.5, stroke=FAINT)
    name, verdict = METHOD_WORDS[method.method], verdict_words(method, answer)
    left = _RIGHT - _LEFT - width_of(verdict, 21) - 14
    sheet.text_within((_LEFT, y + 29), name, left, size=23, weight=600 if best else 400)
    sheet.text((_RIGHT, y + 29), verdict, size=21, anchor="end")
