"""When in the year is an object best here? A name and a span of nights in, every night out."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

from axletree.evening.brought.brought import brought_of
from axletree.evening.brought.named import object_named
from axletree.evening.sheet.plan import refuse_unknown_day
from axletree.evening.year.best_nights import YearOf
from axletree.evening.year.best_nights import best_nights as nights_of
from axletree.ground.skyline.of_site import site_horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.observer import observer_of


@dataclass(frozen=True)
class BestNightsRequest:
    """An object of the catalogues or of one's own list, and the nights: a year if `last` is None.

    `own_file`, `whole_list` and `kit_folder` as `ObjectsRequest`'s.
    """

    target: str
    first: date
    last: date | None = None
    own_file: Path | None = None
    whole_list: bool = False
    kit_folder: Path | None = None


@dataclass(frozen=True)
class BestNightsAnswer:
    """Every night of one object, for this kit."""

    kit: Kit
    year: YearOf


def best_nights(kit: Kit, request: BestNightsRequest) -> BestNightsAnswer:
    """When the object is best from here. Refuses the Sun, unknown names and days, long spans."""
    first = request.first
    last = request.last if request.last is not None else first + timedelta(days=364)
    for day in (first, last):
        refuse_unknown_day(day)
    start = datetime.combine(first, datetime.min.time(), kit.site.zone)
    own = brought_of(
        kit,
        request.kit_folder,
        start,
        file=request.own_file,
        all_or_none=request.whole_list,
    )
    by_name = {mine.name.casefold(): mine for mine in own.objects}
    target = by_name.get(request.target.casefold())
    if target is None:
        target = object_named(request.target, kit, request.kit_folder, start)
    skyline = site_horizon(kit.site, request.kit_folder, start)
    observer = observer_of(kit.site)
    return BestNightsAnswer(kit, nights_of(kit, observer, target, first, last, skyline))
