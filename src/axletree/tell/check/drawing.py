"""Where does the axis point, how well is that known, and is it good enough? One sheet.

Drawn as seen by a person who faces the pole: up is higher; east is to the right when facing
north, to the left when facing south. In brass what can be moved: the way of the two bolts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.solution.estimate import AxisEstimate
from axletree.stages.set_up.check import CheckAnswer
from axletree.stages.set_up.pictures_finding import PicturesFinding
from axletree.tell.check.drawing_list import (
    ROW,
    ShownMeasurement,
    draw_list,
    draw_pens,
    listed_rows,
    mark_of,
)
from axletree.tell.check.drawing_text import (
    CheckDrawingWords,
    drawing_words,
    farther_out,
)
from axletree.tell.check.measured_text import finding_words, measured_words
from axletree.tell.check.pictures.drawing import picture_drawing
from axletree.tell.check.turn_text import bolt_words
from axletree.tell.shared.measure import shortened, width_of
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Sheet

WIDTH, HEIGHT = 760.0, 920.0
_LEFT, _TOP, _SIDE = 90.0, 140.0, 580.0
_ROWS_ON_SHEET = 5  # a longer list makes the sheet longer


def check_drawing(answer: CheckAnswer) -> str:
    """SVG of all measurements, their combination, and what is good enough; of pictures the last
    one with what was recognised in it."""
    altitude, azimuth = bolt_words(answer)
    if isinstance(answer.finding, PicturesFinding):
        return picture_drawing(answer, answer.finding, (altitude, azimuth))
    shown = [
        ShownMeasurement(measured_words(m, answer.zone), m.estimate, k not in answer.left_out)
        for k, m in enumerate(answer.known.since_turn)
    ]
    if not shown and answer.finding is not None:
        shown = [ShownMeasurement(finding_words(answer.finding), answer.finding.estimate)]
    return axis_ellipse(
        answer.estimate,
        shown,
        answer.limit_arcmin,
        answer.observer.north,
        site=answer.site_name,
        altitude_words=altitude,
        azimuth_words=azimuth,
    )


def axis_ellipse(
    estimate: AxisEstimate,
    measurements: Sequence[ShownMeasurement],
    good_arcmin: float,
    north: bool,
    *,
    site: str = "",
    altitude_words: str = "",
    azimuth_words: str = "",
) -> str:
    """The drawing as SVG text. `good_arcmin`: radius of the circle that is good enough.

    `altitude_words`, `azimuth_words`: what to do with each bolt, written along its way.
    """
    words = drawing_words(estimate, good_arcmin, north=north)
    rows = listed_rows(measurements)
    height = HEIGHT + ROW * max(len(rows) - _ROWS_ON_SHEET, 0)
    sheet = Sheet(WIDTH, height, words.title, words.description)
    reach, step = _reach(estimate, measurements, good_arcmin)
    view = _View(reach, 1.0 if north else -1.0)
    sheet.text((_LEFT, 46), words.title, size=26, weight=600)
    left = WIDTH - _LEFT - 16 - width_of(f", {words.facing}", 16)
    head = f"{shortened(site, left, 16)}, {words.facing}" if site else words.facing
    sheet.text((_LEFT, 74), head, size=16)
    _paper(sheet, view, reach, step, words)
    _good(sheet, view, reach, good_arcmin, words)
    for k, shown in enumerate(measurements):
        _measurement(sheet, view, reach, shown, k)
    _estimate(sheet, view, estimate)
    _way(sheet, view, estimate, altitude_words, azimuth_words)
    below = _TOP + _SIDE + 82
    draw_list(sheet, (_LEFT, below), rows)
    draw_pens(sheet, (_LEFT + _SIDE, below), [estimate, *(m.estimate for m in measurements)])
    return sheet.svg()


@dataclass(frozen=True)
class _View:
    reach: float
    sense: float

    def at(self, east: float, high: float) -> tuple[float, float]:
        scale = _SIDE / (2.0 * self.reach)
        middle = (_LEFT + _SIDE / 2.0, _TOP + _SIDE / 2.0)
        return middle[0] + self.sense * east * scale, middle[1] - high * scale


def _reach(
    estimate: AxisEstimate, measurements: Sequence[ShownMeasurement], good_arcmin: float
) -> tuple[float, float]:
    """Half the side of the sheet and the step of its scale, arcminutes."""
    ellipse = estimate.ellipse(0.95)
    own = max(abs(estimate.high_arcmin), abs(estimate.east_arcmin))
    if ellipse is not None:
        own += ellipse.long_arcmin
    others = [max(abs(m.estimate.high_arcmin), abs(m.estimate.east_arcmin)) for m in measurements]
    # One wild measurement must not shrink all the rest to a dot.
    wanted = max([own, *(o for o in others if o < 4.0 * own)], default=1.0)
    wanted = max(wanted, good_arcmin if good_arcmin < 3.0 * wanted else 0.0, 0.5) * 1.12
    power = 10.0 ** math.floor(math.log10(wanted / 3.0))
    step = next(s * power for s in (1.0, 2.0, 5.0, 10.0) if s * power >= wanted / 5.0)
    return math.ceil(wanted / step) * step, step


def _paper(sheet: Sheet, view: _View, reach: float, step: float, words: CheckDrawingWords) -> None:
    sheet.box((_LEFT, _TOP), _SIDE, _SIDE, fill=PAPER)
    count = round(reach / step)
    for k in range(-count * 5, count * 5 + 1):
        value = k * step / 5.0
        long = k % 5 == 0
        size = 12.0 if long else 5.0
        x, _ = view.at(value, 0.0)
        _, y = view.at(0.0, value)
        sheet.line((x, _TOP + _SIDE), (x, _TOP + _SIDE - size))
        sheet.line((_LEFT, y), (_LEFT + size, y))
        if long:
            figure = f"{abs(value):g}"
            sheet.text((x, _TOP + _SIDE + 20), figure, size=15, anchor="middle")
            sheet.text((_LEFT - 10, y + 5), figure, size=15, anchor="end")
    sheet.line(view.at(-reach, 0.0), view.at(reach, 0.0), stroke=FAINT, width=0.8)
    sheet.line(view.at(0.0, -reach), view.at(0.0, reach), stroke=FAINT, width=0.8)
    low = _TOP + _SIDE + 44
    sheet.text((_LEFT, low), words.left, size=17, weight=600)
    sheet.text((_LEFT + _SIDE, low), words.right, size=17, weight=600, anchor="end")
    for y, side in ((_TOP + 60, words.too_high), (_TOP + _SIDE - 60, words.too_low)):
        sheet.text((_LEFT - 52, y), side, size=17, weight=600, turn_deg=-90, anchor="middle")


def _good(
    sheet: Sheet, view: _View, reach: float, good_arcmin: float, words: CheckDrawingWords
) -> None:
    centre = view.at(0.0, 0.0)
    sheet.line((centre[0] - 9, centre[1]), (centre[0] + 9, centre[1]), width=1.6)
    sheet.line((centre[0], centre[1] - 9), (centre[0], centre[1] + 9), width=1.6)
    sheet.text((centre[0] + 8, centre[1] - 8), words.pole, size=14)
    sheet.bring_forward()
    if good_arcmin > reach * math.sqrt(2.0):
        # Above the plot, where no line of a measurement can cross the words.
        sheet.note((_LEFT + _SIDE, _TOP - 10), words.good_everywhere, size=15, anchor="end")
        return
    around = np.linspace(0.0, 2.0 * math.pi, 181)
    points = [view.at(good_arcmin * math.cos(t), good_arcmin * math.sin(t)) for t in around]
    _clipped(sheet, points, dash="7 5", width=1.4)
    radius = min(good_arcmin, reach * 0.97)
    spot = view.at(0.0, -radius)
    sheet.note(
        (spot[0] + 6, spot[1] + 18 if radius < 0.9 * reach else spot[1] - 8), words.good, size=15
    )


def _clipped(
    sheet: Sheet, points: Sequence[tuple[float, float]], *, stroke: str = INK, dash: str = "",
    width: float = 1.0,
) -> None:  # fmt: skip
    """A line through points, only where it lies on the plot."""
    run: list[tuple[float, float]] = []
    for x, y in points:
        if _LEFT <= x <= _LEFT + _SIDE and _TOP <= y <= _TOP + _SIDE:
            run.append((x, y))
        else:
            if len(run) > 1:
                sheet.path(run, stroke=stroke, dash=dash, width=width)
            run = []
    if len(run) > 1:
        sheet.path(run, stroke=stroke, dash=dash, width=width)


def _measurement(
    sheet: Sheet, view: _View, reach: float, shown: ShownMeasurement, number: int
) -> None:
    mark = mark_of(number)
    pen = INK if shown.used else WARN
    estimate = shown.estimate
    outline = estimate.outline(0.393)  # the ellipse of one standard deviation
    if outline is None:
        _one_direction(sheet, view, estimate, reach, pen, mark)
        return
    _clipped(sheet, [view.at(e, h) for e, h in outline], stroke=pen, width=0.9,
             dash="" if shown.used else "2 3")  # fmt: skip
    if max(abs(estimate.east_arcmin), abs(estimate.high_arcmin)) > reach:
        _farther_out(sheet, view, estimate, reach, pen, mark)
        return
    x, y = view.at(estimate.east_arcmin, estimate.high_arcmin)
    sheet.circle((x, y), 2.4, stroke=pen, fill=pen)
    # Neighbours write their letters at different corners, the next four farther out.
    corners = ((-8, -7, "end"), (8, 17, "start"), (8, -7, "start"), (-8, 17, "end"))
    dx, dy, anchor = corners[number % 4]
    dx *= 1 + 2 * (number // 4 % 2)
    sheet.text((x + dx, y + dy), mark, anchor=anchor, size=15, weight=600, fill=pen)
    sheet.bring_forward()
    if not shown.used:
        sheet.line((x - 8, y - 8), (x + 8, y + 8), stroke=WARN, width=1.8)
        sheet.line((x - 8, y + 8), (x + 8, y - 8), stroke=WARN, width=1.8)


def _one_direction(
    sheet: Sheet, view: _View, estimate: AxisEstimate, reach: float, pen: str, mark: str
) -> None:
    """A measurement that knows one mixture only: the line on which the axis lies."""
    _, directions = np.linalg.eigh(estimate.information)
    along = directions[:, 0]  # the unknown direction, (high, east)
    span = np.linspace(-3.0 * reach, 3.0 * reach, 601)
    points = [
        view.at(estimate.east_arcmin + s * along[1], estimate.high_arcmin + s * along[0])
        for s in span
    ]
    _clipped(sheet, points, stroke=pen, width=1.0, dash="10 4")
    inside = [
        p for p in points
        if _LEFT + 20 < p[0] < _LEFT + _SIDE - 20 and _TOP + 20 < p[1] < _TOP + _SIDE - 20
    ]  # fmt: skip
    if not inside:
        _farther_out(sheet, view, estimate, reach, pen, mark)
        return
    # Beside the line, a quarter of its way from its end: the corners hold other words.
    (x, y), (x0, y0), (x1, y1) = inside[3 * (len(inside) - 1) // 4], inside[0], inside[-1]
    length = max(math.hypot(x1 - x0, y1 - y0), 1e-9)
    off = (14.0 * (y1 - y0) / length, -14.0 * (x1 - x0) / length)
    sheet.text((x + off[0], y + off[1] + 5.0), mark, size=15, weight=600, anchor="middle",
               fill=pen)  # fmt: skip
    sheet.bring_forward()


def _farther_out(
    sheet: Sheet, view: _View, estimate: AxisEstimate, reach: float, pen: str, mark: str
) -> None:
    """Words at the edge of the plot, towards a measurement that lies beyond it."""
    angle = math.atan2(estimate.high_arcmin, estimate.east_arcmin)
    edge = 0.93 * reach / max(abs(math.cos(angle)), abs(math.sin(angle)))
    x, y = view.at(edge * math.cos(angle), edge * math.sin(angle))
    side = (x - _LEFT) / _SIDE
    anchor = "start" if side < 0.2 else "end" if side > 0.8 else "middle"
    sheet.text((x, y), farther_out(mark), size=14, anchor=anchor, fill=pen)
    sheet.bring_forward()


def _estimate(sheet: Sheet, view: _View, estimate: AxisEstimate) -> None:
    for probability, opacity in ((0.95, 0.16), (0.68, 0.26)):
        outline = estimate.outline(probability)
        if outline is not None:
            points = [view.at(e, h) for e, h in outline]
            sheet.path(points, fill=INK, stroke="none", closed=True, opacity=opacity)
    if estimate.rank == 2:
        x, y = view.at(estimate.east_arcmin, estimate.high_arcmin)
        sheet.circle((x, y), 5.0, width=2.2, fill=PAPER)


def _way(
    sheet: Sheet, view: _View, estimate: AxisEstimate, altitude_words: str, azimuth_words: str
) -> None:
    if estimate.rank < 2 or not (altitude_words or azimuth_words):
        return
    start = view.at(estimate.east_arcmin, estimate.high_arcmin)
    corner = view.at(estimate.east_arcmin, 0.0)
    goal = view.at(0.0, 0.0)
    for a, b in ((start, corner), (corner, goal)):
        sheet.line(a, b, stroke=BRASS, width=3.0, cap="round")
        _arrow(sheet, a, b)
    # Words beside the legs would meet the ellipse; they stand at the top, in the bolts' order.
    rows = [f"1. {altitude_words}" if altitude_words else "",
            f"{2 if altitude_words else 1}. {azimuth_words}" if azimuth_words else ""]  # fmt: skip
    for k, row in enumerate(r for r in rows if r):
        sheet.text_within(
            (_LEFT, 102 + 20.8 * k), row, WIDTH - _LEFT - 12, size=16, fill=BRASS, weight=600
        )


def _arrow(sheet: Sheet, a: tuple[float, float], b: tuple[float, float]) -> None:
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    if length < 18.0:
        return
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    tip = (a[0] + ux * (length / 2.0 + 7.0), a[1] + uy * (length / 2.0 + 7.0))
    back = (tip[0] - 14.0 * ux, tip[1] - 14.0 * uy)
    sheet.path(
        [tip, (back[0] - 6.0 * uy, back[1] + 6.0 * ux), (back[0] + 6.0 * uy, back[1] - 6.0 * ux)],
        fill=BRASS, stroke=BRASS, closed=True,
    )  # fmt: skip
