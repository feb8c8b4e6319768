"""When does a double star show as two?

Public: ``short_blur_arcsec``, ``pair_needs_arcsec``, ``clearly_apart_mag``.

Three things must part the two stars: the aperture, the air and the eye. The air blurs what the eye
follows from moment to moment less than a long exposure, for the eye takes no part in the slow
wandering of the whole picture.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats
from axletree.sky.contrast import Experience

# Separations at which refractors showed a pair, in arcseconds for an aperture of one inch, by
# difference of magnitude: equal stars after W. R. Dawes 1867, unequal ones after T. Lewis 1914,
# The Observatory 37, 378 (from memory).
_LEWIS_MAG = (0.0, 0.7, 3.3, 5.7)
_LEWIS_ARCSEC_INCH = (4.56, 4.8, 16.5, 36.0)
# Separations, in widths (FWHM) of a round Gaussian seeing disc, at which the fainter of two such
# discs makes a peak of its own, by whole magnitudes of difference.
_BLURRED_APART = (0.849, 1.170, 1.349, 1.494, 1.622, 1.736, 1.842, 1.940, 2.033, 2.120, 2.204)
# The angle at which an eye sees two stars as two: common practice, no source.
EYE_PARTS_ARCSEC: dict[Experience, float] = {"newcomer": 240.0, "practised": 180.0, "expert": 120.0}
_WAVELENGTH_MM = 5.5e-4
_ARCSEC = np.pi / 648000.0


def short_blur_arcsec(aperture_mm: ArrayLike, seeing_arcsec: ArrayLike) -> Floats:
    """Width of a star as the air blurs it from moment to moment, its wandering taken away.

    `seeing_arcsec` is that of long exposures, 0.98 wavelength / r0. D. L. Fried 1966, JOSA 56,
    1372: without the tilt the blur falls by (1 - (r0 / D)^(1/3))^(3/5); none is left below
    D = r0, where the aperture alone decides. Broadcasts.
    """
    seeing = np.asarray(seeing_arcsec, dtype=np.float64)
    with np.errstate(divide="ignore"):
        r0_mm = 0.98 * _WAVELENGTH_MM / (seeing * _ARCSEC)
    left = 1.0 - (r0_mm / np.asarray(aperture_mm, dtype=np.float64)) ** (1.0 / 3.0)
    return np.asarray(seeing * np.maximum(left, 0.0) ** 0.6)


def pair_needs_arcsec(
    aperture_mm: ArrayLike, seeing_arcsec: ArrayLike, difference_mag: ArrayLike
) -> Floats:
    """Separation from which a pair shows as two stars: the aperture's or the air's need.

    The aperture's is Dawes' limit for equal stars and grows after Lewis with the difference of
    magnitude; the air's is that of two blurred discs. The larger of both. Broadcasts; beyond
    5.7 (10) magnitudes both go on growing as they do before.
    """
    dm = np.abs(np.asarray(difference_mag, dtype=np.float64))
    slope = np.log(_LEWIS_ARCSEC_INCH[3] / _LEWIS_ARCSEC_INCH[2]) / (_LEWIS_MAG[3] - _LEWIS_MAG[2])
    log_inch = np.interp(dm, _LEWIS_MAG, np.log(_LEWIS_ARCSEC_INCH))
    log_inch = log_inch + slope * np.maximum(dm - _LEWIS_MAG[3], 0.0)
    by_aperture = np.exp(log_inch) * 25.4 / np.asarray(aperture_mm, dtype=np.float64)
    widths = np.interp(dm, range(len(_BLURRED_APART)), _BLURRED_APART)
    widths = widths + 0.085 * np.maximum(dm - (len(_BLURRED_APART) - 1), 0.0)
    return np.asarray(
        np.maximum(by_aperture, widths * short_blur_arcsec(aperture_mm, seeing_arcsec))
    )


def clearly_apart_mag(
    kit: Kit, separation_arcsec: Floats, difference_mag: Floats, magnification: Floats
) -> Floats:
    """How clearly pairs (n,) stand apart at each power, (e, n), in magnitudes.

    A factor of two over what the aperture, the air and the eye need counts 1.5.
    """
    needed = pair_needs_arcsec(kit.tube.aperture_mm, kit.site.seeing_arcsec, difference_mag)
    at_eye = separation_arcsec * magnification[:, np.newaxis]
    eye = EYE_PARTS_ARCSEC[kit.habits.observer]
    return np.asarray(5.0 * np.log10(np.minimum(separation_arcsec / needed, at_eye / eye)))
