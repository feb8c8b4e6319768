"""What does a finder or an eyepiece show, small enough to stand beside a stop on paper?

The field alone, turned as the eye meets it: stars as dots, a ring of brass about the object or its
outline, a stroke at the rim where north is, an arrow where things drift. One word, large.
"""

from __future__ import annotations

import math

from axletree.find.view import FieldView
from axletree.tell.find.view_text import NORTH_MARK, small_view_words
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, Point, Sheet

SIZE = 200.0
_MIDDLE, _RADIUS = 100.0, 78.0
# Radius of a star's dot: the faintest, what each magnitude adds, and the most.
_FAINTEST_DOT, _DOT_A_MAG, _LARGEST_DOT = 1.5, 0.95, 7.5
_RING, _LETTER = 9.0, 20.5


def small_view_svg(view: FieldView, name: str) -> str:
    """The drawing as SVG text; `name` is the object's."""
    title, description = small_view_words(view, name)
    sheet = Sheet(SIZE, SIZE, title, description)
    sheet.circle((_MIDDLE, _MIDDLE), _RADIUS, width=2.0)
    for ring in view.instrument.rings_deg:
        part = math.tan(math.radians(ring)) / math.tan(math.radians(view.radius_deg))
        sheet.circle((_MIDDLE, _MIDDLE), part * _RADIUS, width=1.1, stroke=FAINT)
    _stars(sheet, view)
    _object(sheet, view)
    _rim(sheet, view)
    return sheet.svg()


def _spot(x: float, y: float) -> Point:
    return _MIDDLE + x * _RADIUS, _MIDDLE - y * _RADIUS


def _around(radius: float, clockwise_deg: float) -> Point:
    a = math.radians(clockwise_deg)
    return _MIDDLE + radius * math.sin(a), _MIDDLE - radius * math.cos(a)


def _stars(sheet: Sheet, view: FieldView) -> None:
    faintest = min(view.limit_mag, view.list_limit_mag)
    dots = []
    for x, y, magnitude in zip(view.x, view.y, view.magnitude_v, strict=True):
        size = min(_FAINTEST_DOT + _DOT_A_MAG * max(faintest - magnitude, 0.0), _LARGEST_DOT)
        inside = min(1.0, (_RADIUS - size - 1.5) / max(_RADIUS * math.hypot(x, y), 1e-9))
        dots.append((_spot(x * inside, y * inside), size))
    for spot, size in reversed(dots):
        sheet.circle(spot, size + 0.4, stroke=PAPER, width=0.8, fill=INK)


def _object(sheet: Sheet, view: FieldView) -> None:
    """The outline where it is larger than a ring and fits, else the ring at the place."""
    seen = view.outline
    if view.place is None:
        return
    if seen is not None and seen.semi_major * _RADIUS > _RING and seen.semi_major < 1.0:
        spot, turn = _spot(seen.x, seen.y), math.radians(seen.major_deg or 0.0)
        points = []
        for step in range(73):
            t = math.radians(5.0 * step)
            along = seen.semi_major * _RADIUS * math.cos(t)
            across = seen.semi_minor * _RADIUS * math.sin(t)
            points.append(
                (
                    spot[0] + along * math.sin(turn) + across * math.cos(turn),
                    spot[1] - along * math.cos(turn) + across * math.sin(turn),
                )
            )
        sheet.path(points, stroke=BRASS, width=1.8)
        return
    sheet.circle(_spot(*view.place), _RING, stroke=BRASS, width=1.8, dash="3.5 3.5")


def _rim(sheet: Sheet, view: FieldView) -> None:
    north, drift = view.turned.north_deg, view.turned.drift_deg
    sheet.line(_around(_RADIUS - 8, north), _around(_RADIUS + 5, north), width=2.6)
    x, y = _around(_RADIUS + 14, north)
    sheet.text((x, y + 0.35 * _LETTER), NORTH_MARK, size=_LETTER, anchor="middle", weight=600)
    tip = [_around(_RADIUS + 15, drift)]
    tip += [_around(_RADIUS + 3, drift + turn) for turn in (5.0, -5.0)]
    sheet.path(tip, stroke=BRASS, fill=BRASS, width=1, closed=True)
