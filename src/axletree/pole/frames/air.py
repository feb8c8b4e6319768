"""How far do frames turn, and the pole rise, when the air is not the one that was assumed?

A low star is lifted by other than was reckoned, and the frame seems to look elsewhere: the same
for all frames of a run, each by its own altitude. The solver takes these as unknowns whose
spread is known beforehand.
"""

from __future__ import annotations

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.kit.frozen import dataclass
from axletree.pole.frames.attitude import rotation_between, rotation_vector
from axletree.sky.air.refraction import refraction_from_apparent_deg
from axletree.sky.air.spread import CAUSES, LOW_ALTITUDE_DEG, refraction_parts_deg
from axletree.sky.arrays import Floats
from axletree.sky.directions import azimuth_altitude_from_vector, vector_from_azimuth_altitude
from axletree.sky.observer import Observer

_STEP_DEG = 0.01


@dataclass(frozen=True)
class AirShifts:
    """What one standard deviation of each cause does to a run.

    `turns` (causes, frames, 3): turn vectors of the frames, radians. `pole_deg` (causes,): how
    much higher the pole stands. No causes where all frames look higher than `LOW_ALTITUDE_DEG`.
    """

    turns: Floats
    pole_deg: Floats

    @property
    def count(self) -> int:
        """How many causes there are to reckon with."""
        return len(self.pole_deg)


def no_shifts(frames: int) -> AirShifts:
    """The air is as assumed."""
    return AirShifts(np.zeros((0, frames, 3)), np.zeros(0))


def lifted_otherwise(seen: Floats, observer: Observer) -> Floats:
    """Directions (causes, ..., 3) that `seen` (..., 3) would be with one deviation more air."""
    azimuth, altitude = azimuth_altitude_from_vector(seen)
    # What is lifted more stands higher, where the air lifts less: the true altitude stays.
    slope = (
        refraction_from_apparent_deg(altitude + _STEP_DEG, observer)
        - refraction_from_apparent_deg(altitude - _STEP_DEG, observer)
    ) / (2.0 * _STEP_DEG)
    parts = refraction_parts_deg(altitude, observer) / (1.0 - slope)
    return vector_from_azimuth_altitude(azimuth, altitude + parts)


def air_shifts(seen: Floats, observer: Observer, pole: Pole) -> AirShifts:
    """The shifts of frames whose pixels look in local directions (frames, n, 3)."""
    sight = seen.mean(axis=1)
    _, altitude = azimuth_altitude_from_vector(sight)
    if observer.air_pressure_hpa == 0.0 or altitude.min() >= LOW_ALTITUDE_DEG:
        return no_shifts(len(seen))
    other = lifted_otherwise(seen, observer)
    turns = rotation_vector(rotation_between(np.broadcast_to(seen, other.shape), other))
    pole_parts = np.zeros(len(CAUSES))
    if pole == "refracted":
        pole_parts = refraction_parts_deg(pole_altitude_deg(observer, pole), observer)
    return AirShifts(turns, pole_parts)
