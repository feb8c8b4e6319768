"""How does the rig stand in a pose: from the side, from behind, and from above?

The same rods that clearance is computed from, drawn to one scale; brass for what turns. A
measuring staff shows the heights that the eyes can reach, an arrow where the eye looks.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import Axes, crossing_m, frames, placed
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, Rig
from axletree.sky.arrays import Floats
from axletree.stages.target.point import PointAnswer
from axletree.tell.point.drawing_text import drawing_words
from axletree.tell.shared.rods_drawing import SideView, flat_points, outline, side_views
from axletree.tell.shared.rods_text import seen_words
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet
from axletree.tell.shared.words import above_ground

MARGIN = 26.0
PANEL = 340.0
TITLE = 64.0
FOOT = 86.0


@dataclass(frozen=True)
class Pose:
    """One row of the drawing: the two axis angles and the words beside them."""

    title: str
    rows: tuple[str, ...]
    tube_end_h: float
    swing_deg: float
    warn: bool = False


@dataclass(frozen=True)
class _Frame:
    """From metres to the sheet: the panel's origin and scale."""

    x: float
    y: float
    scale: float

    def at(self, point: Sequence[float] | Floats) -> Point:
        return self.x + float(point[0]) * self.scale, self.y - float(point[1]) * self.scale


