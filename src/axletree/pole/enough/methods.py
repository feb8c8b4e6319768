"""Which way of aligning is good enough, so that nobody aligns longer than needed?

Every figure here is an estimate of an ordinary careful person with an ordinary mount (common
practice, no source) unless it follows from the kit; each method says how its figure is made up.
"""

from __future__ import annotations

import math
from enum import Enum

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.mount import PolarScope
from axletree.pole.aim.axis_view import SCOPE_FIELD_DEG
from axletree.pole.aim.bore import Bore, bore_of
from axletree.pole.aim.scale import scale_setting
from axletree.pole.aim.target import PoleTarget
from axletree.pole.enough.chance import chance_within, radius_of_chance
from axletree.pole.enough.fields import strongest_eyepiece
from axletree.pole.enough.rough import DriftTest, RoughAlignment, rough_alignment
from axletree.pole.enough.still_point import StillPointView, still_point_view
from axletree.sky.optics import pixel_scale_arcsec

# Chance that makes a method "good enough".
ENOUGH = 0.9
# How far the axis moves when the bolts are locked, each way.
LOCKING_SIGMA_ARCMIN = 1.0
# A star is placed to this part of a polar scope's field; on an engraved ring, of its radius.
PLACING_PART_OF_FIELD = 0.01
PLACING_PART_OF_RING = 0.05
# A polar scope that nobody has squared to its own axis.
SCOPE_SQUARE_SIGMA_ARCMIN = 3.0
# A star's place in an eyepiece without a cross-hair, as a part of its true field.
READING_PART_OF_FIELD = 0.01
DRIFT_MINUTES = 10.0
# Centre of a turn from three frames over a quarter turn: place of stars in pixels, enlarged.
FRAME_SIGMA_PX, FRAME_ENLARGED = 0.3, 3.0
# A bolt is stopped somewhere within this angle of where it should be.
BOLT_STOP_DEG = 10.0


class AligningMethod(Enum):
    """The usual ways of putting the axis on the pole, in the order of the time they take."""

    ROUGH = "compass_level_scale"
    HOLLOW_AXIS = "hollow_axis"
    POLAR_SCOPE = "polar_scope"
    STILL_POINT = "still_point"
    CAMERA_FRAMES = "camera_frames"
    DRIFT_TEST = "drift_test"


class Obstacle(Enum):
    """Why a method can't be had with this kit, on this spot."""

    SCALE_ENDS = "scale_ends"
    POLE_HIDDEN = "pole_hidden"
    STAR_OUTSIDE_BORE = "star_outside_bore"
    STAR_OUTSIDE_FIELD = "star_outside_field"
    SWING_BLOCKED = "swing_blocked"


@dataclass(frozen=True)
class ScopePlacing:
    """How well a star is placed in a polar scope: on its ring (`field_deg` None) or in its field.

    `square_sigma_arcmin`: how far the scope itself stands off its axis.
    """

    sigma_arcmin: float
    field_deg: float | None
    square_sigma_arcmin: float


@dataclass(frozen=True)
class FramesPlacing:
    """How well the centre of a turn is found in frames, and within what angle a bolt stops."""

    sigma_arcmin: float
    bolt_stop_deg: float


@dataclass(frozen=True)
class DriftReading:
    """A drift test at an eyepiece, by its label in the kit."""

    test: DriftTest
    eyepiece: str


# What a method's error is made of.
Basis = RoughAlignment | Bore | ScopePlacing | StillPointView | FramesPlacing | DriftReading


@dataclass(frozen=True)
class Method:
    """One method of aligning: its error each way (one standard deviation), how long it takes.

    `minutes` from a tripod that stands, the rough setting by compass and scale included.
    `chance` is the probability that the axis ends within the tolerance; `enough` if that is at
    least 90 % and nothing stands against it. `basis`: what the error is made of.
    """

    method: AligningMethod
    minutes: float
    high_sigma_arcmin: float
    east_sigma_arcmin: float
    chance: float
    enough: bool
    basis: Basis
    obstacle: Obstacle | None

    @property
    def possible(self) -> bool:
        """False where the kit or the spot lacks what it needs."""
        return self.obstacle is None

    @property
    def within_90_arcmin(self) -> float:
        """The radius that the axis stays within nine times out of ten."""
        return radius_of_chance(0.9, self.high_sigma_arcmin, self.east_sigma_arcmin)


