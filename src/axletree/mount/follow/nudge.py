"""How often must the knob be touched with each eyepiece, and how long may the camera look?

`rate` is what the object does in hour angle, arcseconds per second; a field at rest loses it at
that rate times the cosine of the declination. A nudge brings it back from the edge of the part
of the field that the person wants it to stay in, to the middle.
"""

from __future__ import annotations

from math import inf

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.follow.gearing import degrees_per_turn, longest_exposure_s
from axletree.mount.follow.rates import DriveChoice
from axletree.sky.optics import (
    drift_arcsec_per_s,
    drift_time_s,
    drift_to_edge_s,
    exit_pupil_mm,
    magnification,
    pixel_scale_arcsec,
    true_field_deg,
)
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

KEEP_WITHIN = 0.5  # of the way from the middle to the edge, before a nudge (our figure)
TRAIL_PX = 1.5  # a star no longer looks round beyond this (common practice, no source)


@dataclass(frozen=True)
class EyepieceFollow:
    """One eyepiece, alone or with a Barlow lens, on one object.

    `drift_time_s` from edge to edge through the middle with nothing turning; `nudge_s` from the
    middle to the part of the field that is kept; `knob_turn_deg` the turn that brings it back
    (None without a knob); `nudges_per_visitor` in the kit's time for one visitor;
    `wander_fraction` how far out it gets (1 is the edge) when nudged as seldom as the kit says.
    `motor_nudge_s` is the same as `nudge_s` with the motor running (None without one). An
    object larger than the field has `fits` false. Times may be inf.
    """

    label: str
    barlow: float
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    drift_time_s: float
    nudge_s: float
    knob_turn_deg: float | None
    nudges_per_visitor: float
    wander_fraction: float
    motor_nudge_s: float | None
    fits: bool


def eyepiece_follow(
    kit: Kit,
    declination_deg: float,
    *,
    rate_arcsec_per_s: float = SIDEREAL_RATE_ARCSEC_PER_S,
    object_deg: float = 0.0,
    keep: float = KEEP_WITHIN,
    drive: DriveChoice | None = None,
) -> list[EyepieceFollow]:
    """Every eyepiece of the kit, alone and with each Barlow lens, longest focal length first.

    `object_deg` is the object's diameter: as far as it can, the field keeps all of it.
    """
    factors = [1.0, *(b.factor for b in kit.barlows)]
    pairs = [(e, f) for e in kit.eyepieces for f in factors]
    pairs.sort(key=lambda p: -p[0].focal_length_mm / p[1])
    found = []
    for eyepiece, factor in pairs:
        power = float(magnification(kit.tube.focal_length_mm, eyepiece.focal_length_mm, factor))
        stop = np.nan if eyepiece.field_stop_mm is None else eyepiece.field_stop_mm
        field = float(
            true_field_deg(
                kit.tube.focal_length_mm, eyepiece.focal_length_mm,
                eyepiece.apparent_field_deg, stop, factor,
            )
        )  # fmt: skip
        room = field / 2 - object_deg / 2
        radius = min(keep * field / 2, room) if room > 0 else keep * field / 2
        nudge = float(drift_to_edge_s(radius, declination_deg, rate_arcsec_per_s))
        knob = None
        if kit.mount.gears.hour_geared and np.isfinite(nudge):
            per_turn = float(
                degrees_per_turn(kit.mount.gears.hour_worm_teeth, kit.mount.gears.hour_knob_ratio)
            )
            knob = nudge * abs(rate_arcsec_per_s) / 3600.0 / per_turn * 360.0
        moved = float(drift_arcsec_per_s(declination_deg, rate_arcsec_per_s)) / 3600.0
        wander = abs(moved) * kit.habits.nudge_every_s / (field / 2)
        left = None
        if drive is not None:
            speed = drive.drift_arcsec_per_min / 60.0
            left = radius * 3600.0 / speed if speed > 0 else inf
        found.append(
            EyepieceFollow(
                label=eyepiece.label_with(factor),
                barlow=factor,
                magnification=power,
                true_field_deg=field,
                exit_pupil_mm=float(exit_pupil_mm(kit.tube.aperture_mm, power)),
                drift_time_s=float(drift_time_s(field, declination_deg, rate_arcsec_per_s)),
                nudge_s=nudge,
                knob_turn_deg=knob,
                nudges_per_visitor=kit.habits.seconds_per_visitor / nudge,
                wander_fraction=wander,
                motor_nudge_s=left,
                fits=room >= 0,
            )
        )
    return found


@dataclass(frozen=True)
class CameraFollow:
    """How long one exposure may last on one object, star images no longer than `TRAIL_PX`.

    `still_s` with nothing turning; `periodic_worst_s` and `periodic_best_s` at the worst and
    best phase of the worm (None: the periodic error isn't known or nothing drives); `drive_s`
    until the motor's rate itself trails (None without a motor). inf: never too long.
    """

    pixel_arcsec: float
    allowed_arcsec: float
    still_s: float
    periodic_worst_s: float | None
    periodic_best_s: float | None
    drive_s: float | None


def camera_follow(
    kit: Kit,
    declination_deg: float,
    *,
    rate_arcsec_per_s: float = SIDEREAL_RATE_ARCSEC_PER_S,
    drive: DriveChoice | None = None,
    trail_px: float = TRAIL_PX,
) -> CameraFollow | None:
    """The longest exposures of the kit's camera, or None without one."""
    if kit.camera is None:
        return None
    pixel = float(pixel_scale_arcsec(kit.camera.pixel_um, kit.tube.focal_length_mm))
    allowed = trail_px * pixel
    across = abs(float(drift_arcsec_per_s(declination_deg, rate_arcsec_per_s)))
    gears = kit.mount.gears
    worst: float | None = None
    best: float | None = None
    if drive is not None and gears.periodic_error_arcsec is not None and gears.hour_geared:
        # The error is one of hour angle: on the sky it shrinks with the cosine of declination.
        on_sky = gears.periodic_error_arcsec * float(np.cos(np.radians(declination_deg)))
        worst, best = (float(t) for t in longest_exposure_s(on_sky, gears.hour_worm_teeth, allowed))
    left = None
    if drive is not None:
        speed = drive.drift_arcsec_per_min / 60.0
        left = allowed / speed if speed > 0 else inf
    return CameraFollow(
        pixel_arcsec=pixel,
        allowed_arcsec=allowed,
        still_s=allowed / across if across > 0 else inf,
        periodic_worst_s=worst,
        periodic_best_s=best,
        drive_s=left,
    )
