"""What can this telescope show from this spot, filtered and ranked, with the reason for each?

Public: ``list_objects`` -> ``Listing`` of ``Listed``.

The same candidates, sky, margins, eyepieces and points as the evening's, for all of the catalogue.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from axletree.evening.objects.facts import ObjectFacts, body_facts, facts_of
from axletree.evening.objects.kinds import candidate_kinds
from axletree.evening.objects.light_wanted import light_allows
from axletree.evening.objects.requested import requested_of
from axletree.evening.objects.tonight import (
    NOTHING,
    OnObject,
    TonightSky,
    tonight_of,
    tonight_points,
)
from axletree.evening.objects.twins import without_twins
from axletree.evening.objects.worth import fame_share, weighed, worth_of
from axletree.evening.offered.candidates import THEME_OF_KIND, Candidates
from axletree.evening.offered.catalogues import catalogue_magnitudes
from axletree.evening.offered.places import candidate_positions
from axletree.evening.seeing.eyepiece import Views, views_of
from axletree.evening.seeing.own_eyepiece import own_margins
from axletree.evening.seeing.sky_brightness import SkyState
from axletree.evening.seeing.visibility import SURE, suiting_view
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Theme, audience_of
from axletree.mount.room.choice import Choice
from axletree.mount.room.sides_now import sides_now, targets_at
from axletree.mount.room.table import RoomTable, room
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.contrast import FIELD_FACTOR, Optics, point_limit_mag
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Positions
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants

MOST_SIDES = 200  # rows that get their better side and its reason; beyond, nobody reads


@dataclass(frozen=True)
class Listed:
    """One object at its best moment of the instants asked for.

    `margin_mag` and `size_arcmin` are nan where they aren't known. `shows` marks the instants at
    which it stands clear of the skyline and above the threshold, and where the mount's room was
    asked for has room on a side; `best` is the index of the best one. `choice` holds both tube
    sides at that moment (None: not asked for). `on_it` is what happens on it meanwhile.
    """

    target: SkyObject
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
    size_arcmin: float
    facts: ObjectFacts
    must: bool
    choice: Choice | None = None
    on_it: OnObject = NOTHING

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


@dataclass(frozen=True)
class ListingFilter:
    """Which objects are listed: of these kinds and themes (none given: all), the best `limit`.

    `own` objects are thought of beside the catalogue's. With `everything` also what clears the
    skyline but can't be seen.
    """

    kinds: frozenset[str] = frozenset()
    themes: tuple[Theme, ...] = ()
    own: tuple[SkyObject, ...] = ()
    limit: int = 20
    everything: bool = False

    def by_theme(self) -> bool:
        """Whether the themes leave anything out."""
        return bool(self.themes) and not {"anything", "first looks"} & set(self.themes)


def list_objects(
    kit: Kit,
    observer: Observer,
    instants: Instants,
    sky: SkyState,
    skyline: Callable[[Floats], Floats],
    wanted: ListingFilter = ListingFilter(),  # noqa: B008 (frozen)
    table: RoomTable | None = None,
) -> Listing:
    """The best objects of those wanted that show at one of the instants.

    With a `table` an object shows only while one tube side has room for it. What the kit pins
    comes first, what it excludes is left out.
    """
    views = views_of(kit)
    faintest = _faintest_mag(kit, views, sky)
    requested = requested_of(kit, wanted.own, faintest)
    if wanted.themes:
        habits = kit.habits.model_copy(update={"themes": wanted.themes})
        kit = kit.model_copy(update={"habits": habits})
    chosen = np.flatnonzero(_matching(requested.candidates, wanted))
    must = np.isin(chosen, list(requested.must_rows))
    part = requested.candidates.take(chosen)
    excluded = np.isin(np.array(part.ids, dtype=object), list(requested.excluded))
    places = candidate_positions(part, instants, observer)
    lowest = np.maximum(skyline(places.azimuth_deg), kit.habits.lowest_altitude_deg)
    above = places.altitude_deg > lowest
    above &= ~SunRule.of(kit, observer).closed(instants, places.azimuth_deg, places.altitude_deg)
    eyepiece = suiting_view(kit, part.looks, views)
    each = np.arange(len(part))
    sky_mag = sky.behind(places)
    own_margin = own_margins(kit, part.looks, views, eyepiece, sky_mag, places.airmass)
    shows = above & (np.nan_to_num(own_margin, nan=-np.inf) >= 0.0)
    if (sky.sun_altitude_deg < 0.0).any():  # by day nobody waits for the dark
        shows &= light_allows(part, sky.sun_altitude_deg)
    if table is not None:
        shows &= _reached(table, places, shows)
    reached = np.where(np.any(shows, axis=1, keepdims=True), shows, above)
    best = _best_moment(own_margin, reached, places.altitude_deg)
    share = fame_share(part, instants, observer, audience_of(kit.habits))
    tonight = tonight_of(kit, observer, *instants[[0, -1]].to_datetimes(kit.site.zone))
    worth = worth_of(
        kit,
        part,
        np.nan_to_num(own_margin[each, best], nan=-1.0),
        places.altitude_deg[each, best],
        share=share,
        tonight=tonight_points(part.ids, part.names, tonight),
    )
    value = weighed(kit, worth)
    shown = shows.any(axis=1)
    clears = above.any(axis=1)
    fit = (clears if wanted.everything else shown | (must & clears)) & ~excluded
    order = np.flatnonzero(fit)
    rank = -(value + 1000.0 * must + 100.0 * shown)[order]
    order = order[np.argsort(rank, kind="stable")]
    seen = _Seen(part, views, eyepiece, own_margin, value, best, places, shows, must, tonight)
    rows = tuple(
        seen.row(int(k), instants, observer) for k in without_twins(part, order, wanted.limit)
    )
    if table is not None:
        told = _with_sides(kit, observer, table, instants, rows[:MOST_SIDES])
        rows = (*told, *rows[MOST_SIDES:])
    return Listing(
        rows=rows,
        matching=len(part),
        up=int(clears.sum()),
        seen=int(shown.sum()),
        unknown=_unknown(wanted),
        limit_mag=faintest,
    )


@dataclass(frozen=True)
class _Seen:
    """All that fit the filter (n,), through the instants (n, m): what `Listed` is made from."""

    candidates: Candidates
    views: Views
    eyepiece: Indices
    margin: Floats
    value: Floats
    best: Indices
    places: Positions
    shows: Mask
    must: Mask
    tonight: TonightSky

    def row(self, k: int, instants: Instants, observer: Observer) -> Listed:
        """The object of one row at its best moment."""
        candidates, views = self.candidates, self.views
        e, at, target = int(self.eyepiece[k]), int(self.best[k]), candidates.object_at(k)
        facts: ObjectFacts = (
            body_facts(candidates.ids[k], instants, observer)
            if candidates.source[k] == 0
            else facts_of(target, int(candidates.looks.sort[k]))
        )
        return Listed(
            target=target,
            points=float(self.value[k]),
            margin_mag=float(self.margin[k, at]),
            best=at,
            altitude_deg=float(self.places.altitude_deg[k, at]),
            azimuth_deg=float(self.places.azimuth_deg[k, at]),
            shows=self.shows[k],
            eyepiece=views.labels[e],
            magnification=float(views.magnification[e]),
            exit_pupil_mm=float(views.exit_pupil_mm[e]),
            true_field_deg=float(views.true_field_deg[e]),
            size_arcmin=float(candidates.looks.major_arcmin[k]),
            facts=facts,
            must=bool(self.must[k]),
            on_it=self.tonight.on(candidates.ids[k], candidates.names[k]),
        )


def _matching(candidates: Candidates, wanted: ListingFilter) -> Mask:
    matching = np.ones(len(candidates), dtype=bool)
    if wanted.kinds:
        matching &= np.isin(candidate_kinds(candidates), list(wanted.kinds))
    if wanted.by_theme():
        matching &= np.isin(candidates.themes, list(wanted.themes))
    return matching


def _reached(table: RoomTable, places: Positions, wanted: Mask) -> Mask:
    """Where at least one tube side has room, of the poses that are wanted; False elsewhere."""
    out = np.zeros(wanted.shape, dtype=bool)
    rows = np.flatnonzero(wanted.any(axis=1))
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
        targets = targets_at([rows[k].target for k in same], instants[at], observer)
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


def _unknown(wanted: ListingFilter) -> int:
    """Catalogue entries of the kinds wanted whose light or size nobody wrote down."""
    table = deep_sky()
    lacking = ~(np.isfinite(catalogue_magnitudes()) & np.isfinite(table.size_major_arcmin))
    lacking &= ~np.isin(table.kind, ("star", "double star", "other", "nova"))
    if wanted.kinds:
        lacking &= np.isin(table.kind, list(wanted.kinds))
    if wanted.by_theme():
        theme = np.array([THEME_OF_KIND.get(kind, "") for kind in table.kind], dtype=object)
        lacking &= np.isin(theme, list(wanted.themes))
    return int(lacking.sum())
