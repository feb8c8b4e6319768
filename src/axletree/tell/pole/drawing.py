"""Where does the pole star go? The view through the polar scope, drawn like an engraved dial.

Above, the middle of the view enlarged: the star's ring in brass, its place now and in the next
two hours, a clock face to read it by. Below, the whole field with its stars, to recognise it.
Data come as a `PoleView`; nothing is computed here but where the ink goes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from axletree.pole.aim.view import PoleView
from axletree.tell.pole.drawing_text import DialWords, dial_words, guide_label, time_words
from axletree.tell.shared.measure import width_of, wrapped
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet

WIDTH, HEIGHT = 800.0, 1092.0
_DIAL: Point = (400.0, 444.0)
_DIAL_RADIUS = 285.0
# Of the dial's radius that the ring takes, and where its type is large.
_RING_PART, _SMALL_RING_PART = 0.61, 0.56
_FIELD: Point = (186.0, 930.0)
_FIELD_RADIUS = 142.0
# 8.06 points where the dial's 682 units take 62 mm.
_SMALL_LEAST = 31.3


def pole_view_svg(view: PoleView, rows: Sequence[str] = ()) -> str:
    """The drawing as SVG text; `rows` are lines of words beside the whole field."""
    return pole_view_sheet(view, rows).svg()


def pole_view_sheet(view: PoleView, rows: Sequence[str] = (), tube: str = "") -> Sheet:
    """The drawing, to be put beside another.

    `tube`: what of the tube is looked through, in words; '' for what the mount itself has.
    """
    words = dial_words(view, tube)
    sheet = Sheet(WIDTH, HEIGHT, words.title, f"{words.description} {' '.join(rows)}")
    sheet.text_within((400, 50), words.head, WIDTH - 30, size=46, anchor="middle", weight=600)
    sheet.text_within((400, 87), words.below_head, WIDTH - 20, size=23, anchor="middle")
    _dial(sheet, view, words)
    _whole_field(sheet, view, words)
    beside = [line for row in rows for line in wrapped(row, 440, size=19, indent="\u00a0\u00a0")]
    sheet.lines((352, 818), beside, size=19, leading=1.45)
    return sheet


def pole_dial_svg(view: PoleView) -> str:
    """The dial alone, to be shown as small as 62 mm with type of 8 points."""
    words = dial_words(view)
    sheet = Sheet(WIDTH, HEIGHT, words.title, words.description, least=_SMALL_LEAST)
    _dial(sheet, view, words)
    half = _DIAL_RADIUS + 56.0
    small = Sheet(2 * half, 2 * half, words.title, words.description)
    corner = f"translate({half - _DIAL[0]:g} {half - _DIAL[1]:g})"
    small.raw(f'<g transform="{corner}">{sheet.inner()}</g>')
    return small.svg()


def _at(centre: Point, radius: float, hour: float) -> Point:
    a = math.radians(hour * 30.0)
    return centre[0] + radius * math.sin(a), centre[1] - radius * math.cos(a)


def _dial(sheet: Sheet, view: PoleView, words: DialWords) -> None:
    """The enlarged middle: rim, ring, the star's places."""
    centre, R = _DIAL, _DIAL_RADIUS
    ring = max(math.hypot(*p) for p in view.ring)
    scale = R * (_SMALL_RING_PART if sheet.least else _RING_PART) / ring
    larger = max(sheet.least - 21.0, 0.0)  # than the type of the whole drawing

    def spot(right: float, up: float) -> Point:
        return centre[0] + right * scale, centre[1] - up * scale

    _rim(sheet, centre, R)
    _cross(sheet, centre, words.axis)
    for star in view.stars:
        if math.hypot(star.right_arcmin, star.up_arcmin) * scale < R - 20:
            _star(sheet, spot(star.right_arcmin, star.up_arcmin), star.magnitude_v, 1.5)
    edge = view.field_deg * 30.0 * scale
    if edge < R - 4:
        sheet.circle(centre, edge, width=2, dash="10 6")
        sheet.text((centre[0], centre[1] + edge - 8), words.edge, size=17, anchor="middle")
    if view.engraved_ring_arcmin is not None and view.engraved_ring_arcmin * scale < R - 40:
        _engraved(sheet, view.engraved_ring_arcmin * scale, view.clock_hour, words.engraved)
    sheet.path([spot(*p) for p in view.ring], stroke=BRASS, width=5)
    _way_round(sheet, view, ring * scale)
    for i, place in enumerate(view.quarters):
        on_the_hour = (i + 1) % 4 == 0
        p = spot(place.right_arcmin, place.up_arcmin)
        sheet.circle(p, 8 if on_the_hour else 4.5, width=2.5, fill=PAPER)
        if on_the_hour:
            label = _at(centre, ring * scale + 40 + larger, place.clock_hour)
            sheet.text((label[0], label[1] + 7), time_words(place.at), size=21, anchor="middle")
            sheet.bring_forward()
    now = spot(view.now.right_arcmin, view.now.up_arcmin)
    part = max(1.0 - 90.0 / max(view.now.distance_arcmin * scale, 91.0), 0.0)
    toward = (centre[0] + part * (now[0] - centre[0]), centre[1] + part * (now[1] - centre[1]))
    sheet.line(centre, toward, width=1.5, dash="2 5")
    sheet.circle(now, 22, stroke=BRASS, width=3, fill=PAPER)
    sheet.circle(now, 13, fill=INK)
    label = _at(centre, ring * scale - 54 - larger, view.now.clock_hour)
    sheet.text((label[0], label[1] + 8), words.now, size=25, anchor="middle", weight=600)
    _guides(sheet, view)