def rig_views(
    rig: Rig, axes: Axes, poses: Sequence[Pose], *, heights_mm: tuple[float, float],
    title: str, description: str, units: str = "metric",
) -> str:  # fmt: skip
    """SVG: a row of three views for each pose, ground, staff and eyepiece height."""
    views = side_views(axes.sense)
    low, high = _extent(rig, axes, poses)
    high[2] = max(high[2], heights_mm[1] / 1000 + 0.1)
    span = max(high[0] - low[0], high[1] - low[1]) + 0.1
    scale = PANEL / max(span, high[2] + 0.15)
    row_height = max((high[2] + 0.12) * scale, span * scale) + FOOT
    width = 3 * PANEL + 4 * MARGIN + 30.0
    sheet = Sheet(width, TITLE + row_height * len(poses), title, description)
    sheet.text((MARGIN, 36.0), title, size=24, weight=600)
    for i, pose in enumerate(poses):
        top = TITLE + i * row_height
        base = top + row_height - FOOT + 8.0
        for k, view in enumerate(views):
            left = MARGIN + k * (PANEL + MARGIN) + (30.0 if k else 0.0)
            middle = left + PANEL / 2
            if k < 2:
                frame = _Frame(middle + (24.0 if k == 0 else 0.0), base, scale)
                _ground(sheet, rig, view, frame, left, PANEL)
            else:
                frame = _Frame(middle, top + (row_height - FOOT) / 2 + 8.0, scale)
                _rose(sheet, frame, span)
            _rods(sheet, rig, axes, pose, view, frame)
            _eye(sheet, rig, axes, pose, view, frame)
            if k == 1:
                _crossing(sheet, rig, axes, view, frame, left + PANEL, units)
            if k == 0:
                R = frames(axes, pose.tube_end_h, pose.swing_deg)[1]
                eye = crossing_m(rig, axes) + R @ rig.eye_point_m
                mark = frame.at(flat_points(view, eye))
                _staff(sheet, frame, left, mark, _above_ground_m(rig, eye), heights_mm, units)
            sheet.text(
                (middle, base + 26.0), seen_words(view.stand), size=14, anchor="middle", fill=FAINT
            )
        sheet.text((MARGIN, base + 50.0), pose.title, size=18, weight=600)
        for j, words in enumerate(pose.rows):
            at = (MARGIN + 190.0 + (j % 3) * 290.0, base + 46.0 + (j // 3) * 19.0)
            last = j == len(pose.rows) - 1
            sheet.text(at, words, size=14, fill=WARN if pose.warn and last else INK)
    return sheet.svg()


def _extent(rig: Rig, axes: Axes, poses: Sequence[Pose]) -> tuple[Floats, Floats]:
    """Lowest and highest coordinates of anything, metres; square about the middle from above."""
    points = [np.zeros((1, 3))]
    for pose in poses:
        for ends in placed(rig, axes, pose.tube_end_h, pose.swing_deg):
            points += [ends - rig.radius_m[:, None], ends + rig.radius_m[:, None]]
    everything = np.vstack(points)
    wide = float(np.abs(everything[:, :2]).max()) + 0.12
    high = float(everything[:, 2].max())
    return np.array([-wide, -wide, 0.0]), np.array([wide, wide, high])


def _rods(sheet: Sheet, rig: Rig, axes: Axes, pose: Pose, view: SideView, frame: _Frame) -> None:
    start, end = placed(rig, axes, pose.tube_end_h, pose.swing_deg)
    shapes = [
        outline(view, k, start[k], end[k], float(rig.radius_m[k]), bool(rig.flat[k]))
        for k in range(len(rig.names))
        if rig.radius_m[k] > 0
    ]
    for shape in sorted(shapes, key=lambda s: s.depth):
        still = rig.frame[shape.part] in (GROUND, HEAD)
        eyepiece = rig.names[shape.part] in ("eyepiece", "camera")
        pen = INK if still else BRASS
        fill = BRASS if eyepiece else PAPER
        sheet.path([frame.at(p) for p in shape.outline], stroke=pen, width=1.4, fill=fill,
                   closed=True)  # fmt: skip
        if shape.face:
            sheet.path([frame.at(p) for p in shape.face], stroke=pen, width=1.0, fill=fill,
                       closed=True)  # fmt: skip


def _eye(sheet: Sheet, rig: Rig, axes: Axes, pose: Pose, view: SideView, frame: _Frame) -> None:
    """An arrow into the eyepiece, and an arrow out of the front of the tube."""
    R = frames(axes, pose.tube_end_h, pose.swing_deg)[1]
    cross = crossing_m(rig, axes)
    eye, barrel = cross + R @ rig.eye_point_m, R @ rig.barrel
    _arrow(sheet, frame, view, eye + barrel * 0.22, eye + barrel * 0.02, INK)
    front = max(
        float(max(rig.start_m[k][2], rig.end_m[k][2]))
        for k in range(len(rig.names))
        if rig.frame[k] == DECLINATION
    )
    mouth, look = cross + R @ np.array([rig.tube_offset_m, 0.0, front]), R[:, 2]
    _arrow(sheet, frame, view, mouth + 0.03 * look, mouth + 0.2 * look, BRASS)


def _arrow(
    sheet: Sheet, frame: _Frame, view: SideView, tail: Floats, tip: Floats, stroke: str
) -> None:
    (ax, ay), (bx, by) = frame.at(flat_points(view, tail)), frame.at(flat_points(view, tip))
    size = float(np.hypot(bx - ax, by - ay))
    if size < 6.0:
        sheet.circle((bx, by), 3.0, stroke=stroke, fill=PAPER)
        return
    dx, dy = (bx - ax) / size, (by - ay) / size
    sheet.line((ax, ay), (bx, by), stroke=stroke, width=1.6)
    head = [(bx, by), (bx - 9 * dx - 4 * dy, by - 9 * dy + 4 * dx),
            (bx - 9 * dx + 4 * dy, by - 9 * dy - 4 * dx)]  # fmt: skip
    sheet.path(head, stroke=stroke, fill=stroke, closed=True)


def _ground(
    sheet: Sheet, rig: Rig, view: SideView, frame: _Frame, left: float, width: float
) -> None:
    """The ground where this view cuts it, with its slope, hatched below."""
    n = rig.ground_normal
    fall = -float(n @ view.right) / float(n[2])
    x0, x1 = (left - frame.x) / frame.scale, (left + width - frame.x) / frame.scale
    a, b = frame.at((x0, fall * x0)), frame.at((x1, fall * x1))
    sheet.line(a, b, width=1.6)
    for t in np.arange(0.01, 1.0, 0.045):
        x, y = a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])
        sheet.line((x, y), (x - 6.0, y + 6.0), stroke=FAINT, width=0.8)


