"""Of which parts is the rig made, where do they sit, and what do they weigh?

A `Rig` holds every part as one row of frozen arrays: a rod from `start_m` to `end_m` with a
radius, in the coordinates of the frame that it is fixed to:

  GROUND       x east, y north, z up; origin on the ground below the tripod's middle
  HEAD         x square to the polar axis and upwards, z along it to the elevated pole;
               origin at the crossing of the two axes
  POLAR        x along the declination axis to the tube's end, z to the elevated pole; same origin
  DECLINATION  x along the declination axis to the tube's end, z where the tube looks; same origin

Frames are right-handed. Rods with `flat` ends are cylinders, the others have round ends of their
own radius beyond `start_m` and `end_m` (capsules). Balance comes before clearance: the tube is
clamped at its centre of mass with everything on it, and the weights sit where they hold it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask

if TYPE_CHECKING:
    from axletree.mount.balance.weights import Loading


GROUND, HEAD, POLAR, DECLINATION = 0, 1, 2, 3


@dataclass(frozen=True)
class Rig:
    """The mount with everything on it; n parts, lengths in metres, masses in kilograms."""

    names: tuple[str, ...]
    frame: NDArray[np.int8]  # (n,) GROUND, HEAD, POLAR or DECLINATION
    start_m: Floats  # (n, 3)
    end_m: Floats  # (n, 3)
    radius_m: Floats  # (n,)
    flat: Mask  # (n,)
    mass_kg: Floats  # (n,)
    centre_m: Floats  # (n, 3) centre of mass
    latitude_deg: float  # which pole is the elevated one, and where the axis should point
    hinge_height_m: float  # altitude hinge above the ground
    crossing_along_m: float  # from the hinge to the crossing, along the polar axis
    crossing_above_m: float  # and square to it, upwards
    ground_normal: Floats  # (3,) unit vector; the plane goes through the origin
    tube_offset_m: float  # crossing to the tube's axis, along the declination axis
    clamp_from_front_m: float  # place of the tube, from its front, over the declination axis
    eye_point_m: Floats  # (3,) where the eye goes, in the DECLINATION frame
    barrel: Floats  # (3,) unit vector along the eyepiece's barrel, outwards, in that frame
    loading: Loading  # the weights on the shaft
    guessed: tuple[str, ...] = ()

    @property
    def sense(self) -> int:
        """+1 where the north pole is the elevated one (the equator counts as north), else -1."""
        return 1 if self.latitude_deg >= 0 else -1

    def index(self, name: str) -> int:
        """Row of the first part of that name."""
        return self.names.index(name)


@dataclass(frozen=True)
class RigPart:
    """One part on its way into a rig, in the coordinates of its frame: a rod between two points
    (3,), metres, with flat or round ends; its mass (kg), and its centre of mass where that is not
    in the middle."""

    name: str
    frame: int
    start_m: Floats
    end_m: Floats
    radius_m: float
    flat: bool = False
    mass_kg: float = 0.0
    own_centre_m: Floats | None = None

    @property
    def centre_m(self) -> Floats:
        """Where its centre of mass is, (3,)."""
        middle = (self.start_m + self.end_m) / 2
        return middle if self.own_centre_m is None else self.own_centre_m

    def shifted(self, by_m: Floats) -> RigPart:
        """The same part elsewhere in its frame."""
        return RigPart(
            self.name, self.frame, self.start_m + by_m, self.end_m + by_m, self.radius_m,
            self.flat, self.mass_kg, self.centre_m + by_m,
        )  # fmt: skip


def vec(x: float, y: float, z: float) -> Floats:
    return np.array([x, y, z], dtype=np.float64)
