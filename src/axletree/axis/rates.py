"""How fast must each shaft turn to keep an object in view when the axis is off?

The turns are differentiated as they stand; only the air's lift is differenced, over an arcminute.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from axletree.axis.frame import mount_rates, seen_rates, seen_vectors
from axletree.axis.model import PointingModel
from axletree.axis.spread import each_of, propagated
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

_DEG = math.pi / 180.0


@dataclass(frozen=True)
class ShaftRates:
    """How fast both shafts turn to follow some objects; arrays of one shape (...).

    `hour_arcsec_per_s` of the hour shaft, positive to the west; `declination_arcsec_per_min` of
    the declination shaft, positive to the north of its circle: what the declination knob has to
    do. `declination_sigma_arcsec_per_min`: what the model's covariance makes of it. nan where
    the tube can't reach the object.
    """

    hour_arcsec_per_s: Floats
    declination_arcsec_per_min: Floats
    declination_sigma_arcsec_per_min: Floats


def shaft_rates(
    model: PointingModel, hour_angle_h: ArrayLike, declination_deg: ArrayLike, side: ArrayLike,
    observer: Observer,
    hour_rate_arcsec_per_s: ArrayLike = SIDEREAL_RATE_ARCSEC_PER_S,
    declination_rate_arcsec_per_s: ArrayLike = 0.0,
) -> ShaftRates:  # fmt: skip
    """How fast the shafts of this mount turn to follow objects through the air.

    Hour angle and declination apparent of date, without air; their rates those of the stars
    unless given. For a small axis error the declination shaft turns by 15.04 arcseconds a second
    times u sin H + v cos H against the declination (u high, v east; in the north): at most 0.26
    arcminutes a minute for each degree of error (J. Scheiner 1897, Die Photographie der Gestirne,
    p. 100; A. A. Rambaut 1896, MNRAS 57, 50, and E. S. King 1931 for the air).
    """
    seen = seen_vectors(hour_angle_h, declination_deg, observer)
    rates = hour_rate_arcsec_per_s, declination_rate_arcsec_per_s
    moving = seen_rates(hour_angle_h, declination_deg, *rates, observer)

    def of(values: Floats) -> tuple[Floats, Floats]:
        d, along, across = mount_rates(seen, moving, values[0], values[1], observer, model.pole)
        lean = values[5] if observer.north else -values[5]
        return _of_shafts(d, along, across, side, (values[4], lean))

    hour, declination = of(model.values)
    covariance = propagated(model, lambda v: of(each_of(v, hour.ndim))[1][..., None])
    return ShaftRates(hour, declination * 60.0, np.sqrt(covariance[..., 0, 0]) * 60.0)


def _of_shafts(
    declination_deg: Floats, hour_rate: Floats, declination_rate: Floats, side: ArrayLike,
    faults_arcmin: tuple[Floats, Floats],
) -> tuple[Floats, Floats]:  # fmt: skip
    """Rates of both shafts from those of the object about the axis: `circle_readings` derived."""
    d = declination_deg * _DEG
    c, i = (fault / 60.0 * _DEG for fault in faults_arcmin)
    across = (np.sin(c) - np.sin(d) * np.sin(i)) / (np.cos(i) * np.cos(d))
    along = (np.sin(d) - np.sin(i) * np.sin(c)) / (np.cos(i) * np.cos(c))
    reach = (np.abs(across) < 1.0) & (np.abs(along) < 1.0)
    across, along = np.where(reach, across, np.nan), np.where(reach, along, np.nan)
    lean_in = (np.sin(c) * np.sin(d) - np.sin(i)) / (np.cos(i) * np.cos(d) ** 2)
    turned = lean_in / np.sqrt(1.0 - across**2)
    swung = np.cos(d) / (np.cos(i) * np.cos(c) * np.sqrt(1.0 - along**2))
    hour = hour_rate + np.asarray(side) * turned * declination_rate
    return np.broadcast_arrays(hour, swung * declination_rate)  # type: ignore[return-value]
