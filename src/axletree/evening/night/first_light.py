"""From when to when can something be shown, and does the first stop wait for the pole star?

Public: ``ShowingTime``, ``pole_star_serves``, ``showing_time``.

Whoever can't use the pole star needn't wait for it: the axis is set by compass and scale while the
ground is light, and Moon, planets and bright doubles show before the stars do. Whoever can begins
with the Moon or a planet all the same, on an axis set by compass and scale, and sets it on the star
between two stops. Where the Sun never sinks far enough, what shows in bright twilight is shown. In
the morning bright things go on showing when the pole star has faded.
"""

from __future__ import annotations

from datetime import datetime

import numpy as np

from axletree.evening.hosting.pace import Ease, find_seconds, show_seconds
from axletree.evening.night.set_up_times import at_clock
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.aim.target import LOW_POLE_DEG, pole_target
from axletree.pole.aim.visible import sun_depression_for
from axletree.sky.events.rise_and_set import darkness
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

# How far the Sun is down when Moon, planets and bright doubles show well, and the least with which
# anything does where no night is darker: common practice, no source.
BRIGHT_THINGS_DEG = 5.0
LEAST_DEG = (3.0, 1.0)
# Shown before the pole star comes out: the Moon, and planets as bright as the brightest stars.
BRIGHT_BODIES = ("moon", "venus", "mars", "jupiter", "saturn")
BRIGHT_BODY_MAG = 1.0


Intervals = tuple[tuple[datetime, datetime], ...]


@dataclass(frozen=True)
class ShowingTime:
    """Intervals (from, to) with the Sun far enough below the horizon.

    `by_star`: the pole star comes out then, and the axis is set on it before the first stop.
    `star_at`: it comes out later than the first stop, and the axis is set between two stops.
    """

    intervals: Intervals
    by_star: bool
    star_at: datetime | None = None


def pole_star_serves(kit: Kit, observer: Observer, horizon: Horizon) -> bool:
    """Whether this kit can be set on its pole star: there is something to see it through, and it
    stands clear of the skyline and of the thickest air."""
    finder = kit.tube.finder
    seen_through = kit.mount.polar_scope.kind != "none" or (
        finder is not None and not finder.plain_sight
    )
    azimuth = 0.0 if kit.site.north else 180.0
    height = pole_target(observer).altitude_deg
    return bool(
        seen_through and height > LOW_POLE_DEG and height > float(horizon.altitude_at(azimuth))
    )


def showing_time(
    kit: Kit, observer: Observer, night: Night, horizon: Horizon, *, star_serves: bool
) -> ShowingTime:
    """When something can be shown in this night; no intervals where the Sun hardly sets."""
    bright = darkness(night, observer, BRIGHT_THINGS_DEG).intervals
    if star_serves:
        down = sun_depression_for(kit.site.north, kit.mount.polar_scope.kind)
        found = darkness(night, observer, down).intervals
        if found:
            return _by_star(kit, observer, horizon, found, bright)
    if bright:
        return ShowingTime(bright, by_star=False)
    for down in LEAST_DEG:
        found = darkness(night, observer, down).intervals
        if found:
            return ShowingTime(found, by_star=False)
    return ShowingTime((), by_star=False)


def _by_star(
    kit: Kit, observer: Observer, horizon: Horizon, star: Intervals, bright: Intervals
) -> ShowingTime:
    """From the pole star on, or earlier where Moon or a planet fills the time until it shows; to
    the end of what shows in the morning."""
    longest = max(star, key=_length)
    around = max(bright, key=_length, default=longest)
    if not around[0] <= longest[0] <= longest[1] <= around[1]:
        return ShowingTime(star, by_star=True)
    free_s = longest[0].timestamp() - around[0].timestamp()
    need_s = find_seconds(kit, Ease.BRIGHT) + show_seconds(kit)
    # A session that the kit begins later has nothing to fill.
    late = kit.habits.start is not None and (
        at_clock(around[0], kit.habits.start).timestamp() > around[0].timestamp() + free_s - need_s
    )
    if late or free_s < need_s or not _clear_body(kit, observer, horizon, around[0], longest[0]):
        return ShowingTime(((longest[0], around[1]),), by_star=True)
    return ShowingTime((around,), by_star=True, star_at=longest[0])


def _length(interval: tuple[datetime, datetime]) -> float:
    return interval[1].timestamp() - interval[0].timestamp()


def _clear_body(
    kit: Kit, observer: Observer, horizon: Horizon, begin: datetime, end: datetime
) -> bool:
    """Whether the Moon or a bright planet stands clear all the time."""
    seen = body_positions(BRIGHT_BODIES, Instants.from_datetimes([begin, end]), observer)
    lowest = np.maximum(horizon.altitude_at(seen.azimuth_deg), kit.habits.lowest_altitude_deg)
    bright = (seen.magnitude_v <= BRIGHT_BODY_MAG) & (seen.altitude_deg > lowest)
    return bool(bright.all(axis=1).any())
