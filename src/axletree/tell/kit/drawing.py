"""Which length does each number of the kit mean? The rig from the east, with its measures.

Weights down and the tube along the polar axis, every length of head, shaft and tube lies in the
plane of the drawing. Each measure is a group of class `measure` that carries its key, so that a
page can show the one that is being typed; a measure nobody took is dashed.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from typing import TYPE_CHECKING

import numpy as np

from axletree.mount.rig.kinematics import Axes, crossing_m, frames
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats
from axletree.tell.kit.drawing_text import CAPTION, kit_view_title, measure_words
from axletree.tell.shared.measure import width_of
from axletree.tell.shared.rig_side import SIZE, SheetFrame, draw_ground, draw_rods, frame_for
from axletree.tell.shared.rods_drawing import side_views
from axletree.tell.shared.sheet import BRASS, FAINT, Point, Sheet

if TYPE_CHECKING:
    from axletree.kit.kit import Kit

Measure = tuple[str, float, Floats, Floats, Floats]  # key, mm, from, to, aside (metres)


def kit_view(kit: Kit, rig: Rig, axes: Axes) -> str:
    """The drawing as SVG text."""
    frame = frame_of(rig, axes)
    sheet = Sheet(SIZE, SIZE, kit_view_title(kit))
    draw_ground(sheet, rig, frame)
    draw_rods(sheet, rig, axes, (0.0, 0.0), frame)
    for measure in measures_of(kit, rig, axes):
        sheet.raw(_measure(measure, frame, kit))
    sheet.text((SIZE / 2, SIZE - 8), CAPTION, size=19, anchor="middle",
               fill=FAINT)  # fmt: skip
    return sheet.svg()


def frame_of(rig: Rig, axes: Axes) -> SheetFrame:
    """The scale and place of the drawing, with room for its measures."""
    return frame_for(rig, axes, side_views(axes.sense)[0], spare_m=0.16)


def measures_of(kit: Kit, rig: Rig, axes: Axes) -> Iterator[Measure]:
    """Every length that lies in the plane of the drawing."""
    tripod, head, tube = kit.mount.tripod, kit.mount.head, kit.tube
    up, towards = np.array([0.0, 0.0, 1.0]), np.array([0.0, float(axes.sense), 0.0])
    cross, P = crossing_m(rig, axes), axes.pole
    D = frames(axes, 0.0, 0.0)[0][:, 0]  # the tube's end of the declination axis
    hinge = up * rig.hinge_height_m
    mm = 1e-3

    def vertical(key: str, value: float, low: Floats, aside: float) -> Measure:
        return key, value, low, low + up * value * mm, -towards * aside

    t = "mount.tripod."
    wide = tripod.foot_radius_mm * mm
    yield vertical(t + "top_height_mm", tripod.top_height_mm, 0 * up, wide + 0.06)
    yield vertical(t + "tray_height_mm", tripod.tray_height_mm, 0 * up, wide - 0.02)
    top = up * tripod.top_height_mm * mm
    if tripod.column_height_mm:
        yield vertical(t + "column_height_mm", tripod.column_height_mm, top, wide + 0.06)
    for key, value, at, aside in (
        ("foot_radius_mm", tripod.foot_radius_mm, 0 * up, 0.05 * up),
        ("tray_radius_mm", tripod.tray_radius_mm, up * tripod.tray_height_mm * mm, 0.05 * up),
        ("top_radius_mm", tripod.top_radius_mm, top, -0.06 * up),
    ):
        yield t + key, value, at, at + towards * value * mm, aside
    h = "mount.head."
    foot = hinge - up * head.pivot_height_mm * mm
    yield vertical(h + "pivot_height_mm", head.pivot_height_mm, foot, 0.17)
    along = hinge + P * head.crossing_along_mm * mm
    yield h + "crossing_along_mm", head.crossing_along_mm, hinge, along, -D * 0.12
    yield h + "crossing_above_mm", head.crossing_above_mm, along, cross, P * 0.16
    yield (h + "housing_back_mm", head.housing_back_mm, cross,
           cross - P * head.housing_back_mm * mm, D * 0.11)  # fmt: skip
    yield (h + "housing_front_mm", head.housing_front_mm, cross,
           cross + P * head.housing_front_mm * mm, -D * 0.11)  # fmt: skip
    yield (h + "saddle_distance_mm", head.saddle_distance_mm, cross,
           cross + D * head.saddle_distance_mm * mm, -P * 0.12)  # fmt: skip
    begin = cross - D * head.shaft_start_mm * mm
    yield h + "shaft_start_mm", head.shaft_start_mm, cross, begin, P * 0.12
    yield (h + "shaft_length_mm", head.shaft_length_mm, begin,
           begin - D * head.shaft_length_mm * mm, P * 0.12)  # fmt: skip
    u = "tube."
    front = cross + D * rig.tube_offset_m + P * rig.clamp_from_front_m
    wall = D * (tube.diameter_mm / 2 * mm)
    above = wall + D * 0.10
    yield u + "length_mm", tube.length_mm, front, front - P * tube.length_mm * mm, above
    yield u + "diameter_mm", tube.diameter_mm, front - wall, front + wall, P * 0.08
    yield (u + "balance_from_front_mm", tube.balance_from_front_mm, front,
           front - P * tube.balance_from_front_mm * mm, above - D * 0.05)  # fmt: skip
    yield (u + "focuser_from_front_mm", tube.focuser_from_front_mm, front,
           front - P * tube.focuser_from_front_mm * mm, above - D * 0.05)  # fmt: skip
    saddle = cross + D * head.saddle_distance_mm * mm
    if tube.dovetail_height_mm:
        yield (u + "dovetail_height_mm", tube.dovetail_height_mm, saddle,
               saddle + D * tube.dovetail_height_mm * mm, -P * 0.12)  # fmt: skip
        half = P * min(tube.dovetail_length_mm, tube.length_mm) / 2 * mm
        middle = saddle + P * (rig.clamp_from_front_m - tube.balance_from_front_mm * mm)
        yield (u + "dovetail_length_mm", tube.dovetail_length_mm, middle - half, middle + half,
               -D * 0.07)  # fmt: skip
    if tube.dew_shield_length_mm:
        yield (u + "dew_shield_length_mm", tube.dew_shield_length_mm, front,
               front + P * tube.dew_shield_length_mm * mm, above)  # fmt: skip


def _measure(measure: Measure, frame: SheetFrame, kit: Kit) -> str:
    """One measure: two short lines from the part, a line between them, its length."""
    key, value, start, end, aside = measure
    a, b = frame.at(start), frame.at(end)
    a2, b2 = frame.at(start + aside), frame.at(end + aside)
    guessed = key in kit.guessed
    pen = Sheet(SIZE, SIZE, "")
    for p, q in ((a, a2), (b, b2)):
        pen.line(p, q, stroke=FAINT, width=0.9)
    dash = "6 4" if guessed else ""
    pen.line(a2, b2, stroke=BRASS, width=2.6, dash=dash)
    for p in (a2, b2):
        pen.circle(p, 3.4, stroke=BRASS, fill=BRASS)
    words = measure_words(value, kit.habits.units, guessed=guessed)
    pen.text(_beside(a2, b2, width_of(words, 21, 600)), words, size=21, weight=600, fill=BRASS,
             anchor="middle")  # fmt: skip
    return f'<g class="measure" data-key="{escape(key)}">{pen.inner()}</g>'


def _beside(a: Point, b: Point, wide: float) -> Point:
    """Where the words of a measure go: over a level line, to the left of an upright one."""
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    upright = abs(b[1] - a[1]) > abs(b[0] - a[0])
    x = x - max(wide / 2, 62.0) if upright else x
    y = y + 7.0 if upright else y - 12.0
    half = wide / 2 + 4.0
    return min(max(x, half), SIZE - half), min(max(y, 22.0), SIZE - 30.0)
