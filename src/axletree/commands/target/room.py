"""A map of how long each tube side can follow, over all hour angles and declinations.

In words: from which hour angle to which each side can follow at each declination, and what ends
it. As a drawing (--draw): two strips, one a tube side, with the room tinted and written in.
Objects that you name are marked where they stand at the time given.
"""

from __future__ import annotations

import argparse
from datetime import datetime
from typing import TYPE_CHECKING, Any

from axletree.commands.shared.common import (
    Answer,
    kit_folder,
    kit_options,
    parse_moment,
    read_kit,
)
from axletree.sky.observer import observer_of

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.mount.room.table import RoomTable

EXAMPLE = "axletree room Vega M31 --at 2026-08-12T23:00 --draw room.svg"

STEP_DEG = 10


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("object", nargs="*", help="objects to mark ('alpha Cen' in quotes)")
    kit_options(parser, draw=True)
    parser.add_argument("--camera", action="store_true", help="the kit's camera is in the focuser")


def answer(options: argparse.Namespace) -> Answer:
    """Room over the sky."""
    import numpy as np

    from axletree.commands.target.point import table_of
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.mount.room.reach import reach, shares, stretches
    from axletree.tell.room.text import room_data, room_text
    from axletree.tell.shared.skyline_data import unknown_skyline

    kit = read_kit(options)
    moment = parse_moment(options.at, kit.site)
    table = table_of(kit, moment, options, camera=options.camera)
    found = reach(table)
    share = shares(found)
    rows = stretches(table, np.arange(-80.0, 90.0, STEP_DEG))
    horizon = site_horizon(kit.site, kit_folder(options), moment)
    places, told = _objects(options, kit, moment, table)
    data = {**room_data(kit, share, rows), "skyline_unknown": unknown_skyline(horizon)}
    data["objects"] = told

    def drawing() -> str:
        from axletree.tell.room.drawing import Mark, room_map

        sub = (
            f"{kit.site.name}, {kit.tube.name} on {kit.mount.name}; parts keep "
            f"{kit.habits.clearance_margin_mm:g} mm apart"
        )
        if places:
            sub += f"; objects at {moment.isoformat(timespec='minutes')}"
        return room_map(found, "How long each tube side can follow",
                        [Mark(n, h, d) for n, h, d in places], sub)  # fmt: skip

    return Answer(room_text(kit, share, rows, told, horizon.notes), data, drawing)


def _objects(
    options: argparse.Namespace, kit: Kit, moment: datetime, table: RoomTable
) -> tuple[list[tuple[str, float, float]], list[dict[str, Any]]]:
    """Name, hour angle and declination of the objects that were named, and what is told of each.

    One too near to the Sun gets neither.
    """
    from axletree.commands.target.point import near_sun
    from axletree.mount.room.sides_now import asked_now, sides_now
    from axletree.sky.catalogue.objects import find
    from axletree.sky.time.instants import Instants
    from axletree.tell.room.text import object_data

    if not options.object:
        return [], []
    things = [*(find(name) for name in options.object), find("Sun")]
    asked = asked_now(things, Instants.from_datetime(moment), observer_of(kit.site))
    places, told = [], []
    sides = sides_now(kit, table, asked)
    for k, thing in enumerate(things[:-1]):
        at = [k, -1]
        azimuth, altitude = (
            getattr(asked.places, name)[at, 0] for name in ("azimuth_deg", "altitude_deg")
        )
        refused = near_sun(kit, thing.name, moment, azimuth, altitude)
        if refused is not None:
            told.append({**refused.data, "reason": refused.text.split("\n")[0]})
            continue
        places.append((thing.name, sides[k].hour_angle_h, sides[k].declination_deg))
        told.append(object_data(thing.name, sides[k], kit.habits.units))
    return places, told
