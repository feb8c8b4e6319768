"""When could each of many nights' stops be, and under what Sun, Moon and planets?

One session a night, as the evening's own planning has it, and even instants through each with
the sidereal time and the places of the bodies. A year takes some tenths of a second.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from axletree.evening.night.darkness import FIRST_STARS_DEG
from axletree.evening.night.set_up_times import Session, seconds_between, session_of
from axletree.evening.objects.candidates import BODIES
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.events.dusks import dark_hours
from axletree.sky.events.twilight import ASTRONOMICAL_DEG, SUN_HORIZON_DEG
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import BodyPositions, body_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.sky.time.orientation import orientation

STEP_H = 0.5
NAMES = ("sun", *BODIES)


@dataclass(frozen=True)
class _Sunset:
    sunset: datetime | None


@dataclass(frozen=True)
class NightSamples:
    """Sessions of n nights (None where there is none), and m sessions' samples.

    `rows` (m,) are the nights with a session; `seconds` (m, k) since its first stop, at the same
    k instants as `sidereal_h` and `bodies` (rows of `NAMES`, columns m times k).
    `dark_h` (n,) hours of the session with the Sun below -18 degrees; `ever_dark` (n,) where the
    Sun sinks far enough for the first stars.
    """

    nights: tuple[Night, ...]
    sessions: tuple[Session | None, ...]
    rows: Indices
    seconds: Floats
    sidereal_h: Floats
    bodies: BodyPositions
    session_h: Floats
    dark_h: Floats
    ever_dark: Mask

    @property
    def shape(self) -> tuple[int, int]:
        """Sessions and instants in each."""
        return self.seconds.shape[0], self.seconds.shape[1]

    def of_body(self, name: str, field: str) -> Floats:
        """One field of one body, (m, k)."""
        values: Floats = getattr(self.bodies, field)[NAMES.index(name)]
        return values.reshape(self.shape)


def sample_nights(kit: Kit, observer: Observer, nights: Sequence[Night]) -> NightSamples:
    """Sessions and samples of these nights; dates outside 2020-2049 are refused."""
    sets, _ = dark_hours(nights, observer, -SUN_HORIZON_DEG)
    begins, ends = dark_hours(nights, observer, FIRST_STARS_DEG)
    deep_from, deep_to = dark_hours(nights, observer, ASTRONOMICAL_DEG)
    sessions = tuple(
        _session(kit, night, float(sets[k]), float(begins[k]), float(ends[k]))
        for k, night in enumerate(nights)
    )
    rows = np.array([k for k, s in enumerate(sessions) if s is not None], dtype=np.intp)
    held = [s for s in sessions if s is not None]
    length_s = np.array([seconds_between(s.first_stop, s.end) for s in held])
    longest_h = float(length_s.max()) / 3600.0 if held else 0.0
    count = max(3, int(np.ceil(longest_h / STEP_H)) + 1)
    seconds = length_s[:, np.newaxis] * np.linspace(0.0, 1.0, count)
    firsts = Instants.from_datetimes([s.first_stop for s in held])
    instants = firsts[np.repeat(np.arange(len(held)), count)].plus(seconds.ravel())
    turned = orientation(instants, observer)
    session_h = np.zeros(len(nights))
    session_h[rows] = length_s / 3600.0
    return NightSamples(
        nights=tuple(nights),
        sessions=sessions,
        rows=rows,
        seconds=seconds,
        sidereal_h=np.mod(turned.sidereal_time_rad * 12.0 / np.pi, 24.0).reshape(seconds.shape),
        bodies=body_positions(NAMES, instants, observer, turned=turned),
        session_h=session_h,
        dark_h=_overlap_h(nights, sessions, deep_from, deep_to),
        ever_dark=~np.isnan(begins),
    )


def _session(
    kit: Kit, night: Night, sunset_h: float, begin_h: float, end_h: float
) -> Session | None:
    if np.isnan(begin_h):
        return None
    sunset = None if np.isnan(sunset_h) or sunset_h <= 0.0 else after(night, sunset_h)
    dark = ((after(night, begin_h), after(night, end_h)),)
    return session_of(_Sunset(sunset), dark, kit.habits, kit.tube.cool_down_min)


def after(night: Night, hours: float) -> datetime:
    """The moment so many hours, as they pass, after the night's start."""
    moment = night.start.timestamp() + hours * 3600.0
    return datetime.fromtimestamp(moment, night.zone)


def _overlap_h(
    nights: Sequence[Night], sessions: Sequence[Session | None], from_h: Floats, to_h: Floats
) -> Floats:
    out = np.zeros(len(nights))
    for k, (night, session) in enumerate(zip(nights, sessions, strict=True)):
        if session is None or np.isnan(from_h[k]):
            continue
        first = max(night.hours_after_start(session.first_stop), from_h[k])
        last = min(night.hours_after_start(session.end), to_h[k])
        out[k] = max(last - first, 0.0)
    return out


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
