"""Which way did a picture look? Quads of its stars against quads of the list, each guess proved.

A guess is one quad of the picture that looks like one of the sky. Guesses that agree with each
other come first. A guess is proved on all stars: the listed ones that should be in the picture
must stand where something shines, with so little chance that no search as long as this one finds
such a thing where there is none.
"""

from __future__ import annotations

import math
from dataclasses import field

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.frames.attitude import rotation_between
from axletree.pole.photographs.detection import StarImages
from axletree.pole.photographs.lens import (
    Lens,
    half_diagonal_deg,
    places,
    plain_lens,
    rays,
)
from axletree.pole.photographs.listed import ListedStars, thinned
from axletree.pole.photographs.quads import Quads, alike, quads_of
from axletree.pole.photographs.refine import Pairs, Refined, refine
from axletree.sky.arrays import Floats, Indices

LARGEST_CHANCE = 1e-7
LEAST_STARS = 5
# Of the brightest listed stars, where stars show in the picture at all, so many must be found.
BRIGHTEST = 20
LEAST_OF_BRIGHTEST = 0.5
# Stars of the picture that make quads: few bright ones first, then more.
DEPTHS = (12, 24, 48)
# The list's stars stand a little denser than the picture's, of which some are hidden.
DENSER = 1.25
CODE_TOLERANCE = 0.012
WIDE_CODE_TOLERANCE = 0.025
# By which part the focal length that is said may be wrong.
FOCAL_TOLERANCE = 0.16
_MOST_GUESSES = 4000
_PROVED_AT_ONCE = 40
_MOST_LISTED = 120
# A guess whose stars pair up no better than by accident one time in so many is given up at once;
# where spots stand too dense to tell, none is.
_SPECIAL_LOG10, _SPECIAL_BELOW = -3.0, 0.5


class SkyQuads:
    """The listed stars of a part of the sky, and the quads of the brightest as they are asked for.

    `area_deg2`: of the picture's field, over which its stars are counted.
    """

    def __init__(
        self, listed: ListedStars, area_deg2: float, depths: tuple[int, ...] = DEPTHS
    ) -> None:
        self.listed = listed
        self.depths = depths
        self._area_deg2 = area_deg2
        self._made: dict[int, tuple[ListedStars, Quads]] = {}

    def of_depth(self, depth: int) -> tuple[ListedStars, Quads]:
        """The brightest of each part of the sky, so many in a picture, and their quads."""
        if depth not in self._made:
            # Cells of a third of the field: a cloud over one leaves the others as they are.
            cell = min(math.sqrt(self._area_deg2) / 3.0, 20.0)
            each = max(1, round(depth * DENSER * cell * cell / self._area_deg2))
            few = thinned(self.listed, cell, each)
            self._made[depth] = few, quads_of(few.seen)
        return self._made[depth]


@dataclass(frozen=True)
class Solved:
    """A picture's attitude and lens, and the stars it was solved with.

    `picture_stars`, `listed_stars`: rows of each, in pairs. `log10_chance`: of such an agreement
    by accident over all trials. `of_brightest`: found and looked for among the brightest.
    """

    attitude: Floats
    lens: Lens
    picture_stars: Indices
    listed_stars: Indices
    listed: ListedStars = field(repr=False)
    log10_chance: float
    of_brightest: tuple[int, int]
    rms_px: float


def solve(images: StarImages, sky: SkyQuads, focal_px: float) -> Solved | None:
    """The attitude of a picture, None where nothing proves itself."""
    trials = 0.0
    lens = plain_lens(images.width_px, images.height_px, focal_px)
    wide = max(images.width_px, images.height_px) / focal_px > 0.45
    tolerance = WIDE_CODE_TOLERANCE if wide else CODE_TOLERANCE
    ratio = (1.0 / (1.0 + FOCAL_TOLERANCE) - 0.02, 1.0 + FOCAL_TOLERANCE + 0.02)
    for depth in sky.depths:
        listed, quads = sky.of_depth(depth)
        few = images.take(slice(0, depth))
        own = quads_of(rays(lens, few.places))
        p, s = alike(own, quads, tolerance, ratio)
        trials += float(len(own)) * float(len(quads))
        if not len(p):
            continue
        guesses = _Guesses.of(
            lens,
            few.places[own.stars[p]],
            listed.seen[quads.stars[s]],
            own.size_rad[p] / quads.size_rad[s],
        )
        found = _prove(images, sky.listed, guesses, lens, max(trials, 1.0))
        if found is not None:
            return found
    return None


