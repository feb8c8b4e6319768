"""Which night is worth most for this spot, this rig and this audience?

Public: ``score_nights``, ``Calendar``, ``ScoredNight``, ``best_of``.

A night is cut into slots of one stop each, and every slot has its own sky: twilight, the Moon's
place and phase, what stands where behind which roof. Each object gets the slot that suits it, one
stop a night. What a night is worth for the deep sky, for Moon and planets, and to the audience are
shares of the best night of the kit's own year. Points and visibility are the evening's own; clouds
nobody knows.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from enum import Enum
from pathlib import Path

import numpy as np

from axletree.evening.ground_here import ground_of
from axletree.evening.hosting.pace import most_stops, show_seconds
from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.offered.catalogues import BODIES
from axletree.evening.order.moving import Handling, handling_of
from axletree.evening.seeing.sky_brightness import AssumedSky, site_sky
from axletree.evening.year.figures import NightFigures, Scale, scale_of, score_of
from axletree.evening.year.night_samples import dark_without, hours_above, spans_above
from axletree.evening.year.night_stops import NightStops, Pace, Shown, stops_of_nights
from axletree.evening.year.sights import sights_of
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.events.moon_phases import SkyDate, moon_phases
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR
from axletree.sky.special.kinds import SpecialNight
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, nights_between

MOST_NIGHTS = 1100
# Days between the best nights of a long range, unless the person says otherwise (ours).
APART_DAYS = 6
# A usual turn from one object to the next, degrees on each axis (ours).
USUAL_TURN_DEG = 40.0
# So many days apart are the nights that stand for a kit's year: every phase of the Moon in every
# season.
_OF_YEAR_DAYS = 5
# Nights that are looked at together: more fill the memory.
_TOGETHER = 450


class NoSession(Enum):
    """Why a night has no session."""

    DARK_AFTER_HOURS = "dark_after_hours"
    NEVER_DARK = "never_dark"


@dataclass(frozen=True)
class ScoredNight:
    """One night: score 0 to 100 and the facts behind it.

    `score` is what the audience has of it, `lift` the part of it that `special` adds (what the sky
    has in these hours); `deep_sky` and `moon_and_planets` are for whoever comes for those alone.
    `begin` and `end` of the session (None where there is none), its hours, those with the Sun
    below -18 degrees, those without the Moon, and those with neither. The Moon's lit fraction,
    greatest height in the session (None: never up) and spans above the horizon. `stops` fit, worth
    `stop_points` together; `showing` objects could be shown, `glows_showing` of them glows and
    clusters; `best` are the first stops, each in its slot, `planets` all that clear the skyline.
    Without a session `ended_by` says why there is none.
    """

    date: date
    score: float
    deep_sky: float
    moon_and_planets: float
    begin: datetime | None
    end: datetime | None
    ended_by: SessionEnd | NoSession
    session_h: float
    dark_h: float
    moonless_h: float
    moonless_dark_h: float
    moon_lit: float | None
    moon_highest_deg: float | None
    moon_up: tuple[tuple[datetime, datetime], ...]
    stops: int
    stop_points: float
    showing: int
    glows_showing: int
    best: tuple[Shown, ...]
    planets: tuple[Shown, ...]
    lift: float = 0.0
    special: tuple[SpecialNight, ...] = ()


@dataclass(frozen=True)
class Calendar:
    """Every night of a range, the Moon's phases in it, and what was assumed."""

    nights: tuple[ScoredNight, ...]
    phases: tuple[SkyDate, ...]
    wanted_stops: int
    stop_min: float
    considered: int
    can_show: int
    assumed: tuple[AssumedSky, ...]


