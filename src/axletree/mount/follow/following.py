"""What keeps this object in view on this mount, by hand or by motor?

One report gathers the answers of `gearing`, `rates`, `nudge` and `altaz_rates`. Without an
object it holds for a star on the celestial equator at the meridian, where the sky is fastest.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.follow.altaz_rates import (
    AltazRates,
    Passage,
    altaz_rates,
    passage,
    zenith_zone_deg,
)
from axletree.mount.follow.gearing import (
    DeclinationKnob,
    HourKnob,
    declination_knob,
    degrees_per_turn,
    hour_knob,
)
from axletree.mount.follow.nudge import (
    KEEP_WITHIN,
    TRAIL_PX,
    CameraFollow,
    EyepieceFollow,
    camera_follow,
    eyepiece_follow,
)
from axletree.mount.follow.rates import (
    DriveChoice,
    ObjectRates,
    drive_choices,
    object_rates,
    refracted_rate,
)
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.objects import MOVING, object_positions
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S, Instants

TOP_SPEED_DEG_PER_S = 2.0  # of an alt-azimuth mount's axis, where the kit names none (our figure)
ZONE_SPEEDS = (0.5, 1.0, 2.0, 4.0)


@dataclass(frozen=True)
class Compare:
    """What an alt-azimuth mount would have to do on the same object.

    `now` holds numbers; `crossing` its culmination at `speed_deg_per_s`; `zones_deg` the radius
    around the zenith that an azimuth axis of each of `ZONE_SPEEDS` cannot follow through;
    `camera_turn_s` until the picture's corner has turned by `TRAIL_PX` now (None: no camera).
    """

    now: AltazRates
    crossing: Passage
    speed_deg_per_s: float
    zones_deg: tuple[float, ...]
    camera_turn_s: float | None


@dataclass(frozen=True)
class FollowReport:
    """Everything about following one object; None where it has no meaning for this kit.

    `turns_per_minute` and `seconds_per_turn` are the hour knob's for this object. Places are
    apparent and topocentric; `above` is false when the object is below the horizon, and then the
    rates are those without air.
    """

    kit: Kit
    thing: SkyObject | None
    hour_angle_h: float
    declination_deg: float
    azimuth_deg: float
    altitude_deg: float
    diameter_deg: float
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
    compare: Compare | None

    @property
    def drive(self) -> DriveChoice | None:
        """The motor's best rate for this object."""
        return self.drives[0] if self.drives else None

    @property
    def rate_arcsec_per_s(self) -> float:
        """What the hour axis has to do: as seen through air when the object is up."""
        return self.rates.seen if self.above else self.rates.true


@dataclass(frozen=True)
class _Place:
    hour_angle_h: float
    declination_deg: float
    azimuth_deg: float
    altitude_deg: float
    diameter_deg: float


def _equator_place(observer: Observer) -> _Place:
    high = 90.0 - abs(observer.latitude_deg)
    return _Place(0.0, 0.0, 180.0 if observer.north else 0.0, high, 0.0)


def _equator_rates(observer: Observer) -> ObjectRates:
    rate, drift = refracted_rate(0.0, 0.0, observer, refracted_pole_altitude_deg(observer))
    return ObjectRates(SIDEREAL_RATE_ARCSEC_PER_S, 0.0, float(rate), float(drift), 0.0)


def _place(thing: SkyObject, instants: Instants, observer: Observer) -> _Place:
    at = object_positions([thing], instants, observer)
    size = 0.0
    if thing.kind in MOVING:
        bodies = body_positions(thing.catalogue_id, instants, observer)
        size = float(bodies.diameter_arcsec[0, 0]) / 3600.0
    elif thing.size_major_arcmin is not None:
        size = thing.size_major_arcmin / 60.0
    return _Place(
        hour_angle_h=float(at.hour_angle_h[0, 0]),
        declination_deg=float(at.declination_deg[0, 0]),
        azimuth_deg=float(at.azimuth_deg[0, 0]),
        altitude_deg=float(at.altitude_deg[0, 0]),
        diameter_deg=size,
    )


def _compare(kit: Kit, place: _Place, rate: float) -> Compare:
    latitude = kit.site.latitude_deg
    now = altaz_rates(place.hour_angle_h, place.declination_deg, latitude, rate)
    motor = kit.mount.motor
    speed = TOP_SPEED_DEG_PER_S
    if motor is not None and motor.slew_deg_per_s is not None:
        speed = motor.slew_deg_per_s
    turn_s = None
    if kit.camera is not None:
        corner_px = np.hypot(kit.camera.width_px, kit.camera.height_px) / 2
        per_s = abs(float(now.turn)) / 3600.0
        turn_s = float(np.degrees(TRAIL_PX / corner_px)) / per_s if per_s > 0 else float("inf")
    return Compare(
        now=now,
        crossing=passage(place.declination_deg, latitude, speed),
        speed_deg_per_s=speed,
        zones_deg=tuple(float(z) for z in zenith_zone_deg(latitude, ZONE_SPEEDS)),
        camera_turn_s=turn_s,
    )


def follow_report(
    kit: Kit,
    observer: Observer,
    thing: SkyObject | None = None,
    instants: Instants | None = None,
    *,
    keep: float = KEEP_WITHIN,
    compare: bool = False,
) -> FollowReport:
    """How to follow `thing` at the first of `instants`; both or neither must be given.

    `keep`: the part of the field's radius within which the object is kept, 0 to 1.
    """
    if not 0.05 <= keep <= 1.0:
        raise AxletreeError(f"keep {keep:g}: the part of the field must lie between 0.05 and 1")
    if thing is None or instants is None:
        place, rates = _equator_place(observer), _equator_rates(observer)
    else:
        place, rates = _place(thing, instants, observer), object_rates(thing, instants, observer)
    above = thing is None or place.altitude_deg > 0
    rate = rates.seen if above else rates.true
    gears, mount = kit.mount.gears, kit.mount
    knob = hour_knob(gears, observer.north)
    seconds = turns = None
    if knob is not None and rate > 0:
        per_turn = float(degrees_per_turn(gears.hour_worm_teeth, gears.hour_knob_ratio))
        seconds = per_turn * 3600.0 / rate
        turns = 60.0 / seconds
    drives: tuple[DriveChoice, ...] = ()
    if mount.motion == "motor":
        from axletree.kit.parts.mount import Motor

        drives = tuple(drive_choices(mount.motor or Motor(), rates))
    drive = drives[0] if drives else None
    return FollowReport(
        kit=kit,
        thing=thing,
        hour_angle_h=place.hour_angle_h,
        declination_deg=place.declination_deg,
        azimuth_deg=place.azimuth_deg,
        altitude_deg=place.altitude_deg,
        diameter_deg=place.diameter_deg,
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
                keep=keep,
                drive=drive,
            )
        ),
        camera=camera_follow(kit, place.declination_deg, rate_arcsec_per_s=rate, drive=drive),
        keep=keep,
        compare=_compare(kit, place, rate) if compare else None,
    )
