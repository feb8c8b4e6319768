"""How far should the tube be turned in its rings (or the diagonal) to serve a whole list?

The eyepiece's height and direction change with the pose, and no turn suits them all. Every turn
is tried on every pose; discomfort is how far the eyepiece stands outside the range of eye
heights, in metres, and more when its barrel hangs down or slants badly.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.mount.clearance.nearest import bodies, least_distance
from axletree.mount.rig.build import eye_at, turned
from axletree.mount.rig.eyepiece import EyePlace, eye_place
from axletree.mount.rig.kinematics import Axes
from axletree.sky.arrays import Floats

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.kit.parts.tube import Tube
    from axletree.mount.rig.parts import Rig


# A barrel that hangs straight down counts as this much outside the range of heights (our figure).
HANGING_M = 0.5
# Looking a little down is easiest; level with nothing else, this decides (our figures).
EASY_BARREL_DEG = 40.0
EASY_M = 0.05


@dataclass(frozen=True)
class RingTurn:
    """The best turn for a list of n poses, and what it costs each of them.

    `discomfort_m` (n,) at the best turn; `present_discomfort_m` at the kit's; `own_best_deg` and
    `own_discomfort_m` what each pose alone would like. `place` is where the eye goes. `turns_deg`
    and `total_m` are the whole curve. `touching` numbers poses that the turn would bring nearer
    than the margin although they are clear now; a turn with such poses is only chosen when every
    other has them too.
    """

    turn_deg: float
    present_deg: float
    discomfort_m: Floats
    present_discomfort_m: Floats
    own_best_deg: Floats
    own_discomfort_m: Floats
    place: EyePlace
    turns_deg: Floats
    total_m: Floats
    touching: tuple[int, ...]


def can_turn(tube: Tube) -> bool:
    """True where turning the rings or the diagonal moves the eyepiece, and may be done."""
    return not tube.ring_turn_fixed and (tube.kind == "newtonian" or tube.diagonal != "none")


def discomfort_m(place: EyePlace) -> Floats:
    """Metres outside the range of eye heights, up to half a metre more for a hanging barrel.

    And a few centimetres for a barrel that isn't at the easiest slant.
    """
    hanging = np.maximum(-np.sin(np.radians(place.barrel_altitude_deg)), 0.0)
    slant = 1.0 - np.cos(np.radians(place.barrel_altitude_deg - EASY_BARREL_DEG))
    outside = place.step_up_m + place.stoop_m
    return np.asarray(outside + HANGING_M * hanging + EASY_M * slant)


def ring_turn(
    kit: Kit,
    rig: Rig,
    axes: Axes,
    tube_end_h: ArrayLike,
    swing_deg: ArrayLike,
    *,
    step_deg: float = 5.0,
) -> RingTurn:
    """The turn with the least total discomfort over n poses (their axis angles, (n,)).

    Every `step_deg` of turn is tried. Refuses an empty list, a tube without rings that
    turn, and an eyepiece straight behind the tube, for which no turn matters.
    """
    h, w = np.broadcast_arrays(
        np.atleast_1d(np.asarray(tube_end_h, dtype=np.float64)),
        np.atleast_1d(np.asarray(swing_deg, dtype=np.float64)),
    )
    if not h.size:
        raise AxletreeError("no poses to choose a ring turn for: the list is empty")
    if kit.tube.ring_turn_fixed:
        raise AxletreeError("the kit says that this tube can't be turned (ring_turn_fixed)")
    if not can_turn(kit.tube):
        raise AxletreeError("the eyepiece sits straight behind this tube: turning changes nothing")
    heights = (kit.habits.eye_height_min_mm, kit.habits.eye_height_max_mm)
    present = kit.tube.ring_turn_deg % 360.0
    turns = np.arange(0.0, 360.0, step_deg)
    eyes = [eye_at(kit, rig, float(t)) for t in turns]
    place = eye_place(
        rig, axes, h, w, heights,
        eye_point_m=np.stack([e[0] for e in eyes])[:, None, :],
        barrel=np.stack([e[1] for e in eyes])[:, None, :],
    )  # fmt: skip
    table = discomfort_m(place)
    total = table.sum(axis=1)
    chosen, touching = _clear_choice(kit, rig, axes, h, w, turns, total)
    eye, barrel = eye_at(kit, rig, float(turns[chosen]))
    now_eye, now_barrel = eye_at(kit, rig, present)
    now = eye_place(rig, axes, h, w, heights, eye_point_m=now_eye, barrel=now_barrel)
    return RingTurn(
        turn_deg=float(turns[chosen]),
        present_deg=present,
        discomfort_m=table[chosen],
        present_discomfort_m=discomfort_m(now),
        own_best_deg=turns[table.argmin(axis=0)],
        own_discomfort_m=table.min(axis=0),
        place=eye_place(rig, axes, h, w, heights, eye_point_m=eye, barrel=barrel),
        turns_deg=turns,
        total_m=np.asarray(total),
        touching=touching,
    )


def _clear_choice(
    kit: Kit, rig: Rig, axes: Axes, h: Floats, w: Floats, turns: Floats, total: Floats
) -> tuple[int, tuple[int, ...]]:
    """The turn with the least total that brings no clear pose into contact, else the fewest."""
    margin = kit.habits.clearance_margin_mm / 1000
    clear_now = least_distance(bodies(rig, axes), h, w)[0] >= margin
    best: tuple[int, tuple[int, ...]] | None = None
    for k in np.argsort(total, kind="stable"):
        other = turned(kit, rig, float(turns[k]))
        clear = least_distance(bodies(other, axes), h, w)[0] >= margin
        touching = tuple(int(i) for i in np.flatnonzero(clear_now & ~clear))
        if not touching:
            return int(k), ()
        if best is None or len(touching) < len(best[1]):
            best = (int(k), touching)
    assert best is not None
    return best
