"""On which star is the hour circle set before a stop, and what does it show there and then?

For who slips the circle on its shaft, or lets the drive carry it: on the star at which the way to
the object begins, where the tube is anyhow. What makes the mount read wrongly there is set right,
and near it too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from axletree.axis.circles_read import CirclesOf, SetOnStar, StopPlace
from axletree.axis.marks import HOUR_ANGLE, AfterSetting, after_setting, hour_reading_h
from axletree.axis.model import PointingModel, unmeasured
from axletree.axis.set_on import CircleSetting, circle_set
from axletree.axis.shown import circles_shown
from axletree.evening.seeing.sky_brightness import site_sky
from axletree.evening.stops.to_find import is_driven
from axletree.find.instruments import mounted_of
from axletree.find.start_star import StartStar, start_stars
from axletree.find.turning.seeking import Seeking, SkyLight
from axletree.find.turning.shafts import SkyPlace
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.circles import HourMarks
from axletree.mount.rig.kinematics import side_sign
from axletree.mount.room.table import RoomTable
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

if TYPE_CHECKING:
    from axletree.evening.order.moving import Side
    from axletree.evening.stops.stop import Stop

# The object itself is no star to begin at.
OBJECT_ITSELF_DEG = 0.1
# An error of the aim at the star may become so many times as much at the object (our figure).
MOST_GROWTH = 2.0


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
        return int(side_sign(self.side))


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
    """The stops with the hour circle read as it is marked, and the star on which it is set first:
    that at which the stop's way begins, where it has one.

    A circle that the drive carries serves until the tube goes over: then it reads 12 h off.
    """
    marks, then = kit.mount.circles.hour_marks, after_setting(kit.mount.circles)
    kept = then is AfterSetting.KEPT
    told: list[Stop] = []
    last: CircleSet | None = None
    for stop in stops:
        made = None
        if then is not None and not (kept and last and last.side == stop.chosen.side):
            aim = _aim(stop.start, stop.chosen.side)
            star = None if stop.finding is None else stop.finding.start
            if stop.finding is not None and star is None:
                pass  # no star shows yet
            elif not isinstance(star, StartStar) or not may_be_set_on(star, aim):
                star = way_begins(kit, observer, table, aim, model)
            made = circle_set_for(kit, observer, aim, model, star)
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
    kit: Kit, observer: Observer, aim: Aim, model: PointingModel | None, star: StartStar | None
) -> CircleSet | None:
    """The hour circle set on that star.

    Figures count for the moment of the aim; without a model they are those of a perfect mount and
    have no error. None where the circle is never set, and without a star.
    """
    then = after_setting(kit.mount.circles)
    if then is None or star is None:
        return None
    star_h, star_d = float(star.place.hour_angle_h[0]), float(star.place.declination_deg[0])
    before = model if model is not None and aim.reached else _PERFECT
    marks, read_arcmin = kit.mount.circles.hour_marks, _read_arcmin(kit)
    setting = CircleSetting("hour", star_h, star_d, aim.sign, star_h, read_arcmin)
    told = SetOnStar(
        star=star.names[0], apart_deg=star.separation_deg, at=aim.at, marks=marks,
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


def way_begins(
    kit: Kit, observer: Observer, table: RoomTable, aim: Aim,
    model: PointingModel | None = None, light: SkyLight | None = None,
) -> StartStar | None:  # fmt: skip
    """The star at which the way to the object begins, or the next best where that is the object.

    `light`: the sky behind the object and the air's share; None: the site's without the Moon.
    """
    if light is None:
        zenith_mag, extinction, _ = site_sky(kit)
        light = SkyLight(zenith_mag, extinction)
    mounted = mounted_of(kit, observer, model or _PERFECT, aim.sign, driven=is_driven(kit))
    thing = SkyPlace.of(np.array([aim.hour_angle_h]), np.array([aim.declination_deg]))
    seeking = Seeking(mounted, table, thing, Instants.from_datetime(aim.at), light)
    return next((star for star in start_stars(seeking, 3) if may_be_set_on(star, aim)), None)


def may_be_set_on(star: StartStar, aim: Aim) -> bool:
    """Whether the hour circle may be set there: what the aim misses there the circle misses more
    the nearer the star stands to a pole, and less of it is seen the nearer the object does."""
    at_star, at_object = (
        float(np.cos(np.radians(d))) for d in (star.place.declination_deg[0], aim.declination_deg)
    )
    return star.separation_deg > OBJECT_ITSELF_DEG and at_object <= MOST_GROWTH * at_star
