"""Which side, how much room and why, for any objects at one moment?

Public: ``Targets``, ``targets_at``, ``sides_now``.

The one question behind a single object's answer, the marks of the room map and the list of
objects, so that they can't disagree.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.clearance.paths import best_paths
from axletree.mount.rig.kinematics import SIDES, axis_angles
from axletree.mount.room.along import Track, track_of
from axletree.mount.room.choice import USUAL_MINUTES, Choice, Following, RoomAndTurns, choose
from axletree.mount.room.table import RoomTable, room
from axletree.sky.arrays import Floats
from axletree.sky.positions.objects import object_positions

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.sky.catalogue.objects import SkyObject
    from axletree.sky.observer import Observer
    from axletree.sky.positions.stars import Positions
    from axletree.sky.time.instants import Instants


RATE_OVER_S = 3600.0


@dataclass(frozen=True)
class Targets:
    """Objects at one moment: their `places` (n, 1), and how fast their hour angles grow (n,).

    `tracks` (n) lead what moves among the stars through the next day; None for what stands still.
    """

    places: Positions
    hours_per_s: Floats
    tracks: tuple[Track | None, ...]

    def hour_angle_h(self) -> Floats:
        """Hour angles (n,)."""
        return self.places.hour_angle_h[:, 0]

    def declination_deg(self) -> Floats:
        """Declinations of date (n,)."""
        return self.places.declination_deg[:, 0]


def targets_at(things: Sequence[SkyObject], now: Instants, observer: Observer) -> Targets:
    """Where the objects stand, and their own rates: the Moon's is not that of the stars."""
    here = object_positions(things, now, observer)
    later = object_positions(things, now.plus(RATE_OVER_S), observer)
    turned = np.mod(later.hour_angle_h[:, 0] - here.hour_angle_h[:, 0], 24.0)
    tracks = tuple(track_of(thing, now, observer) for thing in things)
    return Targets(here, turned / RATE_OVER_S, tracks)


def sides_now(
    kit: Kit, table: RoomTable, targets: Targets, minutes: float = USUAL_MINUTES
) -> list[Choice]:
    """Both tube sides of each object and the better one for a stay of `minutes`.

    Without the turn from another pose and without waits, so that a list is quick.
    """
    H, d = targets.hour_angle_h(), targets.declination_deg()
    rooms = room(table, H, d)
    poses = [axis_angles(table.axes, side, H, d) for side in SIDES]
    stays = [
        (pose, pose)
        for k in range(len(H))
        for pose in [(float(end[k]), float(swing[k])) for end, swing in poses]
    ]
    turns = best_paths(table.rig, table.axes, table.bodies, stays, table.margin_m)
    return [
        choose(
            kit, table, float(H[k]), float(d[k]),
            Following(minutes * 60.0 * float(rate), float(rate), targets.tracks[k]),
            RoomAndTurns(rooms.of(k), (turns[2 * k], turns[2 * k + 1])),
        )
        for k, rate in enumerate(targets.hours_per_s)
    ]  # fmt: skip
