"""From when to when can something be shown, and does the first stop wait for the pole star?

Public: ``ShowingTime``, ``pole_star_serves``, ``showing_time``, ``showing_times``.

Whoever can't use the pole star needn't wait for it: the axis is set by compass and scale while the
ground is light, and Moon, planets and bright doubles show before the stars do. Whoever can begins
with the Moon or a planet all the same, on an axis set by compass and scale, and sets it on the star
between two stops. Where the Sun never sinks far enough, what shows in bright twilight is shown. In
the morning bright things go on showing when the pole star has faded.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

import numpy as np

from axletree.evening.hosting.pace import Ease, find_seconds, show_seconds
from axletree.evening.night.set_up_pace import set_up_minutes
from axletree.evening.night.set_up_times import BY_STARS, at_clock
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.aim.target import LOW_POLE_DEG, pole_target
from axletree.pole.aim.visible import sun_depression_for
from axletree.sky.arrays import Mask
from axletree.sky.events.dusks import dark_hours
from axletree.sky.events.rise_and_set import darkness
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

# How far the Sun is down when Moon, planets and bright doubles show well, and the least with which
# anything does where no night is darker: common practice, no source.
BRIGHT_THINGS_DEG = 5.0
LEAST_DEG = (3.0, 1.0)
# Mercury, Mars and Saturn show a little later (common practice, no source).
DIM_THINGS_DEG = 6.0
# Shown before the pole star comes out, from the Sun so far down: the Moon, and planets as bright as
# the brightest stars.
EARLY_BODIES = (
    (BRIGHT_THINGS_DEG, ("moon", "venus", "jupiter")),
    (DIM_THINGS_DEG, ("mars", "saturn")),
)
BRIGHT_BODY_MAG = 1.0


Intervals = tuple[tuple[datetime, datetime], ...]
Bodies = tuple[str, ...]
# Whether one of these bodies stands clear from one moment to another.
Clear = Callable[[Bodies, datetime, datetime], bool]


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
    early = [darkness(night, observer, down).intervals for down, _ in EARLY_BODIES]
    bright = early[0]
    if star_serves:
        down = sun_depression_for(kit.site.north, kit.mount.polar_scope.kind)
        found = darkness(night, observer, down).intervals
        if found:

            def clear(bodies: Bodies, begin: datetime, end: datetime) -> bool:
                return bool(_clear_body(kit, observer, horizon, bodies, [(begin, end)])[0])

            return _by_star(kit, found, early, clear)
    if bright:
        return ShowingTime(bright, by_star=False)
    for down in LEAST_DEG:
        found = darkness(night, observer, down).intervals
        if found:
            return ShowingTime(found, by_star=False)
    return ShowingTime((), by_star=False)


def showing_times(
    kit: Kit, observer: Observer, nights: Sequence[Night], horizon: Horizon, *, star_serves: bool
) -> list[ShowingTime]:
    """`showing_time` of many nights at once, from the Sun's passages in closed form."""
    down = sun_depression_for(kit.site.north, kit.mount.polar_scope.kind)
    star = _passages(nights, observer, down) if star_serves else [()] * len(nights)
    early = [_passages(nights, observer, least) for least, _ in EARLY_BODIES]
    clear = [
        _clear_in_nights(kit, observer, horizon, bodies, star, light)
        for (_, bodies), light in zip(EARLY_BODIES, early, strict=True)
    ]
    found = []
    for k, night in enumerate(nights):
        if star[k]:
            known = {bodies: k in c for (_, bodies), c in zip(EARLY_BODIES, clear, strict=True)}
            found.append(_by_star(kit, star[k], [light[k] for light in early], _told_by(known)))
            continue
        light = early[0][k]
        for least in LEAST_DEG:
            light = light or _passages([night], observer, least)[0]
        found.append(ShowingTime(light, by_star=False))
    return found


def _told_by(known: dict[Bodies, bool]) -> Clear:
    def clear(bodies: Bodies, begin: datetime, end: datetime) -> bool:
        return known[bodies]

    return clear


def _clear_in_nights(
    kit: Kit, observer: Observer, horizon: Horizon, bodies: Bodies, star: Sequence[Intervals],
    light: Sequence[Intervals],
) -> set[int]:  # fmt: skip
    """The nights in which one of the bodies stands clear from the light on until the star."""
    both = [k for k in range(len(star)) if star[k] and light[k]]
    spans = [(light[k][0][0], star[k][0][0]) for k in both]
    stands = _clear_body(kit, observer, horizon, bodies, spans)
    return {k for k, clear in zip(both, stands, strict=True) if clear}


def _passages(nights: Sequence[Night], observer: Observer, down_deg: float) -> list[Intervals]:
    """The stretch of each night with the Sun so far down; none where it doesn't sink so far."""
    begins, ends = dark_hours(nights, observer, down_deg)

    def moment(night: Night, hours: float) -> datetime:
        return datetime.fromtimestamp(night.start.timestamp() + hours * 3600.0, night.zone)

    return [
        () if np.isnan(begin) else ((moment(night, float(begin)), moment(night, float(end))),)
        for night, begin, end in zip(nights, begins, ends, strict=True)
    ]


def _by_star(kit: Kit, star: Intervals, early: Sequence[Intervals], clear: Clear) -> ShowingTime:
    """From the pole star on, or earlier where Moon or a planet is `clear` and fills the time until
    it shows; to the end of what shows in the morning. `early`: as of `EARLY_BODIES`."""
    longest = max(star, key=_length)
    around = max(early[0], key=_length, default=longest)
    if not around[0] <= longest[0] <= longest[1] <= around[1]:
        return ShowingTime(star, by_star=True)
    need_s = find_seconds(kit, Ease.BRIGHT) + show_seconds(kit)
    axis_s = 60.0 * sum(least for name, least in set_up_minutes(kit) if name in BY_STARS)
    for (_, bodies), light in zip(EARLY_BODIES, early, strict=True):
        begin = max(light, key=_length, default=longest)[0]
        free_s = longest[0].timestamp() - begin.timestamp()
        # A session that the kit begins later has nothing to fill.
        late = kit.habits.start is not None and (
            at_clock(begin, kit.habits.start).timestamp() > begin.timestamp() + free_s - need_s
        )
        # Its hours run from the first stop: some are left for one with the axis set.
        short = free_s + axis_s + need_s > 3600.0 * kit.habits.hours
        if not (late or short) and free_s >= need_s and clear(bodies, begin, longest[0]):
            return ShowingTime(((begin, around[1]),), by_star=True, star_at=longest[0])
    return ShowingTime(((longest[0], around[1]),), by_star=True)


def _length(interval: tuple[datetime, datetime]) -> float:
    return interval[1].timestamp() - interval[0].timestamp()


def _clear_body(
    kit: Kit, observer: Observer, horizon: Horizon, bodies: Bodies,
    spans: Sequence[tuple[datetime, datetime]],
) -> Mask:  # fmt: skip
    """Whether one of the bodies is bright and stands clear all the time, (spans,)."""
    moments = Instants.from_datetimes([moment for span in spans for moment in span])
    if not spans:
        return np.zeros(0, dtype=np.bool_)
    seen = body_positions(bodies, moments, observer)
    lowest = np.maximum(horizon.altitude_at(seen.azimuth_deg), kit.habits.lowest_altitude_deg)
    bright = (seen.magnitude_v <= BRIGHT_BODY_MAG) & (seen.altitude_deg > lowest)
    return np.asarray(bright.reshape(len(bodies), len(spans), 2).all(axis=2).any(axis=0))
