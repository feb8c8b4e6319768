"""When does something that stands on three feet fall over?

Statics of a rigid body on point supports: it tips about the line through two feet when the
moments about that line no longer hold it down (J. L. Meriam and L. G. Kraige, Engineering
Mechanics: Statics, chapter 3; the margins are those of stability tables for tripods and cranes).
The feet are taken not to slide. Feet may stand at different heights; z is up, lengths are metres,
masses kilograms. Everything broadcasts over poses in the leading axes.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.sky.arrays import Floats


def tipping_angle_deg(height_m: ArrayLike, margin_m: ArrayLike) -> Floats:
    """How far it must lean to fall: the centre of mass `margin_m` inside the edge, this high."""
    return np.asarray(np.degrees(np.arctan2(np.asarray(margin_m), np.asarray(height_m))))


def edges(feet_m: ArrayLike) -> tuple[Floats, Floats]:
    """The three edges between feet (3, 3): starts (3, 3) and vectors along them (3, 3).

    Ordered so that the inside lies to the left seen from above. Feet in a line are refused.
    """
    feet = np.asarray(feet_m, dtype=np.float64)
    ahead = np.roll(feet, -1, axis=0)
    area = float(np.sum(feet[:, 0] * ahead[:, 1] - feet[:, 1] * ahead[:, 0])) / 2
    if abs(area) < 1e-6:
        raise AxletreeError("the three feet stand in one line: it cannot stand")
    if area < 0:
        feet = feet[::-1]
        ahead = np.roll(feet, -1, axis=0)
    return feet, ahead - feet


def margins_m(feet_m: ArrayLike, point_m: ArrayLike) -> Floats:
    """Horizontal distance of points (..., 3) inside each edge, (..., 3); negative outside."""
    start, along = edges(feet_m)
    point = np.asarray(point_m, dtype=np.float64)[..., np.newaxis, :]
    across = along[:, 0] * (point[..., 1] - start[:, 1]) - along[:, 1] * (
        point[..., 0] - start[:, 0]
    )
    return np.asarray(across / np.hypot(along[:, 0], along[:, 1]))


def push_n(
    feet_m: ArrayLike, mass_kg: ArrayLike, centre_m: ArrayLike, at_m: ArrayLike
) -> tuple[Floats, Floats]:
    """Sideways push at `at_m` that tips it over each edge, in newtons, and its direction.

    `centre_m` and `at_m` are (..., 3), `mass_kg` (...). The push is level and in the worst
    direction for its edge: (..., 3) newtons and (..., 3, 2) unit vectors east, north. A centre
    of mass outside an edge gives 0: it falls by itself.
    """
    start, along = edges(feet_m)
    level = np.hypot(along[:, 0], along[:, 1])
    unit = along / np.linalg.norm(along, axis=-1, keepdims=True)
    weight = np.asarray(mass_kg, dtype=np.float64)[..., np.newaxis] * STANDARD_GRAVITY_M_S2
    held = weight * np.maximum(margins_m(feet_m, centre_m), 0.0)
    held = held * level / np.linalg.norm(along, axis=-1)
    arm = np.cross(unit, np.asarray(at_m, dtype=np.float64)[..., np.newaxis, :] - start)[..., :2]
    size = np.linalg.norm(arm, axis=-1)
    safe = np.where(size > 0.0, size, 1.0)
    force = np.where(size > 0.0, held / safe, np.inf)
    return np.asarray(force), np.asarray(arm / safe[..., np.newaxis])


def pull_down_n(
    feet_m: ArrayLike, mass_kg: ArrayLike, centre_m: ArrayLike, at_m: ArrayLike
) -> Floats:
    """Downward pull at `at_m` that tips it over each edge, newtons (..., 3); inf: none can."""
    weight = np.asarray(mass_kg, dtype=np.float64)[..., np.newaxis] * STANDARD_GRAVITY_M_S2
    held = weight * np.maximum(margins_m(feet_m, centre_m), 0.0)
    outside = -margins_m(feet_m, at_m)
    hangs = outside > 0.0
    return np.asarray(np.where(hangs, held / np.where(hangs, outside, 1.0), np.inf))


def extra_mass_kg(
    feet_m: ArrayLike,
    mass_kg: ArrayLike,
    centre_m: ArrayLike,
    at_m: ArrayLike,
    load_m: ArrayLike,
    wanted_n: float,
) -> float:
    """Mass at `load_m` (3,) that makes every push at `at_m` at least `wanted_n`; inf if none can.

    The push over an edge grows in proportion to the mass times its distance inside that edge.
    """
    now, _ = push_n(feet_m, mass_kg, centre_m, at_m)
    per_kg, _ = push_n(feet_m, 1.0, load_m, at_m)
    short = np.maximum(wanted_n - now, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        needed = np.where(short > 0.0, short / per_kg, 0.0)
    return float(np.max(needed))
