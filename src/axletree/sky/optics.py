"""What does this tube show through this eyepiece or on this camera, and for how long at rest?

Lengths in millimetres, angles as named; everything broadcasts. The sky's turn is the sidereal
one unless another rate is given.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.sky.arrays import Floats
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

_DEG = np.pi / 180.0
_ARCSEC = _DEG / 3600.0
DARK_PUPIL_MM = 7.0  # a young eye in the dark; common practice, no source


def _array(value: ArrayLike) -> Floats:
    return np.asarray(value, dtype=np.float64)


def magnification(
    focal_length_mm: ArrayLike, eyepiece_mm: ArrayLike, barlow: ArrayLike = 1.0
) -> Floats:
    """How many times larger: focal length times Barlow factor over the eyepiece's."""
    eyepiece = _array(eyepiece_mm)
    if np.any(~(eyepiece > 0)):
        raise AxletreeError("the eyepiece's focal length must be greater than 0 mm")
    return np.asarray(_array(focal_length_mm) * _array(barlow) / eyepiece)


def exit_pupil_mm(aperture_mm: ArrayLike, power: ArrayLike) -> Floats:
    """Width of the beam that leaves the eyepiece: aperture over magnification."""
    return np.asarray(_array(aperture_mm) / _array(power))


def true_field_deg(
    focal_length_mm: ArrayLike,
    eyepiece_mm: ArrayLike,
    apparent_field_deg: ArrayLike,
    field_stop_mm: ArrayLike | None = None,
    barlow: ArrayLike = 1.0,
) -> Floats:
    """Diameter of sky in the eyepiece, in degrees.

    From the field stop, 2 atan(stop / 2F), where it is known (nan: not known); otherwise
    apparent field over magnification, the trade's rule, which is good to a few per cent.
    """
    length = _array(focal_length_mm) * _array(barlow)
    by_rule = _array(apparent_field_deg) / magnification(length, eyepiece_mm)
    if field_stop_mm is None:
        return np.asarray(by_rule)
    stop = _array(field_stop_mm)
    return np.asarray(np.where(np.isnan(stop), by_rule, 2.0 * np.arctan(stop / 2 / length) / _DEG))


def dawes_limit_arcsec(aperture_mm: ArrayLike) -> Floats:
    """Closest pair of equal stars that can be told apart. W. R. Dawes 1867: 4.56"/inch, 116/D."""
    return np.asarray(116.0 / _array(aperture_mm))


def rayleigh_limit_arcsec(aperture_mm: ArrayLike, wavelength_nm: ArrayLike = 550.0) -> Floats:
    """Radius of the first dark ring, 1.22 lambda / D (Lord Rayleigh 1879), in arcseconds."""
    return np.asarray(1.22 * _array(wavelength_nm) * 1e-6 / _array(aperture_mm) / _ARCSEC)


def limiting_magnitude(aperture_mm: ArrayLike, rule: str = "millimetres") -> Floats:
    """Faintest star under a dark sky by a rule of the trade, good to a magnitude at best.

    `rule` "millimetres" is 2 + 5 log10 D (D in mm), "inches" 9.1 + 5 log10 D (D in inches).
    """
    aperture = _array(aperture_mm)
    if rule == "millimetres":
        return np.asarray(2.0 + 5.0 * np.log10(aperture))
    if rule == "inches":
        return np.asarray(9.1 + 5.0 * np.log10(aperture / 25.4))
    raise AxletreeError(f"rule '{rule}' for the limiting magnitude; there are millimetres, inches")


def pixel_scale_arcsec(pixel_um: ArrayLike, focal_length_mm: ArrayLike) -> Floats:
    """Sky on one pixel at the middle of the picture, in arcseconds."""
    return np.asarray(_array(pixel_um) * 1e-3 / _array(focal_length_mm) / _ARCSEC)


def drift_arcsec_per_s(
    declination_deg: ArrayLike, rate_arcsec_per_s: ArrayLike = SIDEREAL_RATE_ARCSEC_PER_S
) -> Floats:
    """How fast an object crosses a field at rest, in arcseconds of the sky per second."""
    return np.asarray(_array(rate_arcsec_per_s) * np.cos(_array(declination_deg) * _DEG))


def drift_to_edge_s(
    radius_deg: ArrayLike,
    declination_deg: ArrayLike,
    rate_arcsec_per_s: ArrayLike = SIDEREAL_RATE_ARCSEC_PER_S,
) -> Floats:
    """Seconds from the middle of a field at rest to `radius_deg` from it; inf: never leaves.

    Exact on the sphere: sin(r/2) = cos(dec) sin(turn/2); close to the pole a star circles
    within the field. A rate of 0 (the field follows) gives inf.
    """
    half = np.sin(_array(radius_deg) * _DEG / 2.0)
    circle = np.cos(_array(declination_deg) * _DEG)
    leaves = half < circle
    ratio = np.where(leaves, half / np.where(leaves, circle, 1.0), 0.0)
    turn_arcsec = 2.0 * np.arcsin(ratio) / _ARCSEC
    rate = np.abs(_array(rate_arcsec_per_s))
    moving = leaves & (rate > 0.0)
    return np.asarray(np.where(moving, turn_arcsec / np.where(rate > 0.0, rate, 1.0), np.inf))


def drift_time_s(
    field_deg: ArrayLike,
    declination_deg: ArrayLike,
    rate_arcsec_per_s: ArrayLike = SIDEREAL_RATE_ARCSEC_PER_S,
) -> Floats:
    """Seconds from edge to edge through the middle of a field at rest; inf: never leaves."""
    return 2.0 * drift_to_edge_s(_array(field_deg) / 2.0, declination_deg, rate_arcsec_per_s)
