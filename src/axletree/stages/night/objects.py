"""What can be shown tonight? Kinds and hours in; the objects that show out, ranked with reasons."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

from axletree.evening.brought.brought import brought_of
from axletree.evening.brought.own_objects import BrokenRow
from axletree.evening.night.session_grid import moments_of
from axletree.evening.objects.listing import Listing, ListingFilter, list_objects
from axletree.evening.seeing.sky_brightness import SkyState, sky_state
from axletree.evening.sheet.plan import refuse_unknown_day
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Theme
from axletree.sky.observer import observer_of
from axletree.sky.time.earth_rotation import RotationDoubt
from axletree.sky.time.instants import Instants
from axletree.stages.target.point import table_of

MOST_ROWS = 20_000


@dataclass(frozen=True)
class ObjectsRequest:
    """An `evening` (or with `all_night` all of its dark night), or one moment (`at`, aware).

    Of these catalogue kinds and themes (none given: all); with `everything` also what clears the
    skyline but can't be seen. `own_file` is read instead of the kit's own list; `whole_list`
    refuses it for one broken row. `kit_folder` is where the kit's other files lie.
    """

    evening: date | None = None
    all_night: bool = False
    at: datetime | None = None
    kinds: frozenset[str] = frozenset()
    themes: tuple[Theme, ...] = ()
    limit: int = 20
    everything: bool = False
    own_file: Path | None = None
    whole_list: bool = False
    kit_folder: Path | None = None

    def __post_init__(self) -> None:
        if (self.evening is None) == (self.at is None):
            raise AxletreeError("ask for one moment, or for an evening")
        if not 1 <= self.limit <= MOST_ROWS:
            raise AxletreeError(f"the limit must lie between 1 and {MOST_ROWS}")


@dataclass(frozen=True)
class ObjectsAnswer:
    """The objects, best first, at the moments `times` under this sky, for this kit.

    `broken_rows` of one's own list are left out; `doubts`: what may be wrong with the Earth's
    rotation at these moments.
    """

    kit: Kit
    listing: Listing
    times: tuple[datetime, ...]
    sky: SkyState
    broken_rows: tuple[BrokenRow, ...]
    doubts: tuple[RotationDoubt, ...]


def objects(kit: Kit, request: ObjectsRequest) -> ObjectsAnswer:
    """What this telescope can show from this spot at the times asked for.

    Refuses days outside the planets' years, and a night that leaves no hours for stars.
    """
    observer = observer_of(kit.site)
    if request.at is not None:
        refuse_unknown_day(request.at.date())
        instants = Instants.from_datetime(request.at)
    else:
        assert request.evening is not None
        refuse_unknown_day(request.evening)
        instants = moments_of(kit, observer, request.evening, all_night=request.all_night)
    times = tuple(instants.to_datetimes(kit.site.zone))
    own = brought_of(
        kit,
        request.kit_folder,
        times[len(times) // 2],
        file=request.own_file,
        all_or_none=request.whole_list,
    )
    sky = sky_state(kit, observer, instants)
    table = table_of(kit, times[0], request.kit_folder)
    assert table.skyline is not None
    wanted = ListingFilter(
        kinds=request.kinds,
        themes=request.themes,
        own=own.objects,
        limit=request.limit,
        everything=request.everything,
    )
    listing = list_objects(kit, observer, instants, sky, table.skyline, wanted, table)
    return ObjectsAnswer(kit, listing, times, sky, own.broken, instants.doubts)
