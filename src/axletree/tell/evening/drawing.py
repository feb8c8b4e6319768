"""How does the evening run? One line of time for each stop, in their order.

Above, when to set up and how dark it is. Each stop is a brass block; the line behind
it is the room that the object still has on the chosen tube side, to what ends it.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from axletree.tell.evening.document import Evening
from axletree.tell.evening.parts.stop_facts import StopFacts
from axletree.tell.evening.text import drawing_words, row_words
from axletree.tell.shared.measure import shortened, width_of
from axletree.tell.shared.sheet import BRASS, FAINT, INK, WARN, Sheet
from axletree.tell.shared.words import clock

WIDTH, LEFT, RIGHT = 1120.0, 356.0, 40.0
HEAD, ROW, FOOT = 206.0, 30.0, 58.0
_TINTS = (0.05, 0.14, 0.26, 0.4)  # day, and below each of the three dusks


def evening_view(evening: Evening) -> str:
    """The drawing as SVG text; without stops it says why."""
    zone = ZoneInfo(evening.place.time_zone)
    height = HEAD + ROW * max(1, len(evening.stops)) + FOOT
    words = drawing_words(evening)
    sheet = Sheet(WIDTH, height, words.title, words.description)
    sheet.text((40, 44), words.day, size=26, weight=600)
    sheet.text((40, 72), words.where, size=15, fill=FAINT)
    if not evening.stops:
        sheet.text((40, HEAD), words.nothing, size=17)
        return sheet.svg()
    lines = _Lines(sheet, evening, zone, height - FOOT)
    lines.rule()
    lines.darkness(words.darkness)
    sheet.text((40, 102), words.setting_up, size=15)
    for k, stop in enumerate(evening.stops):
        lines.stop(stop, HEAD + ROW * k)
    sheet.text((LEFT, height - 14), words.legend, size=13, fill=FAINT)
    return sheet.svg()


class _Lines:
    """The scale of time, and what is drawn on it."""

    def __init__(self, sheet: Sheet, evening: Evening, zone: ZoneInfo, bottom: float) -> None:
        self.sheet, self.evening, self.zone, self.bottom = sheet, evening, zone, bottom
        spare = timedelta(minutes=45)
        self.first = _floor(evening.stops[0].begin - timedelta(minutes=20), 30)
        self.last = _floor(evening.stops[-1].end + spare, 30) + timedelta(minutes=30)

    def x(self, moment: datetime) -> float:
        """Where a moment stands, kept on the sheet."""
        part = (moment - self.first) / (self.last - self.first)
        return LEFT + (WIDTH - LEFT - RIGHT) * min(max(part, 0.0), 1.0)

    def rule(self) -> None:
        """The scale: a tooth for ten minutes, figures for each half hour."""
        top = HEAD - 24
        self.sheet.line((LEFT, top), (WIDTH - RIGHT, top), width=1.6)
        moment = self.first
        while moment <= self.last:
            half = moment.astimezone(self.zone).minute % 30 == 0
            at = self.x(moment)
            self.sheet.line((at, top), (at, top - (9 if half else 5)), width=1.0)
            if half:
                self.sheet.text((at, top - 14), clock(moment, self.zone), size=14, anchor="middle")
                self.sheet.line((at, top), (at, self.bottom), stroke=FAINT, width=0.5, opacity=0.6)
            moment += timedelta(minutes=10)

    def darkness(self, name: str) -> None:
        """A band that grows darker with each dusk."""
        dark = self.evening.darkness
        edges = [self.first, dark.sunset, dark.civil_dusk, dark.nautical_dusk,
                 dark.astronomical_dusk, self.last]  # fmt: skip
        y = HEAD - 74
        for k in range(1, len(edges)):
            start, stop = edges[k - 1], edges[k]
            if start is None:
                continue
            a, b = self.x(start), self.x(stop or self.last)
            if b > a and k >= 2:
                self.sheet.box((a, y), b - a, 12, stroke="none", fill=INK, opacity=_TINTS[k - 2])
        self.sheet.text((LEFT - 12, y + 11), name, size=13, anchor="end", fill=FAINT)

    def stop(self, stop: StopFacts, y: float) -> None:
        """One stop: name and side, its room, its block of time."""
        middle = y + ROW / 2
        up = stop.chosen.weights_up
        name, side = row_words(stop)
        room = LEFT - 24 - width_of(side, 14) - 40
        self.sheet.text((40, middle + 5), shortened(name, room, 15), size=15)
        self.sheet.text((LEFT - 12, middle + 5), side, size=14, anchor="end",
                        fill=WARN if up else FAINT)  # fmt: skip
        ends = stop.chosen.room_ends or self.last
        a, b, c = self.x(stop.begin), self.x(stop.end), self.x(ends)
        self.sheet.line((a, middle), (c, middle), width=1.4)
        if ends < self.last:
            self.sheet.line((c, middle - 6), (c, middle + 6), width=1.6)
        self.sheet.box((a, middle - 9), max(b - a, 2.0), 18, stroke=BRASS, fill=BRASS)


def _floor(moment: datetime, minutes: int) -> datetime:
    return moment - timedelta(
        minutes=moment.minute % minutes, seconds=moment.second, microseconds=moment.microsecond
    )
