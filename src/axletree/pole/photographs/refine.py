"""Which attitudes and which one lens fit the stars of all pictures best, and how well?

Robust least squares by Gauss and Newton: each picture has its attitude, all share the lens. The
weights are those of J. W. Tukey (A. E. Beaton and J. W. Tukey 1974, Technometrics 16, 147; from
memory), so that a wrong pair loses its say. What the stars don't tell of the lens stays near what
lenses have.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.photographs.lens import Lens, half_diagonal_deg
from axletree.sky.arrays import Floats, Ints
from axletree.sky.rotations import small_rotation

# What lenses are like, one standard deviation: focal length, middle as part of the picture's
# diagonal, displacement at the corner as part of its distance (common practice, no source).
FOCAL_SPREAD = 0.1
MIDDLE_SPREAD = 0.01
BEND_SPREAD = 0.02
BEND4_SPREAD = 0.01
# Below this half diagonal the fourth order of the distortion is nothing (our figure).
WIDE_DEG = 12.0
_TUKEY = 6.0
# The median of the length of two equal errors, in their standard deviation.
_USUAL_LENGTH = 1.1774
_ROUGH_TURNS = 3
_AS_KNOWN = 1e-6
_LENS_UNKNOWNS = 5


@dataclass(frozen=True)
class Pairs:
    """Stars of one picture: places (n, 2), their standard deviations as told by their light
    (n,), local directions (n, 3), and which star of the lists each is (n,)."""

    places_px: Floats
    sigma_px: Floats
    seen: Floats
    which: Ints

    def __len__(self) -> int:
        return len(self.sigma_px)


@dataclass(frozen=True)
class Refined:
    """Attitudes (pictures, 3, 3), the lens, and what stands behind them.

    `covariance` (3 pictures, 3 pictures), square radians: of small turns of the attitudes about
    the camera's own axes, the lens left free. `residuals_px`: of each picture, (n, 2).
    `rms_px`: root mean square of one coordinate over the stars that count.
    """

    attitudes: Floats
    lens: Lens
    covariance: Floats
    residuals_px: tuple[Floats, ...]
    rms_px: float


def refine(
    pairs: Sequence[Pairs],
    attitudes: Floats,
    lens: Lens,
    size_px: tuple[int, int],
    *,
    lens_known: bool = False,
    turns: int = 12,
    how_well: bool = True,
) -> Refined:
    """The best fit from a start that is right to a small part of the picture.

    `lens_known`: the lens stays as it is. Without `how_well` the covariance is left at nothing.
    """
    count = len(pairs)
    corner = np.hypot(*size_px) / 2.0 / lens.focal_px
    wide = half_diagonal_deg(*size_px, lens.focal_px) > WIDE_DEG
    prior = np.array(
        [
            FOCAL_SPREAD,
            MIDDLE_SPREAD * np.hypot(*size_px),
            MIDDLE_SPREAD * np.hypot(*size_px),
            BEND_SPREAD / corner**2,
            (BEND4_SPREAD if wide else 1e-6) / corner**4,
        ]
    )
    held = np.array([lens.focal_px, *lens.middle_px, lens.bend, lens.bend4])
    if lens_known:
        prior = prior * _AS_KNOWN
    usual = np.array(
        [np.log(lens.focal_px), (size_px[0] - 1) / 2.0, (size_px[1] - 1) / 2.0, 0.0, 0.0]
    )
    if lens_known:
        usual = np.array([np.log(held[0]), *held[1:]])
    turned = attitudes.copy()
    scale = np.inf
    normal = np.eye(3 * count + _LENS_UNKNOWNS)
    residuals: list[Floats] = []
    for turn in range(turns):
        residuals, jacobians = [], []
        for k, pair in enumerate(pairs):
            r, j = _rows(pair, turned[k], held, k, count)
            residuals.append(r)
            jacobians.append(j)
        sigma = np.concatenate([p.sigma_px for p in pairs])
        size = np.concatenate([np.hypot(r[:, 0], r[:, 1]) for r in residuals]) / sigma
        # At first the worst picture sets it, so that none loses all its stars.
        cuts = np.cumsum([len(p) for p in pairs])[:-1]
        each = [float(np.median(part)) for part in np.split(size, cuts) if len(part)]
        typical = max(each) if turn < _ROUGH_TURNS else float(np.median(size))
        scale = max(typical / _USUAL_LENGTH, 1e-3)
        part = size / (_TUKEY * scale)
        weight = np.where(part < 1.0, (1.0 - part * part) ** 2, 0.0)
        both = np.sqrt(np.repeat(weight / sigma**2, 2)) / scale
        tall = np.concatenate(jacobians) * both[:, None]
        wanted = np.concatenate([r.ravel() for r in residuals]) * both
        normal = tall.T @ tall
        right = tall.T @ wanted
        now = np.array([np.log(held[0]), *held[1:]])
        lens_at = np.arange(3 * count, 3 * count + _LENS_UNKNOWNS)
        normal[lens_at, lens_at] += 1.0 / prior**2
        right[lens_at] += (usual - now) / prior**2
        normal[np.diag_indices_from(normal)] *= 1.0 + 1e-12
        step = np.linalg.lstsq(normal, right, rcond=1e-15)[0]
        for k in range(count):
            turned[k] = small_rotation(step[3 * k : 3 * k + 3]) @ turned[k]
        now = now + np.clip(step[lens_at], -3.0 * prior, 3.0 * prior)
        held = np.array([np.exp(now[0]), *now[1:]])
        used = weight > 0.0
        if turn > 3 and float(np.abs(step[: 3 * count]).max()) < 1e-9:
            break
    misfits = np.concatenate(residuals)
    flat = misfits[used]
    covariance = np.zeros_like(normal)
    if how_well:
        which = np.concatenate([p.which for p in pairs])
        covariance = _covariance(np.concatenate(jacobians), misfits, sigma, which, prior)
    return Refined(
        attitudes=turned,
        lens=Lens(float(held[0]), (float(held[1]), float(held[2])), float(held[3]), float(held[4])),
        covariance=covariance[: 3 * count, : 3 * count],
        residuals_px=tuple(residuals),
        rms_px=float(np.sqrt(np.mean(flat**2))) if len(flat) else np.inf,
    )


def _covariance(
    jacobian: Floats, misfits: Floats, sigma: Floats, which: Ints, prior: Floats
) -> Floats:
    """Of all unknowns, by leaving out one star after the other from all pictures at once.

    So no star needs to be as good as its light says, and one whose place is wrong in all pictures
    alike, by a neighbour that no list has, counts once (B. Efron 1982, The Jackknife, the
    Bootstrap and Other Resampling Plans; to first order as in J. G. MacKinnon and H. White 1985,
    J. Econometrics 29, 305; from memory). What is known of lenses beforehand counts besides.
    """
    size = np.hypot(misfits[:, 0], misfits[:, 1]) / sigma
    scale = max(float(np.median(size)) / _USUAL_LENGTH, 1e-3)
    part2 = np.minimum(size / (_TUKEY * scale), 1.0) ** 2
    weight = (1.0 - part2) ** 2
    # A small shift of all misfits changes the weighted ones by less: the mean slope.
    slope = float(np.sum((1.0 - part2) * (1.0 - 3.0 * part2))) / float(np.sum(weight))
    slope = max(slope, 0.1)
    each = np.repeat(np.sqrt(weight) / sigma / scale, 2)
    rows = jacobian * (each * np.sqrt(slope))[:, None]
    wanted = misfits.ravel() * each / np.sqrt(slope)
    known = np.zeros((rows.shape[1], rows.shape[1]))
    at = np.arange(len(known) - len(prior), len(known))
    known[at, at] = 1.0 / prior**2
    inverse = np.linalg.pinv(rows.T @ rows + known, rcond=1e-15, hermitian=True)
    order = np.argsort(np.repeat(which, 2), kind="stable")
    total = known
    for own in np.split(order, np.flatnonzero(np.diff(np.repeat(which, 2)[order])) + 1):
        mine = rows[own]
        left = np.eye(len(own)) - mine @ inverse @ mine.T
        moved = mine.T @ np.linalg.lstsq(left, wanted[own], rcond=1e-9)[0]
        total = total + np.outer(moved, moved)
    return np.asarray(inverse @ total @ inverse)


def _rows(
    pair: Pairs, attitude: Floats, held: Floats, which: int, count: int
) -> tuple[Floats, Floats]:
    """Observed minus modelled places (n, 2), and the slopes (2 n, unknowns) of the model."""
    focal, middle, bend, bend4 = held[0], held[1:3], held[3], held[4]
    c = pair.seen @ attitude.T
    z = np.maximum(c[:, 2], 0.05)
    flat = c[:, :2] / z[:, None]
    r2 = np.sum(flat * flat, axis=1)
    grow = 1.0 + bend * r2 + bend4 * r2 * r2
    model = middle + focal * grow[:, None] * flat
    n = len(pair)
    slopes = np.zeros((n, 2, 3 * count + _LENS_UNKNOWNS))
    # A small turn w of the attitude moves c by w x c.
    by_turn = np.zeros((n, 3, 3))
    x, y = c[:, 0], c[:, 1]
    by_turn[:, 0, 1], by_turn[:, 0, 2] = z, -y
    by_turn[:, 1, 0], by_turn[:, 1, 2] = -z, x
    by_turn[:, 2, 0], by_turn[:, 2, 1] = y, -x
    by_direction = np.zeros((n, 2, 3))
    by_direction[:, 0, 0] = by_direction[:, 1, 1] = 1.0 / z
    by_direction[:, :, 2] = -flat / z[:, None]
    stretch = 2.0 * bend + 4.0 * bend4 * r2
    by_flat = focal * (
        grow[:, None, None] * np.eye(2) + stretch[:, None, None] * flat[:, :, None] * flat[:, None]
    )
    slopes[:, :, 3 * which : 3 * which + 3] = by_flat @ by_direction @ by_turn
    at = 3 * count
    slopes[:, :, at] = focal * grow[:, None] * flat
    slopes[:, 0, at + 1] = slopes[:, 1, at + 2] = 1.0
    slopes[:, :, at + 3] = focal * r2[:, None] * flat
    slopes[:, :, at + 4] = focal * (r2 * r2)[:, None] * flat
    return pair.places_px - model, slopes.reshape(2 * n, -1)
