"""What should the altitude scale show, and what does a reading of it say about the axis?"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

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


@dataclass(frozen=True)
class ScaleSetting:
    """What to set, how well that can be read, and what stands in the way.

    `setting_deg` is the number on the scale, `nearest_mark_deg` the mark closest to it;
    `within_scale` is false where the scale ends before; `sigma_deg` is one standard deviation of
    the axis altitude after setting it to the nearest mark or half-way between two. `cautions` in
    words.
    """

    setting_deg: float
    nearest_mark_deg: float
    sigma_deg: float
    reading_sigma_deg: float
    index_sigma_deg: float
    within_scale: bool
    cautions: tuple[str, ...]


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
    within = low <= setting <= high
    cautions = []
    if not within:
        end, way = (low, "down") if setting < low else (high, "up")
        cautions.append(
            f"The scale ends at {end:g}°, {abs(setting - end):.1f}° short of the pole. Tip the "
            f"base by that much ({way}wards at the pole's side) with a wedge or by leg lengths, "
            "check that it can't fall over, and lay an inclinometer along the axis instead."
        )
    if target.true_altitude_deg < LOW_LATITUDE_DEG:
        cautions.append(
            f"At latitude {target.true_altitude_deg:.0f}° the axis lies nearly flat: the shaft and "
            "its weights may meet the tripod's legs. Turn the hour axis through a whole turn by "
            "hand, without the tube, before you trust it; a leg turned to the pole's side or an "
            "extension column helps."
        )
    if target.true_altitude_deg < 1.0:
        cautions.append(
            "The pole stands on the horizon: it can't be seen, and refraction there changes by "
            "arcminutes from hour to hour. Use the level, the compass or a shadow, and the drift "
            "of stars."
        )
    if target.true_altitude_deg > HIGH_LATITUDE_DEG:
        cautions.append(
            "So close to the geographic pole the axis stands upright: its direction along the "
            f"horizon matters little (1° of it is "
            f"{60.0 * math.cos(math.radians(target.altitude_deg)):.1f}′ on the sky), levelling "
            "matters most."
        )
    return ScaleSetting(
        setting_deg=setting,
        nearest_mark_deg=round(setting / step) * step,
        sigma_deg=math.hypot(reading, index),
        reading_sigma_deg=reading,
        index_sigma_deg=index,
        within_scale=within,
        cautions=tuple(cautions),
    )


def high_from_reading_arcmin(reading_deg: ArrayLike, setting_deg: ArrayLike) -> Floats:
    """How far the axis points above the pole when the scale shows this: reading minus setting."""
    reading = np.asarray(reading_deg, dtype=np.float64)
    return np.asarray((reading - np.asarray(setting_deg, dtype=np.float64)) * 60.0)
