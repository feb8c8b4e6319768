"""Which knob, which way, how fast and how often? One object and moment in, the hands' work out."""

from __future__ import annotations

from datetime import datetime
from enum import Enum
from typing import Literal

import numpy as np

from axletree.axis.rates import shaft_rates
from axletree.axis.state import State, axis_state
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.mount import Motor
from axletree.mount.follow.altaz_comparison import AltazComparison, altaz_comparison
from axletree.mount.follow.gearing import (
    DeclinationKnob,
    HourKnob,
    declination_knob,
    degrees_per_turn,
    hour_knob,
)
from axletree.mount.follow.nudge import (
    KEEP_WITHIN,
    CameraFollow,
    EyepieceFollow,
    camera_follow,
    eyepiece_follow,
)
from axletree.mount.follow.place import FollowedPlace, equator_place, equator_rates, object_place
from axletree.mount.follow.rates import DriveChoice, ObjectRates, drive_choices, object_rates
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer, observer_of
from axletree.sky.sun_rule import SunRefusal, SunRule
from axletree.sky.time.instants import Instants

_SIDES: tuple[Literal["east", "west"], ...] = ("east", "west")
SLOW_ARCSEC_PER_MIN = 1.0  # of drift in declination, below which a hand has nothing to do (ours)


@dataclass(frozen=True)
class FollowRequest:
    """An object at a moment; both None: a star on the celestial equator, where the sky is fastest.

    `keep`: the part of the field's radius within which the object is kept, 0.05 to 1.
    `compare`: beside an alt-azimuth mount. `state`: what is known of the mount, whose axis may be
    off.
    """

    target: SkyObject | None = None
    at: datetime | None = None
    keep: float = KEEP_WITHIN
    compare: bool = False
    state: State | None = None


class FollowCaution(Enum):
    """What can hurt while an object is followed."""

    SUN = "sun"
    OPEN_LOCK = "open_lock"
    MOTOR_RUNS_ON = "motor_runs_on"


class FollowAssumption(Enum):
    """What the figures rest on."""

    REFRACTED_POLE = "refracted_pole"
    PLACE = "place"
    GUESSED_GEARS = "guessed_gears"
    FIELD_FROM_APPARENT = "field_from_apparent"


@dataclass(frozen=True)
class AxisWork:
    """How this mount's shafts have to turn on one tube side, its axis being where it is.

    `declination_arcsec_per_min`: of the declination shaft, positive to the north, with one standard
    deviation; `hour_arcsec_per_s`: of the hour shaft.
    """

    side: Literal["east", "west"]
    declination_arcsec_per_min: float
    sigma_arcsec_per_min: float
    hour_arcsec_per_s: float


@dataclass(frozen=True)
class FollowAnswer:
    """Everything about following one object; None where it has no meaning for this kit.

    `at` is the moment as it was given, `instants` as it was used (None without an object).
    `above` is false when the object is below the horizon, and then the rates are those without
    air. `turns_per_minute` and `seconds_per_turn` are the hour knob's for this object.
    `drives`: the motor's rates, the one that leaves least drift first. `guessed_gears` and
    `rough_fields` name keys and eyepieces that the figures rest on without being measured.
    `axis_work` is what the axis makes the declination knob do, by `state`; () where nothing is
    known of it, or the object is below the horizon or out of the tube's reach.
    """

    kit: Kit
    target: SkyObject | None
    at: datetime | None
    instants: Instants | None
    place: FollowedPlace
    above: bool
    rates: ObjectRates
    knob: HourKnob | None
    declination: DeclinationKnob | None
    seconds_per_turn: float | None
    turns_per_minute: float | None
    drives: tuple[DriveChoice, ...]
    eyepieces: tuple[EyepieceFollow, ...]
    camera: CameraFollow | None
    keep: float
    comparison: AltazComparison | None
    cautions: tuple[FollowCaution, ...]
    assumptions: tuple[FollowAssumption, ...]
    guessed_gears: tuple[str, ...]
    rough_fields: tuple[str, ...]
    state: State | None = None
    axis_work: tuple[AxisWork, ...] = ()

    @property
    def drive(self) -> DriveChoice | None:
        """The motor's best rate for this object."""
        return self.drives[0] if self.drives else None

    @property
    def rate_arcsec_per_s(self) -> float:
        """What the hour axis has to do: as seen through air when the object is up."""
        return self.rates.seen if self.above else self.rates.true

    @property
    def declination_rate_arcsec_per_s(self) -> float:
        """The object's motion in declination, north positive, likewise."""
        return self.rates.seen_declination if self.above else self.rates.true_declination

    @property
    def declination_by_hand_arcsec_per_min(self) -> float | None:
        """The drift in declination, as seen, where it is enough for a hand to follow."""
        if self.target is None or not self.above:
            return None
        drift = self.rates.seen_declination * 60.0
        return drift if abs(drift) > SLOW_ARCSEC_PER_MIN else None

    @property
    def larger_than_field(self) -> tuple[str, ...]:
        """The eyepieces whose field can't hold all of the object."""
        return tuple(row.label for row in self.eyepieces if not row.fits)

    @property
    def nudged_too_seldom(self) -> tuple[str, ...]:
        """The eyepieces that lose it when it is nudged as seldom as the kit says."""
        if self.drive is not None:
            return ()
        return tuple(row.label for row in self.eyepieces if row.wander_fraction > 1)


