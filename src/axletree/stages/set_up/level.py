"""Which leg, how much? One reading of a level in, the legs and what a leftover tilt does out."""

from __future__ import annotations

import math
from enum import Enum

from axletree.ground.level.leftover import Leftover, leftover
from axletree.ground.level.legs import (
    INCLINE_READING_DEG,
    LegChanges,
    Tilt,
    leg_changes,
    leg_slant_deg,
    tilt_from_bubble,
    tilt_from_inclines,
)
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.mount import Tripod
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.observer import observer_of

# A leg that changes by so much stands on ground too steep for a quiet tripod (our figure).
LONG_CHANGE_MM = 250.0
LEG_KEYS = ("foot_radius_mm", "top_height_mm", "top_radius_mm", "bubble_arcmin_per_division")


class Leg(Enum):
    """The direction of one of the tripod's legs, in the order of the kit."""

    FIRST = 1
    SECOND = 2
    THIRD = 3


@dataclass(frozen=True)
class BubbleReading:
    """A round bubble: `divisions` (of 2 mm) from the middle, None where it touches its rim.

    `towards`: where it went, degrees clockwise from the elevated pole's direction seen from above,
    or a leg.
    """

    divisions: float | None
    towards: float | Leg


@dataclass(frozen=True)
class InclineReading:
    """An inclinometer laid on the top: the slope `incline_deg` (up positive) in a direction.

    `direction` as a bubble's `towards`.
    """

    direction: float | Leg
    incline_deg: float


@dataclass(frozen=True)
class LevelRequest:
    """Either a bubble or two and more inclines; `shorten` lets legs be shortened too.

    `arcmin_per_division` is the bubble's sensitivity, the kit's where None. `longer_mm`: how much
    longer than in the kit's drawing (`foot_radius_mm`, `top_height_mm`) each leg is now.
    """

    bubble: BubbleReading | None = None
    inclines: tuple[InclineReading, ...] = ()
    arcmin_per_division: float | None = None
    shorten: bool = False
    longer_mm: tuple[float, float, float] = (0.0, 0.0, 0.0)


class LevelCaution(Enum):
    """What can hurt while a leg is let go."""

    HOLD_THE_TUBE = "hold_the_tube"
    LONG_CHANGE = "long_change"


@dataclass(frozen=True)
class LevelAnswer:
    """The changes of the legs, and what the tilt does if nobody corrects it.

    `facing_deg` is the elevated pole's azimuth, `latitude_scale_deg` what the latitude scale shows
    with the axis on the pole of a level base. `bubble_arcmin_per_division` is None for a reading
    of an inclinometer, which is good to `incline_sigma_deg`. `guessed`: keys of the tripod that
    nobody measured.
    """

    changes: LegChanges
    after: Leftover
    tripod: Tripod
    facing_deg: float
    latitude_scale_deg: float
    bubble_arcmin_per_division: float | None
    incline_sigma_deg: float
    cautions: tuple[LevelCaution, ...]
    guessed: tuple[str, ...]
    units: str

    @property
    def tilt(self) -> Tilt:
        """The lean of the top that the reading tells."""
        return self.changes.tilt

    @property
    def longest_change_mm(self) -> float:
        """The largest change along any leg, as a plain size."""
        return max(abs(mm) for mm in self.changes.along_leg_mm)


def level(kit: Kit, request: LevelRequest) -> LevelAnswer:
    """Which legs to change, from one reading. Refuses none or two readings, and impossible ones."""
    tripod = kit.mount.tripod
    if (request.bubble is None) == (not request.inclines):
        raise AxletreeError("give one reading: of the bubble, or of an inclinometer laid twice")
    sensitivity = None
    if request.bubble is not None:
        sensitivity = request.arcmin_per_division or tripod.bubble_arcmin_per_division
        tilt = _bubble_tilt(request.bubble, sensitivity, tripod)
    else:
        directions = [_direction_deg(r.direction, tripod) for r in request.inclines]
        tilt = tilt_from_inclines(directions, [r.incline_deg for r in request.inclines])
    changes = leg_changes(
        tilt,
        tripod.leg_directions_deg,
        tripod.foot_radius_mm,
        leg_slant_deg(tripod),
        shorten=request.shorten,
        extended_mm=_longer_mm(request.longer_mm, tripod),
    )
    pole_altitude = refracted_pole_altitude_deg(observer_of(kit.site))
    cautions = [LevelCaution.HOLD_THE_TUBE]
    if max(abs(mm) for mm in changes.along_leg_mm) >= LONG_CHANGE_MM:
        cautions.append(LevelCaution.LONG_CHANGE)
    return LevelAnswer(
        changes=changes,
        after=leftover(tilt, kit.site.latitude_deg, pole_altitude),
        tripod=tripod,
        facing_deg=0.0 if kit.site.north else 180.0,
        latitude_scale_deg=pole_altitude + kit.mount.bolts.latitude_scale_offset_deg,
        bubble_arcmin_per_division=sensitivity,
        incline_sigma_deg=INCLINE_READING_DEG,
        cautions=tuple(cautions),
        guessed=tuple(k for k in LEG_KEYS if f"mount.tripod.{k}" in kit.guessed),
        units=kit.habits.units,
    )


def _longer_mm(longer_mm: tuple[float, float, float], tripod: Tripod) -> tuple[float, float, float]:
    """Refuses legs that would be longer or shorter by more than half of the tripod's height."""
    most = 0.5 * tripod.top_height_mm
    wrong = next((mm for mm in longer_mm if not abs(mm) <= most), None)
    if wrong is not None:
        raise AxletreeError(f"a leg longer by {wrong:g} mm: write -{most:.0f} to {most:.0f}")
    return longer_mm


def _bubble_tilt(reading: BubbleReading, arcmin_per_division: float, tripod: Tripod) -> Tilt:
    edge = tripod.bubble_edge_divisions
    divisions = edge if reading.divisions is None else reading.divisions
    towards = _direction_deg(reading.towards, tripod)
    # As far out as the rim, the bubble can't show any more.
    return tilt_from_bubble(divisions, towards, arcmin_per_division, at_rim=divisions >= edge)


def _direction_deg(direction: float | Leg, tripod: Tripod) -> float:
    if isinstance(direction, Leg):
        return float(tripod.leg_directions_deg[direction.value - 1])
    if not math.isfinite(direction):
        raise AxletreeError(f"direction {direction:g}: give degrees clockwise from the pole's")
    return direction
