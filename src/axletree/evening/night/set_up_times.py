"""When does each stage of setting up begin, counted backwards from the first stop?

The pole star shows with the Sun at about -8 degrees (common practice, no source). Levelling,
north, weights and tube come before it, in daylight that still shows the bolts; the axis waits for
the star with the load on, and is checked on it. Where the pole star can't be used, nothing waits
for it. The tube needs its time to take on the air's temperature.
"""

from __future__ import annotations

from datetime import datetime, time, timedelta
from enum import Enum
from typing import Protocol

from axletree.kit.frozen import dataclass
from axletree.kit.job import SET_UP
from axletree.kit.parts.habits import Habits
from axletree.sky.time.nights import later

# Minutes that each stage takes a practised person: common practice, no source.
MINUTES = {
    "spot": 10, "level": 8, "north": 7, "balance": 15, "finder": 5, "pole": 7, "check": 8,
}  # fmt: skip
# The finder comes when the tube is on, as long as there is light on the ground.
FINDER = "finder"
_BEFORE = SET_UP.index("pole")
ORDER = (*SET_UP[:_BEFORE], FINDER, *SET_UP[_BEFORE:])
# What needs the pole star, or any star.
BY_STARS = ("pole", "check")
Minutes = tuple[tuple[str, float], ...]
USUAL_MINUTES: Minutes = tuple((name, float(least)) for name, least in MINUTES.items())


class SessionEnd(Enum):
    """What ends a session."""

    DAWN = "dawn"
    HOURS = "hours"
    STOP = "stop"
    BEDTIME = "bedtime"


@dataclass(frozen=True)
class Hands:
    """What setting up takes: minutes of each stage, and from coming until the tripod stands."""

    minutes: Minutes = USUAL_MINUTES
    unloading_min: float = 15.0


USUAL_HANDS = Hands()


@dataclass(frozen=True)
class Session:
    """The part of the night for showing: from the first stop to the end; None if there is none.

    `by_star`: the axis is set on the pole star before the first stop, which waits for it; where
    `aligned` comes later than `first_stop`, between two stops. `minutes` of each stage.
    """

    arrive: datetime
    aligned: datetime
    first_stop: datetime
    end: datetime
    ended_by: SessionEnd
    by_star: bool = True
    minutes: Minutes = USUAL_MINUTES

    def minutes_of(self, *names: str) -> float:
        """Minutes that these stages take together."""
        return sum(least for name, least in self.minutes if name in names)

    @property
    def hours(self) -> float:
        """Hours from the first stop to the end."""
        return seconds_between(self.first_stop, self.end) / 3600.0

    @property
    def by_stars_min(self) -> float:
        """Minutes that the axis takes, as soon as its star shows."""
        return self.minutes_of(*BY_STARS)

    @property
    def set_between(self) -> tuple[datetime, datetime] | None:
        """From when to when the axis is set between two stops; None: before them all."""
        if self.aligned <= self.first_stop:
            return None
        return later(self.aligned, -timedelta(minutes=self.by_stars_min)), self.aligned


class Sunset(Protocol):
    """Anything that knows when the Sun sets; None if it doesn't."""

    @property
    def sunset(self) -> datetime | None: ...


def seconds_between(first: datetime, last: datetime) -> float:
    """Seconds as they pass, not as the wall clock shows them."""
    return last.timestamp() - first.timestamp()