@dataclass(frozen=True)
class _Guesses:
    """Attitudes (n, 3, 3) of quads that look alike, and the factor on the focal length."""

    attitudes: Floats
    zoom: Floats

    @classmethod
    def of(cls, lens: Lens, places_px: Floats, seen: Floats, zoom: Floats) -> _Guesses:
        """Of quads at places (n, 4, 2) that look like local directions (n, 4, 3), each with the
        focal length at which their sizes agree."""
        flat = (places_px - lens.middle_px) / (lens.focal_px * zoom[:, None, None])
        mine = np.concatenate([flat, np.ones((*flat.shape[:-1], 1))], axis=-1)
        mine /= np.linalg.norm(mine, axis=-1, keepdims=True)
        return cls(rotation_between(seen, mine), zoom)

    def in_order(self) -> _Guesses:
        """Those that most others agree with first."""
        rows = np.arange(len(self.zoom))
        if len(rows) > _MOST_GUESSES:
            rows = np.sort(np.random.default_rng(1).permutation(len(rows))[:_MOST_GUESSES])
        flat = self.attitudes[rows].reshape(len(rows), 9).astype(np.float32)
        # The trace of one attitude against another: 1 + 2 cos of the turn between them.
        near = (flat @ flat.T) > 1.0 + 2.0 * math.cos(math.radians(2.5))
        like = np.abs(np.log(self.zoom[rows])[:, None] - np.log(self.zoom[rows])[None]) < 0.05
        votes = np.sum(near & like, axis=1)
        order = rows[np.argsort(-votes, kind="stable")]
        return _Guesses(self.attitudes[order], self.zoom[order])


def _prove(
    images: StarImages, listed: ListedStars, guesses: _Guesses, lens: Lens, trials: float
) -> Solved | None:
    ordered = guesses.in_order()
    tried: list[Floats] = []
    tests = 0
    for attitude, zoom in zip(ordered.attitudes, ordered.zoom, strict=True):
        # One that was tried already, under another quad's name.
        if any(np.trace(attitude @ t.T) > 1.0 + 2.0 * math.cos(math.radians(0.3)) for t in tried):
            continue
        tried.append(attitude)
        tests += 1
        if tests > _PROVED_AT_ONCE:
            break
        found = prove(images, listed, attitude, lens.zoomed(zoom), trials)
        if found is not None:
            return found
    return None


def prove(
    images: StarImages, listed: ListedStars, attitude: Floats, lens: Lens, trials: float
) -> Solved | None:
    """The refined attitude if the listed stars are really there, else None."""
    size, seen_places = (images.width_px, images.height_px), images.places
    diagonal = math.hypot(*size)
    radius = max(0.012 * diagonal, 6.0)
    final = max(3.0, 1.2 * images.spread_px)
    fitted: Refined | None = None
    radii = []
    while radius > final:
        radii.append(radius)
        radius *= 0.5
    for radius in [*radii, final, final]:
        rows, expected = inside(listed, attitude, lens, size)
        rows, expected = rows[:_MOST_LISTED], expected[:_MOST_LISTED]
        # Far from the truth only bright spots are asked: of many faint ones one is always near.
        shown = seen_places if radius == final else seen_places[: max(2 * len(rows), 40)]
        mine, theirs = pairs_within(expected, shown, radius)
        if len(mine) < LEAST_STARS - 1:
            return None
        if fitted is None and _by_accident(len(rows), len(mine), len(shown), radius, size):
            return None
        fitted = refine(
            [star_pairs(images, listed, mine, rows[theirs])], attitude[None], lens, size, turns=6,
            how_well=False,
        )  # fmt: skip
        attitude, lens = fitted.attitudes[0], fitted.lens
    rows, expected = inside(listed, attitude, lens, size)
    # Behind a cloud no star is asked for, and no accident is to be had.
    clear = images.stars_show()
    asked = images.in_parts(expected, clear)
    rows, expected = rows[asked], expected[asked]
    # As many listed stars as the picture shows stars, brightest first.
    count = int(np.clip(len(images), LEAST_STARS + 1, _MOST_LISTED))
    rows, expected = rows[:count], expected[:count]
    looked = seen_places[: max(2 * count, 30)]
    mine, theirs = pairs_within(expected, looked, final)
    if len(mine) < LEAST_STARS or fitted is None:
        return None
    density = len(looked) * math.pi * final**2 / (size[0] * size[1] * float(clear.mean()))
    log10 = log10_at_least(len(rows) - 2, len(mine) - 2, min(density, 0.9)) + math.log10(trials)
    top = min(BRIGHTEST, len(rows))
    of_top = int(np.sum(theirs < top))
    if log10 > math.log10(LARGEST_CHANCE) or of_top < LEAST_OF_BRIGHTEST * top:
        return None
    return Solved(
        attitude=attitude,
        lens=lens,
        picture_stars=mine,
        listed_stars=rows[theirs],
        listed=listed,
        log10_chance=log10,
        of_brightest=(of_top, top),
        rms_px=fitted.rms_px,
    )


