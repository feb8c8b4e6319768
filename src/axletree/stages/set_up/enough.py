"""How good must the axis be for what the person will do, and which method reaches that soonest?"""

from __future__ import annotations

import math
from datetime import datetime
from enum import Enum
from pathlib import Path

from axletree.axis.model import PointingModel, carried_pole_deg, unmeasured
from axletree.axis.state import State
from axletree.find.practice.along_axis import swing_room_of
from axletree.ground.magnetism import magnetic_field
from axletree.ground.skyline.of_site import pole_horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.aim.target import PoleTarget, pole_target
from axletree.pole.aim.view import star_places
from axletree.pole.enough.fields import widest_field_deg
from axletree.pole.enough.methods import Method, drift_minutes_for, methods, quickest
from axletree.pole.enough.need import (
    CAMERA_DECLINATION_DEG,
    EyeUse,
    eye_use_of,
)
from axletree.pole.enough.tolerance import (
    CameraUse,
    Tolerance,
    Use,
    camera_tolerance,
    circles_tolerance_arcmin,
    eye_tolerance,
)
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of

# Half-way to the edge, where most eyepieces are still sharp (common practice, no source).
USE_OF_FIELD = 0.5
# One exposure of a camera that isn't in the kit (common practice, no source).
ORDINARY_EXPOSURE_S = 30.0
LONGEST_NUDGE_S = 24 * 3600.0
LONGEST_EXPOSURE_S = 6 * 3600.0
FARTHEST_GUIDE_STAR_DEG = 45.0
HIGHEST_DECLINATION_DEG = 89.9
SENSOR_KEYS = ("pixel_um", "width_px", "height_px")


@dataclass(frozen=True)
class EyeRequest:
    """Looking: an eyepiece or a magnification, the kit's strongest eyepiece where both are None.

    `nudge_every_s`: None for the kit's habit. `use_of_field`: how far from the middle to the edge
    the object may wander.
    """

    eyepiece_mm: float | None = None
    magnification: float | None = None
    nudge_every_s: float | None = None
    use_of_field: float = USE_OF_FIELD


@dataclass(frozen=True)
class CameraRequest:
    """Photographing; what is None is the kit's, as far as the kit has a camera."""

    focal_length_mm: float | None = None
    pixel_um: float | None = None
    width_px: int | None = None
    height_px: int | None = None
    exposure_s: float | None = None
    guided: bool | None = None
    allowed_px: float | None = None
    guide_star_deg: float | None = None


@dataclass(frozen=True)
class EnoughRequest:
    """What the axis is for, at an aware moment; `only` leaves the other use out.

    The object by its declination or its name, not both; neither: what `EnoughAssumption` says.
    `kit_folder`: where a skyline file stands; None where the kit has no file.
    """

    at: datetime
    only: Use | None = None
    eye: EyeRequest = EyeRequest()
    camera: CameraRequest = CameraRequest()
    declination_deg: float | None = None
    object_name: str | None = None
    kit_folder: Path | None = None


class EnoughAssumption(Enum):
    """What nobody said, and what every answer rests on."""

    CAMERA_DECLINATION = "camera_declination"
    GUIDE_STAR_IN_CORNER = "guide_star_in_corner"
    SEEING = "seeing"
    GUESSED_BOLTS = "guessed_bolts"
    ESTIMATES = "estimates"