def bolt_stop_sigma_arcmin(turns_per_degree: float) -> float:
    """Standard deviation of the head after a counted turn: rectangular law over the stop angle."""
    return 60.0 * BOLT_STOP_DEG / 360.0 / turns_per_degree / math.sqrt(12.0)


def scope_placing(scope: PolarScope) -> ScopePlacing:
    """How well the pole star is set in a polar scope: on its ring if it has one."""
    if scope.ring_radius_arcmin is not None:
        placing = PLACING_PART_OF_RING * scope.ring_radius_arcmin
        return ScopePlacing(placing, None, SCOPE_SQUARE_SIGMA_ARCMIN)
    field = scope.field_deg or SCOPE_FIELD_DEG
    return ScopePlacing(PLACING_PART_OF_FIELD * field * 60.0, field, SCOPE_SQUARE_SIGMA_ARCMIN)


def scope_sigma_arcmin(scope: PolarScope) -> float:
    """Error each way of setting the pole star in a polar scope: placing and squareness."""
    placing = scope_placing(scope)
    return math.hypot(placing.sigma_arcmin, placing.square_sigma_arcmin)


def methods(
    kit: Kit,
    target: PoleTarget,
    pole_distance_arcmin: float,
    magnetic_sigma_deg: float,
    limit_arcmin: float,
    *,
    pole_in_view: bool | None = None,
    swings_freely: bool = True,
) -> tuple[Method, ...]:
    """Every method with its error for this kit and its chance to stay within `limit_arcmin`.

    In the order of the time they take. `pole_in_view`: None where no skyline is known.
    `swings_freely`: whether a tube that looks along the axis goes round it and meets nothing.
    """
    found = [_rough(kit, target, magnetic_sigma_deg)]
    hidden = Obstacle.POLE_HIDDEN if pole_in_view is False else None
    by_star = _by_star(kit.mount.polar_scope, pole_distance_arcmin, hidden)
    if by_star is not None:
        found.append(by_star)
    blocked = hidden or (None if swings_freely else Obstacle.SWING_BLOCKED)
    found.append(_by_still_point(kit, pole_distance_arcmin, blocked))
    flat = max(math.cos(math.radians(target.altitude_deg)), 0.0)
    stop_high = bolt_stop_sigma_arcmin(kit.mount.bolts.altitude_turns_per_degree)
    stop_east = bolt_stop_sigma_arcmin(kit.mount.bolts.azimuth_turns_per_degree) * flat

    def by_bolts(method: AligningMethod, minutes: float, sigma: float, basis: Basis) -> _Error:
        high = math.hypot(sigma, stop_high, LOCKING_SIGMA_ARCMIN)
        east = math.hypot(sigma, stop_east, LOCKING_SIGMA_ARCMIN)
        return _Error(method, minutes, high, east, basis, None)

    if kit.camera is not None:
        pixel = float(pixel_scale_arcsec(kit.camera.pixel_um, kit.tube.focal_length_mm))
        frames = FRAME_SIGMA_PX * FRAME_ENLARGED * pixel / 60.0
        placing = FramesPlacing(frames, BOLT_STOP_DEG)
        found.append(by_bolts(AligningMethod.CAMERA_FRAMES, 20.0, frames, placing))
    _, eyepiece = strongest_eyepiece(kit)
    test = drift_test(kit)
    basis = DriftReading(test, eyepiece.label)
    found.append(by_bolts(AligningMethod.DRIFT_TEST, 45.0, test.sigma_arcmin, basis))
    return tuple(_judged(error, limit_arcmin) for error in found)


@dataclass(frozen=True)
class _Error:
    """A method before it is held against a tolerance."""

    method: AligningMethod
    minutes: float
    high_sigma_arcmin: float
    east_sigma_arcmin: float
    basis: Basis
    obstacle: Obstacle | None


