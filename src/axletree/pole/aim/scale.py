"""What should the altitude scale show, and what does a reading of it say about the axis?"""

from __future__ import annotations

import math
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Bolts
from axletree.pole.aim.target import PoleTarget
from axletree.sky.arrays import Floats

# A scale that nobody has checked against a pole star, and one that was (estimates, common
# practice, no source).
UNCHECKED_SIGMA_DEG = 0.5
CHECKED_SIGMA_DEG = 0.1
# Below this the shaft with its weights comes close to the legs on ordinary tripods, and near the
# geographic poles the axis stands upright (common practice, no source).
LOW_LATITUDE_DEG = 15.0
HIGH_LATITUDE_DEG = 75.0
# A pole lower than this can't be seen through the air near the horizon (common practice, no
# source).
POLE_ON_HORIZON_DEG = 1.0


class ScaleCaution(Enum):
    """What makes an altitude hard to set, or to trust."""

    SCALE_ENDS = "scale_ends"
    AXIS_NEARLY_FLAT = "axis_nearly_flat"
    POLE_ON_HORIZON = "pole_on_horizon"
    AXIS_UPRIGHT = "axis_upright"


@dataclass(frozen=True)
class ScaleSetting:
    """What to set, how well that can be read, and what stands in the way.

    `setting_deg` is the number on the scale, `nearest_mark_deg` the mark closest to it;
    `within_scale` is false where the scale ends before, `scale_end_deg` is then its last mark on
    that side, else None; `sigma_deg` is one standard deviation of the axis altitude after setting
    it to the nearest mark or half-way between two.
    """

    setting_deg: float
    nearest_mark_deg: float
    sigma_deg: float
    reading_sigma_deg: float
    index_sigma_deg: float
    scale_end_deg: float | None
    cautions: tuple[ScaleCaution, ...]

    @property
    def within_scale(self) -> bool:
        """True where the scale reaches the setting."""
        return self.scale_end_deg is None


def reading_sigma_deg(step_deg: ArrayLike) -> Floats:
    """Standard deviation of a setting to the nearest half of a mark: step / 2 / sqrt(12).

    A rectangular distribution of this full width. Source: JCGM 100:2008 (GUM), 4.3.7.
    """
    return np.asarray(np.asarray(step_deg, dtype=np.float64) / 2.0 / math.sqrt(12.0))


def scale_setting(bolts: Bolts, target: PoleTarget, *, offset_known: bool = False) -> ScaleSetting:
    """The scale's number for this target; `offset_known` if somebody measured the scale's offset.

    The scale is thought to stand on a level base: a base that leans towards the pole by one
    degree makes it wrong by one.
    """
    setting = target.altitude_deg + bolts.latitude_scale_offset_deg
    step = bolts.latitude_scale_step_deg
    reading = float(reading_sigma_deg(step))
    index = CHECKED_SIGMA_DEG if offset_known else UNCHECKED_SIGMA_DEG
    low, high = bolts.latitude_scale_min_deg, bolts.latitude_scale_max_deg
    end = low if setting < low else high if setting > high else None
    cautions = []
    if end is not None:
        cautions.append(ScaleCaution.SCALE_ENDS)
    if target.true_altitude_deg < LOW_LATITUDE_DEG:
        cautions.append(ScaleCaution.AXIS_NEARLY_FLAT)
    if target.true_altitude_deg < POLE_ON_HORIZON_DEG:
        cautions.append(ScaleCaution.POLE_ON_HORIZON)
    if target.true_altitude_deg > HIGH_LATITUDE_DEG:
        cautions.append(ScaleCaution.AXIS_UPRIGHT)
    return ScaleSetting(
        setting_deg=setting,
        nearest_mark_deg=round(setting / step) * step,
        sigma_deg=math.hypot(reading, index),
        reading_sigma_deg=reading,
        index_sigma_deg=index,
        scale_end_deg=end,
        cautions=tuple(cautions),
    )


def high_from_reading_arcmin(reading_deg: ArrayLike, setting_deg: ArrayLike) -> Floats:
    """How far the axis points above the pole when the scale shows this: reading minus setting."""
    reading = np.asarray(reading_deg, dtype=np.float64)
    return np.asarray((reading - np.asarray(setting_deg, dtype=np.float64)) * 60.0)
