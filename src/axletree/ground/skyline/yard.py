"""What skyline does a yard plan give at any place in it?

The plan is what a tape can measure: posts, walls, trees and roofs with their heights above the
ground at their foot, on ground that slopes evenly. Coordinates are the plan's own, x to its
east and y to its north; where the plan was drawn by compass, `turn_deg` leads to true north.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from axletree.ground.skyline.obstacles import (
    NOTHING,
    AzimuthWindows,
    raise_by_crown,
    raise_by_edge,
    raise_by_post,
)
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.site import Roof, Yard
from axletree.sky.arrays import Floats, Ints, Mask, Reals

_DEG = np.pi / 180.0
LOWEST_TANGENT = -100.0  # 89.4 degrees below the eye: what lies lower is no obstacle
CHUNK_POINTS = 800_000  # places x directions worked on at once, so that they stay in cache


@dataclass(frozen=True)
class Shape:
    """One obstacle: its name, upright sheets under edges, cylinders and crowns, and its outline.

    `edges_m` (k, 2, 3); `posts_m` (k, 4) x, y, top, radius; `crowns_m` (k, 5) x, y, middle,
    radius, half height; `outline_m` (k, 2) of what no tripod can stand in (empty for a sheet).
    """

    name: str
    edges_m: Floats
    posts_m: Floats
    crowns_m: Floats
    outline_m: Floats


@dataclass(frozen=True)
class YardPlan:
    """Obstacles and ground as numbers; see `yard_plan`."""

    shapes: tuple[Shape, ...]
    area_m: Floats
    keep_out_m: tuple[Floats, ...]
    slope: float
    downhill_deg: float
    turn_deg: float

    def ground_m(self, x_m: ArrayLike, y_m: ArrayLike) -> Floats:
        """Height of the ground above that at the plan's origin."""
        down = self.downhill_deg * _DEG
        return np.asarray(
            -self.slope * (np.asarray(x_m) * np.sin(down) + np.asarray(y_m) * np.cos(down))
        )

    def eyes(self, places_m: Floats, height_m: float) -> Floats:
        """Where the instrument is (n, 3) when the tripod stands at `places_m` (n, 2)."""
        z = self.ground_m(places_m[:, 0], places_m[:, 1]) + height_m
        return np.column_stack([places_m, z])


def yard_plan(yard: Yard, declination_deg: float | None = None) -> YardPlan:
    """The plan as numbers. `declination_deg` is needed where its bearings are magnetic."""
    turn = 0.0
    if yard.bearings == "magnetic":
        if declination_deg is None:
            raise AxletreeError("a yard plan drawn by compass needs the declination of the spot")
        turn = declination_deg
    bare = YardPlan(
        shapes=(),
        area_m=np.array(yard.area_m, dtype=np.float64),
        keep_out_m=tuple(np.array(k, dtype=np.float64) for k in yard.keep_out_m),
        slope=yard.slope_percent / 100.0,
        downhill_deg=yard.downhill_azimuth_deg,
        turn_deg=turn,
    )
    shapes: list[Shape] = []
    for wall in yard.walls:
        line = _raised(bare, np.array(wall.points_m, dtype=np.float64), wall.height_m)
        shapes.append(_shape(wall.name, edges=[(line[:-1], line[1:])]))
    for roof in yard.roofs:
        shapes.append(_roof(bare, roof))
    for tree in yard.trees:
        ground = float(bare.ground_m(tree.x_m, tree.y_m))
        half = (tree.height_m - tree.crown_base_m) / 2.0
        middle = ground + tree.crown_base_m + half
        crown = [tree.x_m, tree.y_m, middle, tree.crown_radius_m, half]
        trunk = [tree.x_m, tree.y_m, middle, tree.trunk_radius_m]
        shapes.append(_shape(tree.name, posts=[trunk], crowns=[crown]))
    for post in yard.posts:
        top = float(bare.ground_m(post.x_m, post.y_m)) + post.height_m
        shapes.append(_shape(post.name, posts=[[post.x_m, post.y_m, top, post.radius_m]]))
    return YardPlan(
        tuple(shapes), bare.area_m, bare.keep_out_m, bare.slope, bare.downhill_deg, turn
    )


