"""Which leg of the tripod, and by how much, until the top stands level?

Directions are horizontal angles from the direction of the elevated pole, clockwise seen from
above, as the kit's leg directions are. A tilt has a high side: the direction in which the top
plate rises most steeply; there the bubble goes.

The tripod is taken as braced: while one leg slides out, the other parts turn as one body about
the two other feet, and the sliding foot stays on the line of its own leg.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Tripod
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_360

_DEG = np.pi / 180.0
DIVISION_MM = 2.0  # a vial's sensitivity is the angle for 2 mm of bubble travel (convention)
STEEPEST_DEG = 20.0
READING_DIVISIONS = 0.25  # how well a bubble is read; common practice, no source
INCLINE_READING_DEG = 0.1  # an inclinometer of a telephone; common practice, no source


@dataclass(frozen=True)
class Tilt:
    """How far the top plate leans: `tilt_deg` in all, rising towards `high_side_deg`.

    `sigma_deg` is one standard deviation. `at_least`: the bubble stood at its rim, so that the
    true tilt is this or more.
    """

    tilt_deg: float
    high_side_deg: float
    sigma_deg: float
    at_least: bool = False

    @property
    def towards_pole_deg(self) -> float:
        """Slope of the plate towards the elevated pole, up positive."""
        return _slope_deg(self, 0.0)

    @property
    def to_the_right_deg(self) -> float:
        """Slope of the plate to the right of somebody who faces the pole, up positive."""
        return _slope_deg(self, 90.0)


@dataclass(frozen=True)
class LegChanges:
    """Lengthen each leg by `along_leg_mm` (negative: shorten), measured along the leg.

    Legs in the order of the kit, numbered from 1; `rise_mm` is what the top gains above each
    foot, `sigma_mm` the uncertainty that the reading leaves, `slant_deg` the legs' angle from
    upright. `top_sinks_mm`: how much lower the top ends, 0 unless shortening was allowed.
    """

    along_leg_mm: tuple[float, float, float]
    rise_mm: tuple[float, float, float]
    sigma_mm: float
    slant_deg: float
    top_sinks_mm: float
    tilt: Tilt


def vial_radius_mm(arcmin_per_division: ArrayLike) -> Floats:
    """Radius to which a vial is ground, from its sensitivity in arcminutes per 2 mm."""
    angle = np.asarray(arcmin_per_division, dtype=np.float64) / 60.0 * _DEG
    return np.asarray(DIVISION_MM / angle)


def slope_mm_per_m(angle_deg: ArrayLike) -> Floats:
    """How much a metre rises at this angle."""
    return np.asarray(1000.0 * np.tan(np.asarray(angle_deg, dtype=np.float64) * _DEG))


def tilt_from_bubble(
    divisions: float, towards_deg: float, arcmin_per_division: float, *, at_rim: bool = False
) -> Tilt:
    """The tilt shown by a round bubble that stands `divisions` (of 2 mm) from the middle.

    `towards_deg` is where the bubble went, which is the high side. `at_rim`: it touches its rim
    there, and the tilt is at least this. Refuses negative readings and tilts above 20 degrees.
    """
    if not divisions >= 0.0:
        raise AxletreeError(f"bubble {divisions:g}: give divisions from the middle, 0 or more")
    if not arcmin_per_division > 0.0:
        raise AxletreeError(
            f"sensitivity {arcmin_per_division:g}: give arcminutes for 2 mm of travel, such as 30"
        )
    tilt = divisions * arcmin_per_division / 60.0
    _check(tilt)
    sigma = READING_DIVISIONS * arcmin_per_division / 60.0
    return Tilt(tilt, float(wrap_360(towards_deg)), sigma, at_rim)


def tilt_from_inclines(
    directions_deg: ArrayLike, inclines_deg: ArrayLike, sigma_deg: float = INCLINE_READING_DEG
) -> Tilt:
    """The tilt from two or more inclinometer readings on the top plate, up positive.

    Each reading is the slope in one horizontal direction; tan(reading) is the gradient's part in
    it, so two are solved exactly and more by least squares. Refuses directions that lie along
    one line (less than 10 degrees apart, or 170 to 190).
    """
    a = np.atleast_1d(np.asarray(directions_deg, dtype=np.float64)) * _DEG
    e = np.atleast_1d(np.asarray(inclines_deg, dtype=np.float64))
    if a.size < 2 or a.size != e.size:
        raise AxletreeError("two inclinometer readings in different directions are needed")
    if np.any(~(np.abs(e) <= STEEPEST_DEG)):
        raise AxletreeError(
            f"inclinometer reading {float(e[np.argmax(np.abs(e))]):g}°: more than"
            f" {STEEPEST_DEG:g}° is no tripod that stands; read from level, up positive"
        )
    A = np.column_stack([np.sin(a), np.cos(a)])
    spread = float(np.linalg.svd(A, compute_uv=False)[-1])
    if spread < np.sqrt(2.0) * np.sin(5.0 * _DEG):
        raise AxletreeError(
            "the inclinometer was read along one line; turn it by about 90° for the second reading"
        )
    gradient, *_ = np.linalg.lstsq(A, np.tan(e * _DEG), rcond=None)
    tilt = float(np.arctan(np.hypot(*gradient)) / _DEG)
    _check(tilt)
    high = float(wrap_360(np.arctan2(gradient[0], gradient[1]) / _DEG))
    return Tilt(tilt, high if tilt > 0.0 else 0.0, sigma_deg / spread)


def _check(tilt_deg: float) -> None:
    if not tilt_deg <= STEEPEST_DEG:
        raise AxletreeError(
            f"a tilt of {tilt_deg:.0f}°: above {STEEPEST_DEG:g}° a tripod may topple; set it"
            " down on flatter ground first"
        )


def _slope_deg(tilt: Tilt, direction_deg: float) -> float:
    gradient = np.tan(tilt.tilt_deg * _DEG) * np.cos((direction_deg - tilt.high_side_deg) * _DEG)
    return float(np.arctan(gradient) / _DEG)


def leg_slant_deg(tripod: Tripod) -> float:
    """Angle of the legs from upright, from foot radius, top radius and height of the top."""
    out = tripod.foot_radius_mm - tripod.top_radius_mm
    return float(np.arctan2(out, tripod.top_height_mm) / _DEG)


def leg_changes(
    tilt: Tilt,
    leg_directions_deg: Sequence[float],
    foot_radius_mm: float,
    slant_deg: float,
    *,
    shorten: bool = False,
    extended_mm: Sequence[float] = (0.0, 0.0, 0.0),
) -> LegChanges:
    """How much each leg must change so that the top stands level.

    `extended_mm`: how much longer than drawn (`foot_radius_mm`) each leg is now, along the leg;
    with that the changes are exact. Leg i's foot, at radius R_i, stands
    R_i sin(tilt) cos(a_i - high side) too high against the top, and what its leg is longer adds
    its height times (1 - cos(tilt)); the leg's own line is `slant_deg` from upright, so it is
    lengthened by (highest - own) / cos(slant). Taken as 0, a leg that is longer by e leaves
    about e sin(slant) / R of the tilt (20 mm: 2 %), which the next reading shows.
    With `shorten`, the smallest changes are given instead, some of them negative.
    """
    a = np.asarray(leg_directions_deg, dtype=np.float64)
    if a.shape != (3,):
        raise AxletreeError("a tripod has three leg directions, such as 0, 120, 240")
    if not 0.0 <= slant_deg < 80.0:
        raise AxletreeError(f"legs {slant_deg:.0f}° from upright: this tripod lies flat")
    longer = np.asarray(extended_mm, dtype=np.float64)
    if longer.shape != (3,):
        raise AxletreeError("a tripod has three legs: give three lengths, such as 0, 20, 0")
    lean, slant = tilt.tilt_deg * _DEG, slant_deg * _DEG
    radius = foot_radius_mm + longer * np.sin(slant)
    z = radius * np.sin(lean) * np.cos((a - tilt.high_side_deg) * _DEG)
    z = z + longer * np.cos(slant) * (1.0 - np.cos(lean))
    # Half way between highest and lowest gives the smallest greatest change.
    keep = (z.max() + z.min()) / 2.0 if shorten else z.max()
    rise = keep - z
    along = rise / np.cos(slant_deg * _DEG)
    # The reading's error moves the two feet that are furthest apart against each other most.
    feet = np.column_stack([np.sin(a * _DEG), np.cos(a * _DEG)])
    apart = max(float(np.hypot(*(feet[i] - feet[j]))) for i, j in ((0, 1), (1, 2), (2, 0)))
    sigma = foot_radius_mm * apart * tilt.sigma_deg * _DEG / np.cos(slant_deg * _DEG)
    return LegChanges(
        along_leg_mm=(float(along[0]), float(along[1]), float(along[2])),
        rise_mm=(float(rise[0]), float(rise[1]), float(rise[2])),
        sigma_mm=float(sigma),
        slant_deg=slant_deg,
        top_sinks_mm=float(z.max() - keep),
        tilt=tilt,
    )