@dataclass(frozen=True)
class EnoughAnswer:
    """Tolerance of each use, the strictest of them, and what reaches it.

    `circles_arcmin`: the largest error with which setting circles still bring objects into the
    widest eyepiece. `drift_minutes`: how long a drift test must last where no method is enough.
    `guessed_bolts`: keys of the bolts that the kit doesn't give.
    """

    eye: Tolerance | None
    eye_use: EyeUse | None
    camera: Tolerance | None
    camera_use: CameraUse | None
    strictest: Tolerance
    methods: tuple[Method, ...]
    best: Method | None
    drift_minutes: float | None
    circles_arcmin: float
    seeing_arcsec: float
    assumptions: tuple[EnoughAssumption, ...]
    guessed_bolts: tuple[str, ...]

    @property
    def stop_arcmin(self) -> float:
        """So near the pole nothing is gained by going on: the object stays, the circles reach."""
        return min(self.strictest.largest_arcmin, self.circles_arcmin)

    @property
    def quickest_to_stop(self) -> Method | None:
        """The quickest method that comes so near nine times in ten."""
        near = [m for m in self.methods if m.possible and m.within_90_arcmin <= self.stop_arcmin]
        return min(near, key=lambda m: m.minutes, default=None)


def enough(kit: Kit, request: EnoughRequest) -> EnoughAnswer:
    """How good is good enough. Refuses values that no kit has, and an object that moves."""
    eye_use = None if request.only is Use.CAMERA else _eye_use(kit, request.eye)
    camera_use = None if request.only is Use.EYE else _camera_use(kit, request)
    declination = _declination_deg(request)
    eye = camera = None
    if eye_use is not None:
        eye = eye_tolerance(
            eye_use.true_field_deg,
            eye_use.nudge_every_s,
            motor=eye_use.motor,
            declination_deg=declination or 0.0,
            use_of_field=request.eye.use_of_field,
        )
    if camera_use is not None:
        camera = camera_tolerance(
            camera_use,
            declination_deg=CAMERA_DECLINATION_DEG if declination is None else declination,
            seeing_arcsec=kit.site.seeing_arcsec,
            aperture_mm=kit.tube.aperture_mm,
        )
    strictest = min((t for t in (eye, camera) if t is not None), key=lambda t: t.largest_arcmin)
    found = _methods(kit, request, strictest)
    best = quickest(found)
    target = pole_target(observer_of(kit.site))
    return EnoughAnswer(
        eye=eye,
        eye_use=eye_use,
        camera=camera,
        camera_use=camera_use,
        strictest=strictest,
        methods=found,
        best=best,
        drift_minutes=None if best else drift_minutes_for(kit, target, strictest.largest_arcmin),
        circles_arcmin=circles_tolerance_arcmin(widest_field_deg(kit)),
        seeing_arcsec=kit.site.seeing_arcsec,
        assumptions=_assumptions(kit, camera_use, declination),
        guessed_bolts=_guessed_bolts(kit),
    )


def as_set_arcmin(kit: Kit, at: datetime, kit_folder: Path | None = None) -> tuple[float, float]:
    """How well an axis is known that nobody measured: high and east, one standard deviation.

    That of the quickest method that is enough, or of the best that can be had.
    """
    found = enough(kit, EnoughRequest(at, kit_folder=kit_folder))
    open_ = [m for m in found.methods if m.obstacle is None] or list(found.methods)
    way = found.best or min(open_, key=lambda m: m.within_90_arcmin)
    return way.high_sigma_arcmin, way.east_sigma_arcmin


def pointing_known(
    kit: Kit, state: State | None, at: datetime, kit_folder: Path | None = None
) -> PointingModel:
    """What the notes say of the mount's errors; without any, as well as its axis is usually set."""
    if state is not None:
        return state.pointing
    altitude = carried_pole_deg(observer_of(kit.site))
    return unmeasured(*as_set_arcmin(kit, at, kit_folder), pole_altitude_deg=altitude)


def _methods(kit: Kit, request: EnoughRequest, strictest: Tolerance) -> tuple[Method, ...]:
    site, observer = kit.site, observer_of(kit.site)
    target = pole_target(observer)
    (star,) = star_places(observer, [request.at], target)
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, request.at)
    return methods(
        kit,
        target,
        star.distance_arcmin,
        field.declination_sigma_deg,
        strictest.largest_arcmin,
        pole_in_view=_pole_in_view(kit, request, target),
        swings_freely=swing_room_of(kit, target).clear(kit.habits.clearance_margin_mm),
    )


