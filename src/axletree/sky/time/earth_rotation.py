"""How far is the Earth's turn ahead of the clock, and where does its axis pierce the ground?

The table is `finals2000A.all` of the International Earth Rotation and Reference Systems
Service (IERS) as shipped by the package `astropy-iers-data`: one line of fixed width a day,
measured values followed by a year of predictions. Nothing is downloaded.
"""

from __future__ import annotations

import datetime as dt
import functools
import re
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_ARCSEC = np.pi / 180 / 3600


@dataclass(frozen=True, eq=False)
class EarthRotationTable:
    """Daily values at whole `mjd`: UT1-TAI (s, so free of leap seconds), pole x and y (radians).

    `predicted_from_mjd` is the first day whose UT1 is a prediction. A table equals itself alone.
    """

    mjd: Floats
    ut1_minus_tai_s: Floats
    xp_rad: Floats
    yp_rad: Floats
    predicted_from_mjd: float


def _column(rows: NDArray[np.uint8], first: int, last: int) -> Floats:
    """Numbers standing in bytes `first`..`last` (counted from 1, as the file's own guide does).

    Digits are put together as whole numbers and divided once, which rounds as reading text does
    and takes a tenth of the time: the point stands in one place all the way down.
    """
    text = np.ascontiguousarray(rows[:, first - 1 : last].T)
    point = int(np.flatnonzero(text[:, 0] == ord("."))[0])
    whole = np.zeros(len(rows))
    for digit in np.delete(text, point, axis=0):
        whole = 10.0 * whole + np.maximum(digit, ord("0"))  # blanks and the sign lie below '0'
        whole -= ord("0")
    whole[(text == ord("-")).any(axis=0)] *= -1.0
    return whole / 10.0 ** (len(text) - 1 - point)


@functools.cache
def earth_rotation_table() -> EarthRotationTable:
    """The whole shipped table. Source: IERS finals2000A, byte-by-byte guide ReadMe.finals2000A."""
    import astropy_iers_data
    import erfa

    with open(astropy_iers_data.IERS_A_FILE, "rb") as file:
        text = file.read()
    width = text.index(b"\n") + 1
    rows = np.frombuffer(text, dtype=np.uint8)[: len(text) // width * width].reshape(-1, width)
    rows = rows[: np.count_nonzero(rows[:, 57] != ord(" "))]  # days after the last prediction
    mjd = _column(rows[:1], 8, 15) + np.arange(len(rows))
    if mjd[-1] != _column(rows[-1:], 8, 15)[0]:
        mjd = _column(rows, 8, 15)
    year, month, day, _, _ = erfa.ufunc.jd2cal(2400000.5, mjd)
    tai_minus_utc, _ = erfa.ufunc.dat(year, month, day, 0.0)
    predicted = np.flatnonzero(rows[:, 57] == ord("P"))
    return EarthRotationTable(
        mjd=mjd,
        ut1_minus_tai_s=_column(rows, 59, 68) - tai_minus_utc,
        xp_rad=_column(rows, 19, 27) * _ARCSEC,
        yp_rad=_column(rows, 38, 46) * _ARCSEC,
        predicted_from_mjd=float(mjd[predicted[0]]) if predicted.size else float(mjd[-1] + 1),
    )


class RotationDoubtKind(Enum):
    """Why the Earth's rotation is less well known than usual."""

    AFTER_TABLE = "after_table"
    BEFORE_TABLE = "before_table"
    # Whether a leap second comes is settled only to a date.
    LEAP_SECONDS = "leap_seconds"


@dataclass(frozen=True)
class RotationDoubt:
    """A doubt of the Earth's rotation and the date to (from) which it is known; None: unknown."""

    kind: RotationDoubtKind
    limit: dt.date | None


def earth_rotation_at(
    mjd_utc: Floats,
) -> tuple[Floats, Floats, Floats, tuple[RotationDoubt, ...]]:
    """UT1-TAI (s), polar motion x and y (radians) at UTC dates `mjd_utc`, and doubts of them.

    Linear between days. Outside the table the nearest value is held, and a doubt says so. Never
    fails, never downloads.
    """
    table = earth_rotation_table()
    ut1_minus_tai = np.interp(mjd_utc, table.mjd, table.ut1_minus_tai_s)
    xp = np.interp(mjd_utc, table.mjd, table.xp_rad)
    yp = np.interp(mjd_utc, table.mjd, table.yp_rad)
    return ut1_minus_tai, xp, yp, _doubts(mjd_utc, table)


@functools.cache
def leap_seconds_known_to_mjd() -> float:
    """Until when it is settled whether a leap second comes: the expiry of the IERS's own list.

    Source: the comment 'File expires on' in Leap_Second.dat of the same package.
    """
    import astropy_iers_data
    import erfa

    with open(astropy_iers_data.IERS_LEAP_SECOND_FILE, encoding="ascii") as file:
        found = re.search(r"File expires on (\d+) ([A-Z][a-z]+) (\d{4})", file.read())
    if found is None:
        return -np.inf
    month = _MONTHS.index(found[2][:3]) + 1
    return float(sum(erfa.cal2jd(int(found[3]), month, int(found[1]))) - 2400000.5)


def _doubts(mjd_utc: Floats, table: EarthRotationTable) -> tuple[RotationDoubt, ...]:
    if mjd_utc.size == 0:
        return ()
    latest = float(np.max(mjd_utc))
    found = []
    if latest > table.mjd[-1]:
        found.append(RotationDoubt(RotationDoubtKind.AFTER_TABLE, _date(table.mjd[-1])))
    if latest > table.predicted_from_mjd and latest > leap_seconds_known_to_mjd():
        last = leap_seconds_known_to_mjd()
        until = _date(last) if np.isfinite(last) else None
        found.append(RotationDoubt(RotationDoubtKind.LEAP_SECONDS, until))
    if not found and float(np.min(mjd_utc)) < table.mjd[0]:
        found.append(RotationDoubt(RotationDoubtKind.BEFORE_TABLE, _date(table.mjd[0])))
    return tuple(found)


def _date(mjd: float) -> dt.date:
    import erfa

    year, month, day, _ = erfa.jd2cal(2400000.5, mjd)
    return dt.date(year, month, day)
