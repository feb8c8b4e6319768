"""Which way is the pole: the ground from above, with every line that leads to it."""

from __future__ import annotations

import math
from zoneinfo import ZoneInfo

from axletree.ground.north.method import Way
from axletree.ground.north.methods import North
from axletree.tell.north.text import STEEL_CAUTION, SUN_CAUTION, cautions, plus_minus
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, WARN, Point, Sheet, wrapped

WIDTH, HEIGHT = 1100.0, 770.0
CENTRE: Point = (325.0, 410.0)
RING = 225.0
MOST_SHOWN = 9


def north_view(north: North, site_name: str, zone: ZoneInfo) -> str:
    """SVG: a ring of true azimuths, the pole's direction in brass, each way as a numbered line."""
    local = north.at.astimezone(zone)
    pole = "north" if north.north else "south"
    sheet = Sheet(
        WIDTH, HEIGHT, f"The way to true {pole}", "The ground seen from above, true north up."
    )
    sheet.text((40, 42), f"True {pole}", size=26, weight=700)
    sheet.text((40, 64), f"{site_name}, {local:%Y-%m-%d %H:%M}", size=14, within=560)
    _ring(sheet)
    _needle(sheet, north)
    _pole_line(sheet, north)
    shown = [w for w in north.ways if w.usable][:MOST_SHOWN]
    taken: list[Point] = []
    for number, item in enumerate(shown, start=1):
        _line(sheet, number, item, taken)
    _points(sheet)
    _list(sheet, north, shown, zone)
    return sheet.svg()


def _at(azimuth_deg: float, radius: float) -> Point:
    angle = math.radians(azimuth_deg)
    return CENTRE[0] + radius * math.sin(angle), CENTRE[1] - radius * math.cos(angle)


def _ring(sheet: Sheet) -> None:
    sheet.circle(CENTRE, RING, width=1.6)
    sheet.circle(CENTRE, RING - 16, stroke=FAINT, width=0.8)
    for azimuth in range(0, 360, 2):
        deep = 16.0 if azimuth % 30 == 0 else 10.0 if azimuth % 10 == 0 else 5.0
        sheet.line(_at(azimuth, RING), _at(azimuth, RING - deep), width=0.9)
    for azimuth in range(0, 360, 30):
        if azimuth % 90:
            x, y = _at(azimuth, RING - 28)
            sheet.text((x, y + 4), str(azimuth), size=12, anchor="middle", fill=FAINT)


def _points(sheet: Sheet) -> None:
    """The four words, on a patch of paper so that no line runs through them."""
    for azimuth, word in ((0, "north"), (90, "east"), (180, "south"), (270, "west")):
        x, y = _at(azimuth, RING - 36)
        sheet.box((x - 22, y - 10), 44, 19, stroke="none", fill=PAPER)
        sheet.text((x, y + 5), word, size=15, anchor="middle", weight=700)


def _pole_line(sheet: Sheet, north: North) -> None:
    tip = _at(north.pole_azimuth_deg, RING - 52)
    sheet.line(CENTRE, tip, stroke=BRASS, width=6.0)
    # An axle seen from above.
    sheet.circle(CENTRE, 10.0, stroke=BRASS, width=2.0, fill=PAPER)
    sheet.circle(CENTRE, 3.0, stroke=BRASS, fill=BRASS)


def _needle(sheet: Sheet, north: North) -> None:
    """Where a compass needle points, with its uncertainty as a wedge (two standard deviations)."""
    points = north.field.declination_deg
    usable = north.field.zone != "blackout"
    radius = 0.62 * RING
    spread = min(2.0 * north.compass_sigma_deg, 60.0)
    arc = [_at(points + spread * k / 10.0, radius) for k in range(-10, 11)]
    sheet.path([CENTRE, *arc], stroke=FAINT, width=0.8, fill=FAINT, closed=True, opacity=0.35)
    sheet.line(_at(points + 180.0, radius * 0.55), _at(points, radius), width=1.4, dash="6 3")
    x, y = _at(points + (14.0 if points >= 0.0 else -14.0), radius * 0.72)
    anchor = "start" if points >= 0.0 else "end"
    side = "east" if points >= 0.0 else "west"
    words = f"needle, {abs(points):.1f}° {side}" if usable else "needle: don't trust it"
    sheet.text((x, y), words, size=13, anchor=anchor, italic=True)


def _line(sheet: Sheet, number: int, item: Way, taken: list[Point]) -> None:
    """A short line at the ring in the direction of a sight or shadow, with its number."""
    if item.kind == "compass":
        return
    azimuth = item.line_deg
    dash = "" if item.now else "3 4"
    sheet.line(_at(azimuth, 26.0), _at(azimuth, RING + 10), width=1.2 if item.now else 0.9,
               dash=dash, opacity=1.0 if item.now else 0.7)  # fmt: skip
    # Numbers step outwards so that they don't cover each other.
    radius = RING + 24.0
    while any(math.dist(_at(azimuth, radius), other) < 22.0 for other in taken):
        radius += 11.0
    at = _at(azimuth, radius)
    taken.append(at)
    sheet.circle(at, 10.0, width=1.0, fill=PAPER)
    sheet.text((at[0], at[1] + 5), str(number), size=14, anchor="middle", weight=700)


def _list(sheet: Sheet, north: North, shown: list[Way], zone: ZoneInfo) -> None:
    x, y = 640.0, 60.0
    sheet.text((x, y), "expected error", size=13, fill=FAINT)
    y += 12
    for number, item in enumerate(shown, start=1):
        y += 30
        sheet.text((x, y), str(number), size=16, weight=700)
        sheet.text((x + 96, y), plus_minus(item.sigma_deg), size=20, anchor="end", weight=700)
        when = "now" if item.now else f"{item.at.astimezone(zone):%H:%M:%S}"
        sheet.text((x + 110, y), f"{item.name}, {when}", size=15, within=WIDTH - x - 124)
        y += 17
        sheet.text((x + 110, y), _what(item, north), size=13, within=WIDTH - x - 124)
    y += 34
    words = [
        f"Compass: {north.compass_bearing_deg:.1f}° on the dial is true "
        f"{'north' if north.north else 'south'}."
    ]
    for caution in cautions(north):
        words += wrapped(caution, WIDTH - x - 20.0, size=13)
    for i, row in enumerate(words):
        plain = i == 0 or not (row in SUN_CAUTION or row in STEEL_CAUTION)
        sheet.text((x, y + 17 * i), row, size=13, fill=INK if plain else WARN)


def _what(item: Way, north: North) -> str:
    if item.kind == "compass":
        return "turn until it shows the bearing below"
    pole = "north" if north.north else "south"
    turn = item.turn_to_pole_deg
    line = "shadow" if "shadow" in item.name or item.kind == "sun on the meridian" else "sight"
    if abs(turn) < 0.05:
        return f"{line} along {item.line_deg:.1f}°: that is true {pole}"
    if abs(turn) > 179.95:
        return f"{line} along {item.line_deg:.1f}°; true {pole} is straight opposite"
    side = "right" if turn > 0 else "left"
    return f"{line} along {item.line_deg:.1f}°; true {pole} {abs(turn):.1f}° to the {side}"