def _shape(
    name: str,
    edges: list[tuple[Floats, Floats]] | None = None,
    posts: list[list[float]] | None = None,
    crowns: list[list[float]] | None = None,
    outline: Floats | None = None,
) -> Shape:
    ends = [np.stack([a, b], axis=1) for a, b in edges or []]
    return Shape(
        name,
        np.concatenate(ends) if ends else np.zeros((0, 2, 3)),
        np.array(posts or np.zeros((0, 4)), dtype=np.float64),
        np.array(crowns or np.zeros((0, 5)), dtype=np.float64),
        np.zeros((0, 2)) if outline is None else outline,
    )


def _raised(plan: YardPlan, points_m: Floats, height_m: float) -> Floats:
    """Points (n, 3) at a height above the ground under each."""
    return np.column_stack([points_m, plan.ground_m(points_m[:, 0], points_m[:, 1]) + height_m])


def _roof(plan: YardPlan, roof: Roof) -> Shape:
    """Eaves around the outline, a ridge along the longer axis, slopes from corners to its ends.

    The upper edge of a solid with flat faces is the highest of its edges. Every corner is joined
    to both ends of the ridge: on a convex outline these lines lie within the roof and hold all
    its edges, so the skyline is exact. On an L-shaped outline only the gables where the ridge
    meets the wall are joined.
    """
    corners = np.array(roof.corners_m, dtype=np.float64)
    eaves = _raised(plan, corners, roof.eaves_height_m)
    edges = [(eaves, np.roll(eaves, -1, axis=0))]
    if roof.ridge_height_m is not None and roof.ridge_height_m > roof.eaves_height_m:
        ends, walls = ridge_ends(corners)
        ridge = _raised(plan, ends, roof.ridge_height_m)
        edges.append((ridge[:1], ridge[1:]))
        if _convex(corners):
            for end in ridge:
                edges.append((eaves, np.broadcast_to(end, eaves.shape)))
        else:
            for end, wall in zip(ridge, walls, strict=True):
                gable = eaves[[wall, (wall + 1) % len(eaves)]]
                edges.append((gable, np.broadcast_to(end, gable.shape)))
    return _shape(roof.name, edges=edges, outline=corners)


def ridge_ends(corners: Floats) -> tuple[Floats, list[int]]:
    """Where the middle line of the smallest box around the outline meets it, and which walls."""
    sides = np.roll(corners, -1, axis=0) - corners
    best: tuple[float, Floats, Floats] | None = None
    for side in sides:
        length = float(np.hypot(*side))
        if length < 1e-9:
            continue
        u = side / length
        v = np.array([-u[1], u[0]])
        along, across = corners @ u, corners @ v
        wide, deep = np.ptp(along), np.ptp(across)
        middle_u, middle_v = (along.max() + along.min()) / 2, (across.max() + across.min()) / 2
        middle = u * middle_u + v * middle_v
        axis = u if wide >= deep else v
        if best is None or wide * deep < best[0] - 1e-9:
            best = (float(wide * deep), middle, axis)
    if best is None:
        raise AxletreeError("a roof has all its corners at one place; give its outline in metres")
    _, middle, axis = best
    normal = np.array([-axis[1], axis[0]])
    hits: list[tuple[float, Floats, int]] = []
    for i, (corner, side) in enumerate(zip(corners, sides, strict=True)):
        slope = float(side @ normal)
        if abs(slope) < 1e-12:
            continue
        part = float((middle - corner) @ normal) / slope
        if -1e-9 <= part <= 1.0 + 1e-9:
            point = corner + part * side
            hits.append((float((point - middle) @ axis), point, i))
    hits.sort(key=lambda hit: hit[0])
    first, last = hits[0], hits[-1]
    return np.array([first[1], last[1]]), [first[2], last[2]]


def _convex(corners: Floats) -> bool:
    a = np.roll(corners, -1, axis=0) - corners
    b = np.roll(a, -1, axis=0)
    turns = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return bool(np.all(turns >= -1e-9) or np.all(turns <= 1e-9))


