"""A second opinion on skylines: single lines of sight against solids, by other mathematics.

Nothing here is shared with the package: a direction is tried at many altitudes, and each line
of sight is cut with cylinders, ellipsoids, sheets (as triangles) and roofs (as the half spaces
of a convex hull).
"""

from __future__ import annotations

import itertools
import math

import numpy as np
from scipy.spatial import ConvexHull

from axletree.kit.parts.site import Yard

FAR_DOWN = -50.0


def ground(yard: Yard, x: float, y: float) -> float:
    fall = yard.slope_percent / 100.0
    a = math.radians(yard.downhill_azimuth_deg)
    return -fall * (x * math.sin(a) + y * math.cos(a))


def hits_cylinder(o, d, x, y, radius, top) -> bool:
    """A line from o along d meets the upright cylinder below `top`."""
    px, py = o[0] - x, o[1] - y
    a = d[0] ** 2 + d[1] ** 2
    b = 2 * (px * d[0] + py * d[1])
    c = px * px + py * py - radius**2
    root = b * b - 4 * a * c
    if root < 0:
        return False
    s1, s2 = (-b - math.sqrt(root)) / (2 * a), (-b + math.sqrt(root)) / (2 * a)
    if s2 < 0:
        return False
    heights = o[2] + max(s1, 0.0) * d[2], o[2] + s2 * d[2]
    return min(heights) <= top


def hits_ellipsoid(o, d, centre, radius, half) -> bool:
    scale = np.array([radius, radius, half])
    p, q = (o - centre) / scale, d / scale
    a, b, c = q @ q, 2 * p @ q, p @ p - 1
    root = b * b - 4 * a * c
    return bool(root >= 0 and (-b + math.sqrt(max(root, 0.0))) / (2 * a) >= 0)


def hits_triangle(o, d, a, b, c) -> bool:
    """Möller and Trumbore 1997, J. Graphics Tools 2, 21."""
    e1, e2 = b - a, c - a
    h = np.cross(d, e2)
    det = e1 @ h
    if abs(det) < 1e-14:
        return False
    s = o - a
    u = (s @ h) / det
    q = np.cross(s, e1)
    v = (d @ q) / det
    return bool(u >= 0 and v >= 0 and u + v <= 1 and (e2 @ q) / det > 0)


def hits_sheet(o, d, a, b) -> bool:
    low_a, low_b = a.copy(), b.copy()
    low_a[2] = low_b[2] = FAR_DOWN
    return hits_triangle(o, d, a, b, low_a) or hits_triangle(o, d, b, low_a, low_b)


def hits_hull(o, d, hull: ConvexHull) -> bool:
    near, far = 0.0, math.inf
    for *normal, offset in hull.equations:
        n = np.array(normal)
        speed, depth = n @ d, n @ o + offset
        if abs(speed) < 1e-14:
            if depth > 0:
                return False
            continue
        s = -depth / speed
        if speed > 0:
            far = min(far, s)
        else:
            near = max(near, s)
    return near <= far


def roof_hull(yard: Yard, roof, ridge) -> ConvexHull:
    points = []
    for x, y in roof.corners_m:
        g = ground(yard, x, y)
        points += [(x, y, FAR_DOWN), (x, y, g + roof.eaves_height_m)]
    for x, y in ridge:
        points.append((x, y, ground(yard, x, y) + roof.ridge_height_m))
    return ConvexHull(np.array(points))


def hulls_of(yard: Yard, ridges) -> list[ConvexHull]:
    """The roofs as hulls; `ridges`: one pair of ends for each roof."""
    return [roof_hull(yard, roof, r) for roof, r in zip(yard.roofs, ridges, strict=True)]


def blocked(yard: Yard, place, height, azimuth, altitude, hulls=()) -> bool:
    """Whether a line of sight meets anything."""
    o = np.array([place[0], place[1], ground(yard, *place) + height])
    a, h = math.radians(azimuth), math.radians(altitude)
    d = np.array([math.cos(h) * math.sin(a), math.cos(h) * math.cos(a), math.sin(h)])
    for post in yard.posts:
        top = ground(yard, post.x_m, post.y_m) + post.height_m
        if hits_cylinder(o, d, post.x_m, post.y_m, post.radius_m, top):
            return True
    for tree in yard.trees:
        g = ground(yard, tree.x_m, tree.y_m)
        half = (tree.height_m - tree.crown_base_m) / 2
        centre = np.array([tree.x_m, tree.y_m, g + tree.crown_base_m + half])
        if hits_ellipsoid(o, d, centre, tree.crown_radius_m, half):
            return True
        if hits_cylinder(o, d, tree.x_m, tree.y_m, tree.trunk_radius_m, centre[2]):
            return True
    for wall in yard.walls:
        line = [np.array([x, y, ground(yard, x, y) + wall.height_m]) for x, y in wall.points_m]
        if any(hits_sheet(o, d, p, q) for p, q in itertools.pairwise(line)):
            return True
    return any(hits_hull(o, d, hull) for hull in hulls)


def skyline(yard: Yard, place, height, azimuth, hulls=()) -> float:
    """The highest altitude that is blocked, to 0.001 degrees; -90 if none from -20 up."""
    grid = np.arange(89.7, -20.0, -0.3)
    for altitude in grid:
        if blocked(yard, place, height, azimuth, altitude, hulls):
            low, high = altitude, altitude + 0.3
            while high - low > 0.0005:
                middle = (low + high) / 2
                if blocked(yard, place, height, azimuth, middle, hulls):
                    low = middle
                else:
                    high = middle
            return low
    return -90.0
