"""How sure is the end of a room, from when on may something touch, and what measured would tell?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import axis_angles, side_sign
from axletree.mount.room.along import Track
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.side_answer import SideAnswer
from axletree.mount.room.table import RoomTable, parts_of
from axletree.mount.sure.passage import STEP_H, Nearing, PoseTrack, nearing
from axletree.mount.sure.spread import DRAWN, RigSpread
from axletree.mount.sure.touches import touched
from axletree.sky.arrays import Floats, Indices, Mask, quantile

# A touch counts as possible from when on one rig in twenty has touched.
POSSIBLE_AT = 0.05
EARLY, LATE = 0.16, 0.84  # one standard deviation to either side
_BEYOND_H = 3.0  # a room that ends by contact may last so much longer
_MOST_H = 12.0  # nobody follows longer
_TELL = 3  # dimensions named
# A touch that is possible so soon after a stop's planned end is told there (our figure).
SOON_AFTER_S = 1800.0


@dataclass(frozen=True)
class SkyCourse:
    """The way of an object from now on: its hour angle and declination, by how many hours the hour
    angle grows in a second; `track` leads what moves among the stars."""

    hour_angle_h: float
    declination_deg: float
    hours_per_s: float
    track: Track | None = None


@dataclass(frozen=True)
class Telling:
    """A dimension that measured would tell: by how much ends would be known better.

    `share` of the variance goes; the half-width of the end goes from `now_s` to `then_s`.
    """

    name: str
    share: float
    now_s: float
    then_s: float


@dataclass(frozen=True, eq=False)
class RoomDoubt:
    """How sure a room is; seconds of the clock from now on.

    `told_s`: the end as it is told. `early_s` and `late_s`: between them the room ends with a
    chance of 68 %, by parts nearer than the margin or by what else ends it. `touch_s`: from then on
    a touch is possible (POSSIBLE_AT), None where it isn't while the object is followed; between
    which `parts`. `touch_chance`: that something touches before the room's printed end. `tellings`:
    most telling first. `first_s`, of each rig drawn when it first touches: inf where it doesn't;
    `line` (r,) how the distance that ends the room as told grows with each of the spread's normal
    numbers, zeros without one. `ends_s`, of each rig drawn when its room ends. `eye_sigma_m`: one
    standard deviation of the eyepiece's height above the ground, at once.
    """

    told_s: float
    early_s: float
    late_s: float
    touch_s: float | None
    touch_chance: float
    parts: tuple[str, ...]
    tellings: tuple[Telling, ...]
    first_s: Floats
    line: Floats
    ends_s: Floats
    eye_sigma_m: float

    @property
    def half_width_s(self) -> float:
        """Half of the span in which the room ends with a chance of 68 %."""
        return 0.5 * (self.late_s - self.early_s)

    def matters(self, lasts_s: float) -> bool:
        """Whether something may touch before a stop of so many seconds ends, or soon after."""
        return self.touch_s is not None and self.touch_s < lasts_s + SOON_AFTER_S

    def touches_within(self, seconds: float) -> Mask:
        """Of each rig drawn, whether something touches by then."""
        return np.asarray(self.first_s < seconds)


def room_doubt(
    spread: RigSpread, table: RoomTable, answer: SideAnswer, course: SkyCourse
) -> RoomDoubt | None:
    """How sure the room of an object is on a tube side; None where the side can't be used now."""
    if not answer.usable:
        return None
    room_h, by_contact = answer.room_h, answer.ends.by is CONTACT
    last = min(room_h + _BEYOND_H if by_contact else room_h, _MOST_H)
    way = _way(table, int(side_sign(answer.side)), course, last)
    near = nearing(spread, way, table.margin_m)
    close, _ = _first_below(near, table.margin_m)
    touch, which = _first_below(near, 0.0, np.isfinite(close))  # no others can touch
    begin, rate = course.hour_angle_h, course.hours_per_s
    first = (touch - begin) / rate
    ends = np.minimum(close - begin, last) / rate
    early, late = quantile(ends, EARLY), quantile(ends, LATE)
    possible = quantile(first, POSSIBLE_AT, higher=True)
    line = _line_at_end(spread, near, table.margin_m)
    pair = _most_common(which[first <= possible]) if np.isfinite(possible) else -1
    return RoomDoubt(
        told_s=min(room_h, last) / rate,
        early_s=early,
        late_s=late,
        touch_s=possible if possible < last / rate else None,
        touch_chance=float((first < min(room_h, last) / rate).mean()),
        parts=parts_of(table, pair),
        tellings=_tellings(spread, line, 0.5 * (late - early)),
        first_s=first,
        line=line,
        ends_s=ends,
        eye_sigma_m=spread.eye_sigma_m(answer.tube_end_h, answer.swing_deg),
    )


@dataclass(frozen=True)
class Followed:
    """An object that is followed on a tube side (+1 east, -1 west) for so many seconds."""

    side: int
    course: SkyCourse
    lasts_s: float


def touches_while(spread: RigSpread, table: RoomTable, followed: Sequence[Followed]) -> Mask:
    """(k, n): of each rig drawn, whether something touches while each of k objects is followed."""
    return touched(spread, [
        _way(table, one.side, one.course, one.lasts_s * one.course.hours_per_s)
        for one in followed
    ])  # fmt: skip


def _first_below(
    near: Nearing | None, limit_m: float, ask: Mask | None = None
) -> tuple[Floats, Indices]:
    if near is None:
        return np.full(DRAWN, np.inf), np.full(DRAWN, -1)
    return near.first_below(limit_m, ask)


def _way(table: RoomTable, side: int, course: SkyCourse, last_h: float) -> PoseTrack:
    """The side's poses from now on."""
    hours = np.linspace(0.0, last_h, max(2, int(np.ceil(last_h / STEP_H)) + 1))
    H, d = course.hour_angle_h + hours, np.full(len(hours), course.declination_deg)
    track = course.track
    if track is not None and track.moves:
        d = np.interp(track.hour_angle_h[0] + hours, track.hour_angle_h, track.declination_deg)
    return PoseTrack(H, *axis_angles(table.axes, side, H, d))


def _most_common(pairs: Indices) -> int:
    met = pairs[pairs >= 0]
    return int(np.bincount(met).argmax()) if met.size else -1


def _line_at_end(spread: RigSpread, near: Nearing | None, margin_m: float) -> Floats:
    """How the distance that ends the room as told grows with each of the normal numbers (r,)."""
    if near is None:
        return np.zeros(spread.root.shape[1])
    within = near.gap_m < margin_m
    last = within.shape[1]
    ends = np.where(within.any(axis=1), within.argmax(axis=1), last)
    # Its own numbers: a part of the array would keep all of it.
    return np.array(near.root[ends.argmin(), min(int(ends.min()), last - 1)])


def _tellings(spread: RigSpread, line: Floats, now_s: float) -> tuple[Telling, ...]:
    """What measured well would narrow the end most, by the pair that ends the room as told."""
    variance = float(line @ line)
    if variance <= 0.0 or now_s <= 0.0:
        return ()
    share = spread.variance_taken(line[np.newaxis], np.eye(len(line)))[:, 0] / variance
    best = np.argsort(-share)[:_TELL]
    return tuple(
        Telling(spread.known.names[i], float(share[i]), now_s, now_s * np.sqrt(1.0 - share[i]))
        for i in best.tolist()
        if share[i] > 0.02
    )
