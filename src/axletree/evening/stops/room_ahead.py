"""From when to when does each tube side serve an object, what ends it, and where is the eye?

Like the openings that the order is made from, but with the true end of the room beyond the
session and what ends it in words, for somebody who runs late or changes the order.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from axletree.evening.order.moving import Side
from axletree.evening.stops.windows import BLINK_S, runs
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.eyepiece import Posture, eye_place, posture_of
from axletree.mount.rig.field_orientation import picture
from axletree.mount.rig.kinematics import SIDES, axis_angles
from axletree.mount.room.along import Track, begin_within, edges_along
from axletree.mount.room.ends import CONTACT, NOTHING, RoomEnd
from axletree.mount.room.table import Room, RoomTable, room, room_end
from axletree.sky.arrays import Floats, Mask

SIDE_NAMES: tuple[Side, Side] = ("east", "west")


@dataclass(frozen=True)
class SideOpening:
    """One tube side from `begin_s` on, seconds of the table.

    Its room ends at `end_s` (None: nothing ends it) by what `ends_by` says. The object is worth
    task until `shows_until_s` (None: longer than there is room).
    """

    side: Side
    begin_s: float
    end_s: float | None
    shows_until_s: float | None
    ends_by: RoomEnd

    def lasts_s(self) -> float:
        """Until when it serves."""
        return min(np.inf if v is None else v for v in (self.end_s, self.shows_until_s))


@dataclass(frozen=True)
class SidePlaces:
    """Where eye and picture are, arrays (2, objects, samples), side east first.

    `posture` numbers the `postures`; `face_azimuth_deg` is nan where any will do.
    `north_deg` and `drift_deg` are clockwise from the top of the picture.
    """

    height_mm: Floats
    face_azimuth_deg: Floats
    barrel_altitude_deg: Floats
    north_deg: Floats
    drift_deg: Floats
    posture: NDArray[np.int64]
    postures: tuple[Posture, ...]


def openings_of(
    table: RoomTable, seconds: Floats, hour_angle_h: Floats, declination_deg: Floats, worth: Mask
) -> list[list[SideOpening]]:
    """Openings of each object from tracks (objects, samples) at rising `seconds` (samples,).

    `worth` marks when an object may be shown at all. What ends an opening between two samples
    is taken from the room at the last sample before, at the object's own rate; of what moves
    among the stars at the declination that it has by then.
    """
    if not len(hour_angle_h):
        return []
    # A third of an arcsecond moves no end by a second, and equal declinations are looked up once.
    here = room(table, hour_angle_h, declination_deg.round(4))
    rate = np.gradient(np.unwrap(hour_angle_h, period=24.0, axis=1), seconds, axis=1)
    usable = here.usable & worth[np.newaxis]
    goes_on = here.room_h[:, :, :-1] / rate[:, :-1] >= np.diff(seconds) - BLINK_S
    found: list[list[SideOpening]] = []
    for k in range(hour_angle_h.shape[0]):
        own: list[SideOpening] = []
        track = Track.of(seconds, hour_angle_h[k], declination_deg[k])
        edges = edges_along(table, track, here.of(k), goes_on[:, k])
        for s, side in enumerate(SIDE_NAMES):
            for first, last in runs(usable[s, k], goes_on[s, k]):
                one = _opening(table, seconds, here, worth, rate, (s, k, first, last), side)
                edge = edges.get((s, last))
                if edge is not None:
                    ends = room_end(table, edge.by, edge.pair)
                    one = replace(one, end_s=edge.seconds, ends_by=ends)
                if track.moves and first > 0 and worth[k, first - 1]:
                    one = replace(one, begin_s=begin_within(table, track, s, first))
                own.append(one)
        found.append(sorted(own, key=lambda o: (o.begin_s, o.side)))
    return found


def _opening(
    table: RoomTable, seconds: Floats, here: Room, worth: Mask, rate: Floats,
    at: tuple[int, int, int, int], side: Side,
) -> SideOpening:  # fmt: skip
    s, k, first, last = at
    begin = float(seconds[first])
    if first > 0 and worth[k, first - 1]:
        gap = begin - float(seconds[first - 1])
        begin -= min(float(here.since_h[s, k, first]) / float(rate[k, first]), gap)
    code = int(here.ends[s, k, last])
    ends = room_end(table, code, int(here.pair[s, k, last]) if code == CONTACT else -1)
    end = None
    if code != NOTHING:
        end = float(seconds[last]) + float(here.room_h[s, k, last] / rate[k, last])
    shows_until = None
    if last + 1 < len(seconds) and here.usable[s, k, last + 1] and not worth[k, last + 1]:
        shows_until = float(seconds[last])
    return SideOpening(side, begin, end, shows_until, ends)


def side_places(
    kit: Kit, table: RoomTable, hour_angle_h: Floats, declination_deg: Floats
) -> SidePlaces:
    """Eyepiece and picture on both sides for tracks (objects, samples)."""
    sides = np.array(SIDES)[:, np.newaxis, np.newaxis]
    angles = axis_angles(table.axes, sides, hour_angle_h, declination_deg)
    heights = (kit.habits.eye_height_min_mm, kit.habits.eye_height_max_mm)
    eye = eye_place(table.rig, table.axes, *angles, heights)
    seen = picture(table.rig, kit.tube, table.axes, *angles)
    pairs = np.stack((eye.step_up_m, eye.stoop_m), axis=-1).round(3)
    each, which = np.unique(pairs.reshape(-1, 2), axis=0, return_inverse=True)
    said = [posture_of(float(a), float(b)) for a, b in each]
    postures = tuple(dict.fromkeys(said))
    number = np.array([postures.index(one) for one in said], dtype=np.int64)
    return SidePlaces(
        height_mm=eye.height_m * 1000.0,
        face_azimuth_deg=eye.face_azimuth_deg,
        barrel_altitude_deg=eye.barrel_altitude_deg,
        north_deg=seen.north_deg,
        drift_deg=seen.drift_deg,
        posture=number[which.reshape(-1)].reshape(eye.height_m.shape),
        postures=postures,
    )
