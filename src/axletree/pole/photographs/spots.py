"""Which bright pixels belong together, and where is the middle of each such spot?"""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Singles

MOST_SPOTS = 6000
_LEAST_PIXELS = 2
_WINDOW_PX = 7
_TURNS = 4
# The window is wider than the spot: its weights' standard deviation against the spot's own.
_WINDOW_SIZE = 1.3
_LEAST_VARIANCE = 0.8
# The noise of the smoothed picture against that of a pixel, neighbours independent: the root of
# the sum of the squared weights, 70 / 256. Where they aren't, as behind a colour filter array,
# what comes out of it is the noise that a star's width sees.
_SMOOTHED_NOISE = 70.0 / 256.0
# What pixels, their colour filters and faint neighbours leave of any star (the brightest of our
# simulator: 0.025 to 0.05 pixels).
_FLOOR_PX = 0.03
# A star so many times longer than its breadth, compared to the picture's usual star, stands with
# another one, of a tenth of its light as a rule.
_BLENDED, _BLEND_LIGHT = 1.1, 0.1


@dataclass(frozen=True)
class Spots:
    """Arrays (n,): middles and peaks in pixels, light, peak of the smoothed picture, size.

    `length`, `breadth`: four standard deviations along the longer and the shorter axis.
    """

    x: Floats
    y: Floats
    peak_x: Indices
    peak_y: Indices
    light: Floats
    peak: Floats
    length: Floats
    breadth: Floats

    def take(self, which: NDArray[Any]) -> Spots:
        """Some of them."""
        return Spots(*(getattr(self, f.name)[which] for f in fields(self)))


