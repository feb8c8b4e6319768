"""Which point of the field stands still while the hour axis swings? Three fields, side by side.

As the tube's own cross-hair has it, in the way that the instrument shows the sky with the weights
down: the swing, declination alone, then the bolts. The stars' ways come from the shafts' turns.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from axletree.find.practice.along_axis import LEVEL_H, WEIGHTS_DOWN_H
from axletree.mount.rig.kinematics import Axes, align, frames
from axletree.mount.rig.still_point import still_point_arcmin
from axletree.pole.aim.scope_orientation import in_picture
from axletree.pole.aim.target import PoleTarget
from axletree.sky.arrays import Floats
from axletree.sky.directions import vector_from_azimuth_altitude
from axletree.stages.set_up.pole import PoleAnswer
from axletree.tell.pole.drawing import cut_to_circle
from axletree.tell.pole.swing_drawing_text import SwingWords, swing_words
from axletree.tell.shared.measure import width_of, wrapped
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, Point, Sheet

WIDTH, HEIGHT = 1040.0, 500.0
_RADIUS = 150.0
_SIDE = 2 * _RADIUS + 16.0
_MIDDLE: Point = (_SIDE / 2.0, _SIDE / 2.0)
_CORNERS: tuple[Point, ...] = ((18.0, 88.0), (362.0, 88.0), (706.0, 88.0))
# An axis off the pole, and a tube off the axis, in parts of the field's radius: for show.
_AXIS_HIGH, _AXIS_EAST, _TUBE_OFF, _CONE = 0.16, -0.22, 0.42, 0.17
_BRIGHTEST = 26
_POINTS = 25
_SIZE = 17.0
_BESIDE = 15.0  # from a mark to its words
_ARCMIN_PER_RAD = 180.0 * 60.0 / math.pi


def swing_svg(answer: PoleAnswer) -> str:
    """The drawing as SVG text, for the finder or eyepiece of the way through the tube."""
    return swing_sheet(answer).svg()


def swing_sheet(answer: PoleAnswer) -> Sheet:
    """The drawing, to be put beside another."""
    words = swing_words(answer)
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description)
    sheet.text_within((36, 46), words.head, WIDTH - 72, size=27, weight=600)
    fields = _fields(answer, words)
    for (x, y), field, caption in zip(_CORNERS, fields, words.captions, strict=True):
        sheet.place((x, y), field)
        rows = wrapped(caption, 2 * _RADIUS + 8, size=_SIZE)
        sheet.lines((x + 8, y + _SIDE + 26), rows, size=_SIZE, leading=1.25)
    return sheet


def swing_fields(answer: PoleAnswer) -> list[tuple[str, str]]:
    """Each field by itself as SVG text, with the words that belong under it."""
    words = swing_words(answer)
    fields = _fields(answer, words)
    return [(field.svg(), row) for field, row in zip(fields, words.captions, strict=True)]


def _fields(answer: PoleAnswer, words: SwingWords) -> tuple[Sheet, Sheet, Sheet]:
    radius, target = answer.through_tube.view.field_deg * 30.0, answer.target
    off = _axes(target, radius * _AXIS_HIGH, radius * _AXIS_EAST, radius * _CONE)
    on = _axes(target, 0.0, 0.0, radius * _CONE)
    swung_deg = radius * _TUBE_OFF / 60.0
    swing, along, star = (Sheet(_SIDE, _SIDE, caption) for caption in words.captions)
    _field(swing, answer, off, swung_deg, still=True)
    _along(along, answer, off, swung_deg, words, _field(along, answer, off, 0.0))
    _star(star, answer, on, words, _field(star, answer, on, 0.0))
    return swing, along, star


def _axes(target: PoleTarget, high: float, east: float, cone: float) -> Axes:
    return align(
        target.latitude_deg, high_arcmin=high, east_arcmin=east,
        pole_altitude_deg=target.altitude_deg, cone_arcmin=cone,
    )  # fmt: skip


def _on_cross_hair(
    answer: PoleAnswer, axes: Axes, ends_h: Floats, swing_deg: float, seen: Floats
) -> tuple[Floats, Floats]:
    """Places (stars, poses) of directions (stars, 3) in the field, arcminutes right and up."""
    _, tube = frames(axes, ends_h, swing_deg)
    x, y, z = np.moveaxis(np.einsum("pji,sj->spi", tube, seen), -1, 0)
    return _as_shown(answer, _ARCMIN_PER_RAD * x / z, _ARCMIN_PER_RAD * y / z)


def _as_shown(answer: PoleAnswer, across: Floats, along: Floats) -> tuple[Floats, Floats]:
    """Weights down, the shaft stands upright: across is up for the bare eye, along to the right."""
    view = answer.through_tube.axis_view
    return in_picture(along, across, view.look, view.rotation_deg)


def _stars(answer: PoleAnswer) -> tuple[Floats, Floats]:
    """Directions (stars, 3) of the brightest about the pole as seen, and magnitudes; the pole star
    stands first."""
    view, target = answer.view, answer.target
    some = sorted(view.stars, key=lambda star: star.magnitude_v)[:_BRIGHTEST]
    places = [(view.now.right_arcmin, view.now.up_arcmin)]
    places += [(star.right_arcmin, star.up_arcmin) for star in some]
    seen = answer.axis_view
    x, y = np.array(places).T
    # Back from the picture to what the bare eye sees: the turn undone, then the exchange of sides.
    x, y = in_picture(x, y, "erect", -seen.rotation_deg)
    x, y = in_picture(x, y, seen.look)
    right = vector_from_azimuth_altitude(target.azimuth_deg + 90.0, 0.0)
    up = vector_from_azimuth_altitude(target.azimuth_deg, target.altitude_deg + 90.0)
    v = target.vector + (x[:, None] * right + y[:, None] * up) / _ARCMIN_PER_RAD
    magnitudes = np.array([view.star_magnitude_v, *(star.magnitude_v for star in some)])
    return v / np.linalg.norm(v, axis=1, keepdims=True), magnitudes


def _field(
    sheet: Sheet, answer: PoleAnswer, axes: Axes, swing_deg: float, *, still: bool = False
) -> list[tuple[Point, float]]:
    """One field with its cross-hair and stars; with their ways in the swing where `still`.

    Returns where the stars' dots stand on the sheet, and their radii.
    """
    radius = answer.through_tube.view.field_deg * 30.0
    scale = _RADIUS / radius
    x0, y0 = _MIDDLE
    for dx, dy in ((1.0, 0.0), (0.0, 1.0)):
        sheet.line((x0 - dx * _RADIUS, y0 - dy * _RADIUS), (x0 + dx * _RADIUS, y0 + dy * _RADIUS),
                   stroke=FAINT, width=1.0)  # fmt: skip
    seen, magnitudes = _stars(answer)
    ends, dots = np.linspace(LEVEL_H, WEIGHTS_DOWN_H, _POINTS), []
    right, up = _on_cross_hair(answer, axes, ends, swing_deg, seen)
    for k, magnitude in enumerate(magnitudes):
        way = [(float(a), float(b)) for a, b in zip(right[k], up[k], strict=True)]
        if still:
            for a, b in pairwise(way):
                inside = cut_to_circle(a, b, radius)
                if inside is not None:
                    ends_here = [(x0 + p * scale, y0 - q * scale) for p, q in inside]
                    sheet.line(ends_here[0], ends_here[1], stroke=INK, width=1.1)
        if math.hypot(*way[-1]) < radius * 0.97:
            dot = (x0 + way[-1][0] * scale, y0 - way[-1][1] * scale)
            dots.append((dot, max(5.4 - 0.55 * magnitude, 1.2)))
            sheet.circle(*dots[-1], width=0, fill=INK)
    sheet.circle(_MIDDLE, _RADIUS, width=2.6)
    point = _point(answer, axes, swing_deg)
    sheet.circle(point, 9, stroke=BRASS, width=3, fill=PAPER)
    sheet.circle(point, 3, width=0, fill=BRASS)
    return dots


def _point(answer: PoleAnswer, axes: Axes, swing_deg: float) -> Point:
    """Where the axis lies in the drawn field."""
    scale = _RADIUS / (answer.through_tube.view.field_deg * 30.0)
    right, up = _as_shown(answer, *still_point_arcmin(axes, WEIGHTS_DOWN_H, swing_deg))
    return _MIDDLE[0] + float(right) * scale, _MIDDLE[1] - float(up) * scale


def _along(
    sheet: Sheet, answer: PoleAnswer, axes: Axes, swing_deg: float, words: SwingWords,
    dots: Sequence[tuple[Point, float]],
) -> None:  # fmt: skip
    """The middle field: the way of the point under declination alone, and what stays across.

    `dots`: the stars' dots, from which the words keep clear.
    """
    before = _point(answer, axes, swing_deg)
    after = _point(answer, axes, 0.0)
    sheet.line(before, after, stroke=BRASS, width=2.4, dash="8 5")
    sheet.circle(before, 5, stroke=BRASS, width=2, fill=PAPER)
    sheet.line(after, _MIDDLE, stroke=BRASS, width=2.4)
    sheet.circle(after, 9, stroke=BRASS, width=3, fill=PAPER)
    sheet.circle(after, 3, width=0, fill=BRASS)
    lines = ((before, after), (after, _MIDDLE))
    _beside(sheet, before, after, words.cone, _taken([*dots, (before, 5.0), (after, 9.0)], lines))


def _star(
    sheet: Sheet, answer: PoleAnswer, axes: Axes, words: SwingWords,
    dots: Sequence[tuple[Point, float]],
) -> None:  # fmt: skip
    """The last field: the pole star at its place about the point; `dots` as in `_along`."""
    scale = _RADIUS / (answer.through_tube.view.field_deg * 30.0)
    seen, _ = _stars(answer)
    right, up = _on_cross_hair(answer, axes, np.array([WEIGHTS_DOWN_H]), 0.0, seen[:1])
    star = _MIDDLE[0] + float(right[0, 0]) * scale, _MIDDLE[1] - float(up[0, 0]) * scale
    point = _point(answer, axes, 0.0)
    ring = answer.view.pole_distance_arcmin * scale
    sheet.circle(point, ring, stroke=BRASS, width=1.6, dash="4 4")
    sheet.line(point, star, width=1.5, dash="2 5")
    sheet.circle(star, 8, stroke=BRASS, width=2.4, fill=PAPER)
    sheet.circle(star, 4.5, width=0, fill=INK)
    taken = _taken([*dots, (point, 9.0), (star, 8.0)], ((point, star),))
    _beside(sheet, point, star, words.star, taken)


def _taken(dots: Sequence[tuple[Point, float]], lines: Sequence[tuple[Point, Point]]) -> Floats:
    """What words keep clear of: (discs, 3) of x, y and radius, a line as a row of small discs."""
    along = [
        (a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part, 1.5)
        for a, b in lines for part in np.linspace(0.0, 1.0, 12)
    ]  # fmt: skip
    return np.array([*((x, y, radius) for (x, y), radius in dots), *along])


def _beside(sheet: Sheet, away: Point, at: Point, label: str, taken: Floats) -> None:
    """A label beside its mark where it covers least, rather on the side away from another one."""
    wide, high = width_of(label, _SIZE, 600), 0.7 * _SIZE
    first = math.atan2(at[1] - away[1], at[0] - away[0])

    def lacking(box: tuple[float, float]) -> float:
        x, y = box
        corners = [(x, y), (x + wide, y), (x, y - high), (x + wide, y - high)]
        outside = max(math.dist(corner, _MIDDLE) for corner in corners) > _RADIUS - 6.0
        across = np.maximum(np.maximum(x - taken[:, 0], taken[:, 0] - x - wide), 0.0)
        along = np.maximum(np.maximum(y - high - taken[:, 1], taken[:, 1] - y), 0.0)
        covered = np.hypot(across, along) < taken[:, 2] + 3.0
        return float(np.count_nonzero(covered)) + len(taken) * outside

    best = min(_places(at, first, wide, high), key=lacking)  # of equal ones the first
    sheet.text(best, label, size=_SIZE, weight=600)
    sheet.bring_forward()


def _places(at: Point, first: float, wide: float, high: float) -> Iterator[Point]:
    """Where words may begin around a mark, the direction `first` first."""
    for gap in (_BESIDE, 2.0 * _BESIDE):
        for k in range(24):
            turn = first + math.radians(15.0) * ((k + 1) // 2) * (-1) ** k
            reach = gap + min(
                wide / 2.0 / max(abs(math.cos(turn)), 1e-9),
                high / 2.0 / max(abs(math.sin(turn)), 1e-9),
            )
            x, y = at[0] + reach * math.cos(turn), at[1] + reach * math.sin(turn)
            yield x - wide / 2.0, y + high / 2.0
