"""Which objects are worth a stop tonight, and why?

Ranked by the points of `worth`, with reasons in a sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from axletree.evening.objects.candidates import BODIES, SHOWPIECE, Pool
from axletree.evening.objects.requested import asked_for
from axletree.evening.objects.worth import body_share, points
from axletree.evening.seeing.eyepiece import Views, best_view, views_of
from axletree.evening.seeing.sky_brightness import SkyState
from axletree.evening.seeing.visibility import (
    BODY,
    GLOWS,
    PAIR,
    Looks,
    bright_part_arcmin,
    margins,
    sight_words,
)
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import Positions, Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

SHOWN_MARGIN = 0.0
MOST_CANDIDATES = 40
# What each better object of the same theme takes from the next one's value (ours).
VARIETY_POINTS = 1.5


@dataclass(frozen=True)
class Candidate:
    """One object worth a stop: value in points, eyepiece, margin at its best, and words."""

    thing: SkyObject
    value: float
    eyepiece: str
    margin_mag: float
    sight: str
    why: str
    must: bool


@dataclass(frozen=True)
class Chosen:
    """Candidates with their tracks (objects, instants), best first, and who was left out and why.

    `shows` (objects, instants) is True where the object's margin is above zero.
    """

    candidates: tuple[Candidate, ...]
    places: Positions
    shows: Mask
    left_out: tuple[tuple[str, str], ...]


def suiting_view(kit: Kit, looks: Looks, views: Views, margin: Floats) -> Indices:
    """The eyepiece (n,) that suits each object, from margins (eyepieces, n)."""
    return best_view(
        kit, views, margin,
        size_arcmin=looks.major_arcmin,
        detail_arcmin=bright_part_arcmin(looks),
        separation_arcsec=looks.separation_arcsec,
        glow=np.isin(looks.sort, GLOWS),
        body=looks.sort == BODY,
    )  # fmt: skip


def choose_candidates(
    kit: Kit,
    observer: Observer,
    instants: Instants,
    sky: SkyState,
    *,
    own: Sequence[SkyObject] = (),
    seen_ids: frozenset[str] = frozenset(),
    limit: int = MOST_CANDIDATES,
    skyline: object = None,
) -> Chosen:
    """The objects most worth a stop among everything, for instants spread over the session.

    `skyline` is a function from azimuth to altitude, degrees. `seen_ids` are objects shown on
    earlier evenings: they lose points, they are not forbidden.
    """
    asked = asked_for(kit, own)
    pool, must_rows, excluded = asked.pool, asked.must_rows, asked.excluded
    places = pool_positions(pool, instants, observer)
    lowest = np.full(places.altitude_deg.shape, kit.habits.lowest_altitude_deg)
    if callable(skyline):
        lowest = np.maximum(lowest, np.asarray(skyline(places.azimuth_deg)))
    above = places.altitude_deg > lowest
    rows = np.flatnonzero(above.any(axis=1))
    views = views_of(kit)
    part = pool.take(rows)
    here = _rows(places, rows)
    sky_mag = sky.behind(here)
    margin = margins(kit, part.looks, views, sky_mag, here.airmass)
    seen = np.where(above[rows][np.newaxis], margin, -np.inf)
    best_time = np.nan_to_num(seen, nan=-9.0).max(axis=2)
    eyepiece = suiting_view(kit, part.looks, views, best_time)
    each = np.arange(len(part))
    own_margin = seen[eyepiece, each]
    best = np.nan_to_num(own_margin, nan=-9.0).max(axis=1)
    shows = np.nan_to_num(own_margin, nan=-9.0) >= SHOWN_MARGIN
    height = np.where(above[rows], here.altitude_deg, 0.0).max(axis=1)
    value = points(kit, part, best, height, seen_ids, _shares(part, instants, observer))
    is_must = np.isin(rows, list(must_rows))
    allowed = (best >= SHOWN_MARGIN) & ~np.isin(np.array(part.ids, dtype=object), list(excluded))
    allowed |= is_must & above[rows].any(axis=1)
    shows |= is_must[:, np.newaxis] & above[rows]
    value = _varied(part, value, allowed & ~is_must) if any_theme(kit) else value
    order = np.argsort(-(value + 1000.0 * is_must), kind="stable")
    order = _no_twins(part, order[allowed[order]])[:limit]
    chosen = tuple(
        _candidate(
            kit,
            part,
            int(k),
            here,
            best,
            eyepiece,
            value,
            views,
            bool(is_must[k]),
            body_facts(part.ids[k], instants, observer) if part.source[k] == 0 else "",
        )  # fmt: skip
        for k in order
    )
    left = _left_out(pool, must_rows, excluded, above, rows, best, sky)
    return Chosen(chosen, _rows(here, order), shows[order], left)


def pool_positions(pool: Pool, instants: Instants, observer: Observer) -> Positions:
    """Places (objects, instants) of a pool whose bodies come first."""
    turned = orientation(instants, observer)
    moving = np.flatnonzero(pool.source == 0)
    fixed = np.flatnonzero(pool.source != 0)
    table = {f.name: np.empty((len(pool), len(instants))) for f in fields(Positions)}
    stars = star_positions(
        Stars.of(pool.ra_deg[fixed], pool.dec_deg[fixed]), instants, observer, turned
    )
    parts: list[tuple[Indices, Positions]] = [(fixed, stars)]
    if len(moving):
        names = [pool.ids[i] for i in moving]
        parts.append((moving, body_positions(names, instants, observer, turned=turned)))
    for which, found in parts:
        for name, rows in table.items():
            rows[which] = getattr(found, name)
    return Positions(**table)


def _rows(places: Positions, which: Indices) -> Positions:
    return Positions(**{f.name: getattr(places, f.name)[which] for f in fields(Positions)})


def _shares(pool: Pool, instants: Instants, observer: Observer) -> Floats:
    """What of their fame the objects keep tonight: all of it, but for Moon and planets."""
    share = np.ones(len(pool))
    moving = np.flatnonzero(pool.source == 0)
    if len(moving):
        names = [pool.ids[i] for i in moving]
        middle = instants[len(instants) // 2]
        share[moving] = body_share(body_positions(names, middle, observer))[:, 0]
    return share


def any_theme(kit: Kit) -> bool:
    """True where the person wants a bit of everything."""
    return bool({"anything", "first looks"} & set(kit.habits.themes))


def _varied(pool: Pool, value: Floats, which: Mask) -> Floats:
    """Values less a little for each better object of the same theme: variety pleases a queue."""
    out = value.copy()
    for theme in set(pool.themes[which].tolist()):
        if theme == "moon and planets":
            continue
        rows = np.flatnonzero(which & (pool.themes == theme))
        rank = np.empty(len(rows))
        rank[np.argsort(-value[rows], kind="stable")] = np.arange(len(rows))
        out[rows] = np.maximum(value[rows] - VARIETY_POINTS * rank, 0.5)
    return out


def _no_twins(pool: Pool, order: Indices) -> Indices:
    """The order without a coloured star that is also a double, or the same name twice."""
    kept: list[int] = []
    places: list[tuple[float, float]] = []
    for k in order:
        ra, dec = float(pool.ra_deg[k]), float(pool.dec_deg[k])
        near = any(abs(dec - d) < 0.02 and abs(ra - r) < 0.05 for r, d in places)
        if np.isnan(ra) or not near:
            kept.append(int(k))
            places.append((ra, dec))
        if len(kept) >= 4 * MOST_CANDIDATES:
            break
    return np.array(kept, dtype=np.intp)


def _candidate(
    kit: Kit, pool: Pool, k: int, places: Positions, best: Floats, eyepiece: Indices,
    value: Floats, views: Views, must: bool, body_fact: str,
) -> Candidate:  # fmt: skip
    thing = pool.thing(k)
    margin = float(best[k])
    height = float(places.altitude_deg[k].max())
    sort = int(pool.looks.sort[k])
    facts = [body_fact if sort == BODY else look_facts(thing, sort)]
    if height > 50:
        facts.append(f"up to {height:.0f}° high this evening")
    elif height < 25:
        facts.append(f"never higher than {height:.0f}° this evening")
    if sort not in (BODY, PAIR) and np.isfinite(margin) and margin > -9:
        facts.append(f"{margin:+.1f} mag of margin".replace("-", "−"))
    why = "; ".join(f for f in facts if f)
    return Candidate(
        thing=thing,
        value=float(value[k]),
        eyepiece=views.labels[int(eyepiece[k])],
        margin_mag=margin,
        sight="shows at first glance" if sort == BODY else sight_words(margin),
        why=why[:1].upper() + why[1:] + ".",
        must=must,
    )


def _mag(value: float) -> str:
    return f"{value + 0.0:.1f}".replace("-0.0", "0.0").replace("-", "−")


def look_facts(thing: SkyObject, sort: int) -> str:
    """Size, light, separation or colour of an object, in a few words."""
    if sort == PAIR and thing.separation_arcsec:
        text = f"a pair {thing.separation_arcsec:.0f}″ apart"
        if thing.magnitude_v is not None and thing.companion_magnitude_v is not None:
            text += f", {_mag(thing.magnitude_v)} and {_mag(thing.companion_magnitude_v)} mag"
        return text
    if thing.kind == "star" and thing.colour_bv:
        return f"a deep red star (B−V {thing.colour_bv:.1f})" if thing.colour_bv > 1.5 else "a star"
    size = thing.size_major_arcmin
    parts = []
    if size:
        parts.append(f"{size:.0f}′ across" if size >= 1.5 else f"{size * 60:.0f}″ across")
    if thing.magnitude_v is not None and sort != BODY:
        about = "about " if thing.magnitude_guessed else ""
        parts.append(f"{about}{_mag(thing.magnitude_v)} mag")
    return ", ".join(parts)


def _left_out(
    pool: Pool, must_rows: frozenset[int], excluded: frozenset[str], above: Mask,
    rows: Indices, best: Floats, sky: SkyState,
) -> tuple[tuple[str, str], ...]:  # fmt: skip
    """Reasons for the bodies, showpieces and must-see objects that cannot be shown."""
    said = []
    margin_of = dict(zip(rows.tolist(), best.tolist(), strict=True))
    famous = np.flatnonzero((pool.fame >= SHOWPIECE) & above.any(axis=1)).tolist()
    bodies = range(len(BODIES))
    interesting = sorted({*bodies, *famous, *must_rows})
    for row in interesting:
        if pool.ids[row] in excluded:
            said.append((pool.names[row], "you excluded it"))
        elif not above[row].any():
            said.append((pool.names[row], "below the skyline or too low through the session"))
        elif margin_of.get(row, -9.0) < SHOWN_MARGIN and row not in must_rows:
            pair = bool(np.isfinite(pool.looks.separation_arcsec[row]))
            said.append((pool.names[row], _too_faint(margin_of[row], sky, pair=pair)))
    return tuple(said)


def _too_faint(margin: float, sky: SkyState, *, pair: bool) -> str:
    if pair:
        return "its two stars are too close for this aperture and seeing"
    if not np.isfinite(margin) or margin <= -9.0:
        return "its stars cannot be told apart, or its brightness is not known"
    moon = " under this Moon" if (sky.moon_altitude_deg > 0).any() else ""
    return f"too faint{moon} for this sky and telescope, by {-margin:.1f} mag"


def body_facts(name: str, instants: Instants, observer: Observer) -> str:
    """Size, phase and ring tilt of the Moon or a planet in the middle of the session, in words."""
    body = body_positions(name, instants[len(instants) // 2], observer)
    size = float(body.diameter_arcsec[0, 0])
    lit = float(body.lit_fraction[0, 0])
    tilt = float(body.ring_tilt_deg[0, 0])
    text = f"{size / 60:.0f}′ across" if size > 120 else f"{size:.0f}″ across"
    if lit < 0.97 or name == "moon":
        text += f", {lit * 100:.0f} % lit"
    if np.isfinite(tilt):
        text += f", rings tilted {abs(tilt):.0f}°"
    return text
