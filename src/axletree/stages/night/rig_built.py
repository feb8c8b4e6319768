"""In which order do the parts of a rig come together?"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.rig.parts import DECLINATION, GROUND, Rig

# Names of parts as `mount.rig` gives them: of each leg its top comes next to it.
_TOP, _BASE, _WEIGHT = "tripod top", "mount base", "counterweight"


@dataclass(frozen=True)
class BuiltLeg:
    """A leg's two rows, its name, and by how much it is longer than the shortest, millimetres."""

    rows: tuple[int, int]
    name: str
    longer_mm: float


@dataclass(frozen=True)
class RigBuilt:
    """The groups of a rig's parts in the order in which they are put on, counted from 1.

    `group` (n,) holds the group of each part: three legs (tray and column with the third), the
    head, each weight, the tube with all that rides on it.
    """

    group: tuple[int, ...]
    legs: tuple[BuiltLeg, ...]
    head_rows: tuple[int, ...]
    weight_rows: tuple[int, ...]
    tube_rows: tuple[int, ...]

    @property
    def with_head(self) -> int:
        """The head's own group: it stands, without any weight."""
        return len(self.legs) + 1

    @property
    def whole(self) -> int:
        """The last group: all is on."""
        return self.with_head + len(self.weight_rows) + 1

    @classmethod
    def of(cls, rig: Rig) -> RigBuilt:
        """The groups of this rig."""
        legs = _legs(rig)
        head = len(legs) + 1
        weights = tuple(k for k, name in enumerate(rig.names) if name == _WEIGHT)
        tube = tuple(int(k) for k in np.flatnonzero(rig.frame == DECLINATION))
        group = [len(legs) if rig.frame[k] == GROUND else head for k in range(len(rig.names))]
        for number, leg in enumerate(legs):
            for row in leg.rows:
                group[row] = number + 1
        for number, row in enumerate(weights):
            group[row] = head + number + 1
        for row in tube:
            group[row] = head + len(weights) + 1
        for k, name in enumerate(rig.names):
            if name == _BASE:
                group[k] = head
        rows = tuple(k for k, number in enumerate(group) if number == head)
        return cls(tuple(group), legs, rows, weights, tube)


def _legs(rig: Rig) -> tuple[BuiltLeg, ...]:
    rows = [k - 1 for k, name in enumerate(rig.names) if name == _TOP]
    long = [1000.0 * float(np.linalg.norm(rig.end_m[k] - rig.start_m[k])) for k in rows]
    return tuple(
        BuiltLeg((k, k + 1), rig.names[k], size - min(long))
        for k, size in zip(rows, long, strict=True)
    )
