"""Which bolt, which way, how many turns? From an axis error to moves of the head.

The azimuth bolts turn the head about the base's vertical, so they move the axis along the
horizon: an axis that is `east` arcminutes of great circle beside the pole has to be turned by
`east / cos(altitude)`. The two are kept apart by name: `east` is always great circle,
`azimuth` always along the horizon.
"""

from __future__ import annotations

import math
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Bolts
from axletree.sky.arrays import Floats
from axletree.sky.directions import axis_error_arcmin, polar_axis, wrap_180

_DEG = np.pi / 180.0
# Bolt pairs of ordinary heads reach some 5 degrees to each side (common practice, no source).
AZIMUTH_BOLTS_REACH_DEG = 5.0


class Bolt(StrEnum):
    """The bolts of a head: one for the altitude, one or an opposed pair for the azimuth."""

    ALTITUDE = "altitude"
    AZIMUTH = "azimuth"
    EAST_AZIMUTH = "east azimuth"
    WEST_AZIMUTH = "west azimuth"


class BoltAction(StrEnum):
    """What the hand does with a bolt: of an opposed pair one yields before the other pushes."""

    TURN = "turn"
    LOOSEN = "loosen"
    TIGHTEN = "tighten"


@dataclass(frozen=True)
class BoltStep:
    """One step for the hand. `turns` is not negative; `clockwise` seen facing the bolt."""

    verb: BoltAction
    bolt: Bolt
    turns: float
    clockwise: bool


@dataclass(frozen=True)
class BoltMoves:
    """What brings the axis onto the pole.

    `raise_deg`: the axis goes up by this (negative: down). `move_east_deg`: it goes east by this
    along the horizon (negative: west). Turns are signed, positive clockwise on the altitude bolt
    and on the bolt that is tightened; each with one standard deviation. `steps` in order.
    """

    raise_deg: float
    move_east_deg: float
    altitude_turns: float
    altitude_turns_sigma: float
    azimuth_turns: float
    azimuth_turns_sigma: float
    altitude_steps: tuple[BoltStep, ...]
    azimuth_steps: tuple[BoltStep, ...]
    beyond_bolts: bool

    @property
    def steps(self) -> tuple[BoltStep, ...]:
        """Altitude first: moving it disturbs the azimuth less than the other way round."""
        return self.altitude_steps + self.azimuth_steps


@dataclass(frozen=True)
class AxisError:
    """How far the axis points above and east of the pole, great circle, with its uncertainty."""

    high_arcmin: float
    east_arcmin: float
    high_sigma_arcmin: float = 0.0
    east_sigma_arcmin: float = 0.0


def axis_error_from_head_arcmin(
    altitude_error_deg: ArrayLike,
    azimuth_error_east_deg: ArrayLike,
    pole_altitude_deg: ArrayLike,
) -> tuple[Floats, Floats]:
    """`high` and `east` of an axis set too high, and turned too far east along the horizon; exact.

    Both hemispheres: east is east, whichever way the person faces.
    """
    a0 = np.asarray(pole_altitude_deg, dtype=np.float64)
    alt = (a0 + np.asarray(altitude_error_deg, dtype=np.float64)) * _DEG
    az = np.asarray(azimuth_error_east_deg, dtype=np.float64) * _DEG
    axis = np.stack(
        np.broadcast_arrays(np.cos(alt) * np.sin(az), np.cos(alt) * np.cos(az), np.sin(alt)),
        axis=-1,
    )
    return axis_error_arcmin(axis, 0.0, pole_altitude_deg=a0)


