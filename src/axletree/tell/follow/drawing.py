"""When does each eyepiece lose the object, and where is the nudge due?

Each circle is the field as the eye sees it, with its own scale of arcminutes from the middle.
The line is the object's way with nothing turning, west to the right wherever west may be in the
view; in brass the part that a nudge gives back.
"""

from __future__ import annotations

import math

from axletree.mount.follow.following import FollowReport
from axletree.mount.follow.nudge import EyepieceFollow
from axletree.tell.shared.sheet import BRASS, FAINT, INK, WARN, Point, Sheet
from axletree.tell.shared.words import duration

WIDTH, HEAD, ROW, FOOT = 1000.0, 104.0, 348.0, 40.0
RADIUS, ACROSS = 118.0, 3
_STEPS_ARCMIN = (1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0)


def follow_view(report: FollowReport) -> str:
    """The drawing as SVG text; three eyepieces a row."""
    rows = -(-len(report.eyepieces) // ACROSS)
    name = report.thing.name if report.thing else "A star on the celestial equator"
    sheet = Sheet(
        WIDTH, HEAD + ROW * rows + FOOT, f"{name}: when to nudge",
        "The field of each eyepiece, the way that the object drifts, and where a nudge is due.",
    )  # fmt: skip
    sheet.text((40, 46), name, size=26, weight=600)
    sheet.text((40, 76), _turning(report), size=17)
    for k, eyepiece in enumerate(report.eyepieces):
        column, row = k % ACROSS, k // ACROSS
        middle = (40 + RADIUS + 30 + column * 310.0, HEAD + ROW * row + RADIUS + 12)
        _field(sheet, middle, eyepiece, report)
    sheet.text(
        (40, HEAD + ROW * rows + 14),
        "West is drawn to the right; in the eyepiece it is where the object drifts by itself.",
        size=14, fill=FAINT,
    )  # fmt: skip
    return sheet.svg()


def _turning(report: FollowReport) -> str:
    if report.knob is None or report.seconds_per_turn is None:
        drive = report.drive
        return f"motor at the {drive.rate} rate" if drive else "pushed by hand"
    way = "clockwise" if report.knob.clockwise else "anticlockwise"
    return f"hour knob {way}, one turn in {report.seconds_per_turn:.0f} s"


def _field(sheet: Sheet, middle: Point, eyepiece: EyepieceFollow, report: FollowReport) -> None:
    x, y = middle
    half_arcmin = eyepiece.true_field_deg * 30.0
    per_arcmin = RADIUS / half_arcmin
    sheet.circle(middle, RADIUS, width=2.2)
    step = next((s for s in _STEPS_ARCMIN if half_arcmin / s <= 6), _STEPS_ARCMIN[-1])
    for k in range(1, int(half_arcmin / step) + 1):
        at = x - k * step * per_arcmin
        sheet.line((at, y - 5), (at, y + 5), stroke=FAINT)
        if k == 1:
            sheet.text((at, y + 20), f"{step:g}′", size=12, anchor="middle", fill=FAINT)
    sheet.line((x - RADIUS, y), (x, y), stroke=FAINT)
    _way(sheet, middle, eyepiece)
    disc = report.diameter_deg * 30.0 * per_arcmin
    if disc > RADIUS:
        sheet.circle(middle, RADIUS, fill=FAINT, opacity=0.25, width=0)
    else:
        sheet.circle(middle, max(disc, 4.0), width=1.4, fill="none" if disc > 9 else INK)
    words = [
        f"{eyepiece.label}, {eyepiece.magnification:.0f} times",
        f"field {_angle(eyepiece.true_field_deg)}, crosses in {_time(eyepiece.drift_time_s)}",
    ]
    if not eyepiece.fits:
        words.append("larger than the field")
    if eyepiece.knob_turn_deg is not None and math.isfinite(eyepiece.knob_turn_deg):
        words.append(f"nudge: {eyepiece.knob_turn_deg:.0f}° of the knob")
    sheet.text((x, y + RADIUS + 30), words[0], size=17, weight=600, anchor="middle")
    for k, line in enumerate(words[1:]):
        fill = WARN if line.startswith("larger") else INK
        sheet.text((x, y + RADIUS + 52 + 20 * k), line, size=15, anchor="middle", fill=fill)


def _way(sheet: Sheet, middle: Point, eyepiece: EyepieceFollow) -> None:
    """From the middle to the nudge in brass, on to the edge in ink, with the times."""
    x, y = middle
    if not math.isfinite(eyepiece.nudge_s):
        sheet.text((x + 14, y - 12), "stays in the field", size=15)
        return
    due = x + RADIUS * min(eyepiece.nudge_s / (eyepiece.drift_time_s / 2), 1.0)
    sheet.line((x, y), (due, y), stroke=BRASS, width=5)
    sheet.line((due, y), (x + RADIUS, y), width=1.4, dash="5 4")
    sheet.path([(due - 9, y - 8), (due + 3, y), (due - 9, y + 8)], stroke=BRASS, width=3)
    sheet.line((due, y - 30), (due, y + 16), stroke=BRASS, width=2)
    sheet.text((due, y - 36), _time(eyepiece.nudge_s), size=20, weight=600, anchor="middle",
               fill=BRASS)  # fmt: skip
    sheet.text((x + RADIUS - 6, y + 22), _time(eyepiece.drift_time_s / 2), size=13, anchor="end")


def _time(seconds: float) -> str:
    if not math.isfinite(seconds):
        return "never"
    return f"{seconds:.0f} s" if seconds < 600 else duration(seconds)


def _angle(degrees: float) -> str:
    return f"{degrees:.2f}°" if degrees >= 1 else f"{degrees * 60:.0f}′"
