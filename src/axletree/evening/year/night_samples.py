"""When could each of many nights' stops be, and under what Sun, Moon and planets?

One session a night, as the evening's own planning has it, cut into slots of one stop each (a long
night into blocks of a few), with the sidereal time and the places of the bodies in the middle of
each. A year takes some tenths of a second.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from axletree.evening.night.first_light import ShowingTime, pole_star_serves, showing_times
from axletree.evening.night.set_up_times import Session, pauses_of, seconds_between, session_of
from axletree.evening.offered.catalogues import BODIES
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices
from axletree.sky.events.dusks import dark_hours
from axletree.sky.events.twilight import ASTRONOMICAL_DEG, SUN_HORIZON_DEG
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import BodyPositions, body_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.sky.time.orientation import orientation

NAMES = ("sun", *BODIES)
# A night of more stops than this is looked at in blocks of a few.
MOST_SLOTS = 20


@dataclass(frozen=True)
class _Sunset:
    sunset: datetime | None


@dataclass(frozen=True)
class NightSamples:
    """Sessions of n nights (None where there is none), and m sessions' samples.

    `rows` (m,) are the nights with a session; `seconds` (m, k) since its first stop, at the same
    k instants as `sidereal_h` and `bodies` (rows of `NAMES`, columns m times k): the first stop,
    the middle of each slot, the end. `room` (m, k - 2): how many stops each slot holds, breaks left
    out, the last one perhaps in part. `dark_h` (n,) are hours of the session with the Sun below -18
    degrees, `dark` (m, 2) from when to when, seconds of the session.
    """

    nights: tuple[Night, ...]
    sessions: tuple[Session | None, ...]
    rows: Indices
    seconds: Floats
    room: Floats
    slot_s: float
    sidereal_h: Floats
    bodies: BodyPositions
    instants: Instants
    session_h: Floats
    dark_h: Floats
    dark: Floats
    ever_dark: tuple[bool, ...]

    @property
    def shape(self) -> tuple[int, int]:
        """Sessions and instants in each."""
        return self.seconds.shape[0], self.seconds.shape[1]

    @property
    def slots(self) -> int:
        """Slots of each session; some hold nothing."""
        return int(self.room.shape[1])

    def of_body(self, name: str, field: str) -> Floats:
        """One field of one body, (m, k)."""
        values: Floats = getattr(self.bodies, field)[NAMES.index(name)]
        return values.reshape(self.shape)

    def slot_begin(self, row: int, slot: int) -> datetime:
        """When a slot of one session begins."""
        session = self.sessions[int(self.rows[row])]
        assert session is not None
        first = session.first_stop
        return datetime.fromtimestamp(first.timestamp() + slot * self.slot_s, first.tzinfo)


def sample_nights(
    kit: Kit, observer: Observer, horizon: Horizon, nights: Sequence[Night], stop_s: float
) -> NightSamples:
    """Sessions and samples of these nights for stops of `stop_s` seconds, finding included.

    `horizon` is the site's. Dates outside 2020-2049 are refused.
    """
    sessions, showing = sessions_of(kit, observer, horizon, nights)
    rows = np.array([k for k, s in enumerate(sessions) if s is not None], dtype=np.intp)
    held = [s for s in sessions if s is not None]
    length_s = np.array([seconds_between(s.first_stop, s.end) for s in held])
    stops = int(np.ceil(float(length_s.max()) / stop_s)) if held else 1
    slot_s = stop_s * int(np.ceil(stops / MOST_SLOTS))
    count = max(1, int(np.ceil(stops * stop_s / slot_s)))
    begin_s = slot_s * np.arange(count, dtype=np.float64)
    left_s = np.clip(length_s[:, np.newaxis] - begin_s, 0.0, slot_s)
    middles = np.minimum(begin_s + left_s / 2.0, length_s[:, np.newaxis])
    room_s = left_s - _breaks_s(kit, held, begin_s, left_s)
    seconds = np.hstack([np.zeros((len(held), 1)), middles, length_s[:, np.newaxis]])
    firsts = Instants.from_datetimes([s.first_stop for s in held])
    looks = seconds.shape[1]
    instants = firsts[np.repeat(np.arange(len(held)), looks)].plus(seconds.ravel())
    turned = orientation(instants, observer)
    session_h = np.zeros(len(nights))
    session_h[rows] = length_s / 3600.0
    dark = _dark_s(observer, nights, sessions)
    dark_h = np.zeros(len(nights))
    dark_h[rows] = (dark[:, 1] - dark[:, 0]) / 3600.0
    return NightSamples(
        nights=tuple(nights),
        sessions=sessions,
        rows=rows,
        seconds=seconds,
        room=room_s / stop_s,
        slot_s=slot_s,
        sidereal_h=np.mod(turned.sidereal_time_rad * 12.0 / np.pi, 24.0).reshape(seconds.shape),
        bodies=body_positions(NAMES, instants, observer, turned=turned),
        instants=instants,
        session_h=session_h,
        dark_h=dark_h,
        dark=dark,
        ever_dark=tuple(bool(shows.intervals) for shows in showing),
    )


def sessions_of(
    kit: Kit, observer: Observer, horizon: Horizon, nights: Sequence[Night]
) -> tuple[tuple[Session | None, ...], list[ShowingTime]]:
    """The session of each night by the evening's own rules, and when anything can be shown in it.

    `horizon` is the site's."""
    sets, _ = dark_hours(nights, observer, -SUN_HORIZON_DEG)
    serves = pole_star_serves(kit, observer, horizon)
    showing = showing_times(kit, observer, nights, horizon, star_serves=serves)

    def session(k: int, shows: ShowingTime) -> Session | None:
        sunset_h = float(sets[k])
        sunset = None if np.isnan(sunset_h) or sunset_h <= 0.0 else after(nights[k], sunset_h)
        return session_of(
            _Sunset(sunset), shows.intervals, kit.habits, kit.tube.cool_down_min,
            by_star=shows.by_star, star_at=shows.star_at,
        )  # fmt: skip

    found = [session(k, shows) for k, shows in enumerate(showing)]
    # Where the hours are over before the axis is set on its star, it isn't waited for.
    late = [k for k, shows in enumerate(showing) if found[k] is None and shows.by_star]
    early = showing_times(kit, observer, [nights[k] for k in late], horizon, star_serves=False)
    for k, shows in zip(late, early, strict=True):
        found[k] = session(k, shows)
    return tuple(found), showing


