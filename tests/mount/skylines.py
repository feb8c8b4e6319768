"""Three invented skylines, written twice: as points for the project, and as spans of azimuth."""

from __future__ import annotations

import numpy as np

from axletree.ground.skyline.skyline import horizon_from_points

# name: (points of the project, base points, posts and walls as (from, to, altitude))
SKYLINES = {
    "posts": (
        [(0, 5), (90, 5), (140, 5), (140, 60), (140.6, 60), (140.6, 5), (215.2, 5), (215.2, 80),
         (215.5, 80), (215.5, 5), (300, 5), (300, 34), (302, 34), (302, 5)],
        [(0, 5)],
        [(140, 140.6, 60), (215.2, 215.5, 80), (300, 302, 34)],
    ),
    "walls and a spire": (
        [(20, 30), (160, 48), (160, 3), (200, 3), (200.3, 55), (200.6, 3), (330, 10)],
        [(20, 30), (160, 48), (160.0000001, 3), (200, 3), (200.3, 55), (200.6, 3), (330, 10)],
        [],
    ),
    "a gap": (
        [(100, 40), (250, 20)], None, [(100, 250, None), (250, 460, 20)],
    ),
}  # fmt: skip


def skyline(name: str):
    points = SKYLINES[name][0]
    return horizon_from_points([a for a, _ in points], [h for _, h in points])


def height(name: str, azimuth_deg):
    """The skyline by itself: straight lines between the base points, and upright spans."""
    _, base, spans = SKYLINES[name]
    azimuth = np.mod(azimuth_deg, 360.0)
    if base is None:
        sloped = 40.0 + (azimuth - 100.0) / 150.0 * (20.0 - 40.0)
        return np.where((azimuth >= 100) & (azimuth <= 250), sloped, 20.0)
    x, y = np.array(base, dtype=float).T
    out = np.interp(azimuth, x, y, period=360.0)
    for start, stop, top in spans:
        out = np.where((azimuth >= start) & (azimuth <= stop), top, out)
    return out
