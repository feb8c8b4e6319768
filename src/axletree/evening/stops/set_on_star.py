"""On which star is the hour circle set before a stop, and what does it show there and then?

For who slips the circle on its shaft, or lets the drive carry it. What makes the mount read wrongly
at the star is set right there, and near it too: so the star stands near, on the same tube side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from axletree.axis.circles_read import CirclesOf, SetOnStar, StopPlace
from axletree.axis.marks import HOUR_ANGLE, AfterSetting, after_setting, hour_reading_h
from axletree.axis.model import PointingModel, unmeasured
from axletree.axis.set_on import CircleSetting, circle_set
from axletree.axis.shown import circles_shown
from axletree.evening.order.moving import Side
from axletree.kit.kit import Kit
from axletree.kit.parts.circles import HourMarks
from axletree.mount.room.table import RoomTable, room
from axletree.mount.room.usable import usable_now
from axletree.pole.solution.candidates import MeasurableStars, stars_now
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import separation_deg, wrap_h
from axletree.sky.observer import Observer

if TYPE_CHECKING:
    from axletree.evening.stops.stop import Stop

# Farther away than this, a mount's faults at the star aren't those at the object (our figure).
NEAR_DEG = 50.0
# Nearer to a pole the hour circle turns far for a small error of the aim (our figure).
FARTHEST_DECLINATION_DEG = 60.0
# The star keeps room this long, so that there is time to set the circle (our figure).
LEAST_ROOM_H = 0.1


@dataclass(frozen=True)
class Aim:
    """Where an object stands at a moment, and on which side the tube is turned to it.

    Hour angle and declination apparent of date, without air; `sidereal_h` is the local apparent
    sidereal time. `reached`: whether the mount that is known reaches it on that side.
    """

    at: datetime
    side: Side
    hour_angle_h: float
    declination_deg: float
    sidereal_h: float
    reached: bool = True

    @property
    def sign(self) -> int:
        """+1 for tube side east, -1 for west."""
        return 1 if self.side == "east" else -1


@dataclass(frozen=True)
class CircleSet:
    """What is told of a setting, and the mount after it; `sidereal_h` of the moment of setting."""

    told: SetOnStar
    after: PointingModel
    side: Side
    sidereal_h: float


def with_circles_set(
    kit: Kit, observer: Observer, table: RoomTable, stops: Sequence[Stop],
    model: PointingModel | None,
) -> tuple[Stop, ...]:  # fmt: skip
    """The stops with the hour circle read as it is marked, and the star on which it is set first.

    A circle that the drive carries serves until the tube goes over: then it reads 12 h off.
    """
    marks = kit.mount.circles.hour_marks
    kept = after_setting(kit.mount.circles) is AfterSetting.KEPT
    told: list[Stop] = []
    last: CircleSet | None = None
    for stop in stops:
        made = None
        if not (kept and last is not None and last.side == stop.chosen.side):
            made = circle_set_for(kit, observer, table, _aim(stop.start, stop.chosen.side), model)
        last = made or last
        serves = made if not kept or last is None or last.side != stop.chosen.side else last
        places = stop.start, stop.finish
        start, finish = (
            _marked(one, marks) if serves is None
            else _set(kit, observer, one, serves, sure=model is not None)
            for one in places
        )  # fmt: skip
        on = None if made is None else made.told
        told.append(replace(stop, start=start, finish=finish, set_on=on))
    return tuple(told)


def _aim(place: StopPlace, side: Side) -> Aim:
    return Aim(
        place.at, side, place.hour_angle_h, place.declination_deg, place.sidereal_h,
        reached=place.circles is not CirclesOf.OUT_OF_REACH,
    )  # fmt: skip


def _marked(place: StopPlace, marks: HourMarks) -> StopPlace:
    return replace(
        place, hour_reading_h=hour_reading_h(marks, place.hour_circle_h, place.sidereal_h)
    )


def _set(
    kit: Kit, observer: Observer, place: StopPlace, setting: CircleSet, *, sure: bool
) -> StopPlace:
    """The place with what its circle shows once it was set on that star."""
    reading_h, sigma_min = reading_after(kit, observer, _aim(place, setting.side), setting)
    return replace(
        place, hour_reading_h=reading_h, hour_circle_sigma_min=sigma_min if sure else None
    )


def reading_after(
    kit: Kit, observer: Observer, aim: Aim, setting: CircleSet
) -> tuple[float, float]:
    """What the hour circle shows of an object as it is marked, hours, and its error in minutes.

    Just set; one that the drive carries shows it as it was set, for the sky took it along. The
    error, one standard deviation, has both of the person's readings in it.
    """
    circles = kit.mount.circles
    shown = circles_shown(
        setting.after, aim.hour_angle_h, aim.declination_deg, aim.sign, observer
    )  # fmt: skip
    shown_h = float(shown.hour_circle_h)
    if setting.told.then is AfterSetting.KEPT and circles.hour_marks == HOUR_ANGLE:
        shown_h -= float(wrap_h(aim.sidereal_h - setting.sidereal_h))
    reading_h = hour_reading_h(circles.hour_marks, shown_h, aim.sidereal_h)
    return reading_h, float(np.hypot(shown.hour_sigma_arcmin, _read_arcmin(kit))) / 15.0


def _read_arcmin(kit: Kit) -> float:
    circles = kit.mount.circles
    return circles.read_division * circles.hour_division_min * 15.0


def circle_set_for(
    kit: Kit, observer: Observer, table: RoomTable, aim: Aim, model: PointingModel | None
) -> CircleSet | None:
    """The brightest star that is recognised within 50 degrees on the tube's side, else the nearest.

    Figures count for the moment of the aim; without a model they are those of a perfect mount and
    have no error. None where the circle is never set, and where no star shows: by day, or behind
    the skyline. (A choice that knows the way to the object may replace this one.)
    """
    then = after_setting(kit.mount.circles)
    if then is None:
        return None
    star = _star(kit, observer, table, aim)
    if star is None:
        return None
    name, apart_deg, star_h, star_d = star
    before = model if model is not None and aim.reached else _PERFECT
    marks, read_arcmin = kit.mount.circles.hour_marks, _read_arcmin(kit)
    setting = CircleSetting("hour", star_h, star_d, aim.sign, star_h, read_arcmin)
    told = SetOnStar(
        star=name, apart_deg=apart_deg, at=aim.at, marks=marks,
        star_reading_h=hour_reading_h(marks, star_h, aim.sidereal_h),
        object_reading_h=0.0, sigma_min=None, then=then,
    )  # fmt: skip
    after = circle_set(before, setting, observer, aim.at)
    made = CircleSet(told, after, aim.side, aim.sidereal_h)
    reading_h, sigma_min = reading_after(kit, observer, aim, made)
    told = replace(
        told, object_reading_h=reading_h, sigma_min=None if before is _PERFECT else sigma_min
    )
    return replace(made, told=told)


_PERFECT = unmeasured(0.0, 0.0)
_PERFECT = _PERFECT.with_values(_PERFECT.values, np.zeros_like(_PERFECT.covariance))


def _star(
    kit: Kit, observer: Observer, table: RoomTable, aim: Aim
) -> tuple[str, float, float, float] | None:
    """Name, degrees from the object, hour angle and declination of the star to set a circle on."""
    shown = stars_now(aim.at, observer, table.skyline or _open)
    if shown is None or not len(shown):
        return None
    apart = np.asarray(
        separation_deg(
            -15.0 * shown.hour_angle_h, shown.declination_deg,
            -15.0 * aim.hour_angle_h, aim.declination_deg,
        )
    )  # fmt: skip
    good = np.abs(shown.declination_deg) <= FARTHEST_DECLINATION_DEG
    good &= apart > 0.1  # the object itself is no star to begin at
    good &= _recognised(kit, shown)
    # What isn't open now, or when its room must last still, needs no further look.
    then_h = shown.hour_angle_h + np.array([[0.0], [LEAST_ROOM_H]])
    declination = np.broadcast_to(shown.declination_deg, then_h.shape)
    good &= usable_now(table, aim.sign, then_h, declination).all(axis=0)
    near = np.flatnonzero(good & (apart <= NEAR_DEG))  # brightest first, as they come
    far = np.flatnonzero(good & (apart > NEAR_DEG))
    for k in (*near, *far[np.argsort(apart[far], kind="stable")]):
        star_h, star_d = float(shown.hour_angle_h[k]), float(shown.declination_deg[k])
        free = room(table, star_h, star_d).room_h[0 if aim.side == "east" else 1]
        if free >= LEAST_ROOM_H:
            return shown.names[k], float(apart[k]), star_h, star_d
    return None


def _recognised(kit: Kit, stars: MeasurableStars) -> Mask:
    """Which of them the person recognises, by the site's sky without the Moon."""
    from axletree.evening.seeing.sky_brightness import site_sky
    from axletree.find.person import skill_of
    from axletree.find.turning.recognised import recognised_mag, stars_with_own_name

    zenith_mag, extinction, _ = site_sky(kit)
    air = 1.0 / np.sin(np.radians(stars.altitude_deg))  # of the flat Earth: none stands below 20
    own = np.array([int(hip) in stars_with_own_name() for hip in stars.number], dtype=bool)
    faintest = recognised_mag(zenith_mag, skill_of(kit.habits.observer))
    return own & (stars.magnitude_v + extinction * air <= faintest)


def _open(azimuth_deg: Floats) -> Floats:
    return np.zeros_like(azimuth_deg)
