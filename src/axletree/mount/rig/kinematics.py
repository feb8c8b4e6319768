"""Where does every part stand when the axes turn, and how must they turn to reach an object?

Two angles say how the rig stands:

  tube_end_h   hour angle, on the mount's own axis, to which the tube's end of the declination
               axis points: 0 straight up over the polar axis (weights down), +6 west, -6 east
  swing_deg    turn of the tube about the declination axis, from looking along the polar axis to
               the elevated pole; positive towards z cross x of the POLAR frame (in the north 6 h
               before the tube's end of the axis, in the south 6 h after it); -180 to 180

Tube side: with H the object's hour angle, the tube's end of the declination axis points to
H - 6 h for side 'east', H + 6 h for side 'west', in both hemispheres. Side is an array of +1
(east) and -1 (west), or the word.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import (
    azimuth_altitude_from_vector,
    cross,
    hour_angle_from_vector,
    polar_axis,
    rotate_about,
    vector_from_hour_angle,
    wrap_h,
)

if TYPE_CHECKING:
    from axletree.mount.rig.parts import Rig


EAST, WEST = 1, -1
SIDES = (EAST, WEST)
SIDE_WORDS = {EAST: "east", WEST: "west"}


def side_sign(side: ArrayLike | str) -> NDArray[np.int64]:
    """+1 for 'east', -1 for 'west', from words or from such numbers."""
    words = np.asarray(side)
    if words.dtype.kind in "US":
        if not np.isin(words, ("east", "west")).all():
            raise AxletreeError(f"tube side {side!r} is not known; write 'east' or 'west'")
        return np.where(words == "east", EAST, WEST)
    return np.where(words >= 0, EAST, WEST)


@dataclass(frozen=True)
class Axes:
    """The polar axis as it stands, and the two faults of the axes' own angles.

    `cone_arcmin` tilts the tube from square to the declination axis towards the tube's end of
    it; `lean_arcmin` tilts that end of the declination axis towards the elevated pole. Hour
    angles on the axis count from `meridian`, the true meridian's equator point carried along
    with the axis by the shortest turn, so that small axis errors read as in the textbooks.
    """

    latitude_deg: float
    pole: Floats  # (3,) unit vector of the axis, to the elevated pole
    meridian: Floats  # (3,) hour angle 0 on the axis's own equator
    west: Floats  # (3,) hour angle +6 h
    cone_arcmin: float = 0.0
    lean_arcmin: float = 0.0

    @property
    def sense(self) -> int:
        """+1 where the north pole is the elevated one (the equator counts as north), else -1."""
        return 1 if self.latitude_deg >= 0 else -1

    @property
    def altitude_deg(self) -> float:
        """Altitude of the axis."""
        return float(azimuth_altitude_from_vector(self.pole)[1])

    @property
    def azimuth_deg(self) -> float:
        """True azimuth of the axis."""
        return float(azimuth_altitude_from_vector(self.pole)[0])


def align(
    latitude_deg: float,
    *,
    high_arcmin: float = 0.0,
    east_arcmin: float = 0.0,
    pole_altitude_deg: float | None = None,
    cone_arcmin: float = 0.0,
    lean_arcmin: float = 0.0,
) -> Axes:
    """The axes of a mount at a latitude (south negative), with its axis error and other faults."""
    if not -90.0 <= latitude_deg <= 90.0:
        raise AxletreeError(f"latitude {latitude_deg} is not between -90 and 90 degrees")
    sense = 1.0 if latitude_deg >= 0 else -1.0
    true = polar_axis(latitude_deg)
    pole = polar_axis(latitude_deg, high_arcmin, east_arcmin, pole_altitude_deg)
    meridian = vector_from_hour_angle(0.0, 0.0, latitude_deg)
    turn = cross(true, pole)
    size = float(np.linalg.norm(turn))
    if size > 0.0:
        angle = math.degrees(math.atan2(size, float(true @ pole)))
        meridian = rotate_about(meridian, turn, angle)
    west = sense * cross(meridian, pole)
    return Axes(latitude_deg, pole, meridian, west, cone_arcmin, lean_arcmin)


def _equator(axes: Axes, hour_h: Floats) -> Floats:
    """Unit vectors on the axis's own equator at an hour angle."""
    h = hour_h[..., np.newaxis] * (math.pi / 12.0)
    return np.asarray(np.cos(h) * axes.meridian + np.sin(h) * axes.west)


