"""Where does the tape go? The rig with one dimension: a line with ticks at its two ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from axletree.mount.dimensions.names import table_key, value_of
from axletree.mount.rig.kinematics import Axes, placed
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats
from axletree.tell.kit.dimension_text import dimension_words, quantity_words
from axletree.tell.kit.drawing import measures_of
from axletree.tell.kit.drawing_text import CAPTION
from axletree.tell.shared.measure import wrapped
from axletree.tell.shared.rig_side import SIZE, SheetFrame, draw_ground, draw_rods, frame_for
from axletree.tell.shared.rods_drawing import side_views
from axletree.tell.shared.sheet import BRASS, FAINT, Point, Sheet

if TYPE_CHECKING:
    from axletree.kit.kit import Kit

# Which part of the rig a half thickness or width is of; it is drawn across, or along the rod.
_ACROSS = {
    "mount.tripod.leg_radius_mm": "leg towards the pole",
    "mount.tripod.column_radius_mm": "mount base", "mount.head.housing_radius_mm": "polar housing",
    "mount.head.declination_radius_mm": "declination housing",
    "mount.head.shaft_radius_mm": "counterweight shaft", "mount.weight.radius_mm": "counterweight",
    "tube.focuser_radius_mm": "focuser", "tube.finder.radius_mm": "finder",
    "eyepiece.radius_mm": "eyepiece", "camera.radius_mm": "camera",
    "tube.dew_shield_diameter_mm": "dew shield",
}  # fmt: skip
_ALONG = {
    "mount.weight.thickness_mm": "counterweight", "tube.focuser_reach_mm": "focuser",
    "tube.finder.length_mm": "finder", "eyepiece.length_mm": "eyepiece",
    "camera.length_mm": "camera",
}  # fmt: skip
_TOP, _ROW, _TYPE = 30.0, 27.0, 23.0
_TICK = 11.0
_PRINTED = 3.0  # times as wide and long where the drawing is printed 4 cm wide
_LONG = 120.0  # a part so long is measured across in its middle
_OFF = 30.0  # how far beside a part its line stands, where it isn't one of the plane


def tape_view(kit: Kit, rig: Rig, axes: Axes, name: str) -> str:
    """The drawing as SVG text; without a line where the dimension isn't one of this view."""
    return _drawn(kit, rig, axes, name).svg()


def tape_alone(kit: Kit, rig: Rig, axes: Axes, name: str) -> str:
    """The same without words, the line so wide that it shows where it is printed small."""
    sheet, ends = _rig_with(kit, rig, axes, name, dimension_words(name))
    if ends is not None:
        _dimension(sheet, ends[2], ends[3], _PRINTED)
    return sheet.svg()


def tape_sheet(kit: Kit, rig: Rig, axes: Axes, names: Sequence[str], title: str) -> str:
    """One drawing for each of several dimensions, two in a row."""
    columns = min(2, max(1, len(names)))
    rows = max(1, -(-len(names) // columns))
    sheet = Sheet(columns * SIZE, rows * SIZE, title)
    for k, name in enumerate(names):
        corner = (k % columns * SIZE, k // columns * SIZE)
        sheet.place(corner, _drawn(kit, rig, axes, name))
    return sheet.svg()


def _drawn(kit: Kit, rig: Rig, axes: Axes, name: str) -> Sheet:
    told = f"{dimension_words(name)}: {_value(kit, name)}"
    sheet, ends = _rig_with(kit, rig, axes, name, told)
    if ends is not None:
        for foot, tip in zip(ends[:2], ends[2:], strict=True):
            sheet.line(foot, tip, stroke=FAINT, width=1.0)
        _dimension(sheet, ends[2], ends[3])
    for k, row in enumerate(wrapped(told, SIZE - 24.0, size=_TYPE)):
        sheet.text((12.0, _TOP + k * _ROW), row, size=_TYPE, weight=600, fill=BRASS)
        sheet.bring_forward()
    sheet.text((SIZE / 2, SIZE - 8), CAPTION, size=19, anchor="middle", fill=FAINT)
    return sheet


def _rig_with(
    kit: Kit, rig: Rig, axes: Axes, name: str, title: str
) -> tuple[Sheet, tuple[Point, Point, Point, Point] | None]:
    """The rig from the side, and where a dimension's line goes."""
    frame = frame_for(rig, axes, side_views(axes.sense)[0], spare_m=0.2)
    sheet = Sheet(SIZE, SIZE, title)
    draw_ground(sheet, rig, frame)
    draw_rods(sheet, rig, axes, (0.0, 0.0), frame)
    ends = _plane_ends(kit, rig, axes, name, frame) or _rod_ends(rig, axes, name, frame)
    return sheet, ends


def _value(kit: Kit, name: str) -> str:
    return quantity_words(name, float(value_of(kit, name)), None, kit.habits.units)


def _dimension(sheet: Sheet, a: Point, b: Point, size: float = 1.0) -> None:
    """One line, a tick square to it at either end."""
    step = np.array(b) - np.array(a)
    length = float(np.linalg.norm(step))
    along = step / length if length > 1e-9 else np.array([1.0, 0.0])
    tick = np.array([-along[1], along[0]]) * _TICK * size
    lines = [(a, b)]
    for end in (np.array(a), np.array(b)):
        p, q = end - tick, end + tick
        lines.append(((float(p[0]), float(p[1])), (float(q[0]), float(q[1]))))
    for begin, finish in lines:
        sheet.line(begin, finish, stroke=BRASS, width=3.4 * size)


def _plane_ends(
    kit: Kit, rig: Rig, axes: Axes, name: str, frame: SheetFrame
) -> tuple[Point, Point, Point, Point] | None:
    """Both ends on the part and on the line beside it, of a length in the drawing's plane."""
    for key, _, start, end, aside in measures_of(kit, rig, axes):
        if key == table_key(name):
            four = (start, end, start + aside, end + aside)
            a, b, c, d = (frame.at(point) for point in four)
            return a, b, c, d
    return None


def _rod_ends(
    rig: Rig, axes: Axes, name: str, frame: SheetFrame
) -> tuple[Point, Point, Point, Point] | None:
    """The same across or along a part of the rig."""
    key = table_key(name)
    part = _ACROSS.get(key) or _ALONG.get(key)
    if part not in rig.names:
        return None
    k = _row(rig, str(part), name)
    start, end = placed(rig, axes, 0.0, 0.0)
    a, b = (np.array(frame.at(point)) for point in (start[k], end[k]))
    size = float(np.linalg.norm(b - a))
    along = (b - a) / size if size > 1.0 else np.array([1.0, 0.0])
    across = np.array([-along[1], along[0]])
    radius = float(rig.radius_m[k]) * frame.scale
    if key in _ALONG:
        p, q, aside = a, b, across * (radius + _OFF)
    else:
        middle = 0.5 * (a + b)
        half = 0.0 if key.endswith("radius_mm") else -radius
        p, q = middle + across * half, middle + across * radius
        aside = along * (0.5 * size + _OFF if size < _LONG else 0.0)
    points: list[Floats] = [p, q, p + aside, q + aside]
    one, two, three, four = ((float(x), float(y)) for x, y in points)
    return one, two, three, four


def _row(rig: Rig, part: str, name: str) -> int:
    """The part of this name, and of several the one of the entry's number."""
    rows = [k for k, own in enumerate(rig.names) if own == part]
    number = int(name.partition("[")[2].partition("]")[0] or 1) if "weight[" in name else 1
    return rows[min(number, len(rows)) - 1]
