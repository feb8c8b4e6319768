"""What do the hands need before the first object: north, balance, pole, follow?

Each function answers one stage for the document from the floors below; `setup_words` puts the
answers into sentences.
"""

from __future__ import annotations

from datetime import datetime

import numpy as np

from axletree.evening.document import (
    BalanceAnswer,
    EyepieceDrift,
    FollowAnswer,
    NorthAnswer,
    PoleAnswer,
    WeightPlace,
)
from axletree.ground.magnetism import bearing_to_pole_deg, magnetic_field
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.kit import Kit
from axletree.mount.balance.positions import eyepieces_of, middle_eyepiece, solve
from axletree.mount.follow.gearing import hour_knob
from axletree.mount.follow.nudge import eyepiece_follow
from axletree.mount.steady.tipping import tipping
from axletree.pole.aim.axis_view import axis_view
from axletree.pole.aim.scale import scale_setting
from axletree.pole.aim.scope_orientation import face_words
from axletree.pole.aim.target import pole_target
from axletree.pole.aim.view import pole_view
from axletree.sky.observer import Observer


def north_answer(kit: Kit, at: datetime) -> NorthAnswer:
    """The compass bearing of the elevated pole, with its uncertainty."""
    site = kit.site
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
    return NorthAnswer(
        pole="north" if site.north else "south",
        magnetic_declination_deg=field.declination_deg,
        magnetic_declination_sigma_deg=field.declination_sigma_deg,
        zone=field.zone,
        compass_bearing_deg=bearing_to_pole_deg(site.latitude_deg, field.declination_deg),
        note=field.note,
    )


def pole_answer(kit: Kit, observer: Observer, at: datetime, horizon: Horizon) -> PoleAnswer:
    """Where the axis points, what the scale shows, and where the pole star stands at `at`."""
    target = pole_target(observer)
    setting = scale_setting(kit.mount.bolts, target)
    seen = axis_view(kit.mount.polar_scope, 5.5)
    view = pole_view(observer, at, seen)
    skyline = float(np.asarray(horizon.altitude_at(target.azimuth_deg)))
    room = target.altitude_deg - skyline
    return PoleAnswer(
        pole_altitude_deg=target.altitude_deg,
        latitude_scale_deg=setting.setting_deg,
        star=view.star,
        pole_distance_arcmin=view.pole_distance_arcmin,
        star_hour_angle_h=view.star_hour_angle_h,
        clock_hour=view.clock_hour,
        clock_face=face_words(view.clock_hour),
        view=seen.look,
        at=at,
        skyline_clear=room > view.pole_distance_arcmin / 60.0,
        room_above_skyline_deg=room,
    )


def balance_answer(kit: Kit) -> BalanceAnswer:
    """Weights and tube for the middle eyepiece, with what balance cannot reach."""
    answer = solve(kit, middle_eyepiece(eyepieces_of(kit)))
    loading = answer.loading
    words: list[str] = []
    if not loading.exact:
        lack = loading.leftover_kg_m
        words.append(
            "the weights cannot balance this tube: "
            + ("too little" if lack > 0 else "too much")
            + f" by {abs(lack) * 9.81:.1f} N·m"
        )
    if answer.load.fraction > 1.0:
        words.append(
            f"the mount carries {answer.load.carried_kg:.1f} kg, more than its "
            f"{answer.load.limit_kg:.1f} kg"
        )
    stuck = answer.stuck_slide
    if stuck is not None:
        words.append(
            f"the dovetail is {abs(answer.short_of_slide_mm):.0f} mm too short to slide the tube "
            f"far enough {stuck.value}"
        )
    pairs = zip(loading.mass_kg, loading.position_mm, strict=True)
    return BalanceAnswer(
        weights=tuple(WeightPlace(mass_kg=m, position_mm=p) for m, p in pairs),
        tube_slide_mm=answer.slide_forward_mm,
        hour_axis_torque_nm=answer.hour_torque_nm,
        declination_axis_torque_nm=answer.declination_torque_nm,
        push_to_tip_n=tipping(kit).push_n,
        words=tuple(words),
    )


def over_saddle_mm(kit: Kit) -> float:
    """The place on the tube, from its front, that lies over the declination axis."""
    return float(solve(kit, middle_eyepiece(eyepieces_of(kit))).over_saddle_mm)


def follow_answer(kit: Kit) -> FollowAnswer:
    """Knob rhythm and drift through each eyepiece, for the celestial equator."""
    knob = hour_knob(kit.mount.gears, kit.site.north)
    rows = [row for row in eyepiece_follow(kit, 0.0) if row.barlow == 1.0]
    words: list[str] = []
    if knob is None:
        words.append("the hour axis has no knob: push the tube gently towards the west")
    else:
        way = "clockwise" if knob.clockwise else "anticlockwise"
        words.append(f"turn the hour knob {way}, one turn every {knob.seconds_per_turn:.0f} s")
        if knob.backlash_s > 0:
            words.append(f"after turning back, {knob.backlash_s:.0f} s of slack come first")
    if kit.mount.motor is not None:
        words.append("the motor follows the stars; the knob or the keys only correct")
    return FollowAnswer(
        seconds_per_knob_turn=knob.seconds_per_turn if knob else None,
        knob_turns_per_minute=knob.turns_per_minute if knob else None,
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
        words=tuple(words),
    )