def sun_refusal(kit: Kit, request: FollowRequest) -> SunRefusal | None:
    """Why nobody follows this object at that moment: it stands too near the Sun while that is up.

    None where it may be followed, and without an object or a moment.
    """
    if request.target is None or request.at is None:
        return None
    now = Instants.from_datetime(request.at)
    return SunRule.of(kit).refusals([request.target], now, 0.0)[0]


def follow(kit: Kit, request: FollowRequest) -> FollowAnswer:
    """How to follow an object. Refuses an object without a moment, and a part that is no part."""
    if not 0.05 <= request.keep <= 1.0:
        raise AxletreeError(
            f"keep {request.keep:g}: the part of the field must lie between 0.05 and 1"
        )
    observer = observer_of(kit.site)
    instants, place, rates = _motion(request, observer)
    above = request.target is None or place.altitude_deg > 0
    rate = rates.seen if above else rates.true
    gears = kit.mount.gears
    knob = hour_knob(gears, observer.north)
    seconds = turns = None
    if knob is not None and rate > 0:
        per_turn = float(degrees_per_turn(gears.hour_worm_teeth, gears.hour_knob_ratio))
        seconds = per_turn * 3600.0 / rate
        turns = 60.0 / seconds
    drives: tuple[DriveChoice, ...] = ()
    if kit.mount.motion == "motor":
        drives = tuple(drive_choices(kit.mount.motor or Motor(), rates))
    drive = drives[0] if drives else None
    guessed = tuple(name for name in kit.guessed if name.startswith("mount.gears."))
    rough = tuple(e.label for e in kit.eyepieces if e.field_stop_mm is None)
    comparison = None
    if request.compare:
        comparison = altaz_comparison(kit, place.hour_angle_h, place.declination_deg, rate)
    return FollowAnswer(
        kit=kit,
        target=request.target,
        at=request.at,
        instants=instants,
        place=place,
        above=above,
        rates=rates,
        knob=knob,
        declination=declination_knob(gears),
        seconds_per_turn=seconds,
        turns_per_minute=turns,
        drives=drives,
        eyepieces=tuple(
            eyepiece_follow(
                kit,
                place.declination_deg,
                rate_arcsec_per_s=rate,
                object_deg=place.diameter_deg,
                keep=request.keep,
                drive=drive,
            )
        ),
        camera=camera_follow(kit, place.declination_deg, rate_arcsec_per_s=rate, drive=drive),
        keep=request.keep,
        comparison=comparison,
        cautions=_cautions(request.target, knob, drive),
        assumptions=_assumptions(request.target, guessed, rough),
        guessed_gears=guessed,
        rough_fields=rough,
        state=axis_state(request.state),
        axis_work=_axis_work(axis_state(request.state), place, rates, observer) if above else (),
    )


def _axis_work(
    state: State | None, place: FollowedPlace, rates: ObjectRates, observer: Observer
) -> tuple[AxisWork, ...]:
    """Both sides; none where nothing is known, and no side that the tube can't point from."""
    if state is None:
        return ()
    where = place.hour_angle_h, place.declination_deg
    found = shaft_rates(
        state.pointing, *where, np.array([1, -1]), observer, rates.true, rates.true_declination
    )
    rows = zip(
        _SIDES, found.declination_arcsec_per_min, found.declination_sigma_arcsec_per_min,
        found.hour_arcsec_per_s, strict=True,
    )  # fmt: skip
    return tuple(
        AxisWork(side, float(dec), float(sigma), float(hour))
        for side, dec, sigma, hour in rows
        if np.isfinite(dec)
    )


def _motion(
    request: FollowRequest, observer: Observer
) -> tuple[Instants | None, FollowedPlace, ObjectRates]:
    """The moment, where the object stands then, and how fast it goes."""
    if request.target is None:
        return None, equator_place(observer), equator_rates(observer)
    if request.at is None:
        raise AxletreeError(f"{request.target.name} is followed at a moment: give the time")
    instants = Instants.from_datetime(request.at)
    place = object_place(request.target, instants, observer)
    return instants, place, object_rates(request.target, instants, observer)


def _cautions(
    target: SkyObject | None, knob: HourKnob | None, drive: DriveChoice | None
) -> tuple[FollowCaution, ...]:
    found = []
    if target is not None and target.kind == "sun":
        found.append(FollowCaution.SUN)
    if knob is None:
        found.append(FollowCaution.OPEN_LOCK)
    if drive is not None:
        found.append(FollowCaution.MOTOR_RUNS_ON)
    return tuple(found)


def _assumptions(
    target: SkyObject | None, guessed: tuple[str, ...], rough: tuple[str, ...]
) -> tuple[FollowAssumption, ...]:
    found = [FollowAssumption.REFRACTED_POLE]
    if target is not None:
        found.append(FollowAssumption.PLACE)
    if guessed:
        found.append(FollowAssumption.GUESSED_GEARS)
    if rough:
        found.append(FollowAssumption.FIELD_FROM_APPARENT)
    return tuple(found)