def frames(axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike) -> tuple[Floats, Floats]:
    """Rotation matrices (..., 3, 3) of the POLAR and the DECLINATION frame.

    Their columns are the frames' x, y, z in local coordinates, so that a part's place is
    `crossing + matrix @ point`. POLAR: x the tube's end of the declination axis (D), z the axis
    (P), y = z cross x (Q). The tube looks along sin(swing) Q + cos(swing) P, before its cone.
    """
    h, swing = np.broadcast_arrays(
        np.asarray(tube_end_h, dtype=np.float64), np.asarray(swing_deg, dtype=np.float64)
    )
    i = math.radians(axes.lean_arcmin / 60.0)
    c = math.radians(axes.cone_arcmin / 60.0)
    e = _equator(axes, h)
    P = np.broadcast_to(axes.pole, e.shape)
    Q = cross(P, e)
    D = math.cos(i) * e + math.sin(i) * P
    Z = math.cos(i) * P - math.sin(i) * e
    psi = np.radians(swing)[..., np.newaxis]
    T0 = np.sin(psi) * Q + np.cos(psi) * Z
    U = np.cos(psi) * Q - np.sin(psi) * Z
    T = math.cos(c) * T0 + math.sin(c) * D
    X = math.cos(c) * D - math.sin(c) * T0
    return np.stack((D, Q, Z), axis=-1), np.stack((X, U, T), axis=-1)


def direction(axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike) -> Floats:
    """Where the tube looks: local unit vectors (..., 3) for the two axis angles."""
    return np.asarray(frames(axes, tube_end_h, swing_deg)[1][..., 2])


def pointing(
    axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike
) -> tuple[NDArray[np.int64], Floats, Floats]:
    """Tube side (+1 east, -1 west), hour angle (h) and declination (deg) that the tube looks at.

    The sky's own hour angle and declination, whatever the faults of the axis. A swing of exactly
    0 or 180 counts as side east.
    """
    H, d = hour_angle_from_vector(direction(axes, tube_end_h, swing_deg), axes.latitude_deg)
    swing = np.asarray(swing_deg, dtype=np.float64)
    folded = 180.0 - np.mod(180.0 - swing, 360.0)
    on_pole = (folded == 0.0) | (folded == 180.0)
    side = np.where(on_pole | (folded * axes.sense < 0), EAST, WEST)
    return np.broadcast_to(side, H.shape), H, d


def axis_angles_of_vector(
    axes: Axes, side: ArrayLike | str, vector: ArrayLike
) -> tuple[Floats, Floats]:
    """`tube_end_h` and `swing_deg` that point the tube along local unit vectors (..., 3).

    Exact, cone and lean included. A tube that is not square to its axes cannot look closer to
    the axis than |cone - lean|; there the nearest reachable swing comes back.
    """
    t = np.asarray(vector, dtype=np.float64)
    sign = side_sign(side)
    s = axes.sense
    i = math.radians(axes.lean_arcmin / 60.0)
    c = math.radians(axes.cone_arcmin / 60.0)
    tP, tM, tW = t @ axes.pole, t @ axes.meridian, t @ axes.west
    across2 = tM * tM + tW * tW
    # cos(swing) = (t.P - sin c sin i) / (cos c cos i), written without cancellation at the poles.
    near = np.where(tP > 0.0, across2 / (1.0 + np.abs(tP)), 1.0 - tP)
    far = np.where(tP < 0.0, across2 / (1.0 + np.abs(tP)), 1.0 + tP)
    less = near - 2.0 * math.sin((c - i) / 2.0) ** 2
    more = far - 2.0 * math.sin((c + i) / 2.0) ** 2
    q = tP - math.sin(c) * math.sin(i)
    psi = np.arctan2(np.sqrt(np.maximum(less, 0.0) * np.maximum(more, 0.0)), q)
    psi = np.where(sign * s > 0, -psi, psi)
    along = -math.cos(c) * math.sin(i) * np.cos(psi) + math.sin(c) * math.cos(i)
    alpha = np.arctan2(math.cos(c) * np.sin(psi), along)
    # Q lies 6 h before the tube's end in the north, 6 h after it in the south.
    H = np.arctan2(tW, tM)
    return wrap_h((H + s * alpha) * (12.0 / math.pi)), np.asarray(np.degrees(psi))


