"""What measures how much on this rig, where is that known from, and how surely?

Every length, mass and angle that decides where a part of the rig is and what it weighs, with one
covariance over all of them. A dimension is measured (its error was given with it), read off (a
plain number) or guessed; a guess takes over the error of what it was made from, and the guesses
made from a mount's size have a part of theirs in common.

Method: first-order propagation, C = J D J', e.g. ISO/IEC Guide 98-3 (GUM) 5.2.2; D holds what each
dimension adds of its own, J how the guesses follow their parents.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from functools import cached_property

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.dimension import read_off_sigma
from axletree.kit.parts.spreads import SIZE_SHARE, GuessReason, Spread, spread_of
from axletree.mount.dimensions.names import key_of, rig_names, table_key, value_of
from axletree.mount.dimensions.tube import PARENTS, tube_slopes
from axletree.sky.arrays import Floats, Singles


class DimensionSource(Enum):
    """Where is a dimension known from?"""

    MEASURED = "measured"  # given with its error
    READ_OFF = "read_off"  # a plain number
    GUESSED = "guessed"


@dataclass(frozen=True, eq=False)
class Dimensions:
    """The n dimensions of a rig, each in the unit at the end of its name (mm, kg, degrees).

    `names` are dotted keys of the kit, entries of lists counted from 1. `sigmas` are one standard
    deviation and the roots of the covariance's diagonal; `reasons` are None but for guesses. Parts
    that aren't there (no column, no dew shield) have no dimensions. `drawn`: rigs that this one may
    be as deviations from `values`, where notes of the mount left no normal distribution.
    """

    names: tuple[str, ...]
    values: Floats  # (n,)
    sigmas: Floats  # (n,)
    sources: tuple[DimensionSource, ...]
    reasons: tuple[GuessReason | None, ...]
    covariance: Floats  # (n, n)
    drawn: Singles | None = None  # (n, k)

    @cached_property
    def root(self) -> Floats:
        """(n, r) whose product with itself is the covariance: how the dimensions follow r
        independent normal numbers."""
        values, vectors = np.linalg.eigh(self.covariance)
        kept = values > 1e-12 * values.max(initial=0.0)
        return _still(np.asarray(vectors[:, kept] * np.sqrt(values[kept])))

    def index(self, name: str) -> int:
        """Place of a name; ValueError for one that isn't there."""
        return self.names.index(name)

    def only(self, names: Sequence[str]) -> Dimensions:
        """These of them, in this order, with the covariance that they share."""
        at = [self.names.index(name) for name in names]
        return Dimensions(
            tuple(names), _still(self.values[at]), _still(self.sigmas[at]),
            tuple(self.sources[i] for i in at), tuple(self.reasons[i] for i in at),
            _still(self.covariance[np.ix_(at, at)]),
        )  # fmt: skip


def dimensions_of(kit: Kit) -> Dimensions:
    """All dimensions of the kit's rig with their covariance."""
    names = rig_names(kit)
    sources = tuple(source_of(kit, name) for name in names)
    reasons = tuple(
        guess_of(kit, name).reason if source is DimensionSource.GUESSED else None
        for name, source in zip(names, sources, strict=True)
    )
    covariance, drawn = _learned_covariance(kit, names), None
    if covariance is None:
        covariance = _covariance(kit, names, reasons)
    elif kit.learned_rigs:
        drawn = np.frombuffer(kit.learned_rigs, np.float32).reshape(len(names), -1)
    return Dimensions(
        names=names,
        values=_still(np.array([value_of(kit, name) for name in names], dtype=np.float64)),
        sigmas=_still(np.sqrt(np.diagonal(covariance))),
        sources=sources,
        reasons=reasons,
        covariance=_still(covariance),
        drawn=drawn,
    )


def source_of(kit: Kit, name: str) -> DimensionSource:
    """Where one dimension is known from."""
    key, whole = key_of(name), name.partition("[")[0]
    if key in dict(kit.known_errors):
        return DimensionSource.MEASURED
    guessed = key in kit.guessed or whole in kit.guessed
    return DimensionSource.GUESSED if guessed else DimensionSource.READ_OFF


def guess_of(kit: Kit, name: str) -> Spread:
    """What one guess adds of its own, whatever it was made from."""
    return spread_of(table_key(name), value_of(kit, name), kit.mount, kit.tube)


def own_sigma(kit: Kit, name: str) -> float:
    """What one dimension adds of its own: one standard deviation in the unit of its key."""
    source = source_of(kit, name)
    if source is DimensionSource.MEASURED:
        return dict(kit.known_errors)[key_of(name)]
    if source is DimensionSource.GUESSED:
        return guess_of(kit, name).sigma or 0.0
    return read_off_sigma(key_of(name), value_of(kit, name))


def _learned_covariance(kit: Kit, names: tuple[str, ...]) -> Floats | None:
    """(n, n) as notes of the mount left it; None where there are none of this rig."""
    if tuple(name for name, _ in kit.learned) != names:
        return None
    return np.array([row for _, row in kit.learned])


def _covariance(
    kit: Kit, names: tuple[str, ...], reasons: tuple[GuessReason | None, ...]
) -> Floats:
    """(n, n). Aperture and focal length are no dimensions, but guesses take over their errors."""
    slopes = tube_slopes(kit, lambda name: own_sigma(kit, name))
    noise = [*names, *(p for p in PARENTS if p not in names and _has(kit, p))]
    own = np.array([own_sigma(kit, name) for name in noise])
    sized = np.zeros(len(noise))
    sized[: len(names)] = [r is GuessReason.MOUNT_SIZE for r in reasons]
    shared = np.sqrt(SIZE_SHARE) * own * sized
    D = np.diag(own**2 - shared**2) + np.outer(shared, shared)
    J = np.eye(len(names), len(noise))
    at = {name: i for i, name in enumerate(noise)}
    for (guess, parent), slope in slopes.items():
        if guess in names:
            J[at[guess], at[parent]] = slope
    C = J @ D @ J.T
    return np.asarray((C + C.T) / 2.0)


def _has(kit: Kit, name: str) -> bool:
    return kit.tube.finder is not None or not name.startswith("tube.finder.")


def _still(array: Floats) -> Floats:
    array = np.array(array)
    array.setflags(write=False)
    return array
