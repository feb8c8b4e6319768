"""On which star is the hour circle set before a stop, and what does it show there and then?

For who slips the circle on its shaft, or lets the drive carry it. What makes the mount read wrongly
at the star is set right there, and near it too: so the star stands near, on the same tube side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from axletree.axis.marks import HOUR_ANGLE, AfterSetting, after_setting, hour_reading_h
from axletree.axis.set_on import CircleSetting, circle_set
from axletree.axis.shown import circles_shown
from axletree.axis.state import State
from axletree.evening.stops.stop import CirclesOf, SetOnStar, Stop, StopPlace
from axletree.kit.kit import Kit
from axletree.kit.parts.circles import HourMarks
from axletree.mount.follow.rates import refracted_hour_angle
from axletree.mount.room.table import RoomTable, room
from axletree.pole.solution.candidates import stars_now
from axletree.sky.arrays import Floats
from axletree.sky.directions import separation_deg, wrap_24h, wrap_h
from axletree.sky.observer import Observer

# Farther away than this, a mount's faults at the star aren't those at the object (our figure).
NEAR_DEG = 50.0
# Nearer to a pole the hour circle turns far for a small error of the aim (our figure).
FARTHEST_DECLINATION_DEG = 60.0
# The star keeps room this long, so that there is time to set the circle (our figure).
LEAST_ROOM_H = 0.1


def with_circles_set(
    kit: Kit, observer: Observer, table: RoomTable, stops: Sequence[Stop], state: State | None
) -> tuple[Stop, ...]:
    """The stops with the hour circle read as it is marked, and the star on which it is set first.

    A circle that the drive carries serves until the tube goes over: then it reads 12 h off.
    """
    marks = kit.mount.circles.hour_marks
    kept = after_setting(kit.mount.circles) is AfterSetting.KEPT
    told, set_for = [], ""
    for stop in stops:
        stop = replace(stop, start=_marked(stop.start, marks), finish=_marked(stop.finish, marks))
        setting = None
        if not (kept and set_for == stop.chosen.side):
            setting = set_on_star(kit, observer, table, stop, state)
        if setting is not None:
            set_for = stop.chosen.side
            stop = _just_set(stop, setting)
        told.append(stop)
    return tuple(told)


def _marked(place: StopPlace, marks: HourMarks) -> StopPlace:
    return replace(
        place, hour_reading_h=hour_reading_h(marks, place.hour_circle_h, place.sidereal_h)
    )


def _just_set(stop: Stop, setting: SetOnStar) -> Stop:
    """The stop with what its circle shows once it was just set on that star."""
    more_h = setting.object_reading_h - stop.start.hour_reading_h
    fold = wrap_h if setting.marks == HOUR_ANGLE else wrap_24h
    start, finish = (
        replace(
            place, hour_reading_h=float(fold(place.hour_reading_h + more_h)),
            hour_circle_sigma_min=setting.sigma_min,
        )
        for place in (stop.start, stop.finish)
    )  # fmt: skip
    return replace(stop, start=start, finish=finish, set_on=setting)


def set_on_star(
    kit: Kit, observer: Observer, table: RoomTable, stop: Stop, state: State | None
) -> SetOnStar | None:
    """The brightest named star within 50 degrees on the stop's tube side, else the nearest one.

    Figures count for the stop's begin. None where the circle is never set, and where no star
    shows: by day, or behind the skyline. (A choice that knows the way to the object may replace
    this one.)
    """
    then, start, side = after_setting(kit.mount.circles), stop.start, stop.chosen.side
    if then is None:
        return None
    shown = stars_now(start.at, observer, table.skyline or _open)
    if shown is None or not len(shown):
        return None
    free = room(table, shown.hour_angle_h, shown.declination_deg)
    east = 0 if side == "east" else 1
    good = free.usable[east] & (free.room_h[east] >= LEAST_ROOM_H)
    good &= np.abs(shown.declination_deg) <= FARTHEST_DECLINATION_DEG
    apart = np.asarray(
        separation_deg(
            -15.0 * shown.hour_angle_h, shown.declination_deg,
            -15.0 * start.hour_angle_h, start.declination_deg,
        )
    )  # fmt: skip
    good &= apart > 0.1  # the object itself is no star to begin at
    rows = np.flatnonzero(good)
    if not rows.size:
        return None
    near = rows[apart[rows] <= NEAR_DEG]
    # Brightest first, as they come.
    k = int(near[0]) if near.size else int(rows[np.argmin(apart[rows])])
    star_h, star_d = float(shown.hour_angle_h[k]), float(shown.declination_deg[k])
    object_h, sigma_min = _reading(kit, observer, table, stop, (star_h, star_d), state)
    marks = kit.mount.circles.hour_marks
    sidereal_h = start.sidereal_h
    return SetOnStar(
        star=shown.names[k],
        apart_deg=float(apart[k]),
        at=start.at,
        marks=marks,
        star_reading_h=hour_reading_h(marks, star_h, sidereal_h),
        object_reading_h=hour_reading_h(marks, object_h, sidereal_h),
        sigma_min=sigma_min,
        then=then,
    )


def _reading(
    kit: Kit, observer: Observer, table: RoomTable, stop: Stop, star: tuple[float, float],
    state: State | None,
) -> tuple[float, float | None]:  # fmt: skip
    """The object's hour angle on the circle set at the star (hour angle, declination); its error.

    In hours and, in minutes, one standard deviation with both of the person's readings; None where
    nothing is known of the mount. The circle shows too much by what the mount has at the star.
    """
    place, (star_h, star_d) = stop.start, star
    if state is None or place.circles is not CirclesOf.OWN:
        stands_h = refracted_hour_angle(star_h, star_d, observer, table.axes.altitude_deg)[0]
        object_h = refracted_hour_angle(
            place.hour_angle_h, place.declination_deg, observer, table.axes.altitude_deg
        )[0]
        return float(wrap_h(object_h + star_h - stands_h)), None
    circles, side = kit.mount.circles, 1 if stop.chosen.side == "east" else -1
    read_arcmin = circles.read_division * circles.hour_division_min * 15.0
    setting = CircleSetting("hour", star_h, star_d, side, star_h, read_arcmin)
    after = circle_set(state.pointing, setting, observer, place.at)
    shown = circles_shown(after, place.hour_angle_h, place.declination_deg, side, observer)
    sigma_min = float(np.hypot(shown.hour_sigma_arcmin, read_arcmin)) / 15.0
    return float(wrap_h(shown.hour_circle_h)), sigma_min


def _open(azimuth_deg: Floats) -> Floats:
    return np.zeros_like(azimuth_deg)
