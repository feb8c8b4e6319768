"""How does a rod look from one side? Outlines of capsules and cylinders, true to scale."""

from __future__ import annotations

from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.tell.shared.sheet import Point

_STEPS = 12


class ViewFrom(Enum):
    """Where the viewer stands."""

    EAST = "east"
    BEHIND = "behind"
    ABOVE = "above"


@dataclass(frozen=True)
class SideView:
    """Where one looks from: right and up on the paper, and towards the viewer (unit vectors)."""

    stand: ViewFrom
    right: Floats
    up: Floats
    near: Floats


@dataclass(frozen=True)
class RodOutline:
    """One rod as seen: its closed outline, the end that faces the viewer ((): none), its depth."""

    part: int
    outline: tuple[Point, ...]
    face: tuple[Point, ...]
    depth: float


def flat_points(view: SideView, points: Floats) -> Floats:
    """Points (..., 3) as (..., 2) on the paper, metres, up positive."""
    return np.stack((points @ view.right, points @ view.up), axis=-1)


def outline(
    view: SideView, part: int, start: Floats, end: Floats, radius: float, flat: bool
) -> RodOutline:
    """The silhouette of one rod between two points (3,), metres.

    A cylinder shows a rectangle between two ellipses, narrowed by its slant; a capsule a
    rectangle between two half circles.
    """
    a, b = flat_points(view, start), flat_points(view, end)
    step = end - start
    length = float(np.linalg.norm(step))
    along = step / length if length > 0 else view.near
    slant = abs(float(along @ view.near))
    seen = b - a
    size = float(np.linalg.norm(seen))
    axis = seen / size if size > 1e-9 else np.array([1.0, 0.0])
    across = np.array([-axis[1], axis[0]])
    thick = radius * slant if flat else radius
    turn = np.linspace(-np.pi / 2, np.pi / 2, _STEPS + 1)
    cap = np.outer(np.cos(turn), axis) * thick + np.outer(np.sin(turn), across) * radius
    hull = np.vstack((b + cap, a - cap))
    face: tuple[Point, ...] = ()
    if flat and slant > 0.02:
        near = a if float(step @ view.near) < 0 else b
        whole = np.linspace(0, 2 * np.pi, 4 * _STEPS, endpoint=False)
        rim = near + np.outer(np.cos(whole), axis) * thick
        rim += np.outer(np.sin(whole), across) * radius
        face = _points(rim)
    depth = float((start + end) @ view.near) / 2
    return RodOutline(part, _points(hull), face, depth)


def _points(rows: Floats) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in rows)


def side_views(sense: int) -> tuple[SideView, SideView, SideView]:
    """From the east, from behind towards the pole, and from above (north up)."""
    east, north, up = np.eye(3)
    return (
        SideView(ViewFrom.EAST, north, up, east),
        SideView(ViewFrom.BEHIND, sense * east, up, -sense * north),
        SideView(ViewFrom.ABOVE, east, north, up),
    )
