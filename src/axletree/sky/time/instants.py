"""Which moment is meant, in every time scale that the sky needs?"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator
from dataclasses import fields
from datetime import UTC, datetime, timedelta, tzinfo
from typing import Any
from zoneinfo import ZoneInfo

import erfa
import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.time.earth_rotation import (
    EarthRotationTable,
    RotationDoubt,
    earth_rotation_at,
    earth_rotation_table,
)

_erfa = erfa.ufunc  # the bare routines: they return a status instead of printing a warning

J2000_JD = 2451545.0
# The home of the sidereal rate: nobody else types it (the browser has its own in `clock.js`).
# Aoki et al. 1982, A&A 105, 359; IERS Conventions: sidereal days in a day of UT1.
SIDEREAL_DAYS_PER_DAY = 1.002737909350795
SIDEREAL_DAY_S = 86400.0 / SIDEREAL_DAYS_PER_DAY
SIDEREAL_RATE_ARCSEC_PER_S = 15.0 * SIDEREAL_DAYS_PER_DAY
SIDEREAL_HOURS_PER_S = SIDEREAL_DAYS_PER_DAY / 3600.0  # of hour angle

_EPOCH = datetime(2000, 1, 1, tzinfo=UTC)
_EPOCH_JD = 2451544.5
_LAST_LEAP_JD = 2457754.5  # 2017 January 1, the last leap second that ERFA knows


@dataclass(frozen=True)
class Instants:
    """Moments as arrays of shape (n,), each scale a Julian date in two parts that add up.

    `utc1, utc2` is UTC (ERFA's quasi-Julian date), `tt1, tt2` terrestrial time, `ut11, ut12`
    the Earth's turn; `dut1_s` is UT1-UTC in seconds; `xp_rad, yp_rad` the pole's place on the
    ground. `doubts` says where Earth rotation had to be extrapolated.
    """

    utc1: Floats
    utc2: Floats
    tt1: Floats
    tt2: Floats
    ut11: Floats
    ut12: Floats
    dut1_s: Floats
    xp_rad: Floats
    yp_rad: Floats
    doubts: tuple[RotationDoubt, ...] = ()

    @classmethod
    def from_utc_jd(cls, utc1: Any, utc2: Any = 0.0) -> Instants:
        """From UTC quasi-Julian dates in two parts (any broadcastable shapes, flattened)."""
        a, b = np.broadcast_arrays(
            np.asarray(utc1, dtype=np.float64), np.asarray(utc2, dtype=np.float64)
        )
        day = np.floor(a.ravel() - 0.5) + 0.5
        return cls._from_day_and_fraction(day, (a.ravel() - day) + b.ravel())

    @classmethod
    def from_tt_jd(cls, tt1: Any, tt2: Any = 0.0) -> Instants:
        """From terrestrial time Julian dates in two parts."""
        a, b = np.broadcast_arrays(
            np.asarray(tt1, dtype=np.float64), np.asarray(tt2, dtype=np.float64)
        )
        tai1, tai2, _ = _erfa.tttai(a.ravel(), b.ravel())
        return cls._from_tai(tai1, tai2)

    @classmethod
    def from_datetimes(cls, moments: Iterable[datetime]) -> Instants:
        """From aware datetimes. A datetime without a zone is refused."""
        days: list[float] = []
        seconds: list[float] = []
        for moment in moments:
            if moment.tzinfo is None or moment.utcoffset() is None:
                raise AxletreeError(
                    f"time '{moment.isoformat()}' has no zone: write it like"
                    f" '{moment.isoformat()}+00:00' or give it a time zone"
                )
            since: timedelta = moment.astimezone(UTC) - _EPOCH
            days.append(_EPOCH_JD + since.days)
            seconds.append(since.seconds + since.microseconds * 1e-6)
        day = np.array(days, dtype=np.float64)
        return cls._from_day_and_fraction(
            day, np.array(seconds, dtype=np.float64) / _day_length_s(day)
        )

    @classmethod
    def from_datetime(cls, moment: datetime) -> Instants:
        """One aware datetime, as arrays of shape (1,) that nobody writes into."""
        if moment.utcoffset() is None:
            return cls.from_datetimes([moment])  # which refuses it
        return _of_moment(moment.astimezone(UTC), earth_rotation_table())

    @classmethod
    def grid(
        cls,
        start: datetime,
        stop: datetime | None = None,
        *,
        count: int | None = None,
        step_s: float = 60.0,
    ) -> Instants:
        """Even steps of `step_s` seconds from `start`: to `stop` (included if hit), or `count`."""
        if (stop is None) == (count is None):
            raise AxletreeError("a grid of instants needs either a stop or a count, not both")
        if not step_s > 0:
            raise AxletreeError(f"step_s is {step_s}: a step of time must be greater than 0 s")
        first = cls.from_datetime(start)
        if count is None:
            assert stop is not None
            length_s = span(start, stop)[1]
            count = int(np.floor(length_s / step_s + 1e-9)) + 1
        return first.plus(np.arange(count) * step_s)

    def plus(self, seconds: Any) -> Instants:
        """These moments moved by SI `seconds` (broadcast against them, then flattened)."""
        tai1, tai2, _ = _erfa.tttai(self.tt1, self.tt2)
        step = np.asarray(seconds, dtype=np.float64) / 86400.0
        moved = np.asarray(tai2 + step)
        return self._from_tai(np.full(moved.shape, tai1).ravel(), moved.ravel())

    def seconds_since(self, other: Instants) -> Floats:
        """SI seconds from `other` to these moments; shapes broadcast."""
        return np.asarray(((self.tt1 - other.tt1) + (self.tt2 - other.tt2)) * 86400.0)

    def to_datetimes(self, zone: str | tzinfo = UTC) -> list[datetime]:
        """Aware datetimes in `zone` (an IANA name or a tzinfo), to the microsecond."""
        where = ZoneInfo(zone) if isinstance(zone, str) else zone
        day = np.round(self.utc1 - _EPOCH_JD)
        rest = (self.utc1 - _EPOCH_JD - day) + self.utc2
        micro = np.round(rest * _day_length_s(_EPOCH_JD + day) * 1e6)
        return [
            (_EPOCH + timedelta(days=int(d), microseconds=int(m))).astimezone(where)
            for d, m in zip(day, micro, strict=True)
        ]

    @property
    def julian_year(self) -> Floats:
        """Julian years of terrestrial time, 2000.0 at J2000."""
        return 2000.0 + ((self.tt1 - J2000_JD) + self.tt2) / 365.25

    def __len__(self) -> int:
        return int(self.utc1.size)

    def __getitem__(self, which: Any) -> Instants:
        """The chosen moments: an index, a slice or a mask."""
        arrays = {
            f.name: np.atleast_1d(getattr(self, f.name)[which])
            for f in fields(self)
            if f.name != "doubts"
        }
        return Instants(**arrays, doubts=self.doubts)

    def __iter__(self) -> Iterator[Instants]:
        return (self[i] for i in range(len(self)))

    @classmethod
    def _from_day_and_fraction(cls, day: Floats, fraction: Floats) -> Instants:
        tai1, tai2, _ = _erfa.utctai(day, fraction)
        return cls._from_tai(tai1, tai2, (day, fraction))

    @classmethod
    def _from_tai(
        cls, tai1: Floats, tai2: Floats, utc: tuple[Floats, Floats] | None = None
    ) -> Instants:
        if utc is None:
            utc1, utc2, _ = _erfa.taiutc(tai1, tai2)
            # Whole days in the first part keep the second small and the sum exact.
            day = np.floor((utc1 - 0.5) + utc2) + 0.5
            utc = day, (utc1 - day) + utc2
        utc1, utc2 = utc
        tt1, tt2, _ = _erfa.taitt(tai1, tai2)
        ut1_minus_tai, xp, yp, doubts = earth_rotation_at((utc1 - 2400000.5) + utc2)
        ut11, ut12, _ = _erfa.taiut1(tai1, tai2, ut1_minus_tai)
        tai_minus_utc = ((tai1 - utc1) + (tai2 - utc2)) * 86400.0
        if np.size(utc1) and float(np.min(utc1)) < _LAST_LEAP_JD:
            year, month, days, fraction, _ = _erfa.jd2cal(utc1, utc2)
            tai_minus_utc, _ = _erfa.dat(year, month, days, fraction)
        else:
            tai_minus_utc = np.round(tai_minus_utc)
        return cls(utc1, utc2, tt1, tt2, ut11, ut12, ut1_minus_tai + tai_minus_utc, xp, yp, doubts)


@functools.lru_cache(maxsize=64)
def _of_moment(moment_utc: datetime, _: EarthRotationTable) -> Instants:
    """The many things of one answer ask about the same moment, of the same table."""
    found = Instants.from_datetimes([moment_utc])
    for column in fields(found):
        if column.name != "doubts":
            getattr(found, column.name).flags.writeable = False
    return found


def span(start: datetime, stop: datetime) -> tuple[Instants, float]:
    """The start (1,) and the SI seconds from it to the stop; a stop before it is refused."""
    first = Instants.from_datetime(start)
    length_s = float(Instants.from_datetime(stop).seconds_since(first)[0])
    if length_s < 0:
        raise AxletreeError(f"the stop {stop.isoformat()} lies before the start")
    return first, length_s


def _day_length_s(day_jd: Floats) -> Floats:
    """Seconds in each UTC day that begins at `day_jd`: 86400, or 86401 with a leap second."""
    if day_jd.size == 0 or float(np.min(day_jd)) >= _LAST_LEAP_JD:
        return np.full(np.shape(day_jd), 86400.0)
    this, _ = _tai_minus_utc(day_jd)
    following, _ = _tai_minus_utc(day_jd + 1.0)
    step = following - this
    # Before 1972 UTC ran at its own rate; only whole leap seconds make a day longer.
    return np.where(np.abs(step - 1.0) < 1e-6, 86401.0, 86400.0)


def _tai_minus_utc(day_jd: Floats) -> tuple[Floats, Any]:
    year, month, day, fraction, _ = _erfa.jd2cal(day_jd, 0.0)
    seconds, status = _erfa.dat(year, month, day, fraction)
    return seconds, status
