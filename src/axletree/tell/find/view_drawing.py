"""What will the eye see? A small round drawing of one instrument's field.

Stars are dots, larger for brighter ones; the object's outline is a line of brass at its true size,
open where the field's edge cuts it, or a broken ring where that would be too small. Around the rim
stand which way is up, north and the drift.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from axletree.find.view import FieldView, OutlineSeen
from axletree.tell.eyepiece.disc_drawing import Round
from axletree.tell.eyepiece.field_drawing import (
    draw_body,
    draws_body,
    inset_times,
    is_numbered,
    moon_spots,
)
from axletree.tell.find.view_text import ViewWords, view_words
from axletree.tell.shared.measure import width_of
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, Point, Sheet

WIDTH = 460.0
_MIDDLE: Point = (230.0, 268.0)
_RADIUS = 152.0
_ROWS_AT, _LEADING = 484.0, 22.0
# Radius of a star's dot: the faintest that shows, what each magnitude adds, and the most.
_FAINTEST_DOT, _DOT_A_MAG, _LARGEST_DOT = 0.85, 0.68, 7.5
_MARK, _DASH = 10.0, "3.5 3.5"  # a broken ring where the true outline would be too small to see
_FIELD = Round(_MIDDLE, _RADIUS)
_NAMES = 3  # of stars, at most
_NAME_SIZE = 15.0
_STOP = 5.0  # units beside a name in which a dot would be read as a full stop
_Box = tuple[float, float, float, float]


def field_view_svg(
    view: FieldView,
    name: str = "",
    star_names: Mapping[int, str] | None = None,
    *,
    driven: bool = False,
) -> str:
    """The drawing as SVG text; see `field_view_sheet`."""
    return field_view_sheet(view, name, star_names, driven=driven).svg()


def field_view_sheet(
    view: FieldView,
    name: str = "",
    star_names: Mapping[int, str] | None = None,
    *,
    driven: bool = False,
) -> Sheet:
    """The drawing, to stand alone or beside others.

    `name` is the object's; `star_names` those of stars by `FieldView.star_number`, of which the
    brightest are written where they have room.
    """
    words = view_words(
        view,
        name,
        marked=is_marked(view),
        driven=driven,
        enlarged=inset_times(view, _FIELD),
        numbered=is_numbered(view, _FIELD),
    )
    sheet = Sheet(WIDTH, _ROWS_AT + _LEADING * len(words.rows), words.title, words.description)
    sheet.text_within((WIDTH / 2, 34), words.head, WIDTH - 24, size=25, anchor="middle", weight=600)
    sheet.text_within((WIDTH / 2, 60), words.below_head, WIDTH - 24, size=18, anchor="middle")
    sheet.circle(_MIDDLE, _RADIUS, width=2.4)
    for ring in view.instrument.rings_deg:
        part = math.tan(math.radians(ring)) / math.tan(math.radians(view.radius_deg))
        sheet.circle(_MIDDLE, part * _RADIUS, width=1.1, stroke=FAINT)
    dots = _stars(sheet, view)
    ring_box = _object(sheet, view)
    _names(sheet, view, name, star_names or {}, dots, ring_box)
    _rim(sheet, view, words)
    for i, row in enumerate(words.rows):
        at = (WIDTH / 2, _ROWS_AT + _LEADING * i)
        sheet.text_within(at, row, WIDTH - 24, size=17, anchor="middle")
    return sheet


def _spot(x: float, y: float) -> Point:
    return _MIDDLE[0] + x * _RADIUS, _MIDDLE[1] - y * _RADIUS


def _around(radius: float, clockwise_deg: float) -> Point:
    a = math.radians(clockwise_deg)
    return _MIDDLE[0] + radius * math.sin(a), _MIDDLE[1] - radius * math.cos(a)


def _stars(sheet: Sheet, view: FieldView) -> list[tuple[Point, float]]:
    """Dots from faint to bright, each with a breath of paper around it; their places and radii."""
    faintest = min(view.limit_mag, view.list_limit_mag)
    dots = []
    for x, y, magnitude in zip(view.x, view.y, view.magnitude_v, strict=True):
        size = min(_FAINTEST_DOT + _DOT_A_MAG * max(faintest - magnitude, 0.0), _LARGEST_DOT)
        inside = min(1.0, (_RADIUS - size - 2.0) / max(_RADIUS * math.hypot(x, y), 1e-9))
        dots.append((_spot(x * inside, y * inside), size))
    for spot, size in reversed(dots):
        sheet.circle(spot, size + 0.5, stroke=PAPER, width=1.0, fill=INK)
    return dots


def _object(sheet: Sheet, view: FieldView) -> _Box | None:
    """Its outline, and the box that it takes in the drawing; None where nothing stands there."""
    if draws_body(view, _FIELD) and view.place is not None:
        radius = draw_body(sheet, view, _FIELD)
        return _square(_spot(*view.place), max(radius, 3.0) + 1.0)
    if view.outline is not None and not is_marked(view):
        return _outline(sheet, view.outline)
    if view.place is None:
        return None
    spot = _spot(*view.place)
    if view.companion_deg is not None and view.companion_apart is not None:
        _companion(sheet, spot, view.companion_deg, view.companion_apart * _RADIUS)
    return _mark(sheet, spot)


def is_marked(view: FieldView) -> bool:
    """True where a broken ring stands for an outline that would be too small, or for none."""
    seen = view.outline
    if draws_body(view, _FIELD):
        return False
    return view.place is not None and (seen is None or seen.semi_major * _RADIUS < 0.7 * _MARK)


def _mark(sheet: Sheet, spot: Point) -> _Box:
    sheet.circle(spot, _MARK, stroke=BRASS, width=1.8, dash=_DASH)
    return _square(spot, _MARK + 1.0)


def _outline(sheet: Sheet, seen: OutlineSeen) -> _Box | None:
    spot = _spot(seen.x, seen.y)
    long, short = seen.semi_major * _RADIUS, seen.semi_minor * _RADIUS
    t = np.linspace(0.0, 2.0 * np.pi, 181)
    a = math.radians(seen.major_deg or 0.0)
    along, across = long * np.cos(t), short * np.sin(t)
    x = spot[0] + along * math.sin(a) + across * math.cos(a)
    y = spot[1] - along * math.cos(a) + across * math.sin(a)
    inside = np.hypot(x - _MIDDLE[0], y - _MIDDLE[1]) <= _RADIUS - 1.5
    for run in np.split(np.arange(len(t)), np.flatnonzero(np.diff(inside)) + 1):
        if inside[run[0]] and len(run) > 1:
            sheet.path([(float(x[i]), float(y[i])) for i in run], stroke=BRASS, width=1.9)
    if not inside.any():
        return None
    corners = (x[inside].min(), y[inside].min(), x[inside].max(), y[inside].max())
    left, top, right, low = (float(v) for v in corners)
    return left, top, right, low


def _companion(sheet: Sheet, spot: Point, clockwise_deg: float, apart: float) -> None:
    """A short stroke beyond the ring, the way to the fainter star, where it stands too close."""
    a = math.radians(clockwise_deg)
    begin, end = max(_MARK + 2.0, apart - 4.0), max(_MARK + 12.0, apart)
    sheet.line(
        (spot[0] + begin * math.sin(a), spot[1] - begin * math.cos(a)),
        (spot[0] + end * math.sin(a), spot[1] - end * math.cos(a)),
        stroke=BRASS, width=1.8, cap="round",
    )  # fmt: skip


def _rim(sheet: Sheet, view: FieldView, words: ViewWords) -> None:
    """Up, north and the drift around the field, words upright beyond their marks."""
    x, tip_y = 36.0, 92.0
    sheet.line((x, tip_y + 34), (x, tip_y + 8), width=1.8)
    sheet.path([(x, tip_y), (x - 4, tip_y + 10), (x + 4, tip_y + 10)], fill=INK, closed=True)
    sheet.text((x, tip_y + 51), words.up, size=17, anchor="middle")
    north, drift = view.turned.north_deg, view.turned.drift_deg
    sheet.line(_around(_RADIUS - 9, north), _around(_RADIUS + 6, north), width=2.4)
    _beyond(sheet, words.north, north, _RADIUS + 9)
    sheet.line(_around(_RADIUS + 3, drift), _around(_RADIUS + 14, drift), stroke=BRASS, width=2.6)
    tip = [_around(_RADIUS + 24, drift)]
    tip += [_around(_RADIUS + 12, drift + turn) for turn in (2.6, -2.6)]
    sheet.path(tip, stroke=BRASS, fill=BRASS, width=1, closed=True)
    _beyond(sheet, words.drift, drift, _RADIUS + 27)


def _beyond(sheet: Sheet, words: str, clockwise_deg: float, radius: float) -> None:
    """Upright words whose nearest edge touches a circle of this radius."""
    a, size = math.radians(clockwise_deg), 17.0
    half_wide, half_high = width_of(words, size) / 2.0 + 2.0, 0.36 * size
    away = radius + abs(math.sin(a)) * half_wide + abs(math.cos(a)) * half_high
    x, y = _around(away, clockwise_deg)
    sheet.text((x, y + 0.3 * size), words, size=size, anchor="middle")


def _names(
    sheet: Sheet,
    view: FieldView,
    name: str,
    star_names: Mapping[int, str],
    dots: list[tuple[Point, float]],
    ring: _Box | None,
) -> None:
    """The object's name and those of the brightest stars, where they have room."""
    taken = [_square(spot, size + 1.0) for spot, size in dots if size > 2.2]
    every = [_square(spot, size) for spot, size in dots]
    taken += [_square(spot, 3.0) for spot in moon_spots(view, _FIELD)]
    if ring is not None:
        if name:
            _write(sheet, name, ring, taken, every, 600)
        taken.append(ring)
    named = [i for i, number in enumerate(view.star_number) if star_names.get(int(number))]
    for i in named[:_NAMES]:
        spot, size = dots[i]
        words = star_names[int(view.star_number[i])]
        if words != name:
            _write(sheet, words, _square(spot, size), taken, every, 400)


