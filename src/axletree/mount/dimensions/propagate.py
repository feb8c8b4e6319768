"""How far may an answer be off because dimensions of the kit were guessed?"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.kit import Kit
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import DimensionSource, dimensions_of
from axletree.sky.arrays import Floats

_IDLE = 1e-9  # slopes smaller than this part of the answer's figures are rounding


def guess_sigmas(
    kit: Kit, names: Sequence[str], asked: Callable[[Kit], ArrayLike]
) -> tuple[Floats, tuple[str, ...]]:
    """One standard deviation (m,) of what `asked` says of a kit, and the guesses that it rests on.

    Those of `names` that this kit guessed are changed by one standard deviation each, one at a
    time; their common covariance makes the sum (first order, ISO/IEC Guide 98-3, 5.2.2). Zeros
    where nothing was guessed.
    """
    here = np.atleast_1d(np.asarray(asked(kit), dtype=np.float64))
    known = dimensions_of(kit)
    guessed = [
        name for name, source in zip(known.names, known.sources, strict=True)
        if name in names and source is DimensionSource.GUESSED
    ]  # fmt: skip
    if not guessed:
        return np.zeros_like(here), ()
    part = known.only(guessed)
    slopes = np.empty((len(here), len(guessed)))
    for i, (name, value, sigma) in enumerate(
        zip(part.names, part.values, part.sigmas, strict=True)
    ):
        there = np.asarray(asked(with_dimensions(kit, [value + sigma], [name])))
        slopes[:, i] = (there - here) / sigma
    moved = np.abs(slopes * part.sigmas) > _IDLE * (1.0 + np.abs(here[:, None]))
    variances = np.einsum("mi,ij,mj->m", slopes, part.covariance, slopes)
    used = tuple(name for i, name in enumerate(guessed) if moved[:, i].any())
    return np.sqrt(np.maximum(variances, 0.0)), used
