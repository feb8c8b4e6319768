"""From when to when can something be shown, and does the first stop wait for the pole star?

Public: ``ShowingTime``, ``pole_star_serves``, ``showing_time``, ``showing_times``,
``bright_pairs``, ``passages_of``.

Whoever can't use the pole star needn't wait for it: the axis is set by compass and scale while the
ground is light, and Moon, planets and bright doubles show before the stars do. Whoever can begins
with the Moon, a planet or a bright pair all the same, as soon as one stands clear, on an axis set
by compass and scale, and sets it on the star between two stops. Where the Sun never sinks far
enough, what shows in bright twilight is shown. In the morning bright things go on showing when the
pole star has faded.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from functools import partial

import numpy as np

from axletree.evening.hosting.pace import Ease, find_seconds, show_seconds
from axletree.evening.night.set_up_pace import set_up_minutes
from axletree.evening.night.set_up_times import BY_STARS, at_clock
from axletree.evening.seeing.pairs import pair_needs_arcsec
from axletree.evening.seeing.shows_from import BRIGHTEST_STARS_MAG, nearly_darkest_deg
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.aim.target import LOW_POLE_DEG, pole_target
from axletree.pole.aim.visible import sun_depression_for
from axletree.pole.enough.still_point import shows_pole_star
from axletree.sky.catalogue.doubles import DoubleArrays, doubles
from axletree.sky.events.dusks import dark_hours
from axletree.sky.events.rise_and_set import darkness
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.sky.time.orientation import orientation

# How far the Sun is down when Moon, planets and bright doubles show well, and the least with which
# anything does where no night is darker: common practice, no source.
BRIGHT_THINGS_DEG = 5.0
LEAST_DEG = (3.0, 1.0)
# Mercury, Mars and Saturn show a little later (common practice, no source).
DIM_THINGS_DEG = 6.0
# Shown before the pole star comes out, from the Sun so far down: the Moon and planets as bright as
# the brightest stars; pairs of such stars (`bright_pairs`) with the first of them.
EARLY_BODIES = {
    "moon": BRIGHT_THINGS_DEG, "venus": BRIGHT_THINGS_DEG, "jupiter": BRIGHT_THINGS_DEG,
    "mars": DIM_THINGS_DEG, "saturn": DIM_THINGS_DEG,
}  # fmt: skip
BRIGHT_BODY_MAG = 1.0
# A pair is begun with that stands so many times as far apart as this tube needs (ours).
EASILY_APART = 2.0
# Nobody is kept waiting for the pole star longer than this where a pair would show (ours); for a
# shorter while the hours that people have are better spent in the dark.
LONGEST_WAIT_S = 3600.0
# From the light to the star it is asked so often what stands clear.
_SAMPLES = 7

Intervals = tuple[tuple[datetime, datetime], ...]
_Span = tuple[datetime, datetime]


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
    seen_through = kit.mount.polar_scope.kind != "none" or shows_pole_star(kit)
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
            dim = darkness(night, observer, DIM_THINGS_DEG).intervals
            return _by_star(kit, observer, horizon, [found], [bright], [dim])[0]
    if bright:
        return ShowingTime(bright, by_star=False)
    found = _in_the_light(lambda down: darkness(night, observer, down).intervals, observer)
    return ShowingTime(found, by_star=False)


def showing_times(
    kit: Kit, observer: Observer, nights: Sequence[Night], horizon: Horizon, *, star_serves: bool
) -> list[ShowingTime]:
    """`showing_time` of many nights at once, from the Sun's passages in closed form."""
    down = sun_depression_for(kit.site.north, kit.mount.polar_scope.kind)
    star = passages_of(nights, observer, down) if star_serves else [()] * len(nights)
    bright = passages_of(nights, observer, BRIGHT_THINGS_DEG)
    by_star = [k for k in range(len(nights)) if star[k]]
    some = [nights[k] for k in by_star]
    dim = passages_of(some, observer, DIM_THINGS_DEG)
    waiting = [star[k] for k in by_star], [bright[k] for k in by_star], dim
    found = dict(zip(by_star, _by_star(kit, observer, horizon, *waiting), strict=True))
    for k, night in enumerate(nights):
        if k not in found:
            light = bright[k] or _in_the_light(partial(_passage, night, observer), observer)
            found[k] = ShowingTime(light, by_star=False)
    return [found[k] for k in range(len(nights))]


def _in_the_light(spans: Callable[[float], Intervals], observer: Observer) -> Intervals:
    """Of a night that isn't dark enough for bright things to show well, when something shows: no
    earlier than nearly at its darkest. `spans`: with the Sun down so many degrees."""
    found = spans(LEAST_DEG[1])
    if not found:
        return ()
    begin, end = max(found, key=_length)
    middle = Instants.from_datetime(begin + (end - begin) / 2)
    deepest_deg = -body_positions("sun", middle, observer).altitude_true_deg[0]
    nearly_deg = float(nearly_darkest_deg(deepest_deg)[0])
    return spans(max(LEAST_DEG[1], min(LEAST_DEG[0], nearly_deg))) or found


def bright_pairs(kit: Kit) -> DoubleArrays:
    """Pairs that show as soon as planets do, and easily in this tube: of the brightest stars."""
    all_pairs = doubles()
    least = pair_needs_arcsec(
        kit.tube.aperture_mm, kit.site.seeing_arcsec,
        all_pairs.companion_magnitude_v - all_pairs.magnitude_v,
    )  # fmt: skip
    bright = all_pairs.magnitude_v <= BRIGHTEST_STARS_MAG
    return all_pairs.take(bright & (all_pairs.separation_arcsec >= EASILY_APART * least))


