"""How long can an object be followed on each tube side, and what ends it?

Following, the hour angle grows. Room ends at the first of: two parts come nearer than the kit's
margin; the hour axis reaches its stop or its cable's end; the object goes behind the skyline or
sinks below the lowest altitude (`room.contact`, `room.open_sky`). Hours are of hour angle, that is
sidereal.
"""

from __future__ import annotations

from dataclasses import field, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.kit.frozen import dataclass
from axletree.mount.clearance.nearest import Bodies, bodies, least_distance
from axletree.mount.clearance.workable import check_rig
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import SIDES, Axes, align, axis_angles
from axletree.mount.rig.shaft_turn import hours_at, turned_h
from axletree.mount.room.arcs import Ahead, Arcs, look
from axletree.mount.room.contact import HOURS, contact_arcs, stop_arcs
from axletree.mount.room.ends import (
    BEHIND,
    BELOW,
    CONTACT,
    LOW,
    NOT_RISEN,
    NOTHING,
    SKYLINE,
    STOP,
    End,
    RoomEnd,
)
from axletree.mount.room.open_sky import PAST_H, OpenSky, Outline, Skyline, closed_arcs, corners_of
from axletree.sky.arrays import Floats, Mask, distinct
from axletree.sky.directions import wrap_h
from axletree.sky.time.instants import SIDEREAL_HOURS_PER_S

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.mount.clearance.map import ClearanceMap
    from axletree.mount.rig.parts import Rig
    from axletree.sky.observer import Observer

WHOLE_TURN_H = 24.0
HOURS_PER_SECOND = SIDEREAL_HOURS_PER_S
# Up to so many declinations one by one cost less than a map (measured).
_FEW = 4


@dataclass(frozen=True)
class RoomTable:
    """A rig on its axes with everything that can end its following.

    `of_few`: it is asked of a few objects only, so that no map is made: all their poses are looked
    at closely.
    """

    rig: Rig
    axes: Axes
    bodies: Bodies
    margin_m: float
    weights_up_h: float  # how far the hour axis may turn past the shaft's level, weights rising
    weights_down_h: float  # and the other way
    lowest_altitude_deg: float
    skyline: Skyline | None
    observer: Observer | None  # for refraction; None looks without air
    corners_deg: Floats = field(default_factory=lambda: np.zeros(0))  # where the skyline bends
    of_few: bool = False

    @cached_property
    def map(self) -> ClearanceMap:
        """The clearances of all poses, made when they are first asked for: 0.15 s."""
        from axletree.mount.clearance.map import clearance_map

        return clearance_map(self.bodies)

    @cached_property
    def clear(self) -> Mask:
        """Where nothing is nearer than the margin, of the map's shape but without the map."""
        from axletree.mount.clearance.map import clear_poses

        return clear_poses(self.bodies, self.margin_m)

    def under(self, skyline: Outline) -> RoomTable:
        """The same rig under another outline, with its map where that was made."""
        corners = corners_of(skyline, self.lowest_altitude_deg)
        other = replace(self, skyline=skyline.altitude_at, corners_deg=corners)
        if "map" in self.__dict__:  # no pose of the rig itself changes with the skyline
            other.__dict__["map"] = self.map
        return other

    @property
    def open_sky(self) -> OpenSky:
        """The part of the sky that is used."""
        return OpenSky(
            self.axes.latitude_deg, self.lowest_altitude_deg, self.skyline, self.corners_deg,
            self.observer,
        )  # fmt: skip


