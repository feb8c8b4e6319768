"""Which tube side for this object, and what awaits the person on each?

For both sides: what the circles read, where the weights hang, how much room there is and what
ends it, where the eye goes, how the picture stands, and what to beware of.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.clearance.paths import TurnPath, best_path
from axletree.mount.rig.eyepiece import eye_place, posture_of
from axletree.mount.rig.field_orientation import picture
from axletree.mount.rig.kinematics import (
    SIDE_WORDS,
    SIDES,
    Axes,
    axis_angles,
    circle_readings,
    frames,
    head_frame,
)
from axletree.mount.room.along import Track, room_along, waits_along
from axletree.mount.room.better_side import SideReason, better_side
from axletree.mount.room.side_answer import SideAnswer, SideCaution, SideWarning
from axletree.mount.room.table import (
    HOURS_PER_SECOND,
    AllRound,
    Room,
    RoomTable,
    all_round,
    parts_of,
    room,
    room_end,
)

if TYPE_CHECKING:
    from axletree.kit.kit import Kit

USUAL_MINUTES = 30.0  # how long somebody stays on an object who doesn't say
REST = (0.0, 0.0)  # weights hanging, tube along the polar axis
_WAIT_STEP_H = 1.0 / 12.0
# A turn that is known, or the pose that it begins from: axis end in hours, swing in degrees.
Turn = tuple[float, float] | TurnPath


@dataclass(frozen=True)
class Choice:
    """Both sides of one object and the better one ('' when neither can be used), with a reason."""

    hour_angle_h: float
    declination_deg: float
    east: SideAnswer
    west: SideAnswer
    better: str
    reason: SideReason

    @property
    def sides(self) -> tuple[SideAnswer, SideAnswer]:
        """East, west."""
        return self.east, self.west

    @property
    def chosen(self) -> SideAnswer | None:
        """The better side's answer."""
        return {"east": self.east, "west": self.west}.get(self.better)


@dataclass(frozen=True)
class Following:
    """How an object is to be followed: for `need_h` hours of hour angle, which grow by
    `hours_per_s` on the clock (the stars' rate unless given).

    `track` leads what moves among the stars (Moon, planets) through the next day, from this moment
    and place on: rooms, waits and times are then those of its real way.
    """

    need_h: float = USUAL_MINUTES / 60.0
    hours_per_s: float = HOURS_PER_SECOND
    track: Track | None = None


@dataclass(frozen=True)
class RoomAndTurns:
    """What is known of one object of a list: its room (arrays (2,)), and the turns that bring the
    rig to it with the tube east and west. `room` and `best_paths` find those of a whole list much
    more quickly than one by one."""

    room: Room
    turns: tuple[TurnPath, TurnPath]


STARS = Following()


def choose(
    kit: Kit,
    table: RoomTable,
    hour_angle_h: float,
    declination_deg: float,
    following: Following = STARS,
    known: RoomAndTurns | None = None,
) -> Choice:
    """Both tube sides of an object at an hour angle and declination, and the better one.

    The rig comes from rest, weights hanging and tube along the polar axis, unless the turns are
    `known` as one of a list; then nobody looks for when a closed side opens.
    """
    at = (hour_angle_h, declination_deg)
    turns: tuple[Turn, Turn] = (REST, REST) if known is None else known.turns
    track = following.track
    waits: list[float | None] = [None, None]
    if track is not None and track.moves:
        now = room_along(table, track)
        if known is None:
            waits = waits_along(table, track, now)
        begin = float(track.hour_angle_h[0])
        thing = _Object(
            *at, now, waits, turns, lambda hours: track.seconds_at(begin + hours)
        )  # fmt: skip
        return _choice(kit, table, thing, following.need_h)
    rate = following.hours_per_s
    if known is None:
        around = all_round(table, declination_deg)
        now = room(table, *at, around)
        found = _waits(table, *at, now, around)
        waits = [None if wait is None else wait / rate for wait in found]
    else:
        now = known.room
    thing = _Object(*at, now, waits, turns, lambda hours: hours / rate)
    return _choice(kit, table, thing, following.need_h)


