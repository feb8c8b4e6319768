"""How do the axes turn from one pose to the next, one lock after the other?"""

from __future__ import annotations

from datetime import datetime
from enum import Enum
from itertools import pairwise

import numpy as np

from axletree.axis.circles_read import StopPlace
from axletree.evening.order.moving import Handling, handling_of
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.stops.stop import Stop
from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Motor
from axletree.mount.clearance.paths import HOUR_FIRST, TurnPath, best_path, turn_path
from axletree.mount.rig.kinematics import axis_angles, direction, weights_up
from axletree.mount.room.table import RoomTable, parts_of
from axletree.sky.directions import azimuth_altitude_from_vector, wrap_h
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants

# A turn that no hand would make (our figure).
_LEAST_DEG = 0.5


class Lock(Enum):
    """The lock of one axis."""

    HOUR = "hour"
    DECLINATION = "declination"


def turned_by_keys(motor: Motor | None, lock: Lock) -> bool:
    """True where the mount's motor brings this axis to an object by its keys, the lock shut."""
    if motor is None or motor.slew_deg_per_s is None:
        return False
    return lock is Lock.HOUR or motor.axes == "both"


@dataclass(frozen=True)
class AxesStand:
    """Where the axes stand (`mount.rig.kinematics`), and how far the polar axis is off the pole:
    too high by `raise_deg`, too far east along the horizon by `move_east_deg`."""

    tube_end_h: float
    swing_deg: float
    raise_deg: float = 0.0
    move_east_deg: float = 0.0


REST = AxesStand(0.0, 0.0)


@dataclass(frozen=True)
class OpenLockTurn:
    """One axis turned, its lock open or by the motor (`turned_by_keys`), the other shut.

    `turn_deg` signed as the axis angles are: the hour axis to the west, the tube's swing. `seconds`
    that a hand takes. `to_pole_deg` by how much the tube comes nearer to the elevated pole, and
    `through_pole` where it looks along the axis on the way. `too_near`: parts (moving, other) that
    come nearer than the margin. `barrel_down`: the eyepiece could fall. `near_sun`: no way but past
    the Sun, which is up. `weights_up` at either end.
    """

    lock: Lock
    start: AxesStand
    finish: AxesStand
    turn_deg: float
    seconds: float
    to_pole_deg: float
    through_pole: bool
    too_near: tuple[str, ...]
    barrel_down: bool
    near_sun: bool
    weights_up: bool


@dataclass(frozen=True)
class Turning:
    """One evening's rig among its surroundings, with the host's hands."""

    table: RoomTable
    handling: Handling
    sun: SunRule

    @classmethod
    def of(cls, evening: EveningAnswer, table: RoomTable) -> Turning:
        """The rig of an evening."""
        return cls(table, handling_of(evening.kit), SunRule.of(evening.kit, evening.observer))

    @property
    def hour_deg_per_s(self) -> float:
        """How fast the hour axis is turned."""
        return self.handling.hour_deg_per_s

    def poses_of(self, stop: Stop) -> tuple[AxesStand, AxesStand]:
        """Where the axes stand when a stop begins and when it ends."""
        return self._pose(stop.start, stop), self._pose(stop.finish, stop)

    def _pose(self, place: StopPlace, stop: Stop) -> AxesStand:
        end, swing = axis_angles(
            self.table.axes, stop.chosen.side, place.hour_angle_h, place.declination_deg
        )
        return AxesStand(float(end), float(swing))

    def level_poses(self) -> tuple[AxesStand, AxesStand]:
        """The shaft level, its weights to the west; and there the tube level as well."""
        axes = self.table.axes
        return AxesStand(-6.0, 0.0), AxesStand(-6.0, axes.sense * axes.altitude_deg)

    def way(self, start: AxesStand, goal: AxesStand, stop: Stop | None) -> list[OpenLockTurn]:
        """The turns from one pose to another, in the order that keeps all clear.

        The better of both orders of the axes; where that still comes nearer than the margin, or
        past a Sun that is up, by way of the pole: the tube along the axis first, if that is better.
        """
        at = None if stop is None else stop.begin
        table = self.table
        whole = best_path(
            table.rig, table.axes, table.bodies, _angles(start), _angles(goal), table.margin_m
        )
        first = whole.order == HOUR_FIRST
        between = (
            AxesStand(goal.tube_end_h, start.swing_deg) if first
            else AxesStand(start.tube_end_h, goal.swing_deg)
        )  # fmt: skip
        poses = [start, between, goal]
        if whole.least_m < table.margin_m or self._past_sun(whole, at):
            over = [start, AxesStand(start.tube_end_h, 0.0), AxesStand(goal.tube_end_h, 0.0), goal]
            poses = min(poses, over, key=lambda way: self._trouble(way, at))
        turns = [self._turn(a, b, at) for a, b in pairwise(poses)]
        return [turn for turn in turns if abs(turn.turn_deg) >= _LEAST_DEG]

    def _trouble(self, poses: list[AxesStand], at: datetime | None) -> tuple[bool, float]:
        """What is worse comes later: past the Sun, then what comes nearer than the margin."""
        paths = [self._path(a, b) for a, b in pairwise(poses)]
        near = min(path.least_m for path in paths)
        return any(self._past_sun(p, at) for p in paths), -min(near, self.table.margin_m)

    def _path(self, start: AxesStand, goal: AxesStand) -> TurnPath:
        table = self.table
        return turn_path(table.rig, table.axes, table.bodies, _angles(start), _angles(goal))

    def _past_sun(self, path: TurnPath, at: datetime | None) -> bool:
        if at is None:
            return False
        seen = direction(self.table.axes, path.tube_end_h, path.swing_deg)
        azimuth, altitude = azimuth_altitude_from_vector(seen)
        when = Instants.from_datetime(at)
        return bool(self.sun.closed(when, azimuth[:, np.newaxis], altitude[:, np.newaxis]).any())

    def _turn(self, start: AxesStand, goal: AxesStand, at: datetime | None) -> OpenLockTurn:
        path, table, hands = self._path(start, goal), self.table, self.handling
        hour = start.tube_end_h != goal.tube_end_h
        turn = path.hour_turn_deg if hour else path.swing_turn_deg
        speed = hands.hour_deg_per_s if hour else hands.declination_deg_per_s
        near = path.least_m < table.margin_m
        ends = np.array([start.tube_end_h, goal.tube_end_h])
        return OpenLockTurn(
            lock=Lock.HOUR if hour else Lock.DECLINATION,
            start=start,
            finish=goal,
            turn_deg=turn,
            seconds=abs(turn) / speed,
            to_pole_deg=abs(start.swing_deg) - abs(goal.swing_deg),
            through_pole=start.swing_deg * goal.swing_deg < 0.0,
            too_near=parts_of(table, path.pair) if near else (),
            barrel_down=path.can_fall,
            near_sun=self._past_sun(path, at),
            weights_up=bool(weights_up(table.axes, ends).any()),
        )


def _angles(standing: AxesStand) -> tuple[float, float]:
    return float(wrap_h(standing.tube_end_h)), standing.swing_deg