@dataclass(frozen=True)
class Room:
    """Room on both tube sides: arrays (2, ...), east first, of the shape that was asked for.

    `room_h` hours of hour angle until `ends` (a code of `mount.ends.End`); 24 where nothing ends
    it. Where the pose can't be used now, `usable` is False, room is 0 and `ends` says why.
    `since_h`: for how long it could already have been followed, after `began` (SKYLINE and LOW:
    it stood behind or below).
    `weights_up` now; `weights_down_h` is the part of the room before the weights rise above the
    tube. `pair` numbers the parts that meet where `ends` is CONTACT, else -1.
    """

    room_h: Floats
    ends: NDArray[np.int8]
    pair: NDArray[np.int16]
    since_h: Floats
    began: NDArray[np.int8]
    usable: NDArray[np.bool_]
    weights_up: NDArray[np.bool_]
    weights_down_h: Floats

    def of(self, which: int) -> Room:
        """One object's room, arrays (2,)."""
        return Room(**{name: getattr(self, name)[:, which] for name in Room.__dataclass_fields__})

    @property
    def room_deg(self) -> Floats:
        """Room as an angle about the polar axis."""
        return self.room_h * 15.0

    @property
    def room_s(self) -> Floats:
        """Room as time on the clock, for the stars."""
        return self.room_h / HOURS_PER_SECOND

    @property
    def since_s(self) -> Floats:
        """Time on the clock for which it could already have been followed."""
        return self.since_h / HOURS_PER_SECOND


def room_table(
    kit: Kit,
    *,
    rig: Rig | None = None,
    axes: Axes | None = None,
    skyline: Outline | Skyline | None = None,
    observer: Observer | None = None,
    of_few: bool = False,
) -> RoomTable:
    """The table of a kit: any number of questions after the first, which takes 0.15 s.

    `of_few` answers the first in a fifth of that, and every further one no sooner.
    `skyline` is an outline with its corners, or a smooth function that gives the obstacles'
    altitude at azimuths, both in degrees: of that a post narrower than half a degree of hour
    angle may be missed. Refuses a rig that
    can't work (see `mount.check`).
    """
    rig = build_rig(kit) if rig is None else rig
    axes = align(kit.site.latitude_deg) if axes is None else axes
    pairs = bodies(rig, axes)
    check_rig(rig, axes, pairs)
    travel = kit.mount.travel
    lowest, corners = kit.habits.lowest_altitude_deg, np.zeros(0)
    heights: Skyline | None
    if isinstance(skyline, Outline):
        heights, corners = skyline.altitude_at, corners_of(skyline, lowest)
    else:
        heights = skyline
    return RoomTable(
        rig=rig,
        axes=axes,
        bodies=pairs,
        margin_m=kit.habits.clearance_margin_mm / 1000,
        weights_up_h=12.0 if travel.weights_up_h is None else travel.weights_up_h,
        weights_down_h=12.0 if travel.weights_down_h is None else travel.weights_down_h,
        lowest_altitude_deg=lowest,
        skyline=heights,
        observer=observer,
        corners_deg=corners,
        of_few=of_few,
    )


@dataclass(frozen=True)
class AllRound:
    """What is in the way on the whole circle, for each of some declinations (n,), ascending."""

    declination_deg: Floats
    sky: Arcs
    contacts: Arcs  # side east, then west


def all_round(table: RoomTable, declination_deg: ArrayLike) -> AllRound:
    """Everything in the way at some declinations: for who asks `room` of them more than once."""
    rows = distinct(np.asarray(declination_deg, dtype=np.float64))
    return AllRound(rows, _sky_arcs(table, rows), _contact_arcs(table, rows))


def room(
    table: RoomTable,
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    known: AllRound | None = None,
) -> Room:
    """Room of objects at hour angles and declinations (which broadcast), on both tube sides.

    `known` is what lies on the circles of just these declinations, where that was asked before.
    """
    H, d = np.broadcast_arrays(
        np.asarray(hour_angle_h, dtype=np.float64), np.asarray(declination_deg, dtype=np.float64)
    )
    here = wrap_h(H.ravel())
    rows_d, rows = np.unique(d.ravel(), return_inverse=True)
    rows = rows.reshape(-1)
    known = all_round(table, rows_d) if known is None else known
    low = look(known.sky, rows, here)
    parts = []
    for i, side in enumerate(SIDES):
        near = look(known.contacts, rows + i * len(rows_d), here)
        past = table.weights_up_h, table.weights_down_h
        stop = look(stop_arcs(table.axes, side, past, rows_d), rows, here)
        parts.append(_one_side(table, side, here, d.ravel(), near, stop, low))
    names = Room.__dataclass_fields__
    stacked = {n: np.stack([getattr(p, n) for p in parts]).reshape(2, *H.shape) for n in names}
    return Room(**stacked)