def _pole_in_view(kit: Kit, request: EnoughRequest, target: PoleTarget) -> bool | None:
    """Whether the pole stands above the skyline; None where nobody measured it."""
    horizon = pole_horizon(kit.site, request.kit_folder, request.at)
    if horizon is None:
        return None
    return bool(target.altitude_deg > horizon.altitude_at(target.azimuth_deg))


def _eye_use(kit: Kit, request: EyeRequest) -> EyeUse:
    every_s = request.nudge_every_s
    if every_s is not None and not 0 < every_s <= LONGEST_NUDGE_S:
        raise AxletreeError(
            f"{every_s / 60:g} minutes between nudges: it must be more than 0, up to a day"
        )
    return eye_use_of(kit, request.eyepiece_mm, request.magnification, every_s)


def _camera_use(kit: Kit, request: EnoughRequest) -> CameraUse | None:
    """The camera's use; None where neither the kit nor the request has a camera."""
    asked, own = request.camera, kit.camera
    if own is None:
        missing = [key for key in SENSOR_KEYS if getattr(asked, key) is None]
        if request.only is not Use.CAMERA and len(missing) == len(SENSOR_KEYS):
            return None
        if missing:
            raise AxletreeError(f"this kit has no camera: give {', '.join(missing)} as well")
    exposure = asked.exposure_s
    if exposure is None:
        exposure = own.exposure_s if own is not None else ORDINARY_EXPOSURE_S
    if not 0 < exposure <= LONGEST_EXPOSURE_S:
        raise AxletreeError(
            f"an exposure of {exposure:g} s: it must be more than 0, up to six hours"
        )
    away = asked.guide_star_deg
    if away is not None and not 0 <= away <= FARTHEST_GUIDE_STAR_DEG:
        raise AxletreeError(f"a guide star {away:g}° from the middle: give 0 to 45 degrees")
    guided = asked.guided
    if guided is None:
        guided = own.guided if own is not None else False
    return CameraUse(
        focal_length_mm=asked.focal_length_mm or kit.tube.focal_length_mm,
        pixel_um=asked.pixel_um or (own.pixel_um if own else 0.0),
        width_px=asked.width_px or (own.width_px if own else 0),
        height_px=asked.height_px or (own.height_px if own else 0),
        exposure_s=exposure,
        guided=guided,
        allowed_px=asked.allowed_px,
        guide_star_deg=away,
    )


def _declination_deg(request: EnoughRequest) -> float | None:
    value = request.declination_deg
    if value is not None:
        if request.object_name is not None:
            raise AxletreeError("give the object or its declination, not both")
        if not math.isfinite(value) or not abs(value) <= HIGHEST_DECLINATION_DEG:
            raise AxletreeError(f"a declination of {value:g}: it must lie between -89.9 and 89.9")
        return value
    if request.object_name is None:
        return None
    found = find(request.object_name)
    if found.dec_deg is None:
        raise AxletreeError(
            f"{found.name} moves among the stars: give its declination for tonight instead"
        )
    return found.dec_deg


def _assumptions(
    kit: Kit, camera: CameraUse | None, declination_deg: float | None
) -> tuple[EnoughAssumption, ...]:
    found = []
    if camera is not None and declination_deg is None:
        found.append(EnoughAssumption.CAMERA_DECLINATION)
    if camera is not None and camera.guided and camera.guide_star_deg is None:
        found.append(EnoughAssumption.GUIDE_STAR_IN_CORNER)
    if camera is not None and camera.allowed_px is None:
        found.append(EnoughAssumption.SEEING)
    if _guessed_bolts(kit):
        found.append(EnoughAssumption.GUESSED_BOLTS)
    return (*found, EnoughAssumption.ESTIMATES)


def _guessed_bolts(kit: Kit) -> tuple[str, ...]:
    return tuple(n.rsplit(".", 1)[1] for n in kit.guessed if n.startswith("mount.bolts."))
