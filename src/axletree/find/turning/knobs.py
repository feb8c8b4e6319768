"""How far does each knob turn its axis, how well, and when are the locks opened instead?"""

from __future__ import annotations

import math
from dataclasses import replace
from enum import StrEnum

import numpy as np

from axletree.axis.model import PointingModel
from axletree.find.person import Skill
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.spreads import spread_of
from axletree.mount.follow.gearing import (
    declination_clockwise,
    declination_knob,
    follow_clockwise,
    hour_knob,
)
from axletree.sky.arrays import Floats, Mask
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

# Nobody counts further than this without losing count: the lock is opened (our figure).
MOST_TURNS = 20.0
# A knob whose size is a guess serves while its error is less than this part of the field's radius:
# nobody likes to open a lock in the dark for a circle that is read a little better (our figure).
KNOB_ENOUGH = 0.3
# Of the backlash, what is left where both ends were come to from the same side (our figure).
BACKLASH_LEFT = 0.1
# An arm's turns that somebody counted: the arc isn't even over its range (our figure).
ARM_PART = 0.03
# What an arm usually reaches in all, where the kit doesn't say (our figure).
USUAL_ARM_DEG = 10.0
# A worm whose periodic error nobody measured, half of peak to peak (common practice, no source).
USUAL_PERIODIC_ARCSEC = 30.0


class LockReason(StrEnum):
    """Why an axis is turned by hand with its lock open, by its circle."""

    NO_KNOB = "no_knob"
    TURNS_NOT_COUNTED = "turns_not_counted"  # of an arm: nobody knows what one turn does
    BEYOND_THE_ARM = "beyond_the_arm"
    TOO_MANY_TURNS = "too_many_turns"
    TURN_UNSURE = "turn_unsure"  # its size is a guess: on so long a way the circle is surer


@dataclass(frozen=True)
class Mounted:
    """The mount as it stands for one finding, and who turns it.

    `side`: +1 tube side east, -1 west. `driven`: a motor follows the sky meanwhile.
    `eyepiece_field_deg`: true field (whole) of the weakest eyepiece, in which the star is centred;
    `finder_field_deg` that of the finder, None without one that magnifies.
    """

    kit: Kit
    observer: Observer
    model: PointingModel
    side: int
    driven: bool
    skill: Skill
    eyepiece_field_deg: float
    finder_field_deg: float | None = None


@dataclass(frozen=True)
class KnobFigures:
    """One axis' knob and circle; angles in degrees of the shaft, west and north positive.

    `degrees_per_turn` is None without a knob that can be counted. `clockwise`: +1 where a clockwise
    turn takes the tube west or north, -1 where the other way. `part_sigma` is the error of a turn's
    size, a part of it; `periodic_sigma_deg` of the worm within its turn. `most_deg`: further than
    this the lock is opened, for `beyond`. `circle_sigma_deg` is the error of one reading.
    """

    degrees_per_turn: float | None
    clockwise: int
    backlash_turns: float
    part_sigma: float
    periodic_sigma_deg: float
    most_deg: float
    beyond: LockReason
    circle_sigma_deg: float

    def left_alone(self) -> KnobFigures:
        """The same axis when nobody touches it."""
        return replace(self, degrees_per_turn=None, most_deg=np.inf)

    def by_knob(self, turn_deg: Floats) -> Mask:
        """Which turns are made with the knob; the others with the lock open."""
        return np.asarray(np.abs(turn_deg) <= self.most_deg)

    def turn_variance_deg2(self, turn_deg: Floats, skill: Skill) -> Floats:
        """Variance of turns of the shaft, by the knob or, where the lock is open, by the circle."""
        knob = np.zeros_like(turn_deg)
        if self.degrees_per_turn is not None:
            counted = skill.count_turns * self.degrees_per_turn
            left = BACKLASH_LEFT * self.backlash_turns * self.degrees_per_turn
            even = counted**2 + left**2 + self.periodic_sigma_deg**2
            knob = even + (self.part_sigma * turn_deg) ** 2
        return np.where(self.by_knob(turn_deg), knob, self.circle_variance_deg2())

    def circle_variance_deg2(self) -> float:
        """Of a difference on the circle, read at both ends; its index error cancels."""
        return 2.0 * self.circle_sigma_deg**2