def _write(
    sheet: Sheet, words: str, beside: _Box, taken: list[_Box], dots: list[_Box], weight: int
) -> None:
    """Words to the right, the left, below or above a box where nothing stands yet, and where the
    fewest dots are hidden or taken for a full stop; else none, but an object's (heavy) at the
    first place that the rim leaves."""
    wide, high = width_of(words, _NAME_SIZE, weight), 0.72 * _NAME_SIZE
    left, top, right, low = beside
    x, y = (left + right) / 2.0, (top + low) / 2.0
    places = [
        (right + 6, y - high / 2), (left - 6 - wide, y - high / 2),
        (x - wide / 2, low + 5), (x - wide / 2, top - 5 - high),
        (right + 3, low + 1), (left - 3 - wide, low + 1),
        (right + 3, top - 1 - high), (left - 3 - wide, top - 1 - high),
        (x - wide / 2, y + 12), (x - wide / 2, low - 6 - high), (x - wide / 2, top + 6),
    ]  # fmt: skip
    boxes = [(a, b, a + wide, b + high) for a, b in places if _in_rim(a, b, wide, high)]
    free = [box for box in boxes if not any(_meet(box, other) for other in taken)]
    allowed = free or (boxes if weight > 400 else [])
    others = [dot for dot in dots if not _meet(dot, beside)]

    def unclear(box: _Box) -> int:
        around = (box[0] - _STOP, box[1], box[2] + _STOP, box[3])
        return sum(_meet(around, dot) for dot in others)

    chosen = min(allowed, key=unclear, default=None)
    if chosen is None:
        return
    sheet.box((chosen[0] - 1, chosen[1] - 1), wide + 2, high + 4, stroke="none", fill=PAPER,
              opacity=0.85)  # fmt: skip
    at = (chosen[0], chosen[3] - 0.06 * _NAME_SIZE)
    sheet.text(at, words, size=_NAME_SIZE, weight=weight)
    taken.append(chosen)


def _square(spot: Point, half: float) -> _Box:
    return spot[0] - half, spot[1] - half, spot[0] + half, spot[1] + half


def _in_rim(a: float, b: float, wide: float, high: float) -> bool:
    return all(
        math.hypot(x - _MIDDLE[0], y - _MIDDLE[1]) < _RADIUS - 8.0
        for x in (a, a + wide)
        for y in (b, b + high)
    )


def _meet(a: _Box, b: _Box) -> bool:
    return a[0] < b[2] + 2 and b[0] < a[2] + 2 and a[1] < b[3] + 1 and b[1] < a[3] + 1