def _by_accident(n: int, k: int, spots: int, radius: float, size: tuple[int, int]) -> bool:
    """Whether so many pairs are nothing special before anything is refined."""
    density = spots * math.pi * radius**2 / (size[0] * size[1])
    if density > _SPECIAL_BELOW:
        return False
    return log10_at_least(n - 2, k - 2, density) > _SPECIAL_LOG10


def star_pairs(images: StarImages, listed: ListedStars, mine: Indices, theirs: Indices) -> Pairs:
    """Rows of the picture's stars and of the listed ones as what an attitude is fitted to."""
    return Pairs(
        images.places[mine], images.sigma_px[mine], listed.seen[theirs],
        listed.stars.number[theirs],
    )  # fmt: skip


def inside(
    listed: ListedStars, attitude: Floats, lens: Lens, size: tuple[int, int]
) -> tuple[Indices, Floats]:
    """Rows of the listed stars that fall into the picture, brightest first, and where."""
    reach = math.cos(math.radians(min(half_diagonal_deg(*size, lens.focal_px) * 1.1 + 1.0, 85.0)))
    near = np.flatnonzero(listed.seen @ attitude[2] > reach)
    expected = places(lens, listed.seen[near] @ attitude.T)
    with np.errstate(invalid="ignore"):
        kept = (
            (expected[:, 0] > 2.0) & (expected[:, 0] < size[0] - 3.0)
            & (expected[:, 1] > 2.0) & (expected[:, 1] < size[1] - 3.0)
        )  # fmt: skip
    return near[kept], expected[kept]


def pairs_within(expected: Floats, seen: Floats, radius: float) -> tuple[Indices, Indices]:
    """Rows of `seen` and of `expected` that are each other's nearest, no farther than `radius`."""
    if not len(expected) or not len(seen):
        return np.zeros(0, int), np.zeros(0, int)
    apart = np.hypot(
        expected[:, None, 0] - seen[None, :, 0], expected[:, None, 1] - seen[None, :, 1]
    )
    nearest = np.argmin(apart, axis=1)
    back = np.argmin(apart, axis=0)
    rows = np.arange(len(expected))
    good = (back[nearest] == rows) & (apart[rows, nearest] <= radius)
    return nearest[good], rows[good]


def log10_at_least(n: int, k: int, p: float) -> float:
    """Logarithm of the chance of `k` or more of `n` by accident, each with the chance `p`."""
    if k <= 0 or p >= 1.0:
        return 0.0
    if k > n or p <= 0.0:
        return -300.0
    terms = [
        math.lgamma(n + 1) - math.lgamma(j + 1) - math.lgamma(n - j + 1)
        + j * math.log(p) + (n - j) * math.log1p(-p)
        for j in range(k, n + 1)
    ]  # fmt: skip
    top = max(terms)
    return min(0.0, (top + math.log(sum(math.exp(t - top) for t in terms))) / math.log(10.0))
