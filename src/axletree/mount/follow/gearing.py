"""Which knob, which way, how fast?

A worm turns its wheel by one tooth a turn. Directions are those of the kit: as the person sees
them who looks at the knob, at the kit's site, the declination knob's on tube side east. What
follows from them for other cases is geometry, see `follow_clockwise` and
`declination_clockwise`.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Gears
from axletree.sky.arrays import Floats
from axletree.sky.time.instants import SIDEREAL_DAY_S, SIDEREAL_RATE_ARCSEC_PER_S

Side = Literal["east", "west"]


def degrees_per_turn(teeth: ArrayLike, ratio: ArrayLike = 1.0) -> Floats:
    """Turn of the axis for one turn of the knob; `ratio` is knob turns a worm turn."""
    turns = np.asarray(teeth, dtype=np.float64) * np.asarray(ratio, dtype=np.float64)
    if np.any(~(turns > 0)):
        raise AxletreeError("worm teeth and knob ratio must be greater than 0")
    return np.asarray(360.0 / turns)


def seconds_per_turn(teeth: ArrayLike, ratio: ArrayLike = 1.0) -> Floats:
    """Seconds of clock time in which the sky makes the axis' turn for one knob turn.

    The sidereal day of 86164.0905 s over the teeth; 24 h over the teeth would be the Sun's.
    """
    return degrees_per_turn(teeth, ratio) * (SIDEREAL_DAY_S / 360.0)


def turns_per_minute(
    teeth: ArrayLike,
    ratio: ArrayLike = 1.0,
    rate_arcsec_per_s: ArrayLike = SIDEREAL_RATE_ARCSEC_PER_S,
) -> Floats:
    """Knob turns a minute that follow an object moving in hour angle at this rate."""
    rate = np.asarray(rate_arcsec_per_s, dtype=np.float64)
    return np.asarray(rate * 60.0 / 3600.0 / degrees_per_turn(teeth, ratio))


def follow_clockwise(gears: Gears, north: bool) -> bool:
    """True if the hour knob turns clockwise, looking at it, to follow the sky at the kit's site.

    To follow is to go west. The knob's worm sits on the part that doesn't turn, so the tube
    side makes no difference. What the kit says was seen there and holds in both hemispheres.
    Where it says nothing, the mount is taken for one that goes west in the north: the axis'
    upper end turns clockwise then, seen from above, and in the south, where that end points to
    the other pole, the same turn takes the tube east.
    """
    if gears.hour_knob_clockwise is None:
        return north
    return gears.hour_knob_clockwise == "west"


def declination_clockwise(gears: Gears, side: Side) -> Literal["north", "south"]:
    """The way on the sky that the tube goes when the declination knob turns clockwise.

    Turning the mount over to the other tube side turns the declination axis end for end, so the
    same turn of the knob takes the tube the other way; the hemisphere makes no difference.
    """
    if side == "east":
        return gears.declination_knob_clockwise
    return "south" if gears.declination_knob_clockwise == "north" else "north"


@dataclass(frozen=True)
class HourKnob:
    """The slow-motion knob of the hour axis.

    `turns_per_minute` is for the stars. Backlash is the turn after a change of direction that
    moves nothing: `backlash_knob_deg` of the knob, in which the sky goes on for `backlash_s`.
    """

    seconds_per_turn: float
    degrees_per_turn: float
    turns_per_minute: float
    clockwise: bool
    backlash_knob_deg: float
    backlash_s: float


@dataclass(frozen=True)
class DeclinationKnob:
    """The slow-motion knob of the declination axis; a tangent arm has a limited range.

    `degrees_per_turn` is None for an arm whose turns nobody has counted. `backlash_arcmin` of
    sky pass before anything moves after a change of direction; None as well then.
    """

    degrees_per_turn: float | None
    clockwise_east: Literal["north", "south"]
    clockwise_west: Literal["north", "south"]
    backlash_knob_deg: float
    backlash_arcmin: float | None
    arm: bool
    arm_range_deg: float | None


def hour_knob(gears: Gears, north: bool) -> HourKnob | None:
    """The hour axis' knob, or None on a mount that is pushed by hand."""
    if not gears.hour_geared:
        return None
    seconds = float(seconds_per_turn(gears.hour_worm_teeth, gears.hour_knob_ratio))
    return HourKnob(
        seconds_per_turn=seconds,
        degrees_per_turn=float(degrees_per_turn(gears.hour_worm_teeth, gears.hour_knob_ratio)),
        turns_per_minute=60.0 / seconds,
        clockwise=follow_clockwise(gears, north),
        backlash_knob_deg=gears.hour_backlash_deg,
        backlash_s=gears.hour_backlash_deg / 360.0 * seconds,
    )


def declination_knob(gears: Gears) -> DeclinationKnob | None:
    """The declination axis' knob, or None on an axis that is pushed by hand."""
    if not gears.declination_geared:
        return None
    if gears.declination_arm:
        turn = gears.declination_arm_deg_per_turn
    else:
        turn = float(degrees_per_turn(gears.declination_worm_teeth, gears.declination_knob_ratio))
    lost = gears.declination_backlash_deg
    return DeclinationKnob(
        degrees_per_turn=turn,
        clockwise_east=declination_clockwise(gears, "east"),
        clockwise_west=declination_clockwise(gears, "west"),
        backlash_knob_deg=lost,
        backlash_arcmin=None if turn is None else lost / 360.0 * turn * 60.0,
        arm=gears.declination_arm,
        arm_range_deg=gears.declination_arm_range_deg if gears.declination_arm else None,
    )


# Periodic error: the wheel runs ahead and behind by A sin(2 pi t / worm period).


def worm_period_s(teeth: ArrayLike) -> Floats:
    """Seconds of one worm turn while following the stars."""
    return seconds_per_turn(teeth)


def periodic_drift_arcsec(
    amplitude_arcsec: ArrayLike, teeth: ArrayLike, time_s: ArrayLike
) -> Floats:
    """Largest change of the periodic error within any `time_s`: 2 A sin(pi t / period) at most.

    `amplitude_arcsec` is half of peak to peak, as on the sky's equator.
    """
    A = np.asarray(amplitude_arcsec, dtype=np.float64)
    part = np.asarray(time_s, dtype=np.float64) / worm_period_s(teeth)
    return np.asarray(2.0 * A * np.sin(np.pi * np.minimum(part, 0.5)))


def longest_exposure_s(
    amplitude_arcsec: ArrayLike, teeth: ArrayLike, allowed_arcsec: ArrayLike
) -> tuple[Floats, Floats]:
    """Longest exposures that periodic error trails by no more than `allowed_arcsec`.

    (at the worst phase of the worm, at the best): the worst straddles the steepest part,
    2 A sin(pi t / P); the best the turning point, A (1 - cos(pi t / P)). inf: never too long.
    """
    A = np.asarray(amplitude_arcsec, dtype=np.float64)
    allowed = np.asarray(allowed_arcsec, dtype=np.float64)
    P = worm_period_s(teeth)
    safe = np.where(A > 0.0, A, 1.0)
    share = np.where(A > 0.0, allowed / (2.0 * safe), np.inf)
    worst = np.where(share < 1.0, P / np.pi * np.arcsin(np.minimum(share, 1.0)), np.inf)
    best = np.where(share < 1.0, P / np.pi * np.arccos(1.0 - 2.0 * np.minimum(share, 1.0)), np.inf)
    return np.asarray(worst), np.asarray(best)
