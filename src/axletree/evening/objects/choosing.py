"""Which objects are worth a stop tonight, and why?

Ranked by the points of `worth`; facts and reasons are for the words floor to tell.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace

import numpy as np

from axletree.evening.hosting.pace import Ease, find_seconds, show_seconds
from axletree.evening.objects.facts import BodyFacts, ObjectFacts, body_facts, facts_of
from axletree.evening.objects.light_wanted import light_allows
from axletree.evening.objects.not_offered import (
    SHOWN_MARGIN,
    Best,
    Omission,
    beyond_the_list,
    left_out,
)
from axletree.evening.objects.requested import requested_of
from axletree.evening.objects.tonight import TonightSky, tonight_points
from axletree.evening.objects.twins import one_of_a_sight, without_twins
from axletree.evening.objects.worth import (
    ObjectWorth,
    Worth,
    any_theme,
    differs_loss,
    fame_share,
    light_share,
    weighed,
    worth_of,
)
from axletree.evening.offered.candidates import Candidates
from axletree.evening.offered.places import candidate_positions
from axletree.evening.offered.well_known import SHOWPIECE
from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.grades import Visibility, visibility_of
from axletree.evening.seeing.moonlight import moon_takes_mag, moonless_margins
from axletree.evening.seeing.own_eyepiece import own_margins
from axletree.evening.seeing.pairs import clearly_apart_mag
from axletree.evening.seeing.sky_brightness import SkyState
from axletree.evening.seeing.visibility import filters_worn, suiting_view
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import audience_of
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Positions
from axletree.sky.time.instants import Instants

# So many of the list should show for as long as it takes to find and to show them (ours).
LEAST_LASTING = 8
# So many are thought of in an evening of so many hours, and more in a longer one: up to so many.
MOST_CANDIDATES, EVENING_HOURS, MOST_OF_A_NIGHT = 40, 5.0, 56


@dataclass(frozen=True)
class Candidate:
    """One object worth a stop: value in points, eyepiece, margin and height at its best, facts.

    `line_filter` before the eyepiece, "" without one: the margin counts it in.
    """

    thing: SkyObject
    value: float
    eyepiece: str
    margin_mag: float
    visibility: Visibility
    highest_deg: float
    facts: ObjectFacts
    must: bool
    worth: ObjectWorth
    line_filter: str = ""

    @property
    def splendid(self) -> bool:
        """People speak of it for years, and it shows plainly tonight."""
        plain = (Visibility.FIRST_GLANCE, Visibility.PLAIN)
        return self.worth.rewards > SHOWPIECE and self.visibility in plain


@dataclass(frozen=True)
class Chosen:
    """Candidates with their tracks (objects, instants), best first, and who was left out and why.

    `shows` (objects, instants) is True where the object's margin is above zero.
    """

    candidates: tuple[Candidate, ...]
    places: Positions
    shows: Mask
    left_out: tuple[Omission, ...]


@dataclass(frozen=True)
class Selection:
    """What the candidates are taken from besides the catalogue, and how many at most.

    `own`: objects that the person brought along. `seen_ids`: objects shown on earlier evenings;
    they lose points, they are not forbidden. `tonight` is what happens in the session; None: it
    counts for nothing. `promised`: names that must be seen besides the kit's.
    """

    own: Sequence[SkyObject] = ()
    seen_ids: frozenset[str] = frozenset()
    most: int = MOST_CANDIDATES
    tonight: TonightSky | None = None
    promised: Sequence[str] = ()


EVERYTHING = Selection()


def most_candidates(hours: float, least: int = MOST_CANDIDATES) -> int:
    """How many objects are thought of in a session of so many hours: enough to fill it."""
    return max(least, min(round(least * hours / EVENING_HOURS), MOST_OF_A_NIGHT))


def choose_candidates(
    kit: Kit,
    observer: Observer,
    instants: Instants,
    sky: SkyState,
    selection: Selection = EVERYTHING,
    skyline: object = None,
) -> Chosen:
    """The objects most worth a stop among everything, for instants spread over the session.

    `skyline` is a function from azimuth to altitude, degrees.
    """
    requested = requested_of(kit, selection.own, promised=selection.promised)
    candidates, must_rows, excluded = requested.candidates, requested.must_rows, requested.excluded
    places = candidate_positions(candidates, instants, observer)
    lowest = np.full(places.altitude_deg.shape, kit.habits.lowest_altitude_deg)
    if callable(skyline):
        lowest = np.maximum(lowest, np.asarray(skyline(places.azimuth_deg)))
    above = places.altitude_deg > lowest
    rows = np.flatnonzero(above.any(axis=1))
    views = views_of(kit)
    part = candidates.take(rows)
    here = _rows(places, rows)
    sky_mag = sky.behind(here)
    eyepiece = suiting_view(kit, part.looks, views)
    each = np.arange(len(part))
    margin = own_margins(kit, part.looks, views, eyepiece, sky_mag, here.airmass)
    own_margin = np.where(above[rows], margin, -np.inf)
    best = np.nan_to_num(own_margin, nan=-9.0).max(axis=1)
    is_must = np.isin(rows, list(must_rows))
    # Of what was asked for by name nobody need know the light: it is looked for wherever it stands.
    looked_for = is_must[:, np.newaxis] & np.isnan(own_margin)
    shows = (np.nan_to_num(own_margin, nan=-9.0) >= SHOWN_MARGIN) | looked_for
    shows &= light_allows(part, sky.sun_altitude_deg, is_must)
    height = np.where(above[rows], here.altitude_deg, 0.0).max(axis=1)
    moon_takes = moon_takes_mag(kit, part.looks, eyepiece, here, sky, own_margin)
    kept = light_share(part.looks.sort, moon_takes)
    share = fame_share(part, instants, observer, audience_of(kit.habits)) * kept
    worth = worth_of(
        kit, part, best, height, selection.seen_ids, share,
        tonight_points(part.ids, part.names, selection.tonight),
    )  # fmt: skip
    value = weighed(kit, worth)
    not_wanted = np.isin(np.array(part.ids, dtype=object), list(excluded)) & ~is_must
    allowed = ((best >= SHOWN_MARGIN) | looked_for.any(axis=1)) & ~not_wanted
    if any_theme(kit):
        free = allowed & ~is_must
        lost = differs_loss(np.where(free, value, -np.inf), part.themes)
        worth = replace(worth, differs=worth.differs - lost)
        value = weighed(kit, worth)
    order = np.argsort(-(value + 1000.0 * is_must), kind="stable")
    order = one_of_a_sight(part, order[allowed[order]], is_must)
    stop_s = show_seconds(kit) + find_seconds(kit, Ease.FAINT)
    lasts = _lasts_s(shows, instants) >= stop_s
    order = with_lasting(without_twins(part, order), lasts, selection.most)
    labels = tuple(views.labels[int(e)] for e in eyepiece)
    worn = [""] * len(part)
    if kit.tube.line_filters:
        at = np.nan_to_num(own_margin, nan=-np.inf).argmax(axis=1)
        now = sky_mag[each, at], here.airmass[each, at]
        worn = filters_worn(kit, part.looks, views, eyepiece, *now)
    risen = _Risen(part, here, best, value, worth, labels, is_must, worn)
    chosen = tuple(
        risen.candidate(
            int(k), body_facts(part.ids[k], instants, observer) if part.source[k] == 0 else None
        )
        for k in order
    )
    at_best = Best(
        np.where(looked_for.any(axis=1), SHOWN_MARGIN, best),
        _moonless_best(kit, part, eyepiece, here, sky, own_margin, is_must),
        _apart_mag(kit, part, views.magnification),
    )
    left = left_out(requested, above, rows, at_best, sky)
    left += beyond_the_list(part, order, best)
    return Chosen(chosen, _rows(here, order), shows[order], left)


def _apart_mag(kit: Kit, candidates: Candidates, magnification: Floats) -> Floats:
    """How clearly each pair stands apart at the best of these powers; nan for the others."""
    looks = candidates.looks
    apart = clearly_apart_mag(
        kit, looks.separation_arcsec, looks.companion - looks.magnitude, magnification
    )
    return np.asarray(apart.max(axis=0))


def _lasts_s(shows: Mask, instants: Instants) -> Floats:
    """For how long each object shows in all, seconds (objects,): a span counts where both its ends
    do."""
    spans = np.diff(instants.seconds_since(instants[0]))
    return np.asarray((shows[:, :-1] & shows[:, 1:]) @ spans)


def with_lasting(order: Indices, lasts: Mask, most: int) -> Indices:
    """At most so many of these rows; in a light and short night, where few of them last a stop,
    those that do come besides."""
    kept, further = order[:most], order[most:]
    if lasts[kept].sum() >= LEAST_LASTING:
        return kept
    besides = further[lasts[further]][:LEAST_LASTING]
    return np.asarray(np.concatenate([kept, besides]))


def _moonless_best(
    kit: Kit, part: Candidates, eyepiece: Indices, here: Positions, sky: SkyState, margin: Floats,
    must: Mask,
) -> Floats:  # fmt: skip
    """The best margins (n,) as they were without the Moon, of what people would look for and can't
    see; for all others the `margin` (n, instants) as it is. Below the skyline that is -inf."""
    best = np.nan_to_num(margin, nan=-9.0).max(axis=1)
    expected = must | (part.fame >= SHOWPIECE) | (part.source == 0)
    asked = np.flatnonzero((best < SHOWN_MARGIN) & expected)
    if len(asked) and (sky.moon_altitude_deg > 0.0).any():
        looks = part.take(asked).looks
        without = moonless_margins(kit, looks, eyepiece[asked], _rows(here, asked), sky)
        best[asked] = np.where(np.isneginf(margin[asked]), -np.inf, without).max(axis=1)
    return np.asarray(best)


def _rows(places: Positions, which: Indices) -> Positions:
    return Positions(**{f.name: getattr(places, f.name)[which] for f in fields(Positions)})


@dataclass(frozen=True)
class _Risen:
    """The objects (n,) that rise above the skyline: tracks, margin at best, points, eyepiece."""

    candidates: Candidates
    places: Positions
    margin_mag: Floats
    value: Floats
    worth: Worth
    eyepiece: tuple[str, ...]
    must: Mask
    line_filter: Sequence[str]

    def candidate(self, k: int, body: BodyFacts | None) -> Candidate:
        thing = self.candidates.object_at(k)
        margin = float(self.margin_mag[k])
        return Candidate(
            thing=thing,
            value=float(self.value[k]),
            worth=ObjectWorth(**{f: float(v[k]) for f, v in vars(self.worth).items()}),
            eyepiece=self.eyepiece[k],
            margin_mag=margin,
            visibility=visibility_of(margin),
            highest_deg=float(self.places.altitude_deg[k].max()),
            facts=body or facts_of(thing, int(self.candidates.looks.sort[k])),
            must=bool(self.must[k]),
            line_filter=self.line_filter[k],
        )
