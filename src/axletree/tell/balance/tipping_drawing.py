"""How firmly does the rig stand? The feet from above, the centre of mass, and the worst push."""

from __future__ import annotations

import math

import numpy as np

from axletree.mount.steady.balanced import BalanceReport
from axletree.mount.steady.steadier import Remedy
from axletree.mount.steady.support import edges, margins_m
from axletree.mount.steady.tipping import LEANING_CHILD_N, slope_of
from axletree.sky.arrays import Floats
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet
from axletree.tell.shared.words import above_ground, compass_point, length, mass

WIDTH, HEIGHT = 1050.0, 700.0
RIGHT = 1010.0
MIDDLE: Point = (330.0, 368.0)
REACH = 222.0


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


def tipping_view(report: BalanceReport) -> str:
    """The drawing, as SVG text. North is up, east to the right: seen from above."""
    now, units = report.standing, report.kit.habits.units
    tripod = report.kit.mount.tripod
    sheet = Sheet(
        WIDTH, HEIGHT, f"How firmly {report.kit.name} stands",
        "The three feet from above, the centre of mass in every pose, and the push that tips it.",
    )  # fmt: skip
    feet = now.feet_m
    per_m = REACH / float(np.max(np.hypot(feet[:, 0], feet[:, 1])))

    def at(x_m: float, y_m: float) -> Point:
        return MIDDLE[0] + x_m * per_m, MIDDLE[1] - y_m * per_m

    sheet.text((50, 44), "Stand, seen from above", size=24)
    sheet.text((RIGHT, 44), report.kit.name, size=15, anchor="end", fill=FAINT, within=560)
    _north(sheet)
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
    sheet.text(label, length(now.margin_mm, units), size=22, anchor=anchor, weight=600)
    _push(sheet, report)
    _slope(sheet, report, per_m)
    _column(sheet, report)
    _bar(sheet, at, units)
    sheet.text((50, HEIGHT - 30), f"{mass(now.mass_kg, units)} in all. Brass: the centre of mass "
               "in every pose above the lowest altitude; feet taken not to sink or slide, no wind.",
               size=14)  # fmt: skip
    return sheet.svg()


def _north(sheet: Sheet) -> None:
    sheet.line((80, 160), (80, 100), width=1.2)
    sheet.path([(80, 92), (75, 106), (85, 106)], closed=True, fill=INK)
    sheet.text((80, 180), "north", size=14, anchor="middle")


def _bar(sheet: Sheet, at: object, units: str) -> None:
    assert callable(at)
    x0, _ = at(0.0, 0.0)
    long_m = 0.5 if units == "metric" else 0.6096
    x1, _ = at(long_m, 0.0)
    left = MIDDLE[0] - (x1 - x0) / 2
    y = HEIGHT - 70
    sheet.line((left, y), (left + x1 - x0, y), width=1.2)
    for x in (left, left + x1 - x0):
        sheet.line((x, y - 5), (x, y + 5), width=1.2)
    words = "500 mm" if units == "metric" else "2 ft"
    sheet.text((left + x1 - x0 + 10, y + 5), words, size=13)


def _push(sheet: Sheet, report: BalanceReport) -> None:
    now = report.standing
    if not math.isfinite(now.push_n):
        return
    a = math.radians(now.push_azimuth_deg)
    way = (math.sin(a), -math.cos(a))
    begin = (MIDDLE[0] + way[0] * (REACH - 92), MIDDLE[1] + way[1] * (REACH - 92))
    end = (MIDDLE[0] + way[0] * (REACH + 2), MIDDLE[1] + way[1] * (REACH + 2))
    colour = WARN if now.too_easy else INK
    sheet.line(begin, end, width=4, stroke=colour)
    side = (-way[1], way[0])
    tip = (end[0] + way[0] * 14, end[1] + way[1] * 14)
    sheet.path(
        [tip, (end[0] + side[0] * 9, end[1] + side[1] * 9),
         (end[0] - side[0] * 9, end[1] - side[1] * 9)],
        closed=True, fill=colour, stroke=colour,
    )  # fmt: skip
    label = (tip[0] + way[0] * 20, tip[1] + way[1] * 20)
    anchor = "start" if way[0] > 0.3 else "end" if way[0] < -0.3 else "middle"
    sheet.text((label[0], label[1] + 8), f"{now.push_n:.0f} N", size=22, anchor=anchor,
               weight=600, fill=colour)  # fmt: skip


def _slope(sheet: Sheet, report: BalanceReport, per_m: float) -> None:
    slope, downhill = slope_of(report.kit)
    if slope <= 0:
        return
    a = math.radians(downhill)
    x, y = 80.0, 560.0
    dx, dy = math.sin(a) * 26, -math.cos(a) * 26
    sheet.line((x - dx, y - dy), (x + dx, y + dy), stroke=FAINT, width=1.4)
    sheet.circle((x + dx, y + dy), 4, fill=FAINT, stroke=FAINT)
    sheet.text((x, y + 48), f"downhill, {slope:.1f}°", size=13, anchor="middle")


def _remedy(remedy: Remedy, units: str) -> str:
    if remedy.kind == "tray":
        return f"{mass(remedy.amount, units)} more in the tray"
    if remedy.kind == "wider":
        return f"feet {length(remedy.amount, units)} further out"
    if remedy.kind == "lower":
        return f"{length(remedy.amount, units)} lower, feet where they are"
    return f"{length(remedy.amount, units)} lower, legs pushed in"


def _column(sheet: Sheet, report: BalanceReport) -> None:
    now, units = report.standing, report.kit.habits.units
    x, y = 660.0, 110.0
    tray = mass(now.tray_kg, units) if now.tray_kg else "nothing"
    rows = [
        ("push at the eyepiece that tips it", f"{now.push_n:.0f} N"),
        ("pushed towards the", compass_point(now.push_azimuth_deg)),
        ("with the eyepiece at", above_ground(now.push_pose.eye_height_mm, units)),
        ("least margin inside the feet", length(now.margin_mm, units)),
        ("falls at a lean of", f"{now.lean_deg:.0f}°"),
        ("in the tray", tray),
    ]  # fmt: skip
    for state in report.half_built:
        what = "weights on, no tube" if state.part == "weights only" else "tube on, no weights"
        fall = "falls" if state.margin_mm < 0 else length(state.margin_mm, units)
        rows.append((f"margin: {what}", fall))
    for words, figure in rows:
        sheet.text((x, y), words, size=15)
        sheet.text((RIGHT, y), figure, size=18, anchor="end", weight=600)
        y += 30
    y += 6
    if now.too_easy:
        sheet.text((x, y), f"Less than {LEANING_CHILD_N:.0f} N: a leaning child tips it.", size=16,
                   fill=WARN, weight=600)  # fmt: skip
        sheet.text((x, y + 20), "(our own figure, no standard)", size=13)
        y += 52
    if report.remedies:
        sheet.text((x, y), "what helps, and the push then", size=15, italic=True)
        y += 26
        for remedy in report.remedies:
            sheet.text((x, y), _remedy(remedy, units), size=15)
            sheet.text((RIGHT, y), f"{remedy.push_n:.0f} N", size=18, anchor="end", weight=600)
            y += 28
    if report.kit.habits.visitors > 0:
        sheet.lines((x, y + 18), ["Public events: the organiser's safety rules,",
                                  "permits and local codes come first."], size=14)  # fmt: skip
