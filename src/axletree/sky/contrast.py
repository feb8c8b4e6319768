"""How faint a thing can the eye make out against the sky, bare and through a telescope?

Public: ``luminance_cd_m2``, ``brightness_mag_arcsec2``, ``threshold_contrast``,
``magnitude_margin``, ``point_limit_mag``, ``Optics``, ``at_the_eye``, ``FIELD_FACTOR``,
``naked_eye_limit_mag``, ``sky_from_naked_eye_limit``.

Source of the threshold: A. Crumey 2014, "Human contrast threshold and astronomical visibility",
MNRAS 442, 2600, equations 28, 39, 41-44, 66 and 77, fitted there to H. R. Blackwell 1946, JOSA
36, 624. Areas are steradians throughout.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.optics import DARK_PUPIL_MM

Experience = Literal["newcomer", "practised", "expert"]

# Crumey's F multiplies the laboratory threshold. He quotes 2.4 as typical of what people see
# without effort; the steps of a factor 1.5 (0.44 mag) to either side are ours, not his.
FIELD_FACTOR: dict[Experience, float] = {"newcomer": 3.6, "practised": 2.4, "expert": 1.6}

# The fitted curves have no absolute threshold of their own: behind a dark eyepiece the eye's own
# noise takes the sky's place. A millionth of a foot-lambert is ours; with F 1.4 it gives 8.5 mag,
# the faintest stars reported through a hole in a black screen (H. N. Russell 1917, ApJ 45, 60,
# after H. D. Curtis; from memory).
DARKEST_BACKGROUND_CD_M2 = 3.4e-6

ARCSEC2_SR = (np.pi / 648000.0) ** 2
ARCMIN2_SR = (np.pi / 10800.0) ** 2
# Magnitude of one lux, consistent with 12.58 mag/arcsec2 for 1 cd/m2.
_LUX_MAG = 12.58 + 2.5 * np.log10(ARCSEC2_SR)

_A = (5.949e-8, -2.389e-7, 2.459e-7, 4.120e-4, -4.225e-4)
_B = (9.606e-6, -6.337e-5, 1.092e-4, 5.791e-3, -6.177e-3)


def luminance_cd_m2(mag_arcsec2: ArrayLike) -> Floats:
    """Luminance of a surface brightness. Crumey 2014: B = 10^((12.58 - mu) / 2.5)."""
    return np.asarray(10.0 ** ((12.58 - np.asarray(mag_arcsec2, dtype=np.float64)) / 2.5))


def ricco_sr(B_cd_m2: ArrayLike) -> Floats:
    """R(B): threshold contrast times area of a small target, in steradians (F = 1)."""
    x = np.asarray(B_cd_m2, dtype=np.float64) ** -0.25
    a1, a2, a3, a4, a5 = _A
    return np.asarray((np.sqrt(a1 * x * x + a2 * x + a3) + a4 * x + a5) ** 2)


def large_target_contrast(B_cd_m2: ArrayLike) -> Floats:
    """C_inf(B): threshold contrast of a very large target (F = 1)."""
    x = np.asarray(B_cd_m2, dtype=np.float64) ** -0.25
    b1, b2, b3, b4, b5 = _B
    return np.asarray(np.sqrt(b1 * x * x + b2 * x + b3) + b4 * x + b5)


def bend(B_cd_m2: ArrayLike) -> Floats:
    """q(B): how sharply the small-target law bends into the large-target one."""
    B = np.asarray(B_cd_m2, dtype=np.float64)
    log_B = np.log10(B)
    middle, bright = 0.8861 + 0.4 * log_B, 1.146 - 0.0885 * log_B
    return np.asarray(np.where(B < 0.193, 0.6, np.where(B < 3.426, middle, bright)))


def threshold_contrast(
    B_cd_m2: ArrayLike, area_sr: ArrayLike, field_factor: ArrayLike = 1.0
) -> Floats:
    """Least contrast (object/sky) at which a target of this area can be made out.

    `B_cd_m2` is the background and `area_sr` the target's area, both as the eye meets them.
    Backgrounds below `DARKEST_BACKGROUND_CD_M2` count as that. Broadcasts.
    """
    B = np.maximum(np.asarray(B_cd_m2, dtype=np.float64), DARKEST_BACKGROUND_CD_M2)
    A = np.asarray(area_sr, dtype=np.float64)
    F = np.asarray(field_factor, dtype=np.float64)
    q = bend(B)
    # C = F ((R/A)^q + C_inf^q)^(1/q)
    return np.asarray(F * ((ricco_sr(B) / A) ** q + large_target_contrast(B) ** q) ** (1.0 / q))


def naked_eye_limit_mag(sky_mag_arcsec2: ArrayLike, field_factor: ArrayLike = 1.0) -> Floats:
    """Faintest star for the bare eye under this sky: the small-target end of the threshold.

    Agrees with Crumey's straight line for 20-22 mag/arcsec2 (see `sky_from_naked_eye_limit`) and
    with his other one, 0.426 mu - 2.365 - 2.5 log10 F, from 21 on, within 0.05 mag.
    """
    B = np.maximum(luminance_cd_m2(sky_mag_arcsec2), DARKEST_BACKGROUND_CD_M2)
    illuminance_lux = np.asarray(field_factor, dtype=np.float64) * ricco_sr(B) * B
    return np.asarray(_LUX_MAG - 2.5 * np.log10(illuminance_lux))


def sky_from_naked_eye_limit(limit_mag: ArrayLike, field_factor: ArrayLike = 1.0) -> Floats:
    """Sky brightness (mag/arcsec2) at which this is the faintest star seen by this observer.

    Crumey 2014, his straight line for 20-22 mag/arcsec2, m = 0.3834 mu - 1.4400 - 2.5 log10 F
    (from memory; within 0.04 mag of the threshold above). Below 20 it is stretched, and the
    answer is kept within 16 and 22.
    """
    m = np.asarray(limit_mag, dtype=np.float64)
    mu = (m + 1.44 + 2.5 * np.log10(np.asarray(field_factor, dtype=np.float64))) / 0.3834
    return np.asarray(np.clip(mu, 16.0, 22.0))


@dataclass(frozen=True)
class Optics:
    """One way of looking: arrays or numbers that broadcast, one entry an eyepiece.

    `transmission` is the fraction of light that the tube passes (mirrors, glass and the area
    that a secondary mirror takes away). The bare eye is `Optics(DARK_PUPIL_MM, 1.0, 1.0)`.
    """

    aperture_mm: float
    magnification: ArrayLike
    transmission: ArrayLike
    eye_pupil_mm: float = DARK_PUPIL_MM

    @property
    def exit_pupil_mm(self) -> Floats:
        """Width of the beam that leaves the eyepiece."""
        return np.asarray(self.aperture_mm / np.asarray(self.magnification, dtype=np.float64))

    @property
    def filling(self) -> Floats:
        """Share of the eye pupil's area that the beam fills, at most 1."""
        return np.asarray(np.minimum(self.exit_pupil_mm / self.eye_pupil_mm, 1.0) ** 2)


