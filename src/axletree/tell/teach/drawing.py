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
from axletree.tell.shared.rig_side import SheetFrame, draw_rods
from axletree.tell.shared.rods_drawing import side_views
from axletree.tell.shared.sheet import BRASS, FAINT, Point, Sheet
from axletree.tell.teach.text import GlobeWords, axis_words, globe_words, latitude_words, rig_words

WIDTH, HEIGHT = 1040.0, 640.0
GLOBE: Point = (250.0, 356.0)
RADIUS = 168.0
PANEL, SCALE = 232.0, 118.0


def latitude_view(rigs: Sequence[tuple[str, Rig, Axes]]) -> str:
    """The drawing as SVG text, for up to two rigs: (place, rig, its axes)."""
    words = globe_words()
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description)
    sheet.text((40, 46), words.head, size=26, weight=600)
    sheet.text((40, 74), words.below_head, size=16, fill=FAINT)
    _globe(sheet, words)
    for k, (name, rig, axes) in enumerate(rigs[:2]):
        _on_globe(sheet, axes.latitude_deg)
        _panel(sheet, name, rig, axes, 92.0 + k * (PANEL + 26.0), words)
    return sheet.svg()


def _globe(sheet: Sheet, words: GlobeWords) -> None:
    x, y = GLOBE
    sheet.circle(GLOBE, RADIUS, width=2.0)
    sheet.line((x - RADIUS, y), (x + RADIUS, y), stroke=FAINT)
    sheet.text((x - RADIUS + 12, y - 8), words.equator, size=13, fill=FAINT)
    sheet.line((x, y - RADIUS - 74), (x, y + RADIUS + 62), stroke=BRASS, width=2.4, dash="9 5")
    sheet.text((x - 10, y - RADIUS - 62), words.north_pole, size=14, anchor="end")
    sheet.text((x - 10, y + RADIUS + 60), words.south_pole, size=14, anchor="end")
    rise = [(x + 46 * math.cos(a), y - RADIUS - 24 + 11 * math.sin(a)) for a in
            np.linspace(math.radians(200), math.radians(-20), 31)]  # fmt: skip
    sheet.path(rise, width=1.6)
    tip, before = rise[-1], rise[-4]
    heading = math.atan2(tip[1] - before[1], tip[0] - before[0])
    barbs = [
        (tip[0] - 11 * math.cos(heading + turn), tip[1] - 11 * math.sin(heading + turn))
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
    words = latitude_words(latitude_deg)
    at = head + 52 * (math.cos(abs(f) / 2) * level + math.sin(abs(f) / 2) * out)
    sheet.text((float(at[0]) - 4, float(at[1]) + (2 if sense > 0 else 12)), words, size=15,
               weight=600, anchor="end")  # fmt: skip
    middle = np.array(GLOBE) + 60 * np.array([math.cos(f / 2), -math.sin(f / 2)])
    sheet.text(_at(middle + np.array([0.0, 5.0])), words, size=13, fill=FAINT)


def _panel(sheet: Sheet, name: str, rig: Rig, axes: Axes, top: float, words: GlobeWords) -> None:
    """The rig from the east, north to the right, with the angle of its axis over the level."""
    left, ground = 590.0, top + PANEL - 30.0
    frame = SheetFrame(side_views(axes.sense)[0], left + 190.0, ground, SCALE)
    sheet.line((left, ground), (WIDTH - 40, ground), width=1.8)
    cross = crossing_m(rig, axes)
    far = cross + 1.05 * axes.pole
    near = cross - 0.35 * axes.pole
    draw_rods(sheet, rig, axes, (0.0, 0.0), frame)
    sheet.line(frame.at(near), frame.at(far), stroke=BRASS, width=2.0, dash="9 5")
    start = frame.at(cross)
    reach = 0.72 * SCALE
    outward = 1.0 if axes.sense > 0 else -1.0
    sheet.line(start, (start[0] + outward * (reach + 34), start[1]), stroke=FAINT)
    height = math.radians(axes.altitude_deg)
    arc = [
        (start[0] + outward * reach * math.cos(a), start[1] - reach * math.sin(a))
        for a in np.linspace(0.0, height, 25)
    ]
    sheet.path(arc, width=1.2)
    sheet.text(
        (start[0] + outward * (reach + 12), start[1] - reach * math.sin(height / 2) + 4),
        axis_words(axes), size=15, weight=600, anchor="start" if outward > 0 else "end",
    )  # fmt: skip
    # Below the words at the ground's ends: a long name would meet them.
    sheet.text_within(
        ((left + WIDTH - 40) / 2, ground + 37),
        rig_words(name, axes),
        WIDTH - left,
        size=15,
        anchor="middle",
    )
    sheet.text((WIDTH - 44, ground + 18), words.north, size=13, anchor="end", fill=FAINT)
    sheet.text((left + 2, ground + 18), words.south, size=13, fill=FAINT)


def _at(point: Floats) -> Point:
    return float(point[0]), float(point[1])
