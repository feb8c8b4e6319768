"""When does each eyepiece lose the object, and where is the nudge due?

Each circle is the field as the eye sees it, with its own scale of arcminutes from the middle.
The line is the object's way with nothing turning, west to the right wherever west may be in the
view; in brass the part that a nudge gives back.
"""

from __future__ import annotations

import math

from axletree.mount.follow.nudge import EyepieceFollow
from axletree.stages.target.follow import FollowAnswer
from axletree.tell.follow.drawing_text import FieldWords, follow_drawing_words, step_words
from axletree.tell.shared.sheet import BRASS, FAINT, INK, WARN, Point, Sheet

WIDTH, HEAD, ROW, FOOT = 1000.0, 104.0, 348.0, 40.0
RADIUS, ACROSS = 118.0, 3
_STEPS_ARCMIN = (1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0)


def follow_drawing(answer: FollowAnswer) -> str:
    """The drawing as SVG text; three eyepieces a row."""
    rows = -(-len(answer.eyepieces) // ACROSS)
    words = follow_drawing_words(answer)
    sheet = Sheet(WIDTH, HEAD + ROW * rows + FOOT, words.title, words.description)
    sheet.text((40, 46), words.name, size=26, weight=600)
    sheet.text((40, 76), words.turning, size=17)
    for k, eyepiece in enumerate(answer.eyepieces):
        column, row = k % ACROSS, k // ACROSS
        middle = (40 + RADIUS + 30 + column * 310.0, HEAD + ROW * row + RADIUS + 12)
        _field(sheet, middle, eyepiece, answer.place.diameter_deg, words.fields[k])
    sheet.text((40, HEAD + ROW * rows + 14), words.west, size=14, fill=FAINT)
    return sheet.svg()


def _field(
    sheet: Sheet, middle: Point, eyepiece: EyepieceFollow, diameter_deg: float, words: FieldWords
) -> None:
    x, y = middle
    half_arcmin = eyepiece.true_field_deg * 30.0
    per_arcmin = RADIUS / half_arcmin
    sheet.circle(middle, RADIUS, width=2.2)
    step = next((s for s in _STEPS_ARCMIN if half_arcmin / s <= 6), _STEPS_ARCMIN[-1])
    for k in range(1, int(half_arcmin / step) + 1):
        at = x - k * step * per_arcmin
        sheet.line((at, y - 5), (at, y + 5), stroke=FAINT)
        if k == 1:
            sheet.text((at, y + 20), step_words(step), size=12, anchor="middle", fill=FAINT)
            if 0.0 < diameter_deg * 30.0 <= half_arcmin:
                sheet.bring_forward()
    sheet.line((x - RADIUS, y), (x, y), stroke=FAINT)
    disc = diameter_deg * 30.0 * per_arcmin
    if disc > RADIUS:
        sheet.circle(middle, RADIUS, fill=FAINT, opacity=0.25, width=0)
    else:
        sheet.circle(middle, max(disc, 4.0), width=1.4, fill="none" if disc > 9 else INK)
    _drift(sheet, middle, eyepiece, words, clear=0.0 < disc <= RADIUS)
    sheet.text((x, y + RADIUS + 30), words.head, size=17, weight=600, anchor="middle")
    below = [(words.field, INK)]
    if not eyepiece.fits:
        below.append((words.too_large, WARN))
    if words.knob:
        below.append((words.knob, INK))
    for k, (line, fill) in enumerate(below):
        sheet.text((x, y + RADIUS + 52 + 20 * k), line, size=15, anchor="middle", fill=fill)


def _drift(
    sheet: Sheet, middle: Point, eyepiece: EyepieceFollow, words: FieldWords, *, clear: bool
) -> None:
    """From the middle to the nudge in brass, on to the edge in ink, with the times.

    `clear`: the object's outline may run through the words, which then get paper around them.
    """
    x, y = middle
    if not math.isfinite(eyepiece.nudge_s):
        sheet.text((x + 14, y - 12), words.stays, size=15)
        return
    due = x + RADIUS * min(eyepiece.nudge_s / (eyepiece.drift_time_s / 2), 1.0)
    sheet.line((x, y), (due, y), stroke=BRASS, width=5)
    sheet.line((due, y), (x + RADIUS, y), width=1.4, dash="5 4")
    sheet.path([(due - 9, y - 8), (due + 3, y), (due - 9, y + 8)], stroke=BRASS, width=3)
    sheet.line((due, y - 30), (due, y + 10), stroke=BRASS, width=2)
    sheet.text((due, y - 36), words.nudge, size=20, weight=600, anchor="middle",
               fill=BRASS)  # fmt: skip
    if clear:
        sheet.bring_forward()
    sheet.text((x + RADIUS - 7, y + 25), words.edge, size=13, anchor="end")
    if clear:
        sheet.bring_forward()