def _above_ground_m(rig: Rig, point: Floats) -> float:
    n = rig.ground_normal
    return float(point[2] + (n[0] * point[0] + n[1] * point[1]) / n[2])


def _staff(
    sheet: Sheet, frame: _Frame, left: float, mark: Point, under: float,
    heights_mm: tuple[float, float], units: str,
) -> None:  # fmt: skip
    """Heights every 100 mm (3 in), the eyes' range as a bar, and a line to the eyepiece at `mark`
    with its height `under` it, metres."""
    x = left + 4.0
    top = max(heights_mm[1] / 1000, under) + 0.1
    sheet.line((x, frame.y), (x, frame.y - top * frame.scale), width=1.2)
    step, every = (0.1, 5) if units == "metric" else (0.0762, 4)
    for k in range(int(top / step) + 1):
        y = frame.y - k * step * frame.scale
        sheet.line((x, y), (x + (9.0 if k % every == 0 else 4.0), y), width=1.0)
        over = (k * step - under) * frame.scale
        if k % every == 0 and k and not -14.0 < over < 32.0:  # the eyepiece's figure stands there
            words = f"{k * step:.1f} m" if units == "metric" else f"{k // every} ft"
            sheet.text((x + 12.0, y + 4.0), words, size=12, fill=FAINT)
    low, high = (frame.y - h / 1000 * frame.scale for h in heights_mm)
    sheet.line((x - 5.0, low), (x - 5.0, high), width=5.0, stroke=FAINT)
    y = frame.y - under * frame.scale
    sheet.line((x, y), (mark[0], y), width=0.8, dash="3 3")
    sheet.text((x + 12.0, y - 5.0), above_ground(under * 1000, units), size=15, weight=600)


def _crossing(
    sheet: Sheet, rig: Rig, axes: Axes, view: SideView, frame: _Frame, right: float, units: str
) -> None:
    """Height of the crossing of the axes above the ground below the tripod."""
    cross = crossing_m(rig, axes)
    x, y = frame.at(flat_points(view, cross))
    end = right - 34.0
    sheet.line((x, y), (end, y), stroke=FAINT, width=0.8, dash="3 3")
    sheet.line((end, y), (end, frame.y), stroke=FAINT, width=0.8)
    sheet.text((end + 5.0, (y + frame.y) / 2), above_ground(float(cross[2]) * 1000, units), size=12,
               fill=FAINT)  # fmt: skip


def _rose(sheet: Sheet, frame: _Frame, span: float) -> None:
    """North, east, south and west around the view from above."""
    r = span / 2 * frame.scale - 4.0
    sheet.circle((frame.x, frame.y), r, stroke=FAINT, width=0.8)
    for azimuth in range(0, 360, 10):
        a = np.radians(azimuth)
        inner = r - (9.0 if azimuth % 30 == 0 else 4.0)
        s, c = float(np.sin(a)), float(-np.cos(a))
        sheet.line((frame.x + s * inner, frame.y + c * inner), (frame.x + s * r, frame.y + c * r),
                   stroke=FAINT, width=0.8)  # fmt: skip
        if azimuth % 90 == 0:
            name = {0: "N", 90: "E", 180: "S", 270: "W"}[azimuth]
            sheet.text((frame.x + s * (r - 19), frame.y + c * (r - 19) + 5), name, size=14,
                       anchor="middle")  # fmt: skip
            sheet.bring_forward()


def point_drawing(answer: PointAnswer) -> str:
    """SVG of both tube sides of one object, the better one first."""
    assert answer.choice is not None
    assert answer.table is not None
    words, habits, better = drawing_words(answer), answer.kit.habits, answer.choice.better
    poses = [
        Pose(
            words.sides[a.side].title,
            words.sides[a.side].rows,
            a.tube_end_h,
            a.swing_deg,
            words.sides[a.side].warns,
        )
        for a in sorted(answer.choice.sides, key=lambda a: a.side != better)
    ]
    return rig_views(
        answer.table.rig,
        answer.table.axes,
        poses,
        heights_mm=(habits.eye_height_min_mm, habits.eye_height_max_mm),
        title=words.title,
        description=words.description,
        units=habits.units,
    )