def head_turns_deg(
    high_arcmin: ArrayLike,
    east_arcmin: ArrayLike,
    pole_altitude_deg: ArrayLike,
    base_high_deg: ArrayLike = 0.0,
    base_east_deg: ArrayLike = 0.0,
) -> tuple[Floats, Floats]:
    """How far to raise the head and to turn it east, degrees, to bring the axis onto the pole.

    Exact. `base_high_deg`, `base_east_deg`: how far the base's own vertical leans towards the
    elevated pole and to the east (0: level), since the bolts work in the base's frame.
    The turn lies within (-180, 180]; at the zenith every direction of it is as good.
    """
    a0 = np.asarray(pole_altitude_deg, dtype=np.float64)
    # In a frame with the elevated pole to the north both hemispheres are one.
    axis = polar_axis(0.0, high_arcmin, east_arcmin, pole_altitude_deg=a0)
    pole = polar_axis(0.0, 0.0, 0.0, pole_altitude_deg=a0)
    n = np.asarray(base_high_deg, dtype=np.float64) * _DEG
    e = np.asarray(base_east_deg, dtype=np.float64) * _DEG
    up = np.stack(np.broadcast_arrays(np.tan(e), np.tan(n), np.ones(np.shape(n + e))), axis=-1)
    up = up / np.linalg.norm(up, axis=-1, keepdims=True)
    east = np.stack(np.broadcast_arrays(np.cos(e), 0.0 * n, -np.sin(e)), axis=-1)
    north = np.cross(up, east)

    def in_base(v: Floats) -> tuple[Floats, Floats]:
        x = np.sum(v * east, axis=-1)
        y = np.sum(v * north, axis=-1)
        z = np.sum(v * up, axis=-1)
        return np.arctan2(x, y) / _DEG, np.arctan2(z, np.hypot(x, y)) / _DEG

    azimuth, altitude = in_base(axis)
    wanted_azimuth, wanted_altitude = in_base(pole)
    return wanted_altitude - altitude, wrap_180(wanted_azimuth - azimuth)


def bolt_moves(
    bolts: Bolts,
    error: AxisError,
    pole_altitude_deg: float,
    *,
    base_high_deg: float = 0.0,
    base_east_deg: float = 0.0,
) -> BoltMoves:
    """Turns, directions and their order for an axis that is off the pole.

    Of two opposed azimuth bolts the one that gives way is loosened first, by as much as the
    other is then tightened (common practice). `beyond_bolts` says that the tripod should be
    turned instead.
    """
    up, around = (
        float(v)
        for v in head_turns_deg(
            error.high_arcmin, error.east_arcmin, pole_altitude_deg, base_high_deg, base_east_deg
        )
    )
    flat = max(math.cos(math.radians(pole_altitude_deg)), 1e-6)
    altitude_turns = up * bolts.altitude_turns_per_degree
    if bolts.altitude_clockwise == "lowers":
        altitude_turns = -altitude_turns
    azimuth_turns = around * bolts.azimuth_turns_per_degree
    altitude_steps: tuple[BoltStep, ...] = ()
    if altitude_turns:
        altitude_steps = (
            BoltStep(BoltAction.TURN, Bolt.ALTITUDE, abs(altitude_turns), altitude_turns > 0),
        )
    azimuth_steps, signed = _azimuth_steps(bolts, azimuth_turns)
    return BoltMoves(
        raise_deg=up,
        move_east_deg=around,
        altitude_turns=altitude_turns,
        altitude_turns_sigma=error.high_sigma_arcmin / 60.0 * bolts.altitude_turns_per_degree,
        azimuth_turns=signed,
        azimuth_turns_sigma=error.east_sigma_arcmin / 60.0 / flat * bolts.azimuth_turns_per_degree,
        altitude_steps=altitude_steps,
        azimuth_steps=azimuth_steps,
        beyond_bolts=abs(around) > AZIMUTH_BOLTS_REACH_DEG,
    )


def _azimuth_steps(bolts: Bolts, turns_east: float) -> tuple[tuple[BoltStep, ...], float]:
    """Steps that move the axis east by so many turns (negative: west), and signed turns."""
    if turns_east == 0:
        return (), 0.0
    size, to_east = abs(turns_east), turns_east > 0
    clockwise_moves_east = bolts.azimuth_clockwise_east_bolt == "axis east"
    if not bolts.azimuth_pair:
        clockwise = to_east == clockwise_moves_east
        return (
            BoltStep(BoltAction.TURN, Bolt.AZIMUTH, size, clockwise),
        ), size if clockwise else -size
    # Tightening the east bolt moves the axis one way, tightening the west bolt the other.
    tighten_east_bolt = to_east == clockwise_moves_east
    pushes = Bolt.EAST_AZIMUTH if tighten_east_bolt else Bolt.WEST_AZIMUTH
    yields = Bolt.WEST_AZIMUTH if tighten_east_bolt else Bolt.EAST_AZIMUTH
    return (
        BoltStep(BoltAction.LOOSEN, yields, size, clockwise=False),
        BoltStep(BoltAction.TIGHTEN, pushes, size, clockwise=True),
    ), size
