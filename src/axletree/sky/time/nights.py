"""Which night is meant, and when does it begin and end?"""

from __future__ import annotations

import datetime as dt
from zoneinfo import ZoneInfo

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.time.instants import Instants


def later(moment: dt.datetime, by: dt.timedelta | float) -> dt.datetime:
    """The aware moment so much later (a span, or seconds), as time passes.

    Python's own sum moves the hands of the wall clock, which a change of clocks makes wrong.
    """
    span = by if isinstance(by, dt.timedelta) else dt.timedelta(seconds=by)
    return (moment.astimezone(dt.UTC) + span).astimezone(moment.tzinfo)


@dataclass(frozen=True)
class Night:
    """From local noon on `date` to local noon on the day after; named by its evening's date.

    `start` and `stop` are aware datetimes in `zone`; 23 or 25 hours apart when clocks change.
    """

    date: dt.date
    zone: dt.tzinfo
    start: dt.datetime
    stop: dt.datetime

    @classmethod
    def of(cls, evening: dt.date, zone: str | dt.tzinfo) -> Night:
        """The night that begins on the evening of this date."""
        where = ZoneInfo(zone) if isinstance(zone, str) else zone
        noon = dt.time(12)
        return cls(
            evening,
            where,
            dt.datetime.combine(evening, noon, where),
            dt.datetime.combine(evening + dt.timedelta(days=1), noon, where),
        )

    @classmethod
    def containing(cls, moment: dt.datetime, zone: str | dt.tzinfo) -> Night:
        """The night around this aware moment: before noon it is the evening before's."""
        if moment.tzinfo is None or moment.utcoffset() is None:
            raise AxletreeError(f"time '{moment.isoformat()}' has no zone: add one, like '+00:00'")
        where = ZoneInfo(zone) if isinstance(zone, str) else zone
        local = moment.astimezone(where)
        return cls.of(local.date() - dt.timedelta(days=0 if local.hour >= 12 else 1), where)

    @property
    def length_s(self) -> float:
        """Seconds from noon to noon, as they pass, not as the wall clock shows them."""
        return (self.stop.astimezone(dt.UTC) - self.start.astimezone(dt.UTC)).total_seconds()

    def hours_after_start(self, moment: dt.datetime) -> float:
        """Hours from noon to an aware moment, as they pass (datetimes of one zone, subtracted,
        would give the wall clock's hours, which a change of clocks makes wrong)."""
        since = moment.astimezone(dt.UTC) - self.start.astimezone(dt.UTC)
        return since.total_seconds() / 3600.0

    def instants(self, step_s: float = 60.0) -> Instants:
        """Even steps from noon up to the next noon, the last one left out when hit exactly."""
        count = int(np.ceil(self.length_s / step_s - 1e-9))
        return Instants.grid(self.start, count=count, step_s=step_s)


def nights_between(first: dt.date, last: dt.date, zone: str | dt.tzinfo) -> list[Night]:
    """Every night from the evening of `first` to that of `last`, both included."""
    if last < first:
        raise AxletreeError(f"the last date {last} lies before the first, {first}")
    days = (last - first).days
    return [Night.of(first + dt.timedelta(days=k), zone) for k in range(days + 1)]
