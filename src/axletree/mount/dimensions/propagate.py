"""How far may an answer be off because dimensions of the kit were guessed, or only read off?"""

from __future__ import annotations

from collections.abc import Callable, Container, Sequence

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
    """The same from the kit's guesses alone, as if what was read off were exact; and the guesses
    that it rests on. Zeros where nothing was guessed."""
    return _sigmas(kit, names, asked, {DimensionSource.GUESSED})


def known_sigmas(kit: Kit, names: Sequence[str], asked: Callable[[Kit], ArrayLike]) -> Floats:
    """One standard deviation (m,) of what `asked` says of a kit, from all that is known of these
    dimensions, read off or guessed."""
    return _sigmas(kit, names, asked, set(DimensionSource))[0]


def _sigmas(
    kit: Kit, names: Sequence[str], asked: Callable[[Kit], ArrayLike],
    sources: Container[DimensionSource],
) -> tuple[Floats, tuple[str, ...]]:  # fmt: skip
    """One standard deviation (m,) of what `asked` says, and the dimensions that it rests on.

    Those of `names` from these sources are changed by one standard deviation each, one at a
    time; their common covariance makes the sum (first order, ISO/IEC Guide 98-3, 5.2.2).
    """
    here = np.atleast_1d(np.asarray(asked(kit), dtype=np.float64))
    known = dimensions_of(kit)
    guessed = [
        name for name, source in zip(known.names, known.sources, strict=True)
        if name in names and source in sources
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