def session_of(
    darkness: Sunset,
    dark_intervals: tuple[tuple[datetime, datetime], ...],
    habits: Habits,
    cool_down_min: float,
    *,
    by_star: bool = True,
    star_at: datetime | None = None,
    hands: Hands = USUAL_HANDS,
) -> Session | None:
    """The session of a night, or None when it is never dark enough or the times leave none.

    `dark_intervals` are (from, to) pairs with the Sun far enough down; the longest counts. With
    `by_star` the axis is set on the pole star from their begin on, or from `star_at` on, between
    two stops; else it is set before.
    """
    if not dark_intervals:
        return None
    begin, dawn = max(dark_intervals, key=lambda pair: seconds_between(*pair))
    minutes = dict(hands.minutes)
    by_stars_min = sum(minutes[name] for name in BY_STARS)
    by_stars = timedelta(minutes=by_stars_min)
    if darkness.sunset is None and begin.hour in (12, 13):
        # No day at all (polar night): the clock of people decides.
        begin = begin.replace(hour=17, minute=0, second=0, microsecond=0)
    waits = by_star and star_at is None
    first = later(begin, by_stars if waits else timedelta()).replace(microsecond=0)
    if habits.start is not None:
        first = max(first, at_clock(begin, habits.start), key=datetime.timestamp)
    ends = [
        (dawn, SessionEnd.DAWN),
        (later(first, timedelta(hours=habits.hours)), SessionEnd.HOURS),
    ]
    if habits.stop is not None:
        ends.append((at_clock(begin, habits.stop), SessionEnd.STOP))
    if habits.bedtime is not None:
        ends.append((at_clock(begin, habits.bedtime), SessionEnd.BEDTIME))
    end, ended_by = min(ends, key=lambda pair: pair[0].timestamp())
    if seconds_between(first, end) <= 0.0:
        return None
    before = sum(minutes[name] for name in ORDER if name not in BY_STARS) + hands.unloading_min
    lead = max(habits.arrive_before_dark_min or 0.0, before, cool_down_min + 15.0 - by_stars_min)
    aligned = first
    if star_at is not None:
        on_star = later(star_at, by_stars).replace(microsecond=0)
        aligned = max(first, on_star, key=datetime.timestamp)
    if star_at is not None and aligned.timestamp() >= end.timestamp():
        aligned, by_star = first, False
    arrive = later(first, -by_stars - timedelta(minutes=lead))
    return Session(arrive, aligned, first, end, ended_by, by_star, hands.minutes)


def at_clock(evening: datetime, wanted: time) -> datetime:
    """The first moment from noon of the evening's date on at which local clocks show `wanted`."""
    moment = evening.replace(
        hour=wanted.hour, minute=wanted.minute, second=wanted.second, microsecond=0
    )
    if evening.hour < 12:  # the session began after midnight of the same night
        moment -= timedelta(days=1)
    return moment if wanted.hour >= 12 else moment + timedelta(days=1)


def pauses_of(
    habits: Habits, session: Session, begin: datetime, until_s: float
) -> tuple[tuple[float, float], ...]:
    """The breaks of a session as `breaks_of`, and the time of setting the axis between stops."""
    between = session.set_between
    own = breaks_of(habits, begin, until_s)
    if between is None:
        return own
    start, end = (seconds_between(begin, moment) for moment in between)
    return tuple(sorted((*own, (start, end)))) if end > 0.0 else own


def breaks_of(habits: Habits, begin: datetime, until_s: float) -> tuple[tuple[float, float], ...]:
    """The breaks that take anything of the time from `begin` on for `until_s` seconds.

    Pairs (from, to) in seconds from `begin`, in order; a break that has begun before is negative
    in its first.
    """
    found = []
    for pause in habits.breaks:
        start = seconds_between(begin, at_clock(begin, pause.at))
        end = start + pause.minutes * 60.0
        if end > 0.0 and start < until_s:
            found.append((start, end))
    return tuple(sorted(found))


@dataclass(frozen=True)
class StageTime:
    """From when to when one stage of setting up lasts; `daylight` where it begins by day."""

    name: str
    begin: datetime
    end: datetime
    daylight: bool = False


def finder_begin(session: Session) -> datetime:
    """When the finder is set, just before the pole."""
    return later(_hands_off(session), -timedelta(minutes=session.minutes_of(FINDER)))


def _hands_off(session: Session) -> datetime:
    """When all is done that needs no star."""
    ready = min(session.aligned, session.first_stop, key=datetime.timestamp)
    return ready if session.set_between else later(ready, -timedelta(minutes=session.by_stars_min))


def stage_times(
    session: Session, sun: Sunset, cool_down_min: float, without: tuple[str, ...] = ()
) -> tuple[StageTime, ...]:
    """The stages by time: arriving, the hands' own in their order, and the tube's cooling.

    `without` those that there is nothing to do at; their time stays free.
    """
    begins = {}
    moment = session.aligned
    for name in reversed(ORDER):
        if name == ORDER[ORDER.index(BY_STARS[0]) - 1]:
            moment = _hands_off(session)
        moment = later(moment, -timedelta(minutes=session.minutes_of(name)))
        begins[name] = moment
    cooling = later(session.first_stop, -timedelta(minutes=cool_down_min))
    cool = max(begins["spot"], cooling, key=datetime.timestamp)
    in_daylight = sun.sunset is not None and session.arrive < sun.sunset
    stages = [StageTime("arrive", session.arrive, begins["spot"], in_daylight)]
    for name in (name for name in ORDER if name not in without):
        end = later(begins[name], timedelta(minutes=session.minutes_of(name)))
        stages.append(StageTime(name, begins[name], end))
    stages.append(StageTime("cool", cool, session.first_stop))
    return tuple(sorted(stages, key=lambda stage: stage.begin.timestamp()))
