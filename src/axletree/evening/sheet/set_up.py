"""What do the hands need before the first object: north, balance, finder, pole, follow?

Each function answers one stage from the floors below, in figures and enumerations.
"""

from __future__ import annotations

from datetime import datetime
from enum import Enum

import numpy as np

from axletree.find.practice.along_axis import look_tonight
from axletree.find.practice.finder_match import FinderMatch, finder_match
from axletree.ground.magnetism import MagneticField, bearing_to_pole_deg, magnetic_field
from axletree.ground.north.pointers import ObservingErrors
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.balance.positions import eyepieces_of, middle_eyepiece, solve
from axletree.mount.follow.gearing import HourKnob, hour_knob
from axletree.mount.follow.nudge import eyepiece_follow
from axletree.mount.room.table import RoomTable
from axletree.mount.steady.tipping import tipping
from axletree.pole.aim.scale import scale_setting
from axletree.pole.aim.target import LOW_POLE_DEG, pole_target
from axletree.pole.aim.view import pole_view
from axletree.pole.enough.of_kit import good_enough
from axletree.pole.enough.still_point import StillPointView
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants


@dataclass(frozen=True)
class NorthSetUp:
    """The compass bearing of the elevated pole, degrees, from the field of the place.

    `reading_sigma_deg` is what reading a hand compass adds to the field's own uncertainty.
    """

    pole: str
    field: MagneticField
    reading_sigma_deg: float
    compass_bearing_deg: float


@dataclass(frozen=True)
class PoleSetUp:
    """Where the axis points, what the scale shows, and where the pole star stands at `at`.

    `clock_hour` is the place on the dial as seen in this `view`, 12 at the top. `still_point`: the
    finder or eyepiece in whose field the still point is the dial's middle; None where the mount
    itself is looked through.
    """

    pole_altitude_deg: float
    latitude_scale_deg: float
    star: str
    pole_distance_arcmin: float
    star_hour_angle_h: float
    clock_hour: float
    view: str
    at: datetime
    skyline_clear: bool
    room_above_skyline_deg: float
    has_scope: bool
    still_point: StillPointView | None

    @property
    def on_the_horizon(self) -> bool:
        """The pole stands too low for any star to be seen beside it."""
        return self.pole_altitude_deg < LOW_POLE_DEG


@dataclass(frozen=True)
class WeightPlace:
    """One weight: its middle from the crossing of the axes, its face from the shaft's start."""

    mass_kg: float
    position_mm: float
    gap_mm: float


class BalanceFault(Enum):
    """What balance cannot reach."""

    TOO_LITTLE_WEIGHT = "too_little_weight"
    TOO_MUCH_WEIGHT = "too_much_weight"
    OVERLOADED = "overloaded"
    DOVETAIL_SHORT = "dovetail_short"


@dataclass(frozen=True)
class BalanceLack:
    """A fault with its figure: N.m left over, kg carried (`limit` allowed), or mm too short.

    The tube should go further back where mm are negative.
    """

    fault: BalanceFault
    value: float
    limit: float = 0.0


@dataclass(frozen=True)
class BalanceSetUp:
    """Where weights and tube go, for the middle eyepiece, and what is left over.

    `over_saddle_mm` is the place of the tube, from its front, over the declination axis;
    `push_to_tip_n` the least level push at the eyepiece that tips the rig.
    """

    weights: tuple[WeightPlace, ...]
    tube_slide_mm: float | None
    over_saddle_mm: float
    hour_axis_torque_nm: float
    declination_axis_torque_nm: float
    push_to_tip_n: float
    lacks: tuple[BalanceLack, ...]


@dataclass(frozen=True)
class EyepieceDrift:
    """What one eyepiece shows and how long the celestial equator takes to cross it, drive off."""

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    drift_time_s: float


@dataclass(frozen=True)
class FollowSetUp:
    """How the slow knob keeps an object in view; None where the hour axis has no knob."""

    knob: HourKnob | None
    motor: bool
    eyepieces: tuple[EyepieceDrift, ...]


class LegsTowards(Enum):
    """How the tripod's legs stand to the pole."""

    POLE = "pole"
    AWAY = "away"
    AS_THE_KIT_SAYS = "as_the_kit_says"


@dataclass(frozen=True)
class LevelSetUp:
    """How the legs stand, and how far apart in height their feet are on this ground at most."""

    legs: LegsTowards
    ground_slope_percent: float
    most_between_feet_mm: float


@dataclass(frozen=True)
class SetUpAnswer:
    """What the hands need before the first object; `good_enough_arcmin` off the pole will do.

    `finder` is None for a tube without one.
    """

    level: LevelSetUp
    north: NorthSetUp
    pole: PoleSetUp
    balance: BalanceSetUp
    follow: FollowSetUp
    finder: FinderMatch | None
    good_enough_arcmin: float


@dataclass(frozen=True)
class SetUpTimes:
    """When the finder and the pole are set, and the middle of it all, for the needle."""

    around: datetime
    finder: datetime
    pole: datetime


