"""Why does one axis undo the Earth's turn? The globe, and mounts on it parallel to its axis.

The globe is seen from outside, its axis upright. At each latitude the ground touches it, the
polar axis stands parallel to the Earth's, and rises over the ground by as much as the latitude.
Beside it each rig from the east, to scale, its ground laid level.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from axletree.mount.rig.kinematics import Axes, crossing_m
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats
from axletree.tell.shared.rig_side import Frame, draw_rods
from axletree.tell.shared.rods_drawing import side_views
from axletree.tell.shared.sheet import BRASS, FAINT, Point, Sheet

WIDTH, HEIGHT = 1040.0, 640.0
GLOBE: Point = (250.0, 356.0)
RADIUS = 168.0
PANEL, SCALE = 232.0, 118.0


def latitude_view(rigs: Sequence[tuple[str, Rig, Axes]]) -> str:
    """The drawing as SVG text, for up to two rigs: (place, rig, its axes)."""
    sheet = Sheet(
        WIDTH, HEIGHT, "The mount's axis is parallel to the Earth's",
        "The globe with a mount at each latitude; each rig as its own ground sees it.",
    )  # fmt: skip
    sheet.text((40, 46), "One axis, parallel to the Earth's", size=26, weight=600)
    sheet.text((40, 74), "The pole stands as high as the latitude. Right: each rig from the east.",
               size=16, fill=FAINT)  # fmt: skip
    _globe(sheet)
    for k, (name, rig, axes) in enumerate(rigs[:2]):
        _on_globe(sheet, axes.latitude_deg)
        _panel(sheet, name, rig, axes, 92.0 + k * (PANEL + 26.0))
    return sheet.svg()


def _globe(sheet: Sheet) -> None:
    x, y = GLOBE
    sheet.circle(GLOBE, RADIUS, width=2.0)
    sheet.line((x - RADIUS, y), (x + RADIUS, y), stroke=FAINT)
    sheet.text((x - RADIUS + 12, y - 8), "equator", size=13, fill=FAINT)
    sheet.line((x, y - RADIUS - 74), (x, y + RADIUS + 62), stroke=BRASS, width=2.4, dash="9 5")
    sheet.text((x - 10, y - RADIUS - 62), "to the north celestial pole", size=14, anchor="end")
    sheet.text((x - 10, y + RADIUS + 60), "to the south celestial pole", size=14, anchor="end")
    rise = [(x + 46 * math.cos(a), y - RADIUS - 24 + 11 * math.sin(a)) for a in
            np.linspace(math.radians(200), math.radians(-20), 31)]  # fmt: skip
    sheet.path(rise, width=1.6)
    tip, before = rise[-1], rise[-4]
    way = math.atan2(tip[1] - before[1], tip[0] - before[0])
    barbs = [
        (tip[0] - 11 * math.cos(way + turn), tip[1] - 11 * math.sin(way + turn))
        for turn in (-0.45, 0.45)
    ]
    sheet.path([barbs[0], tip, barbs[1]], width=1.6)


def _on_globe(sheet: Sheet, latitude_deg: float) -> None:
    """The ground that touches the globe there, the plumb line, and the axis."""
    f = math.radians(latitude_deg)
    out = np.array([math.cos(f), -math.sin(f)])  # up, on the sheet
    along = np.array([-math.sin(f), -math.cos(f)])  # north along the ground
    foot = np.array(GLOBE) + RADIUS * out
    sense = 1.0 if latitude_deg >= 0 else -1.0
    ends = foot - 64 * along, foot + 64 * along
    sheet.line(_at(ends[0]), _at(ends[1]), width=1.8)
    sheet.line(GLOBE, _at(foot), stroke=FAINT, dash="3 4")
    head = foot + 30 * out
    sheet.line(_at(foot), _at(head), width=4.0)
    axis = np.array([0.0, -sense])
    tip = head + 74 * axis
    sheet.line(_at(head - 22 * axis), _at(tip), stroke=BRASS, width=5.0)
    level = sense * along
    arc = [
        _at(head + 40 * (math.cos(a) * level + math.sin(a) * out))
        for a in np.linspace(0.0, abs(f), 21)
    ]
    sheet.path(arc, width=1.2)
    sheet.line(_at(head), _at(head + 58 * level), stroke=FAINT)
    words = f"{abs(latitude_deg):.1f}°"
    at = head + 52 * (math.cos(abs(f) / 2) * level + math.sin(abs(f) / 2) * out)
    sheet.text((float(at[0]) - 4, float(at[1]) + (2 if sense > 0 else 12)), words, size=15,
               weight=600, anchor="end")  # fmt: skip
    middle = np.array(GLOBE) + 60 * np.array([math.cos(f / 2), -math.sin(f / 2)])
    sheet.text(_at(middle + np.array([0.0, 5.0])), words, size=13, fill=FAINT)


def _panel(sheet: Sheet, name: str, rig: Rig, axes: Axes, top: float) -> None:
    """The rig from the east, north to the right, with the angle of its axis over the level."""
    left, ground = 590.0, top + PANEL - 30.0
    frame = Frame(side_views(axes.sense)[0], left + 190.0, ground, SCALE)
    sheet.line((left, ground), (WIDTH - 40, ground), width=1.8)
    cross = crossing_m(rig, axes)
    far = cross + 1.05 * axes.pole
    near = cross - 0.35 * axes.pole
    draw_rods(sheet, rig, axes, 0.0, 0.0, frame)
    sheet.line(frame.at(near), frame.at(far), stroke=BRASS, width=2.0, dash="9 5")
    start = frame.at(cross)
    reach = 0.72 * SCALE
    way = 1.0 if axes.sense > 0 else -1.0
    sheet.line(start, (start[0] + way * (reach + 34), start[1]), stroke=FAINT)
    height = math.radians(axes.altitude_deg)
    arc = [
        (start[0] + way * reach * math.cos(a), start[1] - reach * math.sin(a))
        for a in np.linspace(0.0, height, 25)
    ]
    sheet.path(arc, width=1.2)
    sheet.text(
        (start[0] + way * (reach + 12), start[1] - reach * math.sin(height / 2) + 4),
        f"{axes.altitude_deg:.1f}°", size=15, weight=600, anchor="start" if way > 0 else "end",
    )  # fmt: skip
    pole = "north" if axes.sense > 0 else "south"
    # Below the words at the ground's ends: a long name would meet them.
    sheet.text(((left + WIDTH - 40) / 2, ground + 37), f"{name}: the axis points {pole}",
               size=15, anchor="middle", within=WIDTH - left)  # fmt: skip
    sheet.text((WIDTH - 44, ground + 18), "north", size=13, anchor="end", fill=FAINT)
    sheet.text((left + 2, ground + 18), "south", size=13, fill=FAINT)


def _at(point: Floats) -> Point:
    return float(point[0]), float(point[1])
