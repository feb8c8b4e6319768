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
from axletree.sky.arrays import Floats
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
_FLOOR_PX = 0.05
_ROUGH_TURNS = 3
_AS_KNOWN = 1e-6
_LENS_UNKNOWNS = 5


@dataclass(frozen=True)
class Pairs:
    """Stars of one picture: places (n, 2), their standard deviations as told by their light
    (n,), and local directions (n, 3)."""

    places_px: Floats
    sigma_px: Floats
    seen: Floats

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
) -> Refined:
    """The best fit from a start that is right to a small part of the picture.

    `lens_known`: the lens stays as it is.
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
    chi2 = rows = 0.0
    for turn in range(turns):
        residuals, jacobians = [], []
        for k, pair in enumerate(pairs):
            r, j = _rows(pair, turned[k], held, k, count)
            residuals.append(r)
            jacobians.append(j)
        sigma = np.concatenate([p.sigma_px for p in pairs])
        size = np.concatenate([np.hypot(r[:, 0], r[:, 1]) for r in residuals]) / sigma
        # The median of the length of two equal errors is 1.1774 standard deviations.
        # At first the worst picture sets it, so that none loses all its stars.
        cuts = np.cumsum([len(p) for p in pairs])[:-1]
        each = [float(np.median(part)) for part in np.split(size, cuts) if len(part)]
        typical = max(each) if turn < _ROUGH_TURNS else float(np.median(size))
        scale = max(typical / 1.1774, 1e-3)
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
        chi2 = float(np.sum(weight * size**2)) / scale**2
        rows = float(2.0 * np.sum(weight))
        if turn > 3 and float(np.abs(step[: 3 * count]).max()) < 1e-9:
            break
    unknowns = 3 * count + 2.0
    # The weights' own loss makes the scatter look smaller; what is left says how large it is.
    factor = max(chi2 / max(rows - unknowns, 1.0), 0.25)
    inverse = np.linalg.pinv(normal, rcond=1e-15, hermitian=True) * factor
    flat = np.concatenate(residuals)[used]
    return Refined(
        attitudes=turned,
        lens=Lens(float(held[0]), (float(held[1]), float(held[2])), float(held[3]), float(held[4])),
        covariance=np.asarray(inverse[: 3 * count, : 3 * count], dtype=np.float64),
        residuals_px=tuple(residuals),
        rms_px=float(np.sqrt(np.mean(flat**2))) if len(flat) else np.inf,
    )


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


def light_sigma_px(signal_to_noise: Floats, spread_px: float) -> Floats:
    """How well a star's middle is known by its light: its spread over its signal to noise."""
    return np.asarray(np.hypot(_FLOOR_PX, spread_px / np.maximum(signal_to_noise, 1.0)))
