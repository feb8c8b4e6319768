"""What does the spot give an evening: its skyline, and the rig's room under it?"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import numpy as np

from axletree.axis.model import PointingModel
from axletree.ground.skyline.of_site import site_horizon
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import Axes, align
from axletree.mount.rig.own_axes import own_axes
from axletree.mount.room.table import RoomTable, room_table
from axletree.mount.sure.spread import RigSpread
from axletree.pole.aim.target import pole_target
from axletree.sky.observer import Observer


@dataclass(frozen=True)
class Ground:
    """What the spot gives: the skyline, the rig's room under it, and all the rigs that this one may
    be."""

    horizon: Horizon
    table: RoomTable
    spread: RigSpread


def same_axes(one: PointingModel | None, other: PointingModel | None) -> bool:
    """Whether `ground_of` gives the same room by both; None: an axis on the refracted pole."""

    def figures(model: PointingModel | None) -> tuple[float, float, float, float, str]:
        if model is None:
            return 0.0, 0.0, 0.0, 0.0, "refracted"
        return (
            model.high_arcmin, model.east_arcmin, model.cone_arcmin, model.lean_arcmin, model.pole,
        )  # fmt: skip

    return figures(one) == figures(other)


def _alike(one: Axes, other: Axes) -> bool:
    """The same axes, to the last bit."""
    return all(
        np.array_equal(getattr(one, name), getattr(other, name))
        for name in Axes.__dataclass_fields__
    )


def ground_of(
    kit: Kit,
    observer: Observer,
    at: datetime,
    folder: Path | None = None,
    horizon: Horizon | None = None,
    model: PointingModel | None = None,
    before: Ground | None = None,
) -> Ground:
    """Skyline and room table of a kit: on its axes by `model`, else on the refracted pole.

    `horizon`: the site's, where it is known already. `before`: of another night; where kit and axes
    are the same, the clearances of the rig are not worked out anew.
    """
    if horizon is None:
        horizon = site_horizon(kit.site, folder, at)
    if model is None:
        altitude = pole_target(observer).altitude_deg
        axes = align(kit.site.latitude_deg, pole_altitude_deg=altitude)
    else:
        axes = own_axes(model, observer)
    if before is not None and before.spread.kit == kit and _alike(before.table.axes, axes):
        return Ground(horizon, before.table.under(horizon), before.spread)
    table = room_table(kit, rig=build_rig(kit), axes=axes, skyline=horizon, observer=observer)
    return Ground(horizon, table, RigSpread.of(kit, table))