def score_nights(
    kit: Kit,
    observer: Observer,
    first: date,
    last: date,
    *,
    folder: Path | None = None,
    own: Sequence[SkyObject] = (),
    seen_ids: frozenset[str] = frozenset(),
) -> Calendar:
    """Every night from the evening of `first` to that of `last`, what is special left out.

    Refuses dates outside 2020-2049, `last` before `first`, and more than three years at once.
    """
    refuse_range(first, last)
    nights = nights_between(first, last, kit.site.time_zone)
    middle = nights[len(nights) // 2]
    ground = ground_of(kit, observer, middle.start, folder)
    zenith_mag, _, assumed = site_sky(kit)
    sights = sights_of(kit, observer, ground, zenith_mag, Instants.from_datetime(middle.start), own)
    stop_s = show_seconds(kit) + _usual_move_s(handling_of(kit))
    wanted = max(1, int(kit.habits.hours * 3600.0 // stop_s))
    wanted = min(wanted, most_stops(kit) or wanted)
    of_year = {day for year in range(first.year, last.year + 1) for day in _standing_for(year)}
    asked = {night.date: night for night in nights}
    others = [Night.of(day, kit.site.time_zone) for day in sorted(of_year - set(asked))]
    pace = Pace(stop_s, wanted)
    everything = [*nights, *others]
    found = [
        stops_of_nights(
            kit, observer, ground, sights, everything[a : a + _TOGETHER], pace, seen_ids
        )
        for a in range(0, len(everything), _TOGETHER)
    ]
    scales = _scales(kit, found, of_year)
    made = {one.date: one for part in found for one in _scored(kit, part, scales, pace, set(asked))}
    return Calendar(
        nights=tuple(made[night.date] for night in nights),
        phases=tuple(moon_phases(nights[0].start, nights[-1].stop, kit.site.zone)),
        wanted_stops=wanted,
        stop_min=stop_s / 60.0,
        considered=sights.considered + len(BODIES),
        can_show=len(sights) + len(BODIES),
        assumed=assumed,
    )


def refuse_range(first: date, last: date) -> None:
    """One line for a range that can't be answered."""
    if last < first:
        raise AxletreeError(f"the range ends on {last}, before it begins on {first}")
    for day in (first, last):
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            raise AxletreeError(
                f"{day}: the planets are known from {FIRST_YEAR} to {LAST_YEAR} only"
            )
    count = (last - first).days + 1
    if count > MOST_NIGHTS:
        raise AxletreeError(
            f"{first} to {last} are {count} nights; ask for three years at most ({MOST_NIGHTS})"
        )


def best_of(
    nights: Sequence[ScoredNight],
    count: int,
    *,
    apart_days: int = 0,
    weekdays: frozenset[int] = frozenset(range(7)),
) -> list[ScoredNight]:
    """The best nights by date, at least so many days apart, on these weekdays (Monday 0).

    Of equal scores the earlier night; nights worth nothing never.
    """
    kept: list[ScoredNight] = []
    for night in sorted(nights, key=lambda n: (-n.score, n.date)):
        if len(kept) >= count or night.score <= 0.0:
            break
        free = all(abs((night.date - k.date).days) >= apart_days for k in kept)
        if free and night.date.weekday() in weekdays:
            kept.append(night)
    return sorted(kept, key=lambda n: n.date)


def _usual_move_s(handling: Handling) -> float:
    hour = USUAL_TURN_DEG / handling.hour_deg_per_s
    declination = USUAL_TURN_DEG / handling.declination_deg_per_s
    turning = max(hour, declination) if handling.together else hour + declination
    hands = handling.find_s + handling.focus_s + turning
    return hands * (1.0 + handling.slack_part) + handling.slack_s


def _standing_for(year: int) -> list[date]:
    """The evenings that stand for a kit's year."""
    first = date(year, 1, 1)
    days = (date(year + 1, 1, 1) - first).days
    return [first + timedelta(days=k) for k in range(_OF_YEAR_DAYS // 2, days, _OF_YEAR_DAYS)]


def _scales(kit: Kit, found: Sequence[NightStops], of_year: set[date]) -> dict[int, Scale]:
    """The scale of each year, from the nights that stand for it."""
    dates = [day for part in found for day in part.dates]
    raw = NightFigures(
        deep_sky=np.concatenate([part.raw.deep_sky for part in found]),
        moon_and_planets=np.concatenate([part.raw.moon_and_planets for part in found]),
        stops=np.concatenate([part.raw.stops for part in found]),
    )
    scales = {}
    for year in {day.year for day in of_year}:
        stand = [k for k, day in enumerate(dates) if day.year == year and day in of_year]
        rows = np.array(stand or range(len(dates)), dtype=np.intp)
        scales[year] = scale_of(kit, raw, rows)
    return scales


def _scored(
    kit: Kit, found: NightStops, scales: dict[int, Scale], pace: Pace, asked: set[date]
) -> list[ScoredNight]:
    """The nights that were asked for."""
    samples = found.samples
    hours = samples.session_h[samples.rows]
    moon_alt = samples.of_body("moon", "altitude_deg")
    moonless = hours - hours_above(samples.seconds, moon_alt)
    dark = dark_without(samples, moon_alt)
    lit = samples.of_body("moon", "lit_fraction")
    values = {year: scale.of(found.raw) for year, scale in scales.items()}
    scores = {year: score_of(kit, scales[year], values[year], found.kept) for year in scales}
    worth = (found.filling.points * found.filling.part).sum(axis=1)
    row_of = {int(n): k for k, n in enumerate(samples.rows)}
    made: list[ScoredNight] = []
    for n, night in enumerate(samples.nights):
        session, year = samples.sessions[n], night.date.year
        if night.date not in asked:
            continue
        if session is None:
            made.append(_empty(night, samples.ever_dark[n]))
            continue
        k = row_of[n]
        top = float(moon_alt[k].max())
        made.append(
            ScoredNight(
                date=night.date,
                score=float(scores[year][k]),
                deep_sky=float(values[year].deep_sky[k]),
                moon_and_planets=float(values[year].moon_and_planets[k]),
                begin=session.first_stop,
                end=session.end,
                ended_by=session.ended_by,
                session_h=float(hours[k]),
                dark_h=float(samples.dark_h[n]),
                moonless_h=max(float(moonless[k]), 0.0),
                moonless_dark_h=float(dark[k]),
                moon_lit=float(lit[k].mean()),
                moon_highest_deg=top if top > 0.0 else None,
                moon_up=tuple(spans_above(samples, k, moon_alt[k], 0.0)),
                stops=min(int(samples.room[k].sum() + 1e-6), pace.wanted),
                stop_points=float(worth[k]),
                showing=int(found.showing[k]),
                glows_showing=int(found.glows_showing[k]),
                best=tuple(found.named(k)),
                planets=tuple(found.planets(k)),
            )
        )
    return made


def _empty(night: Night, ever_dark: bool) -> ScoredNight:
    why = NoSession.DARK_AFTER_HOURS if ever_dark else NoSession.NEVER_DARK
    return ScoredNight(
        date=night.date, score=0.0, deep_sky=0.0, moon_and_planets=0.0, begin=None, end=None,
        ended_by=why, session_h=0.0, dark_h=0.0, moonless_h=0.0, moonless_dark_h=0.0,
        moon_lit=None, moon_highest_deg=None, moon_up=(), stops=0, stop_points=0.0, showing=0,
        glows_showing=0, best=(), planets=(),
    )  # fmt: skip
