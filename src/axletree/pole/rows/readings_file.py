"""What do the rows of a circle-reading file say: which star, which side, what the circles show?"""

from __future__ import annotations

from datetime import datetime

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.reading.table import Row, read_table
from axletree.pole.readings.observed import CircleReadings
from axletree.pole.rows.columns import READING_COLUMNS
from axletree.pole.rows.reading import Moment, Placed, moment_of, places_of
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation


@dataclass(frozen=True)
class CircleRows:
    """Circle readings as parallel arrays (stars,), ready for `solve_readings` as `readings`.

    Settings: a word for each reading, another one after the circle was set anew; None where
    nothing was said of it.
    """

    names: tuple[str, ...]
    lines: tuple[int, ...]
    hour_angle_h: Floats
    declination_deg: Floats
    sides: tuple[str, ...]
    hour_circle_h: Floats
    declination_circle_deg: Floats
    moments: tuple[datetime | None, ...]
    hour_settings: tuple[str, ...] | None = None
    declination_settings: tuple[str, ...] | None = None

    @property
    def readings(self) -> CircleReadings:
        """What the solver takes of them."""
        return CircleReadings(
            self.hour_angle_h, self.declination_deg, self.sides, self.hour_circle_h,
            self.declination_circle_deg, self.hour_settings, self.declination_settings,
        )  # fmt: skip


# More than anybody centres in a night; the search for wrong ones takes the cube of their number.
MOST_READINGS = 500


def read_circles(text: str, source: str, observer: Observer, moment: Moment) -> CircleRows:
    """The readings of a text (`READING_COLUMNS`); refuses a broken row by its line."""
    rows = list(read_table(text, source, READING_COLUMNS, most_rows=MOST_READINGS).rows())
    times = [moment_of(row, "read_at", moment) for row in rows]
    there = places_of(rows, times, observer)
    found = [_reading(row, place, observer) for row, place in zip(rows, there, strict=True)]
    placed, lines, sides, hours, declinations = zip(*found, strict=True)
    return CircleRows(
        names=tuple(p.name for p in placed),
        lines=tuple(lines),
        hour_angle_h=np.array([p.hour_angle_h for p in placed]),
        declination_deg=np.array([p.declination_deg for p in placed]),
        sides=tuple(sides),
        hour_circle_h=np.array(hours),
        declination_circle_deg=np.array(declinations),
        moments=tuple(p.at for p in placed),
        hour_settings=_settings(rows, "hour_circle_setting"),
        declination_settings=_settings(rows, "declination_circle_setting"),
    )


_Read = tuple[Placed, int, str, float, float]


def _settings(rows: list[Row], column: str) -> tuple[str, ...] | None:
    """A column's words, an empty cell that of the row before; None if the column is empty."""
    words = [row.text(column) for row in rows]
    if not any(words):
        return None
    for k, word in enumerate(words):
        words[k] = word or (words[k - 1] if k else "first")
    return tuple(words)


def _reading(row: Row, placed: Placed, observer: Observer) -> _Read:
    side = row.word("tube_side", ("east", "west"))
    if not side:
        raise row.wrong("tube_side", "is missing: east or west")
    hour = row.number("hour_circle_h", -24.0, 24.0)
    ra = row.number("ra_circle_h", -24.0, 24.0)
    if (hour is None) == (ra is None):
        raise row.wrong("", "give either hour_circle_h or ra_circle_h")
    if hour is None:
        if placed.at is None:
            raise row.wrong("read_at", "is missing: a right ascension circle needs the time")
        turned = orientation(Instants.from_datetime(placed.at), observer)
        sidereal_h = float(turned.sidereal_time_rad[0]) * 12.0 / np.pi
        hour = sidereal_h - float(ra or 0.0)
    declination = row.needed("declination_circle_deg", -180.0, 180.0)
    return placed, row.line, side, float(wrap_h(hour)), declination