def axis_angles(
    axes: Axes, side: ArrayLike | str, hour_angle_h: ArrayLike, declination_deg: ArrayLike
) -> tuple[Floats, Floats]:
    """`tube_end_h` (-12, 12] and `swing_deg` for objects at an hour angle and declination."""
    return axis_angles_of_vector(
        axes, side, vector_from_hour_angle(hour_angle_h, declination_deg, axes.latitude_deg)
    )


def circle_readings(
    axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike
) -> tuple[Floats, Floats]:
    """Hour angle (-12, 12] and declination that perfect circles on these axes show.

    The hour circle counts for the tube side that the swing belongs to: a circle set to the hour
    angle on one side reads it 12 h off on the other.
    """
    swing = np.asarray(swing_deg, dtype=np.float64)
    folded = 180.0 - np.mod(180.0 - swing, 360.0)
    side = np.where(folded * axes.sense <= 0, EAST, WEST)
    return wrap_h(np.asarray(tube_end_h) + 6.0 * side), axes.sense * (90.0 - np.abs(folded))


def weights_up(axes: Axes, tube_end_h: ArrayLike) -> NDArray[np.bool_]:
    """True where the weights are above the tube: its end of the axis points below the horizon."""
    h = np.asarray(tube_end_h, dtype=np.float64)
    i = math.radians(axes.lean_arcmin / 60.0)
    up = math.cos(i) * _equator(axes, h)[..., 2] + math.sin(i) * axes.pole[2]
    return np.asarray(up < -1e-9)


def crossing_m(rig: Rig, axes: Axes) -> Floats:
    """Where the two axes cross, in local coordinates (3,) from the ground below the tripod."""
    P, A = axes.pole, _upward(axes)
    hinge = np.array([0.0, 0.0, rig.hinge_height_m])
    return np.asarray(hinge + rig.crossing_along_m * P + rig.crossing_above_m * A)


def _upward(axes: Axes) -> Floats:
    """Square to the polar axis, in its vertical plane, upwards."""
    az, alt = np.radians(axes.azimuth_deg), np.radians(axes.altitude_deg)
    if abs(axes.pole[2]) > 1.0 - 1e-12:
        az = np.radians(0.0 if axes.sense > 0 else 180.0)
    return np.array([-np.sin(az) * np.sin(alt), -np.cos(az) * np.sin(alt), np.cos(alt)])


def head_frame(axes: Axes) -> Floats:
    """Rotation matrix (3, 3) of the HEAD frame: columns x upwards, y, z along the polar axis."""
    A = _upward(axes)
    return np.stack((A, cross(axes.pole, A), axes.pole), axis=-1)


def place(
    rig: Rig, axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike, points: ArrayLike
) -> Floats:
    """Local coordinates (..., n, 3) of one point a part, given in its frame's coordinates (n, 3).

    With `rig.start_m`, `rig.end_m` or `rig.centre_m`: ends and centres of mass of all parts in
    every pose. The ground is z = 0 below the tripod's middle, x east, y north.
    """
    polar, declination = frames(axes, tube_end_h, swing_deg)
    own = np.asarray(points, dtype=np.float64)
    cross = crossing_m(rig, axes)
    out = np.empty((*polar.shape[:-2], len(own), 3))
    ground, head, turning, tube = (rig.frame == f for f in range(4))
    out[..., ground, :] = own[ground]
    out[..., head, :] = cross + own[head] @ head_frame(axes).T
    out[..., turning, :] = cross + np.einsum("...ij,nj->...ni", polar, own[turning])
    out[..., tube, :] = cross + np.einsum("...ij,nj->...ni", declination, own[tube])
    return out


def placed(
    rig: Rig, axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike
) -> tuple[Floats, Floats]:
    """Both ends of every part's rod in local coordinates: two arrays (..., n, 3), metres."""
    return (
        place(rig, axes, tube_end_h, swing_deg, rig.start_m),
        place(rig, axes, tube_end_h, swing_deg, rig.end_m),
    )


def centres_of_mass(rig: Rig, axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike) -> Floats:
    """Centre of mass of every part in local coordinates (..., n, 3), metres; see `rig.mass_kg`."""
    return place(rig, axes, tube_end_h, swing_deg, rig.centre_m)