def _judged(error: _Error, limit_arcmin: float) -> Method:
    chance = chance_within(limit_arcmin, error.high_sigma_arcmin, error.east_sigma_arcmin)
    enough = chance >= ENOUGH and error.obstacle is None
    return Method(
        error.method,
        error.minutes,
        error.high_sigma_arcmin,
        error.east_sigma_arcmin,
        chance,
        enough,
        error.basis,
        error.obstacle,
    )


def _rough(kit: Kit, target: PoleTarget, magnetic_sigma_deg: float) -> _Error:
    bolts = kit.mount.bolts
    known = "latitude_scale_offset_deg" in bolts.model_fields_set
    setting = scale_setting(bolts, target, offset_known=known)
    rough = rough_alignment(target.altitude_deg, setting.sigma_deg, magnetic_sigma_deg)
    ends = None if setting.within_scale else Obstacle.SCALE_ENDS
    high, east = rough.high_sigma_arcmin, rough.east_sigma_arcmin
    return _Error(AligningMethod.ROUGH, 5.0, high, east, rough, ends)


def _by_star(
    scope: PolarScope, pole_distance_arcmin: float, hidden: Obstacle | None
) -> _Error | None:
    """The pole star through the hollow axis or the polar scope; None without either."""
    if scope.kind == "hollow" and scope.bore_diameter_mm and scope.bore_length_mm:
        bore = bore_of(scope.bore_diameter_mm, scope.bore_length_mm)
        sigma = math.hypot(bore.sigma_arcmin(pole_distance_arcmin), LOCKING_SIGMA_ARCMIN)
        outside = pole_distance_arcmin >= bore.radius_arcmin
        obstacle = hidden or (Obstacle.STAR_OUTSIDE_BORE if outside else None)
        return _Error(AligningMethod.HOLLOW_AXIS, 9.0, sigma, sigma, bore, obstacle)
    if scope.kind == "scope":
        sigma = math.hypot(scope_sigma_arcmin(scope), LOCKING_SIGMA_ARCMIN)
        placing = scope_placing(scope)
        return _Error(AligningMethod.POLAR_SCOPE, 10.0, sigma, sigma, placing, hidden)
    return None


def _by_still_point(kit: Kit, pole_distance_arcmin: float, hidden: Obstacle | None) -> _Error:
    """The pole star about the point of the tube's own field that stands still."""
    view = still_point_view(kit, pole_distance_arcmin)
    sigma = math.hypot(view.sigma_arcmin, LOCKING_SIGMA_ARCMIN)
    obstacle = hidden or (None if view.star_fits else Obstacle.STAR_OUTSIDE_FIELD)
    return _Error(AligningMethod.STILL_POINT, 14.0, sigma, sigma, view, obstacle)


def drift_minutes_for(kit: Kit, target: PoleTarget, limit_arcmin: float) -> float | None:
    """How long each drift test must last to be enough; None if the bolts are too coarse for that.

    Nine times in ten the axis stays within 2.146 standard deviations of equal errors.
    """
    wanted = limit_arcmin / radius_of_chance(ENOUGH, 1.0, 1.0)
    bolts = kit.mount.bolts
    coarse = math.hypot(
        LOCKING_SIGMA_ARCMIN, bolt_stop_sigma_arcmin(bolts.altitude_turns_per_degree)
    )
    if wanted <= coarse:
        return None
    a_minute = DriftTest(drift_test(kit).reading_sigma_arcsec, 1.0)
    return a_minute.sigma_arcmin / math.sqrt(wanted**2 - coarse**2)


def drift_test(kit: Kit) -> DriftTest:
    """The drift test as usually done, its star read in the kit's strongest eyepiece."""
    field, _ = strongest_eyepiece(kit)
    return DriftTest(READING_PART_OF_FIELD * field * 3600.0, DRIFT_MINUTES)


def quickest(found: tuple[Method, ...]) -> Method | None:
    """The method that is enough and takes least time; None if none is."""
    good = [m for m in found if m.enough]
    return min(good, key=lambda m: (m.minutes, m.within_90_arcmin)) if good else None
