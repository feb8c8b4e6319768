"""Where in the sky can each tube side follow? The rig in, its room over the whole sky out."""

from __future__ import annotations

from datetime import datetime
from enum import Enum
from pathlib import Path

import numpy as np

from axletree.axis.state import State, axis_state
from axletree.evening.brought.named import object_named
from axletree.ground.skyline.of_site import site_horizon
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.learned.learn import LearnedRig, learned_rig
from axletree.mount.room.choice import USUAL_MINUTES, Choice
from axletree.mount.room.reach import Reach, Stretch, reach, shares, stretches
from axletree.mount.room.sides_now import sides_now, targets_at
from axletree.mount.room.table import RoomTable
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import observer_of
from axletree.sky.sun_rule import SunRefusal, SunRule
from axletree.sky.time.instants import Instants
from axletree.stages.target.point import table_of

STEP_DEG = 10.0


@dataclass(frozen=True)
class RoomRequest:
    """The moment at which the skyline counts and `objects` (names) are marked.

    `camera`: the kit's camera is in the focuser. `table` is the room table of just this kit, for
    who asks often; `kit_folder` holds the kit's own files. By `state` the rig stands on
    its real axes.
    """

    at: datetime
    objects: tuple[str, ...] = ()
    camera: bool = False
    table: RoomTable | None = None
    kit_folder: Path | None = None
    state: State | None = None


class RoomCaution(Enum):
    """What can hurt at the mount."""

    HOLD_THE_SHAFT = "hold_the_shaft"
    LOOK_BEFORE_TURNING = "look_before_turning"


@dataclass(frozen=True)
class RoomObject:
    """One object that was named: both tube sides now, or why it gets none (the other is None)."""

    thing: SkyObject
    refusal: SunRefusal | None
    choice: Choice | None


@dataclass(frozen=True)
class RoomAnswer:
    """Room over hour angle and declination, and the objects that were named.

    `shares` of the open sky by solid angle (0 to 1): east, west, either, both, weights_down.
    `stretches`: from which hour angle to which each side can follow, every ten degrees.
    `learned`: what notes of gaps taught of the rig, None without any.
    """

    kit: Kit
    at: datetime
    reach: Reach
    shares: dict[str, float]
    stretches: tuple[Stretch, ...]
    objects: tuple[RoomObject, ...]
    horizon: Horizon
    cautions: tuple[RoomCaution, ...]
    state: State | None = None
    learned: LearnedRig | None = None


def room(kit: Kit, request: RoomRequest) -> RoomAnswer:
    """Room over the sky. Refuses unknown names, and a rig that can't work."""
    learned = learned_rig(kit, request.state)
    kit = kit if learned is None else learned.kit
    table = request.table or table_of(
        kit, request.at, request.kit_folder, camera=request.camera,
        model=None if request.state is None else request.state.pointing,
    )  # fmt: skip
    found = reach(table)
    return RoomAnswer(
        kit=kit,
        at=request.at,
        reach=found,
        shares=shares(found),
        stretches=tuple(stretches(table, np.arange(-80.0, 90.0, STEP_DEG))),
        objects=_objects(kit, request, table),
        horizon=site_horizon(kit.site, request.kit_folder, request.at),
        cautions=(RoomCaution.HOLD_THE_SHAFT, RoomCaution.LOOK_BEFORE_TURNING),
        state=axis_state(request.state),
        learned=learned,
    )


def _objects(kit: Kit, request: RoomRequest, table: RoomTable) -> tuple[RoomObject, ...]:
    if not request.objects:
        return ()
    folder = request.kit_folder
    things = [object_named(name, kit, folder, request.at) for name in request.objects]
    now = Instants.from_datetime(request.at)
    refusals = SunRule.of(kit).refusals(things, now, USUAL_MINUTES * 60.0)
    choices = sides_now(kit, table, targets_at(things, now, observer_of(kit.site)))
    return tuple(
        RoomObject(thing, refusal, None if refusal is not None else choice)
        for thing, refusal, choice in zip(things, refusals, choices, strict=True)
    )