def _engraved(sheet: Sheet, r: float, star_hour: float, words: str) -> None:
    """The scope's own ring, dotted, labelled across from the star."""
    sheet.circle(_DIAL, r, width=2, dash="3 5")
    x, y = _at(_DIAL, r * 0.6, star_hour + 6.0)
    sheet.text((x, y + 6), words, size=18, anchor="middle")


def _rim(sheet: Sheet, centre: Point, R: float) -> None:
    """Twelve hours, each of them in six."""
    sheet.circle(centre, R, width=2.5)
    sheet.circle(centre, R - 42, width=0.8, stroke=FAINT)
    for k in range(72):
        hour = k / 6.0
        whole, half = k % 6 == 0, k % 6 == 3
        length = 16.0 if whole else 11.0 if half else 7.0
        sheet.line(
            _at(centre, R, hour),
            _at(centre, R + length, hour),
            width=3 if whole else 1.6 if half else 1.0,
        )
        if whole:
            x, y = _at(centre, R + 34, hour)
            sheet.text((x, y + 9), str(k // 6 or 12), size=27, anchor="middle", weight=600)


def _cross(sheet: Sheet, centre: Point, axis: str) -> None:
    x, y = centre
    for dx, dy in ((1, 0), (0, 1)):
        sheet.line((x - dx * 20, y - dy * 20), (x + dx * 20, y + dy * 20), width=2.5)
    sheet.text((x + 12, y - 10), axis, size=18)
    sheet.bring_forward()


def _star(sheet: Sheet, at: Point, magnitude: float, enlarge: float = 1.0) -> None:
    """Brighter is larger: half a unit of radius a magnitude."""
    sheet.circle(at, max(5.2 - 0.55 * magnitude, 0.9) * enlarge, width=0, fill=INK)


def _way_round(sheet: Sheet, view: PoleView, ring_px: float) -> None:
    """An arrowhead on the ring beyond the last quarter, the way the star goes."""
    sense = 1.0 if view.turn_deg_per_h > 0 else -1.0
    hour = view.quarters[-1].clock_hour + sense * 0.75
    tip = _at(_DIAL, ring_px, hour)
    behind = hour - sense * 0.22
    back = (_at(_DIAL, ring_px + 12, behind), _at(_DIAL, ring_px - 12, behind))
    sheet.path([tip, *back], stroke=BRASS, fill=BRASS, width=1, closed=True)


def _guides(sheet: Sheet, view: PoleView) -> None:
    """Words along the rim, and a mark on it, the way to the figures that the bare eye sees."""
    for guide in view.guides:
        hour = guide.clock_hour
        feet = (
            _at(_DIAL, _DIAL_RADIUS - 12, hour - 0.07),
            _at(_DIAL, _DIAL_RADIUS - 12, hour + 0.07),
        )
        sheet.path([_at(_DIAL, _DIAL_RADIUS, hour), *feet], fill=INK, closed=True)
        size = max(19.0, sheet.least)
        _along_rim(sheet, guide_label(guide), hour, _DIAL_RADIUS - 28, size)


def _along_rim(sheet: Sheet, words: str, hour: float, radius: float, size: float = 19.0) -> None:
    """Upright words on an arc centred on an hour, each word straight: every viewer draws them."""
    below = 3.0 < hour < 9.0
    gap = 0.3 * size
    parts = [(word, width_of(word, size)) for word in words.split(" ")]
    place = -(sum(wide for _, wide in parts) + gap * (len(parts) - 1)) / 2.0
    for word, wide in parts:
        turn = math.degrees((place + wide / 2.0) / radius)
        at_hour = hour - turn / 30.0 if below else hour + turn / 30.0
        x, y = _at(_DIAL, radius + (0.33 * size if below else -0.33 * size), at_hour)
        sheet.text((x, y), word, size=size, anchor="middle",
                   turn_deg=at_hour * 30.0 + (180.0 if below else 0.0))  # fmt: skip
        place += wide + gap


def _whole_field(sheet: Sheet, view: PoleView, words: DialWords) -> None:
    """All of the field in small: stars, the figure to recognise, the ring."""
    centre, R = _FIELD, _FIELD_RADIUS
    half = view.field_deg * 30.0
    scale = R / half

    def spot(right: float, up: float) -> Point:
        return centre[0] + right * scale, centre[1] - up * scale

    sheet.circle(centre, R, width=2.5)
    for hour in range(12):
        sheet.line(_at(centre, R, hour), _at(centre, R + 7, hour), width=1.6)
    for a, b in view.figure:
        inside = cut_to_circle(a, b, half)
        if inside is not None:
            sheet.line(spot(*inside[0]), spot(*inside[1]), stroke=FAINT, width=1.5)
    ring = [p for p in view.ring if math.hypot(*p) <= half]
    if len(ring) == len(view.ring):
        sheet.path([spot(*p) for p in ring], stroke=BRASS, width=3)
    for star in view.stars:
        p = spot(star.right_arcmin, star.up_arcmin)
        _star(sheet, p, star.magnitude_v)
    taken: list[tuple[float, float, float]] = []
    if view.pole_distance_arcmin <= half:
        now = spot(view.now.right_arcmin, view.now.up_arcmin)
        side = -1.0 if now[0] > centre[0] else 1.0
        _clear(taken, (now[0] + 12 * -side, now[1] + 5), view.star, -side)
    for star in view.stars:
        if star.name:
            _name(sheet, spot(star.right_arcmin, star.up_arcmin), star.name, taken)
    if view.pole_distance_arcmin <= half:
        sheet.circle(now, 7, stroke=BRASS, width=2, fill=PAPER)
        sheet.circle(now, 4.5, width=0, fill=INK)
        sheet.text((now[0] - 12 * side, now[1] + 5), view.star, size=15,
                   anchor="end" if side > 0 else "start")  # fmt: skip
        sheet.bring_forward()
        sheet.line((centre[0] - 6, centre[1]), (centre[0] + 6, centre[1]), width=1.5)
        sheet.line((centre[0], centre[1] - 6), (centre[0], centre[1] + 6), width=1.5)
    else:
        sheet.text((centre[0], centre[1] + 6), words.outside, size=17,
                   anchor="middle", fill=WARN)  # fmt: skip
    sheet.text(
        (centre[0], centre[1] - R - 18), words.whole_field, size=19,
        anchor="middle",
    )  # fmt: skip


def _name(sheet: Sheet, star: Point, name: str, taken: list[tuple[float, float, float]]) -> None:
    """A star's name towards the middle, above or below it, where no other name stands; or none."""
    inward = -1.0 if star[0] > _FIELD[0] else 1.0
    for side, down in ((inward, -5.0), (inward, 16.0), (-inward, -5.0), (-inward, 16.0)):
        at = (star[0] + 7 * side, star[1] + down)
        if _clear(taken, at, name, side):
            sheet.text(at, name, size=15, anchor="start" if side > 0 else "end")
            sheet.bring_forward()
            return


def _clear(
    taken: list[tuple[float, float, float]], at: Point, name: str, side: float
) -> bool:  # fmt: skip
    """Whether a name has room beside those taken and the words at the right; if so, it is taken."""
    far = at[0] + side * width_of(name, 15)
    left, right = min(at[0], far), max(at[0], far)
    if left < 4.0 or right > 360.0:
        return False
    if any(left < b and a < right and abs(at[1] - y) < 17.0 for a, b, y in taken):
        return False
    taken.append((left, right, at[1]))
    return True


def cut_to_circle(a: Point, b: Point, radius: float) -> tuple[Point, Point] | None:
    """The part of a straight line that lies within a circle about the middle; None if none does."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length2 = dx * dx + dy * dy
    if length2 == 0.0:
        return None
    along = -(a[0] * dx + a[1] * dy) / length2
    nearest2 = (a[0] + along * dx) ** 2 + (a[1] + along * dy) ** 2
    if nearest2 >= radius * radius:
        return None
    reach = math.sqrt((radius * radius - nearest2) / length2)
    t0, t1 = max(along - reach, 0.0), min(along + reach, 1.0)
    if t0 >= t1:
        return None
    return (a[0] + t0 * dx, a[1] + t0 * dy), (a[0] + t1 * dx, a[1] + t1 * dy)