@dataclass(frozen=True)
class _Object:
    """One object as the rig meets it, east first: room, seconds until each side opens, turns; and
    how long it takes (s) until its hour angle has grown by so many hours."""

    hour_angle_h: float
    declination_deg: float
    room: Room
    waits_s: Sequence[float | None]
    turns: tuple[Turn, Turn]
    seconds_of: Callable[[float], float]


def _choice(kit: Kit, table: RoomTable, thing: _Object, need_h: float) -> Choice:
    east, west = (_side(kit, table, thing, i) for i in range(2))
    better, reason = better_side(east, west, need_h)
    return Choice(thing.hour_angle_h, thing.declination_deg, east, west, better, reason)


def _waits(table: RoomTable, H: float, d: float, now: Room, around: AllRound) -> list[float | None]:
    """Hours until each side can be used, to five minutes."""
    if now.usable.all():
        return [0.0, 0.0]
    later = np.arange(0.0, 24.0, _WAIT_STEP_H)
    usable = room(table, H + later, d, around).usable
    return [float(later[row.argmax()]) if row.any() else None for row in usable]


def weights_clock_deg(axes: Axes, tube_end_h: float) -> float:
    """Where the weights hang, clockwise from the top, seen from behind, looking to the pole."""
    weights = -frames(axes, tube_end_h, 0.0)[0][:, 0]
    up, right, _ = head_frame(axes).T
    return float(np.degrees(np.arctan2(weights @ right, weights @ up)) % 360.0)


def _side(kit: Kit, table: RoomTable, thing: _Object, i: int) -> SideAnswer:
    rig, axes, now, turn = table.rig, table.axes, thing.room, thing.turns[i]
    place = thing.hour_angle_h, thing.declination_deg
    end, swing = (float(a) for a in axis_angles(axes, SIDES[i], *place))
    circle_h, circle_d = circle_readings(axes, end, swing)
    heights = (kit.habits.eye_height_min_mm, kit.habits.eye_height_max_mm)
    eye = eye_place(rig, axes, end, swing, heights)
    way = (
        turn if isinstance(turn, TurnPath)
        else best_path(rig, axes, table.bodies, turn, (end, swing), table.margin_m)
    )  # fmt: skip
    apart, pair = way.end_m, way.end_pair
    up = bool(now.weights_up[i])
    cautions = []
    if way.least_m < table.margin_m <= apart:
        cautions.append(SideCaution(SideWarning.TOO_NEAR_ON_THE_TURN, parts_of(table, way.pair)))
    if way.can_fall and not eye.can_fall:
        cautions.append(SideCaution(SideWarning.BARREL_DOWN_ON_THE_TURN))
    if eye.can_fall:
        cautions.append(SideCaution(SideWarning.BARREL_DOWN))
    if up:
        cautions.append(SideCaution(SideWarning.WEIGHTS_UP))
    elif now.usable[i] and now.weights_down_h[i] < now.room_h[i]:
        cautions.append(SideCaution(SideWarning.WEIGHTS_WILL_RISE))
    return SideAnswer(
        side=SIDE_WORDS[SIDES[i]],
        usable=bool(now.usable[i]),
        hour_circle_h=float(circle_h) % 24.0,
        declination_circle_deg=float(circle_d),
        tube_end_h=end,
        swing_deg=swing,
        weights_clock_deg=weights_clock_deg(axes, end),
        weights_up=up,
        clearance_m=apart,
        room_h=float(now.room_h[i]),
        room_s=thing.seconds_of(float(now.room_h[i])),
        ends=room_end(table, int(now.ends[i]), int(now.pair[i])),
        weights_down_h=float(now.weights_down_h[i]),
        since_s=-thing.seconds_of(-float(now.since_h[i])),
        opens_in_s=thing.waits_s[i],
        weights_down_s=thing.seconds_of(float(now.weights_down_h[i])),
        eye=eye,
        posture=posture_of(float(eye.step_up_m), float(eye.stoop_m)),
        picture=picture(rig, kit.tube, axes, end, swing),
        way=way,
        cautions=tuple(cautions),
        nearest_parts=parts_of(table, pair),
    )
