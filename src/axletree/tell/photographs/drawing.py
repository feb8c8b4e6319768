"""Which places are marked on a picture? The rig from one side with its places numbered."""

from __future__ import annotations

import numpy as np

from axletree.mount.photographed.picture import RigPlace
from axletree.mount.photographed.places import PLACES, places_m
from axletree.mount.rig.kinematics import align
from axletree.mount.rig.parts import Rig
from axletree.tell.photographs.text import places_title
from axletree.tell.shared.rig_side import SIZE, draw_ground, draw_rods, frame_for
from axletree.tell.shared.rods_drawing import side_views
from axletree.tell.shared.sheet import BRASS, PAPER, Point, Sheet

_DOT, _APART, _TYPE = 5.5, 26.0, 22.0
_TURNS = 24


def places_view(rig: Rig, latitude_deg: float, *, behind: bool) -> str:
    """SVG with a numbered dot on each place, from the east or from behind towards the pole."""
    axes = align(latitude_deg)
    view = side_views(axes.sense)[1 if behind else 0]
    frame = frame_for(rig, axes, view)
    points = places_m(rig, latitude_deg, np.zeros(3))
    sheet = Sheet(SIZE, SIZE, places_title(behind=behind))
    draw_ground(sheet, rig, frame)
    draw_rods(sheet, rig, axes, (0.0, 0.0), frame)
    dots: dict[RigPlace, Point] = {}
    for place, point in zip(PLACES, points, strict=True):
        if not np.isnan(point).any():
            dots[place] = frame.at(point)
    for x, y in dots.values():
        sheet.circle((x, y), _DOT, stroke=BRASS, fill=BRASS)
    taken = list(dots.values())
    for place, dot in dots.items():
        at = _free(dot, taken)
        taken.append(at)
        sheet.line(dot, at, stroke=BRASS, width=1.2)
        sheet.circle(at, 13.0, stroke=BRASS, fill=PAPER)
        sheet.text((at[0], at[1] + 7.5), str(PLACES.index(place) + 1), size=_TYPE, anchor="middle",
                   weight=600, fill=BRASS)  # fmt: skip
    return sheet.svg()


def _free(dot: Point, taken: list[Point]) -> Point:
    """A place for a number beside a dot, as far from all others as there is."""
    tried = []
    for far in (_APART + 8.0, 2.0 * _APART):
        for k in range(_TURNS):
            a = 2.0 * np.pi * k / _TURNS
            x, y = dot[0] + far * np.cos(a), dot[1] + far * np.sin(a)
            x, y = min(max(x, 16.0), SIZE - 16.0), min(max(y, 16.0), SIZE - 16.0)
            near = min(np.hypot(x - u, y - v) for u, v in taken if (u, v) != dot)
            tried.append((min(near, _APART + 6.0) - 0.1 * far, (float(x), float(y))))
    return max(tried)[1]
