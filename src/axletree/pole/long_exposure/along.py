"""Where does the axis go through the camera, if all stars drew arcs about it from their dots?

Light is summed along the arcs that all recognised stars would have drawn about a supposed axis, so
that arcs too faint to be seen one by one tell it together: where the sum is greatest is the axis (a
matched filter, best where the sky's noise rules). Searched from coarse to fine, then the top of a
paraboloid; how well, by leaving out one star after the other.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.long_exposure.arcs import DOT_PX
from axletree.pole.photographs.lens import Lens, places, rays
from axletree.sky.arrays import Floats, Singles

LONGEST_TURN_DEG = 60.0
LEAST_STARS = 15
# Of 40 stars 32 or more shine one time in ten thousand where there are no arcs at all.
SHINING = 0.8
_SAMPLES = 60  # along the longest turn, each way
_MOST_STARS = 40
# Of the first search, in so many steps to each side.
_LEAST_STEP_PX, _MOST_STEP_PX, _STEPS = 8.0, 16.0, 25
_TRIED, _FINEST_PX = 12, 0.5
# Light counts up to so many times its scatter, so that no single arc rules the search.
_DARKEST, _BRIGHTEST, _BRIGHTEST_AT_LAST = -2.0, 3.0, 8.0
_AT_ONCE = 400_000
# A star brighter than so many usual ones counts as these: it may be another one's neighbour.
_MOST_SAY = 4.0


@dataclass(frozen=True)
class AlongArcs:
    """The axis as a direction (3,) of the camera's frame; the same without each star (n, 3); how
    many of them have an arc of their own that shines (`arcs` of so many `stars`); and how far the
    stars went round it, degrees, positive right-handed."""

    axis: Floats
    without: Floats
    arcs: int
    stars: int
    turned_deg: float

    @property
    def seen(self) -> bool:
        """Whether so many arcs shine as chance never makes: it makes half of them."""
        return self.stars >= LEAST_STARS and self.arcs >= SHINING * self.stars


@dataclass(frozen=True)
class _Stars:
    directions: Floats
    say: Floats
    lens: Lens
    light: Singles


def axis_along_arcs(
    light: Singles, dots_px: Floats, dot_light: Floats, lens: Lens, start: Floats, within_deg: float
) -> AlongArcs:
    """By the smoothed light (height, width) above the background and the dots (n, 2) of recognised
    stars, looked for within so many degrees of a direction `start` (3,) of the camera."""
    chosen = np.argsort(-dot_light)[:_MOST_STARS]
    directions = rays(lens, dots_px[chosen])
    away = np.sqrt(np.maximum(1.0 - (directions @ start) ** 2, 1e-4))
    say = dot_light[chosen] / away
    say = np.minimum(say, _MOST_SAY * np.median(say))
    say /= np.linalg.norm(say)
    masked = _without_dots(light, dots_px)
    span = np.radians(within_deg) * lens.focal_px
    step = float(np.clip(span / _STEPS, _LEAST_STEP_PX, _MOST_STEP_PX))

    @cache
    def blurred(width: int) -> Singles:
        return _capped(masked, width)

    coarse = _Stars(directions, say, lens, blurred(int(step)))
    count = int(np.ceil(span / step))
    offsets = _lattice(count) * step
    offsets = offsets[np.hypot(*offsets.T) <= span]
    sums, _ = _sums(coarse, _moved(start, offsets / lens.focal_px))
    order = np.argsort(-sums)
    around = _lattice(3)
    tried: list[Floats] = []
    best: tuple[float, Floats, float] = (-np.inf, start, 0.0)
    for k in order:
        if len(tried) == _TRIED:
            break
        if any(np.hypot(*(offsets[k] - other)) < 2.5 * step for other in tried):
            continue
        tried.append(offsets[k])
        axis, size = _moved(start, offsets[k : k + 1] / lens.focal_px)[0], step
        high = turn = 0.0
        while size > _FINEST_PX:
            size *= 0.5
            finer = _Stars(directions, say, lens, blurred(max(int(size), 1)))
            near = _moved(axis, around * size / lens.focal_px)
            sums, turns = _sums(finer, near)
            top = int(np.argmax(sums))
            axis, turn, high = near[top], float(turns[top]), float(sums[top])
        if high > best[0]:
            best = (high, axis, turn)
    # Each star counts as much at last: of a few bright ones the neighbours would decide.
    alike = _Stars(directions, np.ones(len(say)), lens, _capped(masked, 1, _BRIGHTEST_AT_LAST))
    return _top(alike, best[1], best[2])


def _lattice(reach: int) -> Floats:
    """All places (n, 2) of whole numbers from -reach to reach both ways, right first."""
    down, right = np.divmod(np.arange((2 * reach + 1) ** 2), 2 * reach + 1)
    return np.asarray(np.stack([right, down], axis=1) - float(reach))


def _top(stars: _Stars, axis: Floats, turn: float) -> AlongArcs:
    """The top of the paraboloid through the sums about an axis, and without each star."""
    around = _lattice(2)
    near = _moved(axis, around / stars.lens.focal_px)
    angles = np.linspace(0.0, turn, _SAMPLES)[1:]
    each = np.nansum(_seen(stars, near, angles), axis=2)  # (25, stars)
    x, y = around.T
    design = np.stack([np.ones(25), x, y, x * x / 2.0, x * y, y * y / 2.0], axis=-1)
    shape = np.linalg.lstsq(design, each * stars.say, rcond=None)[0]  # (6, stars)

    def top(of: Floats) -> Floats:
        bent = np.array([[of[3], of[4]], [of[4], of[5]]])
        return np.asarray(np.clip(-np.linalg.lstsq(bent, of[1:3], rcond=None)[0], -3.0, 3.0))

    whole = shape.sum(axis=1)
    # One whose own arc is bright enough to bend the sum downward tells something.
    shines = shape[3] + shape[5] < 0.0
    tops = np.array([top(whole), *(top(whole - own) for own in shape.T)])
    found = _moved(axis, tops / stars.lens.focal_px)
    return AlongArcs(found[0], found[1:], int(shines.sum()), len(shines), float(np.degrees(turn)))


def _sums(stars: _Stars, axes: Floats) -> tuple[Floats, Floats]:
    """For each axis (n, 3) the greatest sum over how far it was turned, over the root of how many
    places were summed; and that turn in radians."""
    reach = np.radians(LONGEST_TURN_DEG)
    sums, turns = np.zeros(len(axes)), np.zeros(len(axes))
    many = max(_AT_ONCE // (len(stars.say) * _SAMPLES), 1)
    for sense in (1.0, -1.0):
        angles = sense * np.linspace(0.0, reach, _SAMPLES + 1)[1:]
        for first in range(0, len(axes), many):
            own = slice(first, first + many)
            seen = _seen(stars, axes[own], angles)
            known = np.isfinite(seen)
            both = np.cumsum(np.einsum("asn,s->an", np.where(known, seen, 0.0), stars.say), axis=1)
            of = np.cumsum(np.einsum("asn,s->an", known, stars.say**2), axis=1)
            high = both / np.sqrt(np.maximum(of, 0.1 * _SAMPLES))
            top = np.argmax(high, axis=1)
            value = high[np.arange(len(top)), top]
            better = value > sums[own]
            sums[own] = np.where(better, value, sums[own])
            turns[own] = np.where(better, angles[top], turns[own])
    return sums, turns


def _seen(stars: _Stars, axes: Floats, angles: Floats) -> Floats:
    """Light (axes, stars, angles) where stars go about axes (n, 3) by angles; nan off the picture
    and where a dot is."""
    along = np.einsum("ai,si->as", axes, stars.directions)
    across = np.cross(axes[:, None], stars.directions[None])
    flat = stars.directions[None] - along[..., None] * axes[:, None]
    way = (
        (along[..., None] * axes[:, None])[:, :, None]
        + np.cos(angles)[:, None] * flat[:, :, None]
        + np.sin(angles)[:, None] * across[:, :, None]
    )
    at = places(stars.lens, way)
    height, width = stars.light.shape
    with np.errstate(invalid="ignore"):
        inside = (
            (at[..., 0] >= 1) & (at[..., 1] >= 1)
            & (at[..., 0] < width - 2) & (at[..., 1] < height - 2)
        )  # fmt: skip
    x = np.where(inside, at[..., 0], 1.0)
    y = np.where(inside, at[..., 1], 1.0)
    column, row = x.astype(np.intp), y.astype(np.intp)
    dx, dy = x - column, y - row
    flat_at = row * width + column
    pixel = stars.light.ravel()
    value = (pixel[flat_at] * (1 - dx) + pixel[flat_at + 1] * dx) * (1 - dy) + (
        pixel[flat_at + width] * (1 - dx) + pixel[flat_at + width + 1] * dx
    ) * dy
    return np.where(inside, value, np.nan)


def _moved(axis: Floats, by: Floats) -> Floats:
    """Directions (n, 3) that lie by (n, 2) radians to the right and down of one."""
    right = np.cross([0.0, 1.0, 0.0], axis)
    right /= np.linalg.norm(right)
    down = np.cross(axis, right)
    out = axis + by[:, :1] * right + by[:, 1:] * down
    return np.asarray(out / np.linalg.norm(out, axis=-1, keepdims=True))


def _without_dots(light: Singles, dots_px: Floats) -> Singles:
    """The light with nan where dots are, whatever they belong to."""
    out = light.copy()
    height, width = light.shape
    reach = int(DOT_PX)
    step = np.arange(-reach, reach + 1)
    disc = np.hypot(step[:, None], step[None]) <= DOT_PX
    dy, dx = np.nonzero(disc)
    x = np.rint(dots_px[:, 0]).astype(int)[:, None] + step[dx]
    y = np.rint(dots_px[:, 1]).astype(int)[:, None] + step[dy]
    good = (x >= 0) & (y >= 0) & (x < width) & (y < height)
    out[y[good], x[good]] = np.nan
    return out


def _blurred(light: Singles, width: int) -> Singles:
    """Means of squares of this width, nan left out."""
    known = np.isfinite(light)
    total, count = (
        _boxed(np.where(known, light, 0.0).astype(np.float64), width),
        _boxed(known.astype(np.float64), width),
    )
    return np.asarray(np.where(count > 0.5, total / np.maximum(count, 1.0), np.nan), np.float32)


def _capped(light: Singles, width: int, brightest: float = _BRIGHTEST) -> Singles:
    """The blurred light in its own scatter, kept within bounds."""
    blurred = _blurred(light, width) if width > 1 else light
    middle = float(np.nanmedian(blurred[::3, ::3]))
    scatter = 1.4826 * float(np.nanmedian(np.abs(blurred[::3, ::3] - middle)))
    own = (blurred - middle) / max(scatter, 1e-6)
    return np.asarray(np.clip(own, _DARKEST, brightest), np.float32)


def _boxed(values: Floats, width: int) -> Floats:
    padded = np.pad(values, ((width // 2 + 1, width - width // 2 - 1),) * 2, mode="edge")
    summed = padded.cumsum(axis=0).cumsum(axis=1)
    n, m = values.shape
    return np.asarray(
        summed[width : width + n, width : width + m] - summed[:n, width : width + m]
        - summed[width : width + n, :m] + summed[:n, :m]
    )  # fmt: skip
