"""Over which hour angles can each tube side follow, at each declination?

The rows behind the room map: for each side and declination the stretches in which the object is
above skyline and lowest altitude and nothing touches, and the room at every hour angle.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import SIDE_WORDS, SIDES
from axletree.mount.room.ends import CLOSED_SKY, RoomEnd
from axletree.mount.room.table import RoomTable, room, room_end
from axletree.sky.arrays import Floats
from axletree.sky.directions import azimuth_altitude


@dataclass(frozen=True)
class Reach:
    """Room over the sky: arrays (2, declinations, hours), east first; nan where the sky is closed.

    `room_h` is 0 where the sky is open but that side can't be used.
    """

    hours: Floats
    declinations: Floats
    room_h: Floats
    ends: NDArray[np.int8]
    weights_up: NDArray[np.bool_]
    open_sky: NDArray[np.bool_]  # (declinations, hours)


@dataclass(frozen=True)
class Stretch:
    """One stretch in which an object of a declination can be followed on one side, in hours."""

    side: str
    declination_deg: float
    from_h: float
    to_h: float
    ends: RoomEnd


def reach(table: RoomTable, step_h: float = 0.1, step_deg: float = 2.0) -> Reach:
    """Room over the whole sky, on an even grid of hour angle and declination."""
    hours = np.arange(-12.0, 12.0 - step_h / 2, step_h)
    declinations = np.arange(-90.0 + step_deg / 2, 90.0, step_deg)
    found = room(table, hours, declinations[:, None])
    closed = np.isin(found.ends, CLOSED_SKY)
    sky = np.asarray(~closed.any(axis=0), dtype=np.bool_)
    return Reach(
        hours=hours,
        declinations=declinations,
        room_h=np.where(sky, np.where(found.usable, found.room_h, 0.0), np.nan),
        ends=found.ends,
        weights_up=found.weights_up,
        open_sky=sky,
    )


def shares(found: Reach) -> dict[str, float]:
    """Shares of the open sky, by solid angle: each side, either side, both, weights down."""
    area = np.cos(np.radians(found.declinations))[:, None] * found.open_sky
    whole = float(area.sum())
    usable = found.room_h > 0
    if whole <= 0:
        return dict.fromkeys(("east", "west", "either", "both", "weights_down"), 0.0)
    down = (usable & ~found.weights_up).any(axis=0)
    parts = {
        "east": usable[0], "west": usable[1], "either": usable.any(axis=0),
        "both": usable.all(axis=0), "weights_down": down,
    }  # fmt: skip
    return {k: float((area * v).sum() / whole) for k, v in parts.items()}


def stretches(table: RoomTable, declinations: Floats) -> list[Stretch]:
    """For each declination and side, every stretch from its beginning to what ends it.

    The longest first of each; a stretch shorter than a minute is left out.
    """
    starts = np.arange(-12.0, 12.0, 0.1)
    found = room(table, starts, declinations[:, None])
    out = []
    for j, d in enumerate(declinations):
        for i, side in enumerate(SIDES):
            seen: list[tuple[float, float]] = []
            for k in np.flatnonzero(found.usable[i, j]):
                begin = float(starts[k] - found.since_h[i, j, k])
                end = float(starts[k] + found.room_h[i, j, k])
                if any(abs((begin - b + 12) % 24 - 12) < 0.02 for b, _ in seen):
                    continue
                seen.append((begin, end))
                code = int(found.ends[i, j, k])
                if end - begin > 1 / 60:
                    out.append(
                        Stretch(
                            SIDE_WORDS[side],
                            float(d),
                            begin,
                            end,
                            room_end(table, code, int(found.pair[i, j, k])),
                        )  # fmt: skip
                    )
    return sorted(out, key=lambda s: (-s.declination_deg, s.side, s.from_h - s.to_h))


def sky_limit_deg(table: RoomTable, azimuth_deg: Floats) -> Floats:
    """Lowest usable altitude at azimuths: skyline or the kit's lowest altitude."""
    return table.open_sky.limit_deg(azimuth_deg)


def altitude_of(table: RoomTable, hour_angle_h: Floats, declination_deg: Floats) -> Floats:
    """Altitude without air, degrees."""
    return azimuth_altitude(hour_angle_h, declination_deg, table.axes.latitude_deg)[1]