def _one_side(
    table: RoomTable, side: int, here: Floats, d: Floats, near: Ahead, stop: Ahead, low: Ahead
) -> Room:
    until = np.stack((near.until_h, stop.until_h, low.until_h))
    since = np.stack((near.since_h, stop.since_h, low.since_h))
    first, last = until.argmin(axis=0), since.argmin(axis=0)
    room_h = np.minimum(until.min(axis=0), WHOLE_TURN_H)
    since_h = np.minimum(since.min(axis=0), WHOLE_TURN_H)
    usable = ~(near.blocked | stop.blocked | low.blocked)
    # What stands in the way now: the sky first, for a low object needs no machine.
    first = np.where(usable, first, np.where(low.blocked, 2, np.where(stop.blocked, 1, 0)))
    last = np.where(usable, last, first)
    codes = np.array([CONTACT, STOP, SKYLINE], dtype=np.int8)
    ends = np.where(usable & (room_h >= WHOLE_TURN_H), NOTHING, codes[first]).astype(np.int8)
    began = np.where(usable & (since_h >= WHOLE_TURN_H), NOTHING, codes[last]).astype(np.int8)
    sky = table.open_sky
    for code, at in ((ends, here + room_h + PAST_H), (began, here - since_h - PAST_H)):
        closes = usable & (code == SKYLINE)
        sunk = sky.above_lowest_deg(at[closes], d[closes]) < 0.0
        code[closes] = np.where(sunk, LOW, SKYLINE)
    closed = np.flatnonzero(~usable & (ends == SKYLINE))
    if closed.size:
        ends[closed] = began[closed] = _closed_by(sky, here[closed], d[closed])
    pair = np.full(here.shape, -1, dtype=np.int16)
    meets = np.flatnonzero(ends == CONTACT)
    if meets.size:
        angles = axis_angles(table.axes, side, here[meets] + room_h[meets], d[meets])
        pair[meets] = least_distance(table.bodies, *angles)[1]
    # The shaft is level when the tube's end points 6 h west; until then the weights hang below.
    past = np.abs(turned_h(table.axes, side, here, d)) - 6.0
    to_level = np.mod(hours_at(table.axes, side, 6.0, d) - here, 24.0)
    up = past > 1e-9
    down = np.where(up, 0.0, np.minimum(room_h, to_level))
    return Room(room_h, ends, pair, since_h, began, usable, up, down)


def _closed_by(sky: OpenSky, hour_angle_h: Floats, declination_deg: Floats) -> NDArray[np.int8]:
    """Why what stands in the closed sky can't be seen now: BEHIND, BELOW or NOT_RISEN."""
    now = sky.above_lowest_deg(hour_angle_h, declination_deg)
    rises = sky.above_lowest_deg(hour_angle_h + PAST_H, declination_deg) > now
    # Highest at its upper meridian passage: what is below there never rises above.
    best = np.zeros_like(hour_angle_h)
    rises &= sky.above_lowest_deg(best, declination_deg) > 0.0
    below = np.where(rises, NOT_RISEN, BELOW)
    return np.where(now < 0.0, below, BEHIND).astype(np.int8)


def _contact_arcs(table: RoomTable, declination_deg: Floats) -> Arcs:
    few = table.of_few and len(declination_deg) <= _FEW
    return contact_arcs(
        table.bodies, table.axes, table.margin_m, declination_deg, None if few else table.map
    )


def _sky_arcs(table: RoomTable, declination_deg: Floats) -> Arcs:
    """Where the object is behind the skyline or too low, for each declination."""
    return closed_arcs(table.open_sky, declination_deg, HOURS)


def parts_of(table: RoomTable, pair: int) -> tuple[str, ...]:
    """The rig's two parts (moving, other) of a pair, by its number; () for none."""
    if not 0 <= pair < len(table.bodies.pairs):
        return ()
    both = table.bodies.pairs[pair]
    return both.moving, both.other


def room_end(table: RoomTable, code: int, pair: int = -1) -> RoomEnd:
    """What ends the room, from a code of `Room.ends` and the number of the pair that meets."""
    return RoomEnd(End(code), parts_of(table, pair), table.lowest_altitude_deg)