def within_outline(x_m: Floats, y_m: Floats, outline_m: Floats) -> Mask:
    """Whether points lie within a closed outline (k, 2), by counting crossings of its sides."""
    inside = np.zeros(np.broadcast_shapes(np.shape(x_m), np.shape(y_m)), dtype=bool)
    for (x1, y1), (x2, y2) in zip(outline_m, np.roll(outline_m, -1, axis=0), strict=True):
        spans = (y1 > y_m) != (y2 > y_m)
        rise = y2 - y1 if y2 != y1 else 1.0
        inside ^= spans & (x_m < x1 + (y_m - y1) / rise * (x2 - x1))
    return inside


def raise_by_shape(best: Reals, shape: Shape, eye: Floats, windows: AzimuthWindows) -> None:
    """Raise the tangents `best` (n, m) to one obstacle's upper edge, +inf within it."""
    for a, b in shape.edges_m:
        raise_by_edge(best, a, b, eye, windows)
    for x, y, top, radius in shape.posts_m:
        raise_by_post(best, np.array([x, y, top]), radius, eye, windows)
    for x, y, middle, radius, half in shape.crowns_m:
        raise_by_crown(best, np.array([x, y, middle]), radius, half, eye, windows)
    if len(shape.outline_m):
        best[within_outline(eye[:, 0], eye[:, 1], shape.outline_m)] = np.inf


def skyline_tangents(
    plan: YardPlan,
    places_m: ArrayLike,
    height_m: float,
    azimuth_deg: ArrayLike,
    half_width_deg: float = 0.0,
    dtype: Any = np.float64,
) -> Reals:
    """Tangent of the skyline's altitude (n, m) at places (n, 2) in true azimuths (m,).

    -inf where nothing stands, +inf within or under an obstacle. `height_m` is the instrument's
    height above the ground. float32 is twice as fast and good to 0.001 degrees beyond 1 m.
    """
    places = np.atleast_2d(np.asarray(places_m, dtype=np.float64))
    azimuths = np.atleast_1d(np.asarray(azimuth_deg, dtype=np.float64)) - plan.turn_deg
    windows = AzimuthWindows.of(azimuths, half_width_deg, dtype)
    eye = plan.eyes(places, height_m)
    out: Reals = np.full((len(places), len(azimuths)), NOTHING, dtype=dtype)
    rows = max(1, CHUNK_POINTS // max(1, len(azimuths)))
    for start in range(0, len(places), rows):
        part = slice(start, start + rows)
        for shape in plan.shapes:
            raise_by_shape(out[part], shape, eye[part], windows)
    out[out < LOWEST_TANGENT] = -np.inf
    return out


def yard_horizon(
    plan: YardPlan, place_m: tuple[float, float], height_m: float, step_deg: float = 0.25
) -> Horizon:
    """The skyline of one place, never lower than the obstacles are; nothing there counts as -90."""
    windows = np.arange(0.0, 360.0, step_deg)
    top = skyline_tangents(plan, [place_m], height_m, windows, step_deg / 2.0)[0]
    altitude = np.arctan(top) / _DEG
    edges = np.repeat(windows + step_deg / 2.0, 2)
    edge = np.concatenate([[0.0], edges, [360.0]])
    level = np.concatenate([np.repeat(altitude, 2), [altitude[0], altitude[0]]])
    return Horizon(edge, level, (), -90.0)


def blockers(
    plan: YardPlan, places_m: ArrayLike, height_m: float, azimuth_deg: float
) -> tuple[Ints, Floats]:
    """Which obstacle is highest in one direction at each place (-1: none), and its altitude."""
    places = np.atleast_2d(np.asarray(places_m, dtype=np.float64))
    eye = plan.eyes(places, height_m)
    best = np.full(len(places), -np.inf)
    which = np.full(len(places), -1, dtype=np.int64)
    windows = AzimuthWindows.of([azimuth_deg - plan.turn_deg], 0.0)
    for i, shape in enumerate(plan.shapes):
        value = np.full((len(places), 1), NOTHING)
        raise_by_shape(value, shape, eye, windows)
        higher = (value[:, 0] > best) & (value[:, 0] > LOWEST_TANGENT)
        best[higher], which[higher] = value[higher, 0], i
    return which, np.asarray(np.arctan(best) / _DEG)
