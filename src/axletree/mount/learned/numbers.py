"""Which unknown numbers do notes of several evenings have in common?

The rig's dimensions, as they are tonight; and for each other evening how the tripod stood then.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.dimensions.of_kit import Dimensions
from axletree.sky.arrays import Floats, Indices

# What is another number each time the mount is set up.
SET_UP_ANEW = frozenset((
    "mount.tripod.turned_deg", "mount.tripod.lean_to_pole_deg", "mount.tripod.lean_to_right_deg",
    "tube.ring_turn_deg",
))  # fmt: skip


@dataclass(frozen=True, eq=False)
class Numbers:
    """N numbers that may be off the kit's values: n dimensions, then those of other set-ups.

    `covariance` (N, N) before any note; `places` (groups, n): of each group of notes made on one
    set-up, where the n dimensions of its rig stand among the N.
    """

    covariance: Floats
    places: Indices

    @property
    def count(self) -> int:
        """N."""
        return len(self.covariance)


def numbers_of(
    known: Dimensions, set_ups: Sequence[Hashable], tonight: Hashable
) -> tuple[Numbers, Indices]:
    """The numbers, and to which group each note belongs, which was made on one of these set-ups.

    Whatever is set up anew is drawn anew for each set-up but tonight's.
    """
    groups = list(dict.fromkeys(set_ups))
    n = len(known.names)
    anew = np.flatnonzero([name in SET_UP_ANEW for name in known.names])
    others = [g for g in groups if g != tonight]
    size = n + len(others) * len(anew)
    covariance = np.zeros((size, size))
    covariance[:n, :n] = known.covariance
    places = np.tile(np.arange(n), (len(groups), 1))
    for k, group in enumerate(others):
        own = n + k * len(anew) + np.arange(len(anew))
        covariance[np.ix_(own, own)] = known.covariance[np.ix_(anew, anew)]
        places[groups.index(group), anew] = own
    at = np.array([groups.index(one) for one in set_ups], dtype=np.intp)
    return Numbers(covariance, places), at
