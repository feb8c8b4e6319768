"""What does an axis do when its lock is opened: where does it turn, how fast, where does it rest?

About one axis a rigid load is a pendulum: its moment square to the axis, its moment of inertia
about the axis, and the part of gravity that acts across the axis. Cylinders by their usual
moments of inertia and the parallel-axis theorem (J. L. Meriam and L. G. Kraige, Engineering
Mechanics: Dynamics, appendix B), every part taken as solid and even.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.rig.parts import DECLINATION, POLAR, Rig
from axletree.sky.arrays import Floats, Mask

# What an opened axis still holds by its grease, and what fingers begin to notice (our figure).
FRICTION_NM = 0.15


@dataclass(frozen=True)
class Freed:
    """One axis with its lock open.

    `along_kg_m` is the moment along the lever that is level (hour axis: positive to the tube's
    end of the declination axis; declination axis: positive to the tube's front); `across_kg_m`
    square to it, positive upwards with the lever level. `gravity_m_s2` acts across the axis.
    `torque_nm` with the lever level, positive where the tube (or its front) sinks.
    """

    along_kg_m: float
    across_kg_m: float
    inertia_kg_m2: float
    gravity_m_s2: float
    mass_kg: float

    @property
    def torque_nm(self) -> float:
        """Turning moment about the axis, its lever level."""
        return self.gravity_m_s2 * self.along_kg_m

    @property
    def stays(self) -> bool:
        """True where the axis' own friction holds it."""
        return abs(self.torque_nm) <= FRICTION_NM


def freed_hour(rig: Rig, axis_altitude_deg: float) -> Freed:
    """The hour axis free, shaft level, the tube along the polar axis."""
    turning = (rig.frame == POLAR) | (rig.frame == DECLINATION)
    across = math.cos(math.radians(axis_altitude_deg))
    # With the tube along the polar axis both moving frames coincide: x the lever, z the axis.
    return _freed(rig, turning, axis=2, lever=0, up=1, gravity=STANDARD_GRAVITY_M_S2 * across)


def freed_declination(rig: Rig) -> Freed:
    """The declination axis free, shaft and tube level, the side away from the saddle square to it.

    The lever is the tube: z of its frame; the axis is x.
    """
    return _freed(rig, rig.frame == DECLINATION, axis=0, lever=2, up=1,
                  gravity=STANDARD_GRAVITY_M_S2)  # fmt: skip


def _freed(rig: Rig, turning: Mask, *, axis: int, lever: int, up: int, gravity: float) -> Freed:
    mass, centre = rig.mass_kg[turning], rig.centre_m[turning]
    return Freed(
        along_kg_m=float(mass @ centre[:, lever]),
        across_kg_m=float(mass @ centre[:, up]),
        inertia_kg_m2=inertia_about(
            mass, centre, rig.start_m[turning], rig.end_m[turning], rig.radius_m[turning], axis
        ),
        gravity_m_s2=gravity,
        mass_kg=float(mass.sum()),
    )


def inertia_about(
    mass_kg: Floats, centre_m: Floats, start_m: Floats, end_m: Floats, radius_m: Floats, axis: int
) -> float:
    """Moment of inertia of solid cylinders about a coordinate axis through the origin, kg m2.

    About its own axis a cylinder has m r2 / 2, across it m (3 r2 + L2) / 12; at an angle the
    two mix by the squares of cosine and sine; then m d2 for the distance of its centre.
    """
    step = end_m - start_m
    long = np.linalg.norm(step, axis=1)
    cosine2 = np.where(long > 0, step[:, axis] ** 2 / np.where(long > 0, long**2, 1.0), 1.0)
    own = mass_kg * radius_m**2 / 2
    across = mass_kg * (3 * radius_m**2 + long**2) / 12
    others = [i for i in range(3) if i != axis]
    far2 = np.sum(centre_m[:, others] ** 2, axis=1)
    return float(np.sum(cosine2 * own + (1 - cosine2) * across + mass_kg * far2))
