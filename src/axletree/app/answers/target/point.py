"""Which side for this object, and which objects are up to be pointed at?"""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, moment_of
from axletree.app.answers.target.rig import rig_of
from axletree.app.mount_notes import state_on
from axletree.app.state import Desk
from axletree.axis.state import State
from axletree.evening.objects.up import UpRequest, up
from axletree.ground.skyline.of_site import site_horizon
from axletree.mount.learned.learn import kit_by
from axletree.mount.room.choice import USUAL_MINUTES
from axletree.mount.room.table import RoomTable, room_table
from axletree.mount.sure.spread import RigSpread
from axletree.sky.observer import observer_of
from axletree.stages.target.point import MOST_MINUTES, PointRequest, point, table_of
from axletree.tell.point.data import point_data
from axletree.tell.point.text import headline
from axletree.tell.sayings.text import sayings_of

router = APIRouter(prefix="/answer")
MOST_SUGGESTED = 8


def kept_table(desk: Desk) -> RoomTable:
    """The kit's room table, computed once for each kit."""

    def make() -> RoomTable:
        kit = desk.kit
        horizon = site_horizon(kit.site, desk.folder, moment_of(desk, None))
        return room_table(kit, rig=rig_of(desk), skyline=horizon, observer=observer_of(kit.site))

    table: RoomTable = desk.cached("room table", make)
    return table


def own_table(desk: Desk, state: State | None, at: datetime) -> RoomTable:
    """The same on this mount's real axes, computed once for what is known of them."""
    if state is None:
        return kept_table(desk)
    kept: dict[State, RoomTable] = desk.cached("own room table", dict)
    if state not in kept:
        kept.clear()
        kept[state] = table_of(kit_by(desk.kit, state), at, desk.folder, model=state.pointing)
    return kept[state]


def own_spread(desk: Desk, table: RoomTable, state: State | None) -> RigSpread:
    """The rigs that the one of a table may be, made once for each table."""
    kept: dict[str, RigSpread] = desk.cached("rig spread", dict)
    if "own" not in kept or kept["own"].bodies is not table.bodies:
        kept["own"] = RigSpread.of(kit_by(desk.kit, state), table)
    return kept["own"]


@router.get("/point")
def point_page(
    desk: OnDesk,
    object: Annotated[str, Query(min_length=1, max_length=80)],
    at: str | None = None,
    minutes: Annotated[float, Query(gt=0, le=MOST_MINUTES)] = USUAL_MINUTES,
    as_kit: bool = False,
) -> dict[str, Any]:
    """Both tube sides of an object at a moment, with what the page draws besides.

    `as_kit`: without what was measured of this mount.
    """
    moment = moment_of(desk, at)
    state = state_on(desk, moment, as_kit=as_kit)
    table = own_table(desk, state, moment)
    request = PointRequest(
        object, moment, minutes=minutes, table=table, kit_folder=desk.folder, state=state,
        spread=own_spread(desk, table, state),
    )  # fmt: skip
    found = point(desk.kit, request)
    habits = desk.kit.habits
    return {
        **point_data(found),
        "words": headline(found),
        "sayings": list(sayings_of(found.thing.name)),
        "margin_mm": habits.clearance_margin_mm,
        "eye_height_min_mm": habits.eye_height_min_mm,
        "eye_height_max_mm": habits.eye_height_max_mm,
        "units": habits.units,
    }


@router.get("/point/up")
def up_page(desk: OnDesk, at: str | None = None) -> dict[str, Any]:
    """Objects that stand clear of the skyline now, the brightest first; none near the Sun."""
    found = up(desk.kit, UpRequest(moment_of(desk, at), kit_folder=desk.folder))
    rows = [
        {
            "name": row.thing.name,
            "called": row.thing.common_names[0] if row.thing.common_names else "",
            "kind": row.thing.kind,
            "altitude_deg": round(row.altitude_deg, 1),
            "azimuth_deg": round(row.azimuth_deg, 1),
        }
        for row in found.objects
    ]
    return {"up": rows, "sun_is_up": found.sun_is_up}


@cache
def _names() -> tuple[tuple[str, str], ...]:
    """(folded, as written) of every name that can be typed."""
    from axletree.sky.catalogue import deep_sky, star_names
    from axletree.sky.catalogue.names import fold
    from axletree.sky.catalogue.objects import BODIES

    bodies = [b.capitalize() for b in BODIES if b != "sun"]
    words = dict.fromkeys([*bodies, *star_names.all_names(), *deep_sky.all_names()])
    return tuple((fold(word), word) for word in words)


@router.get("/names")
def names(q: Annotated[str, Query(max_length=60)] = "") -> dict[str, Any]:
    """Names that begin like this, then names that hold it."""
    from axletree.sky.catalogue.names import fold

    wanted = fold(q)
    if not wanted:
        return {"names": []}
    begins = [word for key, word in _names() if key.startswith(wanted)]
    begins.sort(key=len)
    holds = [word for key, word in _names() if wanted in key and not key.startswith(wanted)]
    return {"names": list(dict.fromkeys(begins + holds))[:MOST_SUGGESTED]}
