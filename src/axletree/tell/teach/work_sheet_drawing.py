"""What do pupils draw into: the globe with their own ground on it, and the eyepiece's circle?

Black on white, for a pencil: what they are to find is left out, and drawn in where answers stand.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.mount.rig.kinematics import align
from axletree.mount.rig.parts import Rig
from axletree.tell.shared.rig_side import SheetFrame, draw_rods
from axletree.tell.shared.rods_drawing import SideView, ViewFrom
from axletree.tell.shared.sheet import BRASS, FAINT, INK, Point, Sheet
from axletree.tell.teach.text import latitude_words
from axletree.tell.teach.work_sheet_text import (
    circle_description,
    circle_title,
    globe_description,
    globe_title,
)

GLOBE_WIDE, GLOBE_HIGH = 520.0, 520.0
_CENTRE: Point = (190.0, 260.0)
_RADIUS, _RIG_PX = 150.0, 150.0
CIRCLE_PX = 260.0
_MIDDLE: Point = (CIRCLE_PX / 2, CIRCLE_PX / 2)
_FIELD = 112.0


def globe_svg(rig: Rig, latitude_deg: float, *, solved: bool) -> str:
    """The Earth from the side, its axis upright, and the ground of a place on it; with the mount
    and its axis where it is `solved`, else with a tripod and a dot for its top."""
    f = math.radians(latitude_deg)
    sheet = Sheet(GLOBE_WIDE, GLOBE_HIGH, globe_title(), globe_description(latitude_deg))
    x, y = _CENTRE
    sheet.circle(_CENTRE, _RADIUS, width=2.0)
    sheet.line((x - _RADIUS, y), (x + _RADIUS, y), stroke=FAINT)
    sheet.line((x, 24), (x, GLOBE_HIGH - 24), width=2.0, dash="10 6")
    up, along = np.array([math.cos(f), -math.sin(f)]), np.array([-math.sin(f), -math.cos(f)])
    foot = np.array(_CENTRE) + _RADIUS * up

    def at(level: float, height: float) -> Point:
        place = foot + level * along + height * up
        return float(place[0]), float(place[1])

    sheet.line(_CENTRE, at(0, 0), stroke=FAINT, dash="3 4")
    sheet.line(at(-95, 0), at(95, 0), width=2.0)
    scale = _RIG_PX / (rig.hinge_height_m + 0.7)
    if not solved:
        for level in (-0.35, 0.0, 0.35):
            sheet.line(at(level * scale, 0), at(0, rig.hinge_height_m * scale), width=2.0)
        sheet.circle(at(0, rig.hinge_height_m * scale), 4.0, fill=INK)
        return sheet.svg()
    axes = align(latitude_deg)
    # Local up and north lie in the sheet; whoever looks stands in the west.
    view = SideView(
        ViewFrom.EAST, np.array([0.0, -math.sin(f), math.cos(f)]),
        np.array([0.0, math.cos(f), math.sin(f)]), np.array([-1.0, 0.0, 0.0]),
    )  # fmt: skip
    frame = SheetFrame(view, float(foot[0]), float(foot[1]), scale)
    draw_rods(sheet, rig, axes, (-6.0, -axes.sense * 90.0), frame)
    head = np.array([0.0, 0.0, rig.hinge_height_m])
    sheet.line(frame.at(head - 0.45 * axes.pole), frame.at(head + 1.0 * axes.pole), stroke=BRASS,
               width=3.0)  # fmt: skip
    mid = np.array(_CENTRE) + 58.0 * np.array([math.cos(f / 2), -math.sin(f / 2)])
    sheet.text(
        (float(mid[0]), float(mid[1]) + 6), latitude_words(latitude_deg), size=18, weight=600
    )
    return sheet.svg()


def circle_svg(star: str, gone: float | None) -> str:
    """The eyepiece's circle, the star so far west of its middle, in radii of the field; None leaves
    it empty."""
    sheet = Sheet(CIRCLE_PX, CIRCLE_PX, circle_title(), circle_description(star))
    sheet.circle(_MIDDLE, _FIELD, width=2.0)
    x, y = _MIDDLE
    sheet.line((x - 8, y), (x + 8, y), stroke=FAINT)
    sheet.line((x, y - 8), (x, y + 8), stroke=FAINT)
    if gone is not None:
        sheet.circle((x - gone * _FIELD, y), 6.0, fill=INK)
        # To the right of it: at the edge it would stand on the rim.
        sheet.text((x - gone * _FIELD + 10, y - 10), star, size=20, weight=600)
    return sheet.svg()
