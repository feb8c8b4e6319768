"""How does the rig stand in one pose, seen from one side? One square drawing for a small screen.

The scale is that of the farthest reach in any pose, so that the drawing doesn't jump when the
axes turn. In brass what turns; what touches is filled.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import Axes, crossing_m, placed
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, POLAR, Rig
from axletree.sky.arrays import Floats
from axletree.tell.shared.rods_drawing import SideView, ViewFrom, flat_points, outline, side_views
from axletree.tell.shared.rods_text import RIG_SIDE_DESCRIPTION, rig_side_title, seen_words
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet

SIZE = 640.0
_MARGIN, _FOOT = 14.0, 46.0


@dataclass(frozen=True)
class SheetFrame:
    """From metres, seen in one view, to the sheet."""

    view: SideView
    x: float
    y: float
    scale: float

    def at(self, point: Floats) -> Point:
        """A local point (3,) on the sheet."""
        right, up = flat_points(self.view, np.asarray(point))
        return self.x + float(right) * self.scale, self.y - float(up) * self.scale


def frame_for(rig: Rig, axes: Axes, view: SideView, spare_m: float = 0.05) -> SheetFrame:
    """The scale and place at which every pose of this rig fits the sheet, with room to spare."""
    cross = crossing_m(rig, axes)
    turning = np.isin(rig.frame, (POLAR, DECLINATION))
    ends = np.concatenate((rig.start_m[turning], rig.end_m[turning]))
    radius = np.concatenate((rig.radius_m[turning], rig.radius_m[turning]))
    reach = float((np.linalg.norm(ends, axis=1) + radius).max())
    feet = np.concatenate((rig.start_m[rig.frame == GROUND], rig.end_m[rig.frame == GROUND]))
    seen = flat_points(view, cross)
    from_above = abs(view.near[2]) > 0.9
    wide = max(reach + abs(float(seen[0])), float(np.abs(feet[:, :2]).max())) + spare_m
    if from_above:
        wide = max(wide, reach + abs(float(seen[1])))
        scale = (SIZE - 2 * _MARGIN) / (2 * wide)
        return SheetFrame(view, SIZE / 2, SIZE / 2, scale)
    high = max(float(cross[2]) + reach + spare_m - 0.05, 0.5)
    scale = min((SIZE - 2 * _MARGIN) / (2 * wide), (SIZE - _MARGIN - _FOOT) / high)
    return SheetFrame(view, SIZE / 2, SIZE - _FOOT, scale)


def draw_rods(
    sheet: Sheet, rig: Rig, axes: Axes, pose: tuple[float, float], frame: SheetFrame,
    touching: Collection[str] = (), *, ghost: bool = False,
) -> None:  # fmt: skip
    """All parts in a pose (tube_end_h, swing_deg) from the farthest to the nearest.

    A ghost is only what turns, in thin lines.
    """
    start, end = placed(rig, axes, *pose)
    shapes = [
        outline(frame.view, k, start[k], end[k], float(rig.radius_m[k]), bool(rig.flat[k]))
        for k in range(len(rig.names))
        if rig.radius_m[k] > 0 and not (ghost and rig.frame[k] in (GROUND, HEAD))
    ]
    for shape in sorted(shapes, key=lambda s: s.depth):
        still = rig.frame[shape.part] in (GROUND, HEAD)
        touches = rig.names[shape.part] in touching
        pen = WARN if touches else FAINT if ghost else INK if still else BRASS
        fill = "none" if ghost else WARN if touches else PAPER
        for points in (shape.outline, shape.face):
            if points:
                sheet.path(
                    [(frame.x + x * frame.scale, frame.y - y * frame.scale) for x, y in points],
                    stroke=pen, width=1.0 if ghost else 1.7, fill=fill, closed=True,
                    dash="5 4" if ghost else "",
                )  # fmt: skip


def draw_ground(sheet: Sheet, rig: Rig, frame: SheetFrame) -> None:
    """The ground with its slope, hatched below; a circle when seen from above."""
    if abs(frame.view.near[2]) > 0.9:
        sheet.circle((frame.x, frame.y), SIZE / 2 - 3, stroke=FAINT)
        return
    fall = -float(rig.ground_normal @ frame.view.right) / float(rig.ground_normal[2])
    left, right = _MARGIN, SIZE - _MARGIN
    y0 = frame.y - fall * (left - frame.x)
    y1 = frame.y - fall * (right - frame.x)
    sheet.line((left, y0), (right, y1), width=1.8)
    for k in range(34):
        part = (k + 0.5) / 34
        x, y = left + part * (right - left), y0 + part * (y1 - y0)
        sheet.line((x, y), (x - 8.0, y + 9.0), stroke=FAINT, width=0.9)


def rig_side(
    rig: Rig, axes: Axes, tube_end_h: float, swing_deg: float, *, view: int = 0,
    touching: Collection[str] = (), ghost: tuple[float, float] | None = None,
) -> str:  # fmt: skip
    """SVG of one pose; `view` 0 from the east, 1 from behind, 2 from above.

    `touching` are names of parts; `ghost` another pose (tube_end_h, swing_deg) in thin lines.
    """
    sheet, stand = _pose(rig, axes, (tube_end_h, swing_deg), view, touching, ghost)
    sheet.text((SIZE / 2, SIZE - 8), seen_words(stand), size=19, anchor="middle", fill=FAINT)
    sheet.bring_forward()
    return sheet.svg()


def rig_alone(rig: Rig, axes: Axes, tube_end_h: float, swing_deg: float, *, view: int = 0) -> str:
    """The same without a word on it, for where it is shown too small for words."""
    return _pose(rig, axes, (tube_end_h, swing_deg), view)[0].svg()


def _pose(
    rig: Rig, axes: Axes, pose: tuple[float, float], view: int,
    touching: Collection[str] = (), ghost: tuple[float, float] | None = None,
) -> tuple[Sheet, ViewFrom]:  # fmt: skip
    seen = side_views(axes.sense)[view]
    frame = frame_for(rig, axes, seen)
    sheet = Sheet(SIZE, SIZE, rig_side_title(seen.stand), RIG_SIDE_DESCRIPTION)
    draw_ground(sheet, rig, frame)
    if ghost is not None:
        draw_rods(sheet, rig, axes, ghost, frame, ghost=True)
    draw_rods(sheet, rig, axes, pose, frame, touching)
    return sheet, seen.stand