def at_the_eye(
    sky_mag_arcsec2: ArrayLike, area_sr: ArrayLike, optics: Optics
) -> tuple[Floats, Floats]:
    """Background luminance (cd/m2) and target area (sr) as the eye meets them.

    Crumey 2014: B_a = (exit pupil / eye pupil)^2 B t, A_a = A M^2. The contrast of an extended
    object with its sky is the same before and behind the telescope.
    """
    M = np.asarray(optics.magnification, dtype=np.float64)
    t = np.asarray(optics.transmission, dtype=np.float64)
    B_a = optics.filling * luminance_cd_m2(sky_mag_arcsec2) * t
    return B_a, np.asarray(np.asarray(area_sr, dtype=np.float64) * M * M)


def magnitude_margin(
    object_mag_arcsec2: ArrayLike,
    sky_mag_arcsec2: ArrayLike,
    area_sr: ArrayLike,
    optics: Optics,
    field_factor: ArrayLike,
) -> Floats:
    """By how many magnitudes an extended object stands above the threshold (negative: below).

    `object_mag_arcsec2` is the object's own mean surface brightness after extinction,
    `sky_mag_arcsec2` the sky's at that place, both outside the telescope; `area_sr` the
    object's true area. Broadcasts over objects, instants and eyepieces.
    """
    B_a, A_a = at_the_eye(sky_mag_arcsec2, area_sr, optics)
    difference = np.asarray(sky_mag_arcsec2) - np.asarray(object_mag_arcsec2)
    return np.asarray(difference - 2.5 * np.log10(threshold_contrast(B_a, A_a, field_factor)))


def point_limit_mag(
    sky_mag_arcsec2: ArrayLike,
    optics: Optics,
    field_factor: ArrayLike,
    seeing_arcsec: ArrayLike = 0.0,
) -> Floats:
    """Faintest star through the telescope, before extinction.

    The star is a target as large as its seeing disc: at high power that disc outgrows what the
    eye adds up, and the gain of a darker background stops. Broadcasts.
    """
    s = np.maximum(np.asarray(seeing_arcsec, dtype=np.float64), 0.1)
    area = np.pi / 4.0 * s * s * ARCSEC2_SR
    B_a, A_a = at_the_eye(sky_mag_arcsec2, area, optics)
    B = np.maximum(B_a, DARKEST_BACKGROUND_CD_M2)
    lux_at_eye = threshold_contrast(B, A_a, field_factor) * A_a * B
    t = np.asarray(optics.transmission, dtype=np.float64)
    M = np.asarray(optics.magnification, dtype=np.float64)
    # All light of the beam that fits the eye pupil lands on M^2 times the area: gain in lux.
    gain = optics.filling * M * M * t
    return np.asarray(_LUX_MAG - 2.5 * np.log10(lux_at_eye / gain))
