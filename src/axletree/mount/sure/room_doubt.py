"""How sure is the end of a room, from when on may something touch, and what measured would tell?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axletree.kit.parts.dimension import read_off_sigma
from axletree.mount.dimensions.names import key_of
from axletree.mount.rig.kinematics import SIDES, axis_angles
from axletree.mount.room.along import Track
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.table import Room, RoomTable, parts_of
from axletree.mount.sure.passage import STEP_H, Nearing, Way, first_below, nearings
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices

# A touch counts as possible from when on one rig in twenty has touched.
POSSIBLE_AT = 0.05
EARLY, LATE = 0.16, 0.84  # one standard deviation to either side
_BEYOND_H = 3.0  # a room that ends by contact may last so much longer
_MOST_H = 12.0  # nobody follows longer
_TELL = 3  # dimensions named


@dataclass(frozen=True)
class Telling:
    """A dimension that measured would tell: by how much ends would be known better.

    `share` of the variance goes; the half-width of the end goes from `now_h` to `then_h`.
    """

    name: str
    share: float
    now_h: float
    then_h: float


@dataclass(frozen=True, eq=False)
class RoomDoubt:
    """How sure a room is; hours of hour angle from now on.

    `early_h` and `late_h`: between them the room ends with a chance of 68 %, by parts nearer than
    the margin or by what else ends it. `touch_h`: from then on a touch is possible (POSSIBLE_AT),
    None where it isn't while the object is followed; between which `parts`. `touch_chance`: that
    something touches before the room's printed end. `tellings`: most telling first. `first_h`, of
    each rig drawn when it first touches: inf where it doesn't.
    """

    early_h: float
    late_h: float
    touch_h: float | None
    touch_chance: float
    parts: tuple[str, ...]
    tellings: tuple[Telling, ...]
    first_h: Floats

    @property
    def half_width_h(self) -> float:
        """Half of the span in which the room ends with a chance of 68 %."""
        return 0.5 * (self.late_h - self.early_h)

    def chance_within(self, hours: float) -> float:
        """That something touches within so many hours of hour angle."""
        return float((self.first_h < hours).mean())


SURE = RoomDoubt(0.0, 0.0, None, 0.0, (), (), np.full(1, np.inf))


def room_doubt(
    spread: RigSpread, table: RoomTable, side: int, place: tuple[float, float], now: Room,
    track: Track | None = None,
) -> RoomDoubt:  # fmt: skip
    """How sure the room `now` (arrays (2,)) of an object is, on a tube side (0 east, 1 west).

    `place` are its hour angle and declination; `track` leads what moves among the stars. SURE for
    a side that can't be used.
    """
    if not now.usable[side]:
        return SURE
    room_h, by_contact = float(now.room_h[side]), now.ends[side] == CONTACT
    other_h = _MOST_H if by_contact else min(room_h, _MOST_H)
    last = min(room_h + _BEYOND_H if by_contact else room_h, _MOST_H)
    way, begin = _way(table, side, place, last, track)
    near = nearings(spread, way, table.margin_m)
    touch, which = first_below(way, near, spread.drawn, 0.0)
    close, _ = first_below(way, near, spread.drawn, table.margin_m)
    first_h = touch - begin
    ends = np.minimum(close - begin, other_h if not by_contact else last)
    early, late = (float(q) for q in np.quantile(ends, (EARLY, LATE)))
    possible = float(np.quantile(first_h, POSSIBLE_AT, method="higher"))
    first = _most_common(which[first_h <= possible]) if np.isfinite(possible) else -1
    tells = _tellings(spread, near, way, table.margin_m, 0.5 * (late - early))
    return RoomDoubt(
        early_h=early,
        late_h=late,
        touch_h=possible if possible < last else None,
        touch_chance=float((first_h < min(room_h, last)).mean()),
        parts=parts_of(table, first),
        tellings=tells,
        first_h=first_h,
    )


def _way(
    table: RoomTable, side: int, place: tuple[float, float], last_h: float, track: Track | None
) -> tuple[Way, float]:
    """The side's poses from now on, and the hour angle of now."""
    hours = np.linspace(0.0, last_h, max(2, int(np.ceil(last_h / STEP_H)) + 1))
    H, d = place[0] + hours, np.full(len(hours), place[1])
    if track is not None and track.moves:
        H = track.hour_angle_h[0] + hours
        d = np.interp(H, track.hour_angle_h, track.declination_deg)
    return Way(H, *axis_angles(table.axes, SIDES[side], H, d)), float(H[0])


def _most_common(pairs: Indices) -> int:
    met = pairs[pairs >= 0]
    return int(np.bincount(met).argmax()) if met.size else -1


def _tellings(
    spread: RigSpread, near: tuple[Nearing, ...], way: Way, margin_m: float, now_h: float
) -> tuple[Telling, ...]:
    """What measured well would narrow the end most, by the pair that ends the room as printed.

    Measuring dimension i with an error e takes (C g)_i^2 / (C_ii + e^2) from the variance g' C g
    of a distance with slopes g (Bayes' rule for normal distributions).
    """
    if not near or now_h <= 0.0:
        return ()
    ends = [(one.gap_m < margin_m).argmax() if (one.gap_m < margin_m).any() else len(one.gap_m)
            for one in near]  # fmt: skip
    one = near[int(np.argmin(ends))]
    at = min(int(min(ends)), len(one.gap_m) - 1)
    known, root = spread.known, spread.root
    towards = root @ one.root[at]  # C g, where g' root = one.root
    variance = float(one.root[at] @ one.root[at])
    if variance <= 0.0:
        return ()
    error = np.array([
        read_off_sigma(key_of(name), value)
        for name, value in zip(known.names, known.values.tolist(), strict=True)
    ])  # fmt: skip
    spare = np.maximum(known.sigmas**2, 1e-12)
    share = np.where(known.sigmas > error, towards**2 / (spare + error**2) / variance, 0.0)
    best = np.argsort(-share)[:_TELL]
    return tuple(
        Telling(known.names[i], float(share[i]), now_h, now_h * float(np.sqrt(1.0 - share[i])))
        for i in best
        if share[i] > 0.02
    )
