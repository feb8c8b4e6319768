"""What do the rows of a drift file say: which star, how long, how far, which way?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.reading.table import Row, read_table
from axletree.pole.drift.solve import WatchedStars, crossing_drift_arcsec, series_drift
from axletree.pole.rows.columns import DEFAULT_SIGMA_ARCSEC, DRIFT_COLUMNS
from axletree.pole.rows.reading import Moment, Placed, moment_of, place_of, places_of
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_HOURS_PER_S

_WAYS = ("up", "right", "down", "left")  # clockwise


@dataclass(frozen=True)
class DriftRows:
    """Drift measurements as parallel arrays (stars,), ready for `solve_drift` as `stars`.

    `groups`: what shares an eyepiece orientation; `lines`: where each stands in the file.
    """

    names: tuple[str, ...]
    lines: tuple[int, ...]
    hour_angle_h: Floats
    declination_deg: Floats
    watched_s: Floats
    drift_arcsec: Floats
    sigma_arcsec: Floats
    groups: tuple[str, ...]
    moments: tuple[datetime | None, ...]

    @property
    def stars(self) -> WatchedStars:
        """What the solver takes of them."""
        return WatchedStars(
            self.hour_angle_h, self.declination_deg, self.watched_s, self.drift_arcsec,
            self.sigma_arcsec, self.groups,
        )  # fmt: skip


# A series of readings by a camera over hours; as long as the answer takes a second or two.
MOST_DRIFTS = 5000


def read_drift(text: str, source: str, observer: Observer, moment: Moment) -> DriftRows:
    """The drifts of a text with columns of `DRIFT_COLUMNS`; refuses a broken row by its line.

    `moment` turns a time of day or ISO text into an aware datetime.
    """
    rows = list(read_table(text, source, DRIFT_COLUMNS, most_rows=MOST_DRIFTS).rows())
    if "offset_arcsec" in rows[0].cells:
        found = _series(rows, observer, moment)
    else:
        placed_at = places_of(rows, [moment_of(row, "started", moment) for row in rows], observer)
        found = [_watch(row, there) for row, there in zip(rows, placed_at, strict=True)]
    columns = list(zip(*found, strict=True))
    placed: Sequence[Placed] = columns[0]
    return DriftRows(
        names=tuple(p.name for p in placed),
        lines=tuple(columns[1]),
        hour_angle_h=np.array([p.hour_angle_h for p in placed]),
        declination_deg=np.array([p.declination_deg for p in placed]),
        watched_s=np.array(columns[2]),
        drift_arcsec=np.array(columns[3]),
        sigma_arcsec=np.array(columns[4]),
        groups=tuple(columns[5]),
        moments=tuple(p.at for p in placed),
    )


_Found = tuple[Placed, int, float, float, float, str]


def _watch(row: Row, placed: Placed) -> _Found:
    watched = row.needed("watched_s", 1.0, 43200.0)
    sigma = row.number("sigma_arcsec", 0.001, 3600.0) or DEFAULT_SIGMA_ARCSEC
    return placed, row.line, watched, _drift(row), sigma, _group(row)


def _group(row: Row) -> str:
    stated = (row.text(k) for k in ("tube_side", "north_is", "west_is", "view"))
    return " ".join(filter(None, stated))


def _drift(row: Row) -> float:
    """The drift of a row in arcseconds, north positive."""
    row.word("tube_side", ("east", "west"))
    sizes: list[float] = []
    given = row.number("drift_arcsec", -36000.0, 36000.0)
    if given is not None:
        sizes.append(given)
    divisions = row.number("divisions", -10000.0, 10000.0)
    if divisions is not None:
        sizes.append(divisions * row.needed("division_arcsec", 0.01, 36000.0))
    field = row.number("field_arcmin", 0.1, 1200.0)
    if field is not None:
        part = row.number("field_part", 0.01, 1.0)
        sizes.append(crossing_drift_arcsec(field, 0.5 if part is None else part))
    if len(sizes) != 1:
        words = "give one of drift_arcsec, divisions or field_arcmin"
        raise row.wrong("", words if not sizes else words + ", not several")
    towards = row.word("towards", ("north", "south", *_WAYS))
    size = sizes[0]
    if not towards:
        if field is not None or (divisions is not None and size):
            raise row.wrong("towards", "is missing: which way did the star go?")
        return size
    if size < 0:
        raise row.wrong("towards", "with a direction the drift is a plain size, without a minus")
    if towards in ("north", "south"):
        _north_way(row)
        return size if towards == "north" else -size
    north = _north_way(row)
    if not north:
        raise row.wrong("towards", f"'{towards}' needs north_is, or west_is and view")
    quarter = (_WAYS.index(towards) - _WAYS.index(north)) % 4
    if quarter % 2:
        raise row.wrong(
            "towards",
            f"'{towards}' is east or west while north is {north}: that is hour angle, "
            "not declination; keep the star in the middle with the hour knob",
        )
    return size if quarter == 0 else -size


def _north_way(row: Row) -> str:
    """Where north is in the eyepiece: stated, or from west and the view; refused if they clash."""
    north = row.word("north_is", _WAYS)
    west = row.word("west_is", _WAYS)
    view = row.word("view", ("straight", "mirrored"))
    if not (west and view):
        return north
    # Facing the sky with north up, west is on the right: north is a quarter back from west.
    step = -1 if view == "straight" else 1
    meant = _WAYS[(_WAYS.index(west) + step) % 4]
    if north and north != meant:
        other = "mirrored" if view == "straight" else "straight"
        raise row.wrong(
            "north_is",
            f"with west {west} in a {view} view north is {meant}, not {north}; if both were "
            f"seen so, the view is {other}" if north == _WAYS[(_WAYS.index(meant) + 2) % 4]
            else f"north can't be {north} while west is {west}",
        )  # fmt: skip
    return meant


def _series(rows: Sequence[Row], observer: Observer, moment: Moment) -> list[_Found]:
    """Readings of one star that stand together become one drift."""
    runs: list[list[Row]] = []
    for row in rows:
        if runs and _same_star(runs[-1][-1], row):
            runs[-1].append(row)
        else:
            runs.append([row])
    found: list[_Found] = []
    for run in runs:
        times = [moment_of(row, "read_at", moment) for row in run]
        for row, time in zip(run, times, strict=True):
            if time is None:
                raise row.wrong("read_at", "is missing")
        seconds = [(t - times[0]).total_seconds() for t in times if t and times[0]]
        offsets = [row.needed("offset_arcsec", -36000.0, 36000.0) for row in run]
        sigma = run[0].number("sigma_arcsec", 0.001, 3600.0) or DEFAULT_SIGMA_ARCSEC
        try:
            start, watched, drift, sigma = series_drift(seconds, offsets, sigma)
        except AxletreeError as error:
            raise run[0].wrong("read_at", str(error)) from None
        placed = place_of(run[0], times[0], observer)
        moved = placed.hour_angle_h + start * SIDEREAL_HOURS_PER_S
        placed = Placed(placed.name, moved, placed.declination_deg, placed.at)
        found.append((placed, run[0].line, watched, drift, sigma, _group(run[0])))
    return found


def _same_star(one: Row, other: Row) -> bool:
    names = (one.text("star"), other.text("star"))
    if not names[1]:
        # A row without a star goes on with the one above, unless it brings its own place.
        return not other.text("hour_angle_h")
    return names[0] == names[1]
