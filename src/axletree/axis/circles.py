"""What do the circles of an imperfect mount show when the tube points at a star?

Two faults besides the axis error: `cone`, by which the tube leans out from the square to the
declination axis, towards the tube's end of it; and `lean`, by which the tube's end of the
declination axis leans to the north from the square to the polar axis. With side = +1 for tube
side east and -1 for west, reading minus true is, to first order,
side (cone sec d - lean tan d) in hour angle. Both circles have an index error: shown minus right.

A circle measures the angle of its shaft. The declination shaft stands at d on side east; to reach
the same star on side west the hour shaft turns half round and the declination shaft goes on over
the pole, to 180 degrees - d. A circle that slipped by e therefore shows d + e on side east and
180 degrees - d + e, which is read as d - e, on side west: counted in declination its index error
changes sign with the side. The hour circle, whose shaft turned by 12 h, keeps its own.
Classic texts: W. Chauvenet 1876, A Manual of Spherical and Practical Astronomy, vol. 2 pp. 367-390
(not read here; the relations are re-derived and exact); of the slipped circle J. N. Lockyer 1878,
Stargazing: Past and Present, ch. XXI: the half difference of both sides is the index error.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_h

_DEG = np.pi / 180.0
_ARCMIN = _DEG / 60.0
_HOUR = np.pi / 12.0


def side_signs(sides: ArrayLike) -> Floats:
    """+1 for tube side 'east', -1 for 'west'; refuses anything else."""
    words = np.atleast_1d(np.asarray(sides))
    signs = np.where(words == "east", 1.0, np.where(words == "west", -1.0, 0.0))
    if np.any(signs == 0.0):
        raise AxletreeError(f"tube side '{words[signs == 0.0][0]}' is neither 'east' nor 'west'")
    return signs


def circle_readings(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    side: ArrayLike,
    cone_arcmin: ArrayLike = 0.0,
    lean_arcmin: ArrayLike = 0.0,
    index_hour_arcmin: ArrayLike = 0.0,
    index_declination_arcmin: ArrayLike = 0.0,
) -> tuple[Floats, Floats]:
    """Hour circle (h) and declination circle (degrees) when the tube is on a star.

    `hour_angle_h`, `declination_deg`: of the star about the mount's own axis (`mount_angles`).
    `side`: +1 for tube side east, -1 for west. The hour circle's index error is an angle of the
    circle, in arcminutes (15 to a minute of time). The declination circle's counts as it shows on
    tube side east; on side west it shows as much to the other side. Past its mark of 90 the
    circle is counted on, above 90 or below -90. nan where the tube can't reach the star because
    of its faults. Everything broadcasts.
    """
    d = np.asarray(declination_deg, dtype=np.float64) * _DEG
    c = np.asarray(cone_arcmin, dtype=np.float64) * _ARCMIN
    i = np.asarray(lean_arcmin, dtype=np.float64) * _ARCMIN
    # T . D = sin c, with the declination axis D = cos i (side 6 h east) + sin i (north).
    across = (np.sin(c) - np.sin(d) * np.sin(i)) / (np.cos(i) * np.cos(d))
    along = (np.sin(d) - np.sin(i) * np.sin(c)) / (np.cos(i) * np.cos(c))
    reach = (np.abs(across) <= 1.0) & (np.abs(along) <= 1.0)
    sign = np.asarray(side)
    turned = sign * np.arcsin(np.clip(across, -1.0, 1.0)) / _HOUR
    shown_h = np.asarray(hour_angle_h) + turned + np.asarray(index_hour_arcmin) / 900.0
    shown_deg = np.arcsin(np.clip(along, -1.0, 1.0)) / _DEG + (
        sign * np.asarray(index_declination_arcmin) / 60.0
    )
    return wrap_h(np.where(reach, shown_h, np.nan)), np.where(reach, shown_deg, np.nan)


def pointed_angles(
    shown_hour_h: ArrayLike,
    shown_declination_deg: ArrayLike,
    side: ArrayLike,
    cone_arcmin: ArrayLike = 0.0,
    lean_arcmin: ArrayLike = 0.0,
    index_hour_arcmin: ArrayLike = 0.0,
    index_declination_arcmin: ArrayLike = 0.0,
) -> tuple[Floats, Floats]:
    """Hour angle (h) and declination (degrees) about the mount's axis at which the tube points.

    The inverse of `circle_readings`: what the circles show goes in.
    """
    sign = np.asarray(side)
    t = np.asarray(shown_hour_h, dtype=np.float64) - np.asarray(index_hour_arcmin) / 900.0
    e = np.asarray(shown_declination_deg) - sign * np.asarray(index_declination_arcmin) / 60.0
    d = np.asarray(e, dtype=np.float64) * _DEG
    c = np.asarray(cone_arcmin, dtype=np.float64) * _ARCMIN
    i = np.asarray(lean_arcmin, dtype=np.float64) * _ARCMIN
    # In the frame that turns with the hour axis: ahead, towards the tube's end, north.
    ahead = np.cos(c) * np.cos(d)
    outward = np.sin(c) * np.cos(i) - np.cos(c) * np.sin(d) * np.sin(i)
    north = np.cos(c) * np.sin(d) * np.cos(i) + np.sin(c) * np.sin(i)
    H = t - sign * np.arctan2(outward, ahead) / _HOUR
    return wrap_h(H), np.arctan2(north, np.hypot(ahead, outward)) / _DEG


def folded_deg(counted_deg: ArrayLike) -> Floats:
    """What a declination circle says that is graduated to 90 both ways: within -90 and 90.

    Past its mark of 90 the shaft is beyond the pole and the numbers fall again.
    """
    turned = np.mod(np.asarray(counted_deg, dtype=np.float64) + 90.0, 360.0)
    return np.asarray(np.where(turned <= 180.0, turned - 90.0, 270.0 - turned))