def set_up_answer(
    kit: Kit, observer: Observer, times: SetUpTimes, *, horizon: Horizon, table: RoomTable
) -> SetUpAnswer:
    """All of them, each for its time."""
    return SetUpAnswer(
        level=level_set_up(kit),
        north=north_answer(kit, times.around),
        pole=pole_answer(kit, observer, times.pole, horizon),
        balance=balance_answer(kit),
        follow=follow_answer(kit),
        finder=finder_match(kit, observer, table, Instants.from_datetime(times.finder)),
        good_enough_arcmin=good_enough(kit).largest_arcmin,
    )


def level_set_up(kit: Kit) -> LevelSetUp:
    """How the legs stand to the pole, and what the yard's slope asks of them."""
    slope = kit.yard.slope_percent if kit.yard else 0.0
    off = [abs((d + 180.0) % 360.0 - 180.0) for d in kit.mount.tripod.leg_directions_deg]
    legs = LegsTowards.POLE
    if min(off) > 45.0:  # near the equator, where the weights swing low on the pole's side
        legs = LegsTowards.AWAY
    elif min(off) > 15.0:
        legs = LegsTowards.AS_THE_KIT_SAYS
    return LevelSetUp(legs, slope, slope / 100.0 * kit.mount.tripod.foot_radius_mm * 1.5)


def north_answer(kit: Kit, at: datetime) -> NorthSetUp:
    """The compass bearing of the elevated pole, with its uncertainty."""
    site = kit.site
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
    return NorthSetUp(
        pole="north" if site.north else "south",
        field=field,
        reading_sigma_deg=ObservingErrors().compass_deg,
        compass_bearing_deg=bearing_to_pole_deg(site.latitude_deg, field.declination_deg),
    )


def pole_answer(kit: Kit, observer: Observer, at: datetime, horizon: Horizon) -> PoleSetUp:
    """Where the axis points, what the scale shows, and where the pole star stands at `at`."""
    target = pole_target(observer)
    setting = scale_setting(kit.mount.bolts, target)
    along = look_tonight(kit, observer, at)
    seen = along.axis_view
    view = pole_view(observer, at, seen)
    skyline = float(np.asarray(horizon.altitude_at(target.azimuth_deg)))
    room = target.altitude_deg - skyline
    return PoleSetUp(
        pole_altitude_deg=target.altitude_deg,
        latitude_scale_deg=setting.setting_deg,
        star=view.star,
        pole_distance_arcmin=view.pole_distance_arcmin,
        star_hour_angle_h=view.star_hour_angle_h,
        clock_hour=view.clock_hour,
        view=seen.look,
        at=at,
        skyline_clear=room > view.pole_distance_arcmin / 60.0,
        room_above_skyline_deg=room,
        has_scope=kit.mount.polar_scope.kind != "none",
        still_point=along.still_point,
    )


def balance_answer(kit: Kit) -> BalanceSetUp:
    """Weights and tube for the middle eyepiece, with what balance cannot reach."""
    answer = solve(kit, middle_eyepiece(eyepieces_of(kit)))
    loading = answer.loading
    lacks: list[BalanceLack] = []
    if not loading.exact:
        lack = loading.leftover_kg_m
        fault = BalanceFault.TOO_LITTLE_WEIGHT if lack > 0 else BalanceFault.TOO_MUCH_WEIGHT
        lacks.append(BalanceLack(fault, abs(lack) * 9.81))
    if answer.load.fraction > 1.0:
        load = answer.load
        lacks.append(BalanceLack(BalanceFault.OVERLOADED, load.carried_kg, load.limit_kg))
    if answer.stuck_slide is not None:
        lacks.append(BalanceLack(BalanceFault.DOVETAIL_SHORT, answer.short_of_slide_mm))
    places = zip(loading.mass_kg, loading.position_mm, loading.gap_mm, strict=True)
    return BalanceSetUp(
        weights=tuple(WeightPlace(m, position, gap) for m, position, gap in places),
        tube_slide_mm=answer.slide_forward_mm,
        over_saddle_mm=float(answer.over_saddle_mm),
        hour_axis_torque_nm=answer.hour_torque_nm,
        declination_axis_torque_nm=answer.declination_torque_nm,
        push_to_tip_n=tipping(kit).push_n,
        lacks=tuple(lacks),
    )


def follow_answer(kit: Kit) -> FollowSetUp:
    """HourKnob rhythm and drift through each eyepiece, for the celestial equator."""
    knob = hour_knob(kit.mount.gears, kit.site.north)
    rows = [row for row in eyepiece_follow(kit, 0.0) if row.barlow == 1.0]
    return FollowSetUp(
        knob=knob,
        motor=kit.mount.motor is not None,
        eyepieces=tuple(
            EyepieceDrift(
                eyepiece=row.label,
                magnification=row.magnification,
                true_field_deg=row.true_field_deg,
                exit_pupil_mm=row.exit_pupil_mm,
                drift_time_s=row.drift_time_s,
            )
            for row in rows
        ),
    )
