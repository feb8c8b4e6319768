"""What is up to be pointed at now: the Moon, planets, and what anybody should see once?"""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path

import numpy as np

from axletree.evening.offered.well_known import FIRST_LOOKS
from axletree.ground.skyline.of_site import site_horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.room.choice import USUAL_MINUTES
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.observer import observer_of
from axletree.sky.positions.objects import moves, object_positions
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants

UNKNOWN_MAG = 9.0  # stands for a brightness that nobody wrote down


@dataclass(frozen=True)
class UpRequest:
    """A moment, and how many objects at most; `kit_folder` holds the kit's own files."""

    at: datetime
    most: int = 14
    kit_folder: Path | None = None


@dataclass(frozen=True)
class UpObject:
    """An object clear of the skyline; degrees, the altitude as seen through the air."""

    thing: SkyObject
    azimuth_deg: float
    altitude_deg: float


@dataclass(frozen=True)
class UpAnswer:
    """What stands clear, what moves among the stars first, then the brightest.

    Nothing that is too near the Sun for a stop of the usual length that begins now.
    """

    objects: tuple[UpObject, ...]
    sun_is_up: bool


def up(kit: Kit, request: UpRequest) -> UpAnswer:
    """What can be pointed at now."""
    things, now = _shown_first(), Instants.from_datetime(request.at)
    seen = object_positions(things, now, observer_of(kit.site))
    azimuth, altitude = seen.azimuth_deg[:, 0], seen.altitude_deg[:, 0]
    horizon = site_horizon(kit.site, request.kit_folder, request.at)
    clear = altitude > np.maximum(horizon.altitude_at(azimuth), kit.habits.lowest_altitude_deg)
    rule = SunRule.of(kit)
    refusals = rule.refusals(things, now, USUAL_MINUTES * 60.0)
    rows = [
        UpObject(thing, float(azimuth[i]), float(altitude[i]))
        for i, thing in enumerate(things)
        if clear[i] and refusals[i] is None
    ]
    rows.sort(key=lambda row: _order(row.thing))
    return UpAnswer(tuple(rows[: request.most]), bool(rule.sun_is_up(now)[0]))


def _order(thing: SkyObject) -> float:
    return -99.0 if moves(thing) else thing.magnitude_v or UNKNOWN_MAG


@cache
def _shown_first() -> tuple[SkyObject, ...]:
    """The first looks as catalogue objects, in the order of their names."""
    found: dict[str, SkyObject] = {}
    for name in sorted(FIRST_LOOKS):
        try:
            thing = find(name)
        except AxletreeError:
            continue
        found.setdefault(thing.name, thing)
    return tuple(found.values())
