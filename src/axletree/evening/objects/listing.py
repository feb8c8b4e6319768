"""What can this telescope show from this spot, filtered and ranked, with the reason for each?

Public: ``list_objects`` -> ``Listing`` of ``Listed``; ``moments_of``: the evening's instants.

The same pool, sky, margins, eyepieces and points as the evening's, for all of the catalogue.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from axletree.evening.night.darkness import FIRST_STARS_DEG
from axletree.evening.night.set_up_times import session_of
from axletree.evening.objects.candidates import THEME_OF_KIND, Pool, catalogue_magnitudes
from axletree.evening.objects.choosing import pool_positions, suiting_view
from axletree.evening.objects.facts import ObjectFacts, body_facts, facts_of
from axletree.evening.objects.kinds import pool_kinds
from axletree.evening.objects.requested import asked_for
from axletree.evening.objects.worth import body_share, points
from axletree.evening.seeing.contrast import FIELD_FACTOR, Optics, point_limit_mag
from axletree.evening.seeing.eyepiece import Views, view_words, views_of
from axletree.evening.seeing.sky_brightness import SkyState
from axletree.evening.seeing.visibility import SURE, margins
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Theme
from axletree.mount.room.choice import Choice
from axletree.mount.room.sides_now import sides_now, targets_at
from axletree.mount.room.table import RoomTable, room
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.events.rise_and_set import darkness, sun_events
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import Positions
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

STEP_S = 900.0
MOST_SIDES = 200  # rows that get their better side and its reason; beyond, nobody reads


@dataclass(frozen=True)
class Listed:
    """One object at its best moment of the instants asked for.

    `margin_mag` is nan where its light or size isn't known. `shows` marks the instants at which
    it stands clear of the skyline and above the threshold, and where the mount's room was asked
    for has room on a side; `best` is the index of the best one. `choice` holds both tube sides at
    that moment (None: not asked for).
    """

    thing: SkyObject
    points: float
    margin_mag: float
    best: int
    altitude_deg: float
    azimuth_deg: float
    shows: Mask
    eyepiece: str
    magnification: float
    exit_pupil_mm: float
    true_field_deg: float
    view: str
    facts: ObjectFacts
    must: bool
    choice: Choice | None = None

    @property
    def shown(self) -> bool:
        """It can be seen at one of the instants at least."""
        return bool(self.shows.any())


@dataclass(frozen=True)
class Listing:
    """The objects that match, best first; how many there were, and how faint the view goes.

    `matching` fit the filter and are bright enough to be thought of, `up` of them clear the
    skyline, `seen` of those show and are within the mount's reach. `unknown` catalogue entries of
    these kinds have no known brightness or size and are left out. `limit_mag` is the faintest star
    overhead, at best.
    """

    rows: tuple[Listed, ...]
    matching: int
    up: int
    seen: int
    unknown: int
    limit_mag: float


def moments_of(
    kit: Kit, observer: Observer, day: date, *, all_night: bool = False, step_s: float = STEP_S
) -> Instants:
    """Instants spread over the evening of a date (or all of its dark night).

    Refuses a night on which the Sun does not sink low enough, or the kit's hours leave nothing.
    """
    night = Night.of(day, kit.site.time_zone)
    intervals = darkness(night, observer, FIRST_STARS_DEG).intervals
    session = session_of(sun_events(night, observer), intervals, kit.habits, kit.tube.cool_down_min)
    if not intervals or (session is None and not all_night):
        why = "the Sun does not sink" if not intervals else "within the kit's hours it is not"
        raise AxletreeError(
            f"{day}: {why} {FIRST_STARS_DEG:.0f}° below the horizon; try another date"
            + ("" if not intervals else " or --all-night")
        )
    begin, end = intervals[0][0], intervals[-1][1]
    if session is not None and not all_night:
        begin, end = session.first_stop, session.end
    length = end.timestamp() - begin.timestamp()
    count = max(2, int(np.ceil(length / step_s)) + 1)
    return Instants.grid(begin, count=count, step_s=length / (count - 1))


def list_objects(
    kit: Kit,
    observer: Observer,
    instants: Instants,
    sky: SkyState,
    skyline: Callable[[Floats], Floats],
    *,
    kinds: frozenset[str] = frozenset(),
    themes: tuple[Theme, ...] = (),
    own: Sequence[SkyObject] = (),
    seen_ids: frozenset[str] = frozenset(),
    limit: int = 20,
    everything: bool = False,
    table: RoomTable | None = None,
) -> Listing:
    """The best `limit` objects of the kinds and themes asked for (none given: all).

    With a `table` an object shows only while one tube side has room for it.

    Only what shows at one of the instants, or `everything` that clears the skyline. What the kit
    pins comes first, what it excludes is left out.
    """
    views = views_of(kit)
    faintest = _faintest_mag(kit, views, sky)
    asked = asked_for(kit, own, faintest)
    if themes:
        kit = kit.model_copy(update={"habits": kit.habits.model_copy(update={"themes": themes})})
    pool, kind_of = asked.pool, pool_kinds(asked.pool)
    wanted = np.isin(kind_of, list(kinds)) if kinds else np.ones(len(pool), dtype=bool)
    special = {"anything", "first looks"}
    if themes and not special & set(themes):
        wanted &= np.isin(pool.themes, list(themes))
    chosen = np.flatnonzero(wanted)
    must = np.isin(chosen, list(asked.must_rows))
    part = pool.take(chosen)
    excluded = np.isin(np.array(part.ids, dtype=object), list(asked.excluded))
    places = pool_positions(part, instants, observer)
    lowest = np.maximum(skyline(places.azimuth_deg), kit.habits.lowest_altitude_deg)
    above = places.altitude_deg > lowest
    above &= ~SunRule.of(kit, observer).closed(instants, places.azimuth_deg, places.altitude_deg)
    margin = margins(kit, part.looks, views, sky.behind(places), places.airmass)
    known = np.nan_to_num(margin, nan=-np.inf)
    at_best = np.where(above[np.newaxis], known, -np.inf).max(axis=2, initial=-np.inf)
    eyepiece = suiting_view(kit, part.looks, views, at_best)
    each = np.arange(len(part))
    own_margin = margin[eyepiece, each]
    shows = above & (np.nan_to_num(own_margin, nan=-np.inf) >= 0.0)
    reached = above
    if table is not None:
        shows &= _reached(table, places, shows)
        reached = np.where(np.any(shows, axis=1, keepdims=True), shows, above)
    best = _best_moment(own_margin, reached, places.altitude_deg)
    value = _points(kit, part, own_margin[each, best], places.altitude_deg[each, best],
                    seen_ids, instants, observer)  # fmt: skip
    fit = above.any(axis=1) if everything else shows.any(axis=1) | (must & above.any(axis=1))
    fit &= ~excluded
    order = np.flatnonzero(fit)
    order = order[np.argsort(-(value + 1000.0 * must + 100.0 * shows.any(axis=1))[order],
                             kind="stable")]  # fmt: skip
    rows = tuple(
        _listed(part, k, eyepiece, views, own_margin, value, best, places, shows, must, instants,
                observer)
        for k in _no_twins(part, order, limit)
    )  # fmt: skip
    if table is not None:
        rows = (*_with_sides(kit, observer, table, instants, rows[:MOST_SIDES]),
                *rows[MOST_SIDES:])  # fmt: skip
    return Listing(
        rows=rows,
        matching=len(part),
        up=int(above.any(axis=1).sum()),
        seen=int(shows.any(axis=1).sum()),
        unknown=_unknown(kinds, themes),
        limit_mag=faintest,
    )


def _reached(table: RoomTable, places: Positions, asked: Mask) -> Mask:
    """Where at least one tube side has room, of the poses that are asked for; False elsewhere."""
    out = np.zeros(asked.shape, dtype=bool)
    rows = np.flatnonzero(asked.any(axis=1))
    if len(rows):
        # A third of an arcsecond moves no end by a second, and equal declinations are one look.
        here = room(table, places.hour_angle_h[rows], places.declination_deg[rows].round(4))
        out[rows] = here.usable.any(axis=0)
    return out


def _with_sides(
    kit: Kit, observer: Observer, table: RoomTable, instants: Instants, rows: Sequence[Listed]
) -> tuple[Listed, ...]:
    """The rows with both tube sides at their best moments."""
    found: dict[int, Choice] = {}
    for at in sorted({row.best for row in rows}):
        same = [k for k, row in enumerate(rows) if row.best == at]
        targets = targets_at([rows[k].thing for k in same], instants[at], observer)
        found.update(zip(same, sides_now(kit, table, targets), strict=True))
    return tuple(replace(row, choice=found[k]) for k, row in enumerate(rows))


def _faintest_mag(kit: Kit, views: Views, sky: SkyState) -> float:
    """The faintest star that any eyepiece shows overhead: nothing fainter can be seen at all."""
    clear = 1.0 - (kit.tube.obstruction_mm / kit.tube.aperture_mm) ** 2
    optics = Optics(kit.tube.aperture_mm, views.magnification, kit.tube.transmission * clear)
    factor = FIELD_FACTOR[kit.habits.observer]
    limits = point_limit_mag(sky.zenith_mag_arcsec2, optics, factor, kit.site.seeing_arcsec)
    return float(limits.max()) - sky.extinction_mag


def _best_moment(margin: Floats, above: Mask, altitude_deg: Floats) -> Indices:
    """When each object (n,) is seen best: most margin, and of equal ones the highest."""
    score = np.nan_to_num(np.minimum(margin, SURE), nan=-30.0, neginf=-30.0)
    score = np.where(above, score, score - 100.0) + altitude_deg / 1000.0
    return np.asarray(score.argmax(axis=1))


def _points(
    kit: Kit, pool: Pool, margin: Floats, height: Floats, seen_ids: frozenset[str],
    instants: Instants, observer: Observer,
) -> Floats:  # fmt: skip
    share = np.ones(len(pool))
    moving = np.flatnonzero(pool.source == 0)
    if len(moving):
        names = [pool.ids[i] for i in moving]
        middle = instants[len(instants) // 2]
        share[moving] = body_share(body_positions(names, middle, observer))[:, 0]
    return points(kit, pool, np.nan_to_num(margin, nan=-1.0), height, seen_ids, share)


def _no_twins(pool: Pool, order: Indices, limit: int) -> list[int]:
    """The first `limit` rows without a second entry for the same place (a double, a red star)."""
    kept: list[int] = []
    places: list[tuple[float, float]] = []
    for k in order:
        if len(kept) == limit:
            break
        ra, dec = float(pool.ra_deg[k]), float(pool.dec_deg[k])
        wide = 0.01 / max(np.cos(np.radians(dec)), 0.01) if np.isfinite(dec) else 0.0
        if np.isnan(ra) or not any(abs(dec - d) < 0.01 and abs(ra - r) < wide for r, d in places):
            kept.append(int(k))
            places.append((ra, dec))
    return kept


def _listed(
    pool: Pool, k: int, eyepiece: Indices, views: Views, margin: Floats, value: Floats,
    best: Indices, places: Positions, shows: Mask, must: Mask, instants: Instants,
    observer: Observer,
) -> Listed:  # fmt: skip
    e, at, thing = int(eyepiece[k]), int(best[k]), pool.thing(k)
    facts: ObjectFacts = (
        body_facts(pool.ids[k], instants, observer)
        if pool.source[k] == 0
        else facts_of(thing, int(pool.looks.sort[k]))
    )
    return Listed(
        thing=thing,
        points=float(value[k]),
        margin_mag=float(margin[k, at]),
        best=at,
        altitude_deg=float(places.altitude_deg[k, at]),
        azimuth_deg=float(places.azimuth_deg[k, at]),
        shows=shows[k],
        eyepiece=views.labels[e],
        magnification=float(views.magnification[e]),
        exit_pupil_mm=float(views.exit_pupil_mm[e]),
        true_field_deg=float(views.true_field_deg[e]),
        view=view_words(views, e, float(pool.looks.major_arcmin[k])),
        facts=facts,
        must=bool(must[k]),
    )


def _unknown(kinds: frozenset[str], themes: tuple[Theme, ...]) -> int:
    """Catalogue entries of the kinds asked for whose light or size nobody wrote down."""
    table = deep_sky()
    lacking = ~(np.isfinite(catalogue_magnitudes()) & np.isfinite(table.size_major_arcmin))
    lacking &= ~np.isin(table.kind, ("star", "double star", "other", "nova"))
    if kinds:
        lacking &= np.isin(table.kind, list(kinds))
    if themes and not {"anything", "first looks"} & set(themes):
        theme = np.array([THEME_OF_KIND.get(kind, "") for kind in table.kind], dtype=object)
        lacking &= np.isin(theme, list(themes))
    return int(lacking.sum())
