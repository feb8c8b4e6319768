"""Which side for this object, and which objects are up to be pointed at?"""

from __future__ import annotations

from functools import cache
from typing import Annotated, Any

import numpy as np
from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, ask, lead_words, moment_of
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError
from axletree.sky.catalogue.objects import SkyObject

router = APIRouter(prefix="/answer")
MOST_SUGGESTED = 8
MOST_UP = 14
SUN_IS_UP_DEG = -0.85


def table_of(desk: Desk) -> Any:
    """The kit's room table, computed once for each kit."""
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.mount.room.table import room_table
    from axletree.sky.observer import observer_of

    def make() -> Any:
        from axletree.app.answers.target.rig import rig_of

        kit = desk.kit
        horizon = site_horizon(kit.site, desk.folder, moment_of(desk, None))
        return room_table(kit, rig=rig_of(desk), skyline=horizon, observer=observer_of(kit.site))

    return desk.kept("room table", make)


@router.get("/point")
def point(
    desk: OnDesk,
    object: Annotated[str, Query(min_length=1, max_length=80)],
    at: str | None = None,
    minutes: Annotated[float, Query(gt=0, le=1440)] = 30.0,
) -> dict[str, Any]:
    """`axletree point` for an object at a moment."""
    words = [*([f"--at={at}"] if at else []), f"--minutes={minutes:g}", "--", object]
    answer = ask(desk, "point", words, table=table_of(desk))
    habits = desk.kit.habits
    return {
        **answer.data,
        "words": lead_words(answer),
        "margin_mm": habits.clearance_margin_mm,
        "eye_height_min_mm": habits.eye_height_min_mm,
        "eye_height_max_mm": habits.eye_height_max_mm,
        "units": habits.units,
    }


@cache
def _shown_first() -> tuple[SkyObject, ...]:
    """Moon, planets and what anybody should see once, as catalogue objects."""
    from axletree.evening.objects.candidates import FIRST_LOOKS
    from axletree.sky.catalogue.objects import find

    found: dict[str, SkyObject] = {}
    for name in sorted(FIRST_LOOKS):
        try:
            thing = find(name)
        except AxletreeError:
            continue
        found.setdefault(thing.name, thing)
    return tuple(found.values())


@router.get("/point/up")
def up(desk: OnDesk, at: str | None = None) -> dict[str, Any]:
    """Objects that stand clear of the skyline now, the brightest first; none near the Sun."""
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.sky.catalogue.objects import find
    from axletree.sky.directions import angle_between_deg, vector_from_azimuth_altitude
    from axletree.sky.observer import observer_of
    from axletree.sky.positions.objects import object_positions
    from axletree.sky.time.instants import Instants

    kit, moment = desk.kit, moment_of(desk, at)
    things = _shown_first()
    seen = object_positions(
        [*things, find("Sun")], Instants.from_datetime(moment), observer_of(kit.site)
    )
    azimuth, altitude = seen.azimuth_deg[:, 0], seen.altitude_deg[:, 0]
    horizon = site_horizon(kit.site, desk.folder, moment)
    clear = altitude > np.maximum(horizon.altitude_at(azimuth), kit.habits.lowest_altitude_deg)
    vectors = vector_from_azimuth_altitude(azimuth, altitude)
    if altitude[-1] > SUN_IS_UP_DEG:
        clear &= angle_between_deg(vectors, vectors[-1]) >= kit.habits.sun_distance_deg
    rows = [
        {
            "name": thing.name,
            "called": thing.common_names[0] if thing.common_names else "",
            "kind": thing.kind,
            "altitude_deg": round(float(altitude[i]), 1),
            "azimuth_deg": round(float(azimuth[i]), 1),
        }
        for i, thing in enumerate(things)
        if clear[i]
    ]
    moving = [r for r in rows if r["kind"] in ("moon", "planet")]
    rest = sorted(
        (r for r in rows if r not in moving),
        key=lambda r: next(t.magnitude_v or 9.0 for t in things if t.name == r["name"]),
    )
    return {"up": (moving + rest)[:MOST_UP], "sun_is_up": bool(altitude[-1] > SUN_IS_UP_DEG)}


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
