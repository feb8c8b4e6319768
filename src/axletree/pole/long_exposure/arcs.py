"""Where are the dots of the still part, and the arcs that the turn drew from them?"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.photographs.detection import LONGEST_PX, StarImages, above_background
from axletree.pole.photographs.spots import gather, joined, place_sigma_px
from axletree.sky.arrays import Floats, Indices, Singles

# A dot is what shines more than this part of the brightest in its spot: it stood still for longer.
_CORE = 0.45
_LEAST_ARC_PIXELS = 60
# So near its own dot, or another's, light is the dot's.
DOT_PX = 9.0


@dataclass(frozen=True)
class DotsAndArcs:
    """Dots as star images, and for each the pixels (n, 2) and the light (n,) of its arc; an empty
    one where it has none, or shares it with another dot. `smooth`: all light above the
    background."""

    dots: StarImages
    smooth: Singles
    arcs_px: tuple[Floats, ...]
    light: tuple[Floats, ...]


def dots_and_arcs(grey: Singles) -> DotsAndArcs:
    """Those of a picture (height, width)."""
    height, width = grey.shape
    above = above_background(grey)
    light, smooth, at = above.light, above.smooth, above.bright
    labels, count = joined(at, width)
    value = smooth.ravel()[at].astype(np.float64)
    peak = np.zeros(count)
    np.maximum.at(peak, labels, value)
    cores = at[value > _CORE * peak[labels]]
    spots = gather(light, smooth, cores, width)
    spots = spots.take(spots.length < LONGEST_PX)
    spots = spots.take(np.argsort(-spots.light, kind="stable"))
    owner = labels[np.searchsorted(at, spots.peak_y * width + spots.peak_x)]
    alone = np.bincount(owner, minlength=count)[owner] == 1
    own_noise = above.noise[spots.peak_y, spots.peak_x]
    dots = StarImages(
        spots.x, spots.y, spots.light, place_sigma_px(spots, own_noise), spots.length,
        spots.length / np.maximum(spots.breadth, 0.5), width, height,
    )  # fmt: skip
    arcs, lights = [], []
    order = np.argsort(labels, kind="stable")
    ends = np.searchsorted(labels[order], np.arange(count + 1))
    for k in range(len(dots)):
        pixels = at[order[ends[owner[k]] : ends[owner[k] + 1]]] if alone[k] else at[:0]
        found = _arc(pixels, width, dots.places[k])
        arcs.append(found)
        flat = (found[:, 1] * width + found[:, 0]).astype(np.intp)
        lights.append(light.ravel()[flat].astype(np.float64))
    return DotsAndArcs(dots, smooth, tuple(arcs), tuple(lights))


def _arc(pixels: Indices, width: int, dot: Floats) -> Floats:
    places = np.stack([pixels % width, pixels // width], axis=-1).astype(np.float64)
    away: Floats = places[np.hypot(*(places - dot).T) > DOT_PX]
    return away if len(away) >= _LEAST_ARC_PIXELS else away[:0]
