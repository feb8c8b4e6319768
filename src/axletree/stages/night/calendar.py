"""Which night? A span of nights and of weekdays in, every night's score and the best ones out."""

from __future__ import annotations

from dataclasses import field, replace
from datetime import date, datetime, timedelta
from pathlib import Path

from axletree.evening.brought.brought import brought_of
from axletree.evening.brought.own_objects import BrokenRow
from axletree.evening.special.of_kit import special_of
from axletree.evening.year.nights_scored import (
    APART_DAYS,
    Calendar,
    ScoredNight,
    best_of,
    refuse_range,
    score_nights,
)
from axletree.evening.year.special_lift import with_special
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.observer import observer_of
from axletree.sky.positions.ephemeris import LAST_YEAR
from axletree.sky.special.kinds import SpecialNight
from axletree.sky.sun_rule import SunRule

MOST_BEST, MOST_APART_DAYS = 400, 400
# In so short a span the best nights may be neighbours, unless somebody says otherwise (ours).
SHORT_SPAN_NIGHTS = 62
EVERY_WEEKDAY = frozenset(range(7))


@dataclass(frozen=True)
class BestNights:
    """How many of the best nights, how far apart (None: as the span suggests), on which weekdays.

    Weekdays count from Monday, 0; None is all of them.
    """

    count: int = 12
    apart_days: int | None = None
    weekdays: frozenset[int] | None = None

    def __post_init__(self) -> None:
        if not 1 <= self.count <= MOST_BEST:
            raise AxletreeError(f"the number of best nights must lie between 1 and {MOST_BEST}")
        if self.apart_days is not None and not 0 <= self.apart_days <= MOST_APART_DAYS:
            raise AxletreeError(f"best nights can be 0 to {MOST_APART_DAYS} days apart")
        if self.weekdays is not None and not self.weekdays <= EVERY_WEEKDAY:
            raise AxletreeError("days of the week count from 0, Monday, to 6")


@dataclass(frozen=True)
class CalendarRequest:
    """The evenings from `first` to `last` (None: a year, as far as the planets are known)."""

    first: date
    last: date | None = None
    best: BestNights = field(default_factory=BestNights)
    kit_folder: Path | None = None

    @property
    def until(self) -> date:
        """The last evening that is scored."""
        if self.last is not None:
            return self.last
        known = max(self.first, date(LAST_YEAR, 12, 31))
        return min(known, self.first + timedelta(days=min(364, (known - self.first).days)))


@dataclass(frozen=True)
class CalendarAnswer:
    """Every night of the span for this kit, and the best of them by date.

    The best ones are at least `apart_days` apart, on these `weekdays` (None: all). Of one's own
    list `broken_rows` were left out. `special`: what the sky has on these nights; `sun_filters`:
    the kit names those for tube and finder, so that the Sun's own disc may be shown.
    """

    kit: Kit
    calendar: Calendar
    best: tuple[ScoredNight, ...]
    apart_days: int
    weekdays: frozenset[int] | None
    broken_rows: tuple[BrokenRow, ...]
    special: tuple[SpecialNight, ...] = ()
    sun_filters: bool = False


def calendar(kit: Kit, request: CalendarRequest) -> CalendarAnswer:
    """Every night scored for this spot, this telescope and this audience.

    Refuses days outside the planets' years, spans that end before they begin, and long ones.
    """
    first, last = request.first, request.until
    refuse_range(first, last)
    noon = datetime(first.year, first.month, first.day, 12, tzinfo=kit.site.zone)
    own = brought_of(kit, request.kit_folder, noon)
    observer = observer_of(kit.site)
    scored = score_nights(kit, observer, first, last, folder=request.kit_folder, own=own.objects)
    special = special_of(kit, observer, first, last)
    whole = CalendarAnswer(
        kit, with_special(scored, special), (), 0, None, own.broken,
        special=special,
        sun_filters=SunRule.of(kit, observer).filtered,
    )  # fmt: skip
    return chosen_again(whole, request.best)


def chosen_again(answer: CalendarAnswer, best: BestNights) -> CalendarAnswer:
    """The same nights with others of them chosen as the best: scoring takes a second or two."""
    nights, apart = answer.calendar.nights, best.apart_days
    if apart is None:
        apart = APART_DAYS if len(nights) > SHORT_SPAN_NIGHTS else 0
    weekdays = EVERY_WEEKDAY if best.weekdays is None else best.weekdays
    picked = best_of(nights, best.count, apart_days=apart, weekdays=weekdays)
    return replace(answer, best=tuple(picked), apart_days=apart, weekdays=best.weekdays)
