"""When in the year is an object best from here, with this telescope?

Public: ``best_nights`` -> ``YearOf`` with a ``NightOf`` for every night.

Every night is sampled while anything can be shown: where the object stands, what the Moon and the
twilight do to the sky behind it, and by how much it then shows. An evening is the session that the
plan of that night would have: it waits for the pole star where that serves, and for nothing else.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

import numpy as np

from axletree.evening.night.first_light import (
    BRIGHT_THINGS_DEG,
    Intervals,
    ShowingTime,
    passages_of,
)
from axletree.evening.night.set_up_times import Session
from axletree.evening.objects.light_wanted import planets_sun_down_deg
from axletree.evening.objects.looks import looks_of
from axletree.evening.objects.worth import body_share
from axletree.evening.offered.own import own_candidates
from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.own_eyepiece import own_margins
from axletree.evening.seeing.shows_from import sun_down_enough
from axletree.evening.seeing.sky_brightness import sky_state
from axletree.evening.seeing.visibility import suiting_view
from axletree.evening.year.night_samples import sessions_of
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices, Ints, Mask
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.objects import MOVING, object_positions
from axletree.sky.positions.orbiting import orbit_sights
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

STEP_S = 1200.0
MOST_NIGHTS = 800
# Of the score, 0.6 grows with the margin, ever more slowly, and 0.4 with the altitude (ours).
_PLAIN_MAG = 1.5


@dataclass(frozen=True)
class NightOf:
    """One night of one object.

    Hours that it shows in the evening and in all of the night, its greatest altitude while
    it shows (nan: it doesn't), the best moment and the margin then; `moon` is true where the
    Moon is up at that moment. `score` from 0 to 100 counts the evening only.
    """

    date: date
    evening_h: float
    night_h: float
    altitude_deg: float
    margin_mag: float
    best: datetime | None
    moon: bool
    score: float


@dataclass(frozen=True)
class YearOf:
    """All nights of one object, in their order; `seasons` are (first, last) dates of the spans
    in which it shows in the evening on most nights."""

    target: SkyObject
    nights: tuple[NightOf, ...]
    seasons: tuple[tuple[date, date], ...]

    def best(self, count: int) -> list[NightOf]:
        """The best nights by score, at most one of any three neighbours, best first."""
        found: list[NightOf] = []
        for night in sorted(self.nights, key=lambda n: (-n.score, n.date)):
            if night.score <= 0 or len(found) == count:
                break
            if all(abs((night.date - other.date).days) > 2 for other in found):
                found.append(night)
        return found


def best_nights(
    kit: Kit,
    observer: Observer,
    target: SkyObject,
    first: date,
    last: date,
    horizon: Horizon,
    *,
    step_s: float = STEP_S,
) -> YearOf:
    """Every night from `first` to `last`. Refuses the Sun, and more than two years and a bit.

    `horizon` is the site's.
    """
    if target.kind == "sun":
        raise AxletreeError("the Sun is no stop; no unfiltered tube goes near it")
    count = (last - first).days + 1
    if not 1 <= count <= MOST_NIGHTS:
        raise AxletreeError(f"{first} to {last} is {count} nights; from 1 to {MOST_NIGHTS} can be")
    nights = [Night.of(first + timedelta(days=k), kit.site.time_zone) for k in range(count)]
    sessions, showing = sessions_of(kit, observer, horizon, nights)
    spans = _spans(observer, nights, showing)
    instants, night_of, in_evening = _samples(sessions, spans, step_s)
    if len(instants) == 0:
        return YearOf(target, tuple(_none(night) for night in nights), ())
    places = object_positions([target], instants, observer)
    sky = sky_state(kit, observer, instants)
    views = views_of(kit)
    looks = looks_of(target)
    view = suiting_view(kit, looks, views)
    margin = own_margins(kit, looks, views, view, sky.behind(places), places.airmass)
    if target.orbit is not None and target.magnitude_v is not None:
        # It was bright so when its place was reckoned; its light goes with its distances.
        light = orbit_sights([target.orbit], instants).magnitude
        margin = margin + (target.magnitude_v - light)
    lowest = np.maximum(horizon.altitude_at(places.azimuth_deg), kit.habits.lowest_altitude_deg)
    above = (places.altitude_deg > lowest) & _light_allows(target, sky.sun_altitude_deg, night_of)
    known = np.where(above, np.nan_to_num(margin, nan=-30.0), -30.0)
    here = known[0]
    share = np.ones(len(instants))
    if target.kind in MOVING:
        share = body_share(body_positions(target.catalogue_id, instants, observer))[0]
    table = _Year(here, here >= 0.0, places.altitude_deg[0], sky.moon_altitude_deg > 0.0, share)
    made = tuple(
        table.night(night, instants, np.flatnonzero(night_of == k), in_evening, step_s)
        for k, night in enumerate(nights)
    )
    return YearOf(target, made, _seasons(made))


@dataclass(frozen=True)
class _Year:
    """Arrays over all samples (m,) of the year."""

    margin: Floats
    shows: Mask
    altitude_deg: Floats
    moon_up: Mask
    share: Floats

    def night(
        self, night: Night, instants: Instants, rows: Indices, evening: Mask, step_s: float
    ) -> NightOf:
        """One night from its samples."""
        late, early = rows[self.shows[rows]], rows[self.shows[rows] & evening[rows]]
        if len(late) == 0:
            return _none(night)
        used = early if len(early) else late
        plain = 1.0 - np.exp(-np.maximum(self.margin[used], 0.0) / _PLAIN_MAG)
        high = np.sin(np.radians(self.altitude_deg[used]))
        quality = self.share[used] * (0.6 * plain + 0.4 * high)
        at = int(used[int(np.argmax(quality))])
        hours = len(early) * step_s / 3600.0
        score = 100.0 * float(quality.max()) * min(1.0, 0.5 + 0.25 * hours) if hours else 0.0
        return NightOf(
            date=night.date,
            evening_h=hours,
            night_h=len(late) * step_s / 3600.0,
            altitude_deg=float(self.altitude_deg[late].max()),
            margin_mag=float(self.margin[at]),
            best=instants[at : at + 1].to_datetimes(night.zone)[0],
            moon=bool(self.moon_up[at]),
            score=score,
        )


def _none(night: Night) -> NightOf:
    return NightOf(night.date, 0.0, 0.0, np.nan, np.nan, None, False, 0.0)


def _spans(
    observer: Observer, nights: Sequence[Night], showing: Sequence[ShowingTime]
) -> list[Intervals]:
    """When anything can be shown in each night, whether the axis is set by then or not."""
    light = passages_of(nights, observer, BRIGHT_THINGS_DEG)
    return [bright or shows.intervals for bright, shows in zip(light, showing, strict=True)]


def _light_allows(target: SkyObject, sun_altitude_deg: Floats, night_of: Ints) -> Mask:
    """Where it is dark enough for the object (m,), as for what is asked for by name in a plan."""
    deepest = np.full(int(night_of.max()) + 1, -np.inf)
    np.maximum.at(deepest, night_of, -sun_altitude_deg)
    things = own_candidates([target])
    enough = sun_down_enough(
        things.themes, things.looks.magnitude, deepest[night_of][:, np.newaxis], asked=True
    )[:, 0]
    least = np.maximum(enough, planets_sun_down_deg([target.catalogue_id or ""])[0])
    return np.asarray(-sun_altitude_deg >= least)


def _samples(
    sessions: Sequence[Session | None], spans: Sequence[Intervals], step_s: float
) -> tuple[Instants, Ints, Mask]:
    """Instants in the middle of steps of each night's spans, the night each belongs to, and whether
    it lies in that night's evening."""
    moments: list[float] = []
    night_of: list[int] = []
    evening: list[bool] = []
    for k, (session, intervals) in enumerate(zip(sessions, spans, strict=True)):
        span = (session.first_stop.timestamp(), session.end.timestamp()) if session else (0.0, 0.0)
        for low, high in intervals:
            at = np.arange(low.timestamp() + step_s / 2.0, high.timestamp(), step_s)
            moments += at.tolist()
            night_of += [k] * len(at)
            evening += ((at >= span[0]) & (at <= span[1])).tolist()
    base = datetime.fromtimestamp(moments[0] if moments else 0.0, UTC)
    seconds = np.array(moments) - base.timestamp()
    return (
        Instants.from_datetime(base).plus(seconds),
        np.array(night_of, dtype=np.int64),
        np.array(evening, dtype=bool),
    )


def _seasons(nights: tuple[NightOf, ...]) -> tuple[tuple[date, date], ...]:
    """Spans of nights on which it shows in the evening, bridged over Moonlit fortnights."""
    good = [k for k, night in enumerate(nights) if night.evening_h > 0.0]
    spans: list[list[int]] = []
    for k in good:
        if spans and k - spans[-1][1] <= 20:
            spans[-1][1] = k
        else:
            spans.append([k, k])
    return tuple((nights[a].date, nights[b].date) for a, b in spans if b - a >= 3 or a == b)