def gather(light: Singles, smooth: Singles, bright: Indices, width: int) -> Spots:
    """Spots of pixels that touch each other, from the flat places (ascending) of bright pixels."""
    labels, count = joined(bright, width)
    size = np.bincount(labels, minlength=count)
    value = smooth.ravel()[bright].astype(np.float64)
    total = np.bincount(labels, value, count)
    kept = size >= _LEAST_PIXELS
    if kept.sum() > MOST_SPOTS:
        kept &= total >= np.sort(total[kept])[-MOST_SPOTS]
    x, y = (bright % width).astype(np.float64), (bright // width).astype(np.float64)
    middle_x = np.bincount(labels, value * x, count) / np.maximum(total, 1e-9)
    middle_y = np.bincount(labels, value * y, count) / np.maximum(total, 1e-9)
    dx, dy = x - middle_x[labels], y - middle_y[labels]
    xx = np.bincount(labels, value * dx * dx, count) / np.maximum(total, 1e-9)
    yy = np.bincount(labels, value * dy * dy, count) / np.maximum(total, 1e-9)
    xy = np.bincount(labels, value * dx * dy, count) / np.maximum(total, 1e-9)
    order = np.lexsort((value, labels))
    last = np.cumsum(size) - 1
    top = bright[order][last]
    peak = value[order][last]
    shape = np.stack([xx, yy, xy], axis=-1)[kept]
    moved_x, moved_y, gathered = _centred(light, middle_x[kept], middle_y[kept], shape)
    half, diff = (shape[:, 0] + shape[:, 1]) / 2.0, (shape[:, 0] - shape[:, 1]) / 2.0
    swing = np.hypot(diff, shape[:, 2])
    return Spots(
        x=moved_x,
        y=moved_y,
        peak_x=(top % width)[kept],
        peak_y=(top // width)[kept],
        light=gathered,
        peak=peak[kept],
        length=4.0 * np.sqrt(np.maximum(half + swing, 0.0)),
        breadth=4.0 * np.sqrt(np.maximum(half - swing, 0.0)),
    )


def joined(bright: Indices, width: int) -> tuple[Indices, int]:
    """A number for each pixel, the same for pixels that touch, also at corners; how many."""
    n = len(bright)
    parent = np.arange(n)
    pairs = []
    for step in (1, width - 1, width, width + 1):
        at = np.searchsorted(bright, bright + step)
        hit = (at < n) & (bright[np.minimum(at, n - 1)] == bright + step) if n else at < 0
        pairs.append(np.stack([np.flatnonzero(hit), at[hit]], axis=-1))
    a, b = np.concatenate(pairs).T if n else (np.zeros(0, int), np.zeros(0, int))
    while True:
        # Each takes the smallest number about it; then everyone looks where that one points.
        low = np.minimum(parent[a], parent[b])
        before = parent.copy()
        np.minimum.at(parent, a, low)
        np.minimum.at(parent, b, low)
        np.minimum.at(parent, before[a], low)
        np.minimum.at(parent, before[b], low)
        parent = parent[parent]
        if np.array_equal(parent, before):
            break
    roots, labels = np.unique(parent, return_inverse=True)
    return labels, len(roots)


def _centred(light: Singles, x: Floats, y: Floats, shape: Floats) -> tuple[Floats, Floats, Floats]:
    """Middles weighted by a window of the spot's own shape, and the light in it."""
    height, width = light.shape
    step = np.arange(-_WINDOW_PX, _WINDOW_PX + 1)
    column = np.clip(np.rint(x).astype(int)[:, None] + step, 0, width - 1)
    row = np.clip(np.rint(y).astype(int)[:, None] + step, 0, height - 1)
    patch = light[row[:, :, None], column[:, None, :]].astype(np.float64)
    grow = _WINDOW_SIZE**2
    xx = np.maximum(shape[:, 0], _LEAST_VARIANCE) * grow
    yy = np.maximum(shape[:, 1], _LEAST_VARIANCE) * grow
    xy = np.clip(shape[:, 2] * grow, -0.95 * np.sqrt(xx * yy), 0.95 * np.sqrt(xx * yy))
    det = xx * yy - xy * xy
    start_x, start_y = x.copy(), y.copy()
    weighed = patch
    for _ in range(_TURNS):
        dx, dy = column - x[:, None], row - y[:, None]
        exponent = (
            (yy / det)[:, None, None] * (dx * dx)[:, None, :]
            + (xx / det)[:, None, None] * (dy * dy)[:, :, None]
            - 2.0 * (xy / det)[:, None, None] * dx[:, None, :] * dy[:, :, None]
        )
        weighed = patch * np.exp(-0.5 * exponent)
        total = np.maximum(weighed.sum(axis=(1, 2)), 1e-6)
        # A window that is no wider than the star halves the step; doubled it goes all the way.
        move_x = 2.0 * (weighed.sum(axis=1) * dx).sum(axis=1) / total
        move_y = 2.0 * (weighed.sum(axis=2) * dy).sum(axis=1) / total
        x = start_x + np.clip(x + move_x - start_x, -2.0, 2.0)
        y = start_y + np.clip(y + move_y - start_y, -2.0, 2.0)
    return x, y, np.maximum(weighed.sum(axis=(1, 2)), 1e-6)


def place_sigma_px(spots: Spots, noise: Singles) -> Floats:
    """How well each middle is known (n,), one standard deviation of a coordinate.

    `noise` (n,): of the smoothed picture there. With pixel noise s, a window of W and light S in
    it, the weighted mean of a star W / 1.3 wide scatters by 2 s W^2 / S: s^2 times the sum of
    (w x)^2, over the square of how fast the mean follows the window. A second star unseen in the
    same spot, with the part f of its light, draws the middle by f d and adds f (1 - f) d^2 to the
    square of its length.
    """
    long2, broad2 = (spots.length / 4.0) ** 2, (spots.breadth / 4.0) ** 2
    window = [_WINDOW_SIZE**2 * np.maximum(v, _LEAST_VARIANCE) for v in (long2, broad2)]
    own2 = _WINDOW_SIZE**-2
    follows = 1.0 / (1.0 + own2)
    area = np.sqrt(window[0] * window[1])
    mean2 = (window[0] + window[1]) / 2.0
    by_noise2 = (noise / _SMOOTHED_NOISE / spots.light / follows) ** 2 * np.pi / 2.0 * area * mean2
    usual = float(np.median(long2 / np.maximum(broad2, 1e-3))) if len(long2) else 1.0
    more2 = np.maximum(long2 - _BLENDED**2 * usual * broad2, 0.0)
    return np.asarray(np.sqrt(_FLOOR_PX**2 + by_noise2 + _BLEND_LIGHT * more2))