def _passage(night: Night, observer: Observer, down_deg: float) -> Intervals:
    return passages_of([night], observer, down_deg)[0]


def passages_of(nights: Sequence[Night], observer: Observer, down_deg: float) -> list[Intervals]:
    """The stretch of each night with the Sun so far down; none where it doesn't sink so far."""
    begins, ends = dark_hours(nights, observer, down_deg)

    def moment(night: Night, hours: float) -> datetime:
        return datetime.fromtimestamp(night.start.timestamp() + hours * 3600.0, night.zone)

    return [
        () if np.isnan(begin) else ((moment(night, float(begin)), moment(night, float(end))),)
        for night, begin, end in zip(nights, begins, ends, strict=True)
    ]


def _by_star(
    kit: Kit, observer: Observer, horizon: Horizon, star: Sequence[Intervals],
    bright: Sequence[Intervals], dim: Sequence[Intervals],
) -> list[ShowingTime]:  # fmt: skip
    """From the pole star on, or earlier where Moon, a planet or a bright pair stands clear and
    fills the time until it shows; to the end of what shows in the morning, each night (n,)."""
    whole = [max(out, key=_length) for out in star]
    around = [max(light, key=_length, default=whole[k]) for k, light in enumerate(bright)]
    faint = [max(light, key=_length, default=whole[k]) for k, light in enumerate(dim)]
    lighter = [
        k for k, (out, light) in enumerate(zip(whole, around, strict=True))
        if light[0] <= out[0] <= out[1] <= light[1]
    ]  # fmt: skip
    spans = [(around[k][0], whole[k][0]) for k in lighter]
    clear = _clear_from(kit, observer, horizon, spans, [faint[k][0] for k in lighter])
    found = [ShowingTime(out, by_star=True) for out in star]
    for k, moments in zip(lighter, clear, strict=True):
        at, until = whole[k][0], around[k][1]
        begin = next((m for m in moments if _fills(kit, m, at)), None)
        span = ((at if begin is None else begin, until),)
        found[k] = ShowingTime(span, by_star=True, star_at=None if begin is None else at)
    return found


def _fills(kit: Kit, begin: datetime, star_at: datetime) -> bool:
    """Whether a stop fits between these, and hours are left for one with the axis set."""
    need_s = find_seconds(kit, Ease.BRIGHT) + show_seconds(kit)
    axis_s = 60.0 * sum(least for name, least in set_up_minutes(kit) if name in BY_STARS)
    free_s = star_at.timestamp() - begin.timestamp()
    # A session that the kit begins later has nothing to fill.
    late = kit.habits.start is not None and (
        at_clock(begin, kit.habits.start).timestamp() > star_at.timestamp() - need_s
    )
    # Its hours run from the first stop.
    short = free_s + axis_s + need_s > 3600.0 * kit.habits.hours
    return not (late or short) and free_s >= need_s


def _length(interval: _Span) -> float:
    return interval[1].timestamp() - interval[0].timestamp()


def _clear_from(
    kit: Kit, observer: Observer, horizon: Horizon, spans: Sequence[_Span],
    dim_from: Sequence[datetime],
) -> list[list[datetime]]:  # fmt: skip
    """From when on something bright stands clear to the end of each span, earliest first.

    A span begins with the light for bright things; for dim ones it is `dim_from` then.
    """
    if not spans:
        return []
    begin = np.array([first.timestamp() for first, _ in spans])
    end = np.array([last.timestamp() for _, last in spans])
    at = np.linspace(begin, end, _SAMPLES, axis=1)
    first = spans[0][0]
    moments = Instants.from_datetimes([first]).plus((at - first.timestamp()).ravel())
    turned = orientation(moments, observer)
    seen = body_positions(list(EARLY_BODIES), moments, observer, turned=turned)
    pairs = bright_pairs(kit)
    stars = star_positions(Stars.of(pairs.ra_deg, pairs.dec_deg), moments, observer, turned)
    azimuth = np.concatenate((seen.azimuth_deg, stars.azimuth_deg))
    altitude = np.concatenate((seen.altitude_deg, stars.altitude_deg))
    clear = altitude > np.maximum(horizon.altitude_at(azimuth), kit.habits.lowest_altitude_deg)
    clear[: len(EARLY_BODIES)] &= seen.magnitude_v <= BRIGHT_BODY_MAG
    clear = clear.reshape(-1, len(spans), _SAMPLES)
    # Counted from the star back: for how many samples it has stood clear by then.
    count = np.minimum.accumulate(clear[:, :, ::-1], axis=2).sum(axis=2)
    from_s = np.take_along_axis(at[np.newaxis], _SAMPLES - np.maximum(count, 1)[:, :, None], 2)[
        ..., 0
    ]
    dim = np.array([d > BRIGHT_THINGS_DEG for d in EARLY_BODIES.values()] + [False] * len(pairs))
    light = np.where(dim[:, None], [moment.timestamp() for moment in dim_from], begin)
    from_s = np.where(count > 0, np.maximum(from_s, light), np.inf)
    from_s[len(EARLY_BODIES) :, end - begin < LONGEST_WAIT_S] = np.inf
    zone = first.tzinfo
    return [
        [datetime.fromtimestamp(s, zone) for s in sorted(column.tolist()) if s < last]
        for column, last in zip(from_s.T, end.tolist(), strict=True)
    ]
