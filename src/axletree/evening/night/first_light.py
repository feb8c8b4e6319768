"""From when to when can something be shown, and does the first stop wait for the pole star?

Public: ``ShowingTime``, ``pole_star_serves``, ``showing_time``.

Whoever can't use the pole star needn't wait for it: the axis is set by compass and scale while the
ground is light, and Moon, planets and bright doubles show before the stars do. Where the Sun never
sinks far enough, what shows in bright twilight is shown.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from axletree.ground.skyline.skyline import Horizon
from axletree.kit.kit import Kit
from axletree.pole.aim.target import pole_target
from axletree.pole.aim.visible import sun_depression_for
from axletree.sky.events.rise_and_set import darkness
from axletree.sky.observer import Observer
from axletree.sky.time.nights import Night

# How far the Sun is down when Moon, planets and bright doubles show well, and the least with which
# anything does where no night is darker: common practice, no source.
BRIGHT_THINGS_DEG = 5.0
LEAST_DEG = (3.0, 1.0)
# Lower than this the air lifts and blurs a pole star beyond use (common practice, no source).
LOWEST_POLE_DEG = 5.0


@dataclass(frozen=True)
class ShowingTime:
    """Intervals (from, to) with the Sun far enough below the horizon.

    `by_star`: the pole star comes out then, and the axis is set on it before the first stop.
    """

    intervals: tuple[tuple[datetime, datetime], ...]
    by_star: bool


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
        seen_through and height > LOWEST_POLE_DEG and height > float(horizon.altitude_at(azimuth))
    )


def showing_time(kit: Kit, observer: Observer, night: Night, *, star_serves: bool) -> ShowingTime:
    """When something can be shown in this night; no intervals where the Sun hardly sets."""
    if star_serves:
        down = sun_depression_for(kit.site.north, kit.mount.polar_scope.kind)
        found = darkness(night, observer, down).intervals
        if found:
            return ShowingTime(found, by_star=True)
    for down in (BRIGHT_THINGS_DEG, *LEAST_DEG):
        found = darkness(night, observer, down).intervals
        if found:
            return ShowingTime(found, by_star=False)
    return ShowingTime((), by_star=False)