def after(night: Night, hours: float) -> datetime:
    """The moment so many hours, as they pass, after the night's start."""
    moment = night.start.timestamp() + hours * 3600.0
    return datetime.fromtimestamp(moment, night.zone)


def _breaks_s(kit: Kit, held: Sequence[Session], begin_s: Floats, left_s: Floats) -> Floats:
    """Seconds (m, slots) that breaks take of each slot, and setting the axis between two stops."""
    taken = np.zeros(left_s.shape)
    for k, session in enumerate(held):
        length_s = seconds_between(session.first_stop, session.end)
        for start, stop in pauses_of(kit.habits, session, session.first_stop, length_s):
            inside = np.minimum(stop, begin_s + left_s[k]) - np.maximum(start, begin_s)
            taken[k] += np.maximum(inside, 0.0)
    return np.minimum(taken, left_s)


def _dark_s(
    observer: Observer, nights: Sequence[Night], sessions: Sequence[Session | None]
) -> Floats:
    """From when to when of each session the Sun is below -18 degrees: seconds (m, 2), or zeros."""
    from_h, to_h = dark_hours(nights, observer, ASTRONOMICAL_DEG)
    found = []
    for k, (night, session) in enumerate(zip(nights, sessions, strict=True)):
        if session is None:
            continue
        begin = night.hours_after_start(session.first_stop)
        length_h = night.hours_after_start(session.end) - begin
        span = np.clip([from_h[k] - begin, to_h[k] - begin], 0.0, length_h)
        found.append((0.0, 0.0) if np.isnan(span).any() else tuple(span * 3600.0))
    return np.array(found, dtype=np.float64).reshape(-1, 2)


def spans_above(
    samples: NightSamples, row: int, altitude_deg: Floats, level_deg: float
) -> list[tuple[datetime, datetime]]:
    """When a body is above a level in one session, from its samples, to a minute or so."""
    session = samples.sessions[int(samples.rows[row])]
    assert session is not None
    above = altitude_deg - level_deg
    t = samples.seconds[row]
    inside = np.flatnonzero(np.signbit(above[:-1]) != np.signbit(above[1:]))
    edges = [float(t[i] + (t[i + 1] - t[i]) * above[i] / (above[i] - above[i + 1])) for i in inside]
    marks = [*([float(t[0])] if above[0] >= 0 else []), *edges]
    if len(marks) % 2:
        marks.append(float(t[-1]))
    first = session.first_stop.timestamp()
    zone = session.first_stop.tzinfo
    times = [datetime.fromtimestamp(first + s, zone) for s in marks]
    return list(zip(times[0::2], times[1::2], strict=True))


def hours_above(seconds: Floats, altitude_deg: Floats, level_deg: float = 0.0) -> Floats:
    """Hours above a level in each session, (m,), from samples (m, k) joined by straight lines."""
    above = altitude_deg - level_deg
    a, b = above[:, :-1], above[:, 1:]
    step_h = np.diff(seconds, axis=1) / 3600.0
    with np.errstate(divide="ignore", invalid="ignore"):
        crossed = np.where(a >= 0.0, a, b) / np.abs(a - b)
    part = np.where((a >= 0.0) & (b >= 0.0), 1.0, np.where((a < 0.0) & (b < 0.0), 0.0, crossed))
    return np.asarray((part * step_h).sum(axis=1))


def dark_without(samples: NightSamples, altitude_deg: Floats) -> Floats:
    """Hours of each session (m,) with the Sun below -18 degrees and a body below the horizon.

    Altitudes (m, k) at the samples, joined by straight lines.
    """
    t0, t1 = samples.seconds[:, :-1], samples.seconds[:, 1:]
    a, b = altitude_deg[:, :-1], altitude_deg[:, 1:]
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = t0 + (t1 - t0) * np.where(a == b, 0.0, a / (a - b))
    begin = np.where(a < 0.0, t0, np.where(b < 0.0, crossing, t1))
    end = np.where(b < 0.0, t1, np.where(a < 0.0, crossing, begin))
    first, last = samples.dark[:, :1], samples.dark[:, 1:]
    inside = np.minimum(end, last) - np.maximum(begin, first)
    return np.asarray(np.maximum(inside, 0.0).sum(axis=1) / 3600.0)