def knob_figures(mounted: Mounted) -> tuple[KnobFigures, KnobFigures]:
    """Of the hour axis and of the declination axis, for this tube side and hemisphere."""
    kit = mounted.kit
    gears, north = kit.mount.gears, mounted.observer.north
    circles = kit.mount.circles
    hour, declination = hour_knob(gears, north), declination_knob(gears)
    periodic = gears.periodic_error_arcsec
    worm_deg = (USUAL_PERIODIC_ARCSEC if periodic is None else periodic) / 3600.0
    toward = declination_clockwise(gears, "east" if mounted.side > 0 else "west")
    arm = declination is not None and declination.arm
    across = KnobFigures(
        degrees_per_turn=None if declination is None else declination.degrees_per_turn,
        clockwise=1 if toward == "north" else -1,
        backlash_turns=gears.declination_backlash_deg / 360.0,
        part_sigma=ARM_PART if arm else _teeth_part(kit, "declination_worm_teeth"),
        periodic_sigma_deg=0.0 if arm else worm_deg,
        most_deg=-1.0,
        beyond=LockReason.NO_KNOB if declination is None else LockReason.TURNS_NOT_COUNTED,
        circle_sigma_deg=circles.read_division * circles.declination_division_deg,
    )
    along = KnobFigures(
        degrees_per_turn=None if hour is None else hour.degrees_per_turn,
        clockwise=1 if follow_clockwise(gears, north) else -1,
        backlash_turns=gears.hour_backlash_deg / 360.0,
        part_sigma=_teeth_part(kit, "hour_worm_teeth"),
        periodic_sigma_deg=worm_deg,
        most_deg=-1.0,
        beyond=LockReason.NO_KNOB,
        circle_sigma_deg=circles.read_division * circles.hour_division_min / 4.0,
    )
    # An arm that stands in the middle at the star reaches half its range to either side.
    arm_deg = np.inf
    if declination is not None and declination.arm:
        whole = declination.arm_range_deg
        arm_deg = (USUAL_ARM_DEG if whole is None else whole) / 2.0
    enough_deg = KNOB_ENOUGH * mounted.eyepiece_field_deg / 2.0
    return _reaching(along, np.inf, enough_deg), _reaching(across, arm_deg, enough_deg)


def _reaching(knob: KnobFigures, arm_deg: float, enough_deg: float) -> KnobFigures:
    """With the longest turn by knob, and what is the matter beyond it.

    An error of `enough_deg` is good enough, however well a circle may be read.
    """
    if knob.degrees_per_turn is None:
        return knob
    ends = [(MOST_TURNS * knob.degrees_per_turn, LockReason.TOO_MANY_TURNS)]
    ends.append((arm_deg, LockReason.BEYOND_THE_ARM))
    if knob.part_sigma > 0.0:
        allowed = max(math.sqrt(knob.circle_variance_deg2()), enough_deg)
        trusted = allowed / knob.part_sigma
        ends.append((trusted, LockReason.TURN_UNSURE))
    most, beyond = min(ends, key=lambda end: end[0])
    return replace(knob, most_deg=most, beyond=beyond)


def _teeth_part(kit: Kit, key: str) -> float:
    """Error of a number of teeth, a part of it: none where they were counted."""
    name, teeth = f"mount.gears.{key}", getattr(kit.mount.gears, key)
    known = dict(kit.known_errors)
    if name in known:
        return float(known[name]) / float(teeth)
    if name not in kit.guessed:
        return 0.0
    return (spread_of(name, teeth, kit.mount, kit.tube).sigma or 0.0) / float(teeth)


def sky_turns_per_minute(mounted: Mounted, knob: KnobFigures) -> float | None:
    """How much the hour knob follows the sky in a minute, clockwise positive; 0 where driven."""
    if knob.degrees_per_turn is None:
        return None
    if mounted.driven:
        return 0.0
    sky_deg = SIDEREAL_RATE_ARCSEC_PER_S / 60.0
    return knob.clockwise * sky_deg / knob.degrees_per_turn
