"""How do the bright stars and the pole star lead to north, now or when it gets dark?"""

from __future__ import annotations

import functools
from dataclasses import replace
from datetime import datetime

import numpy as np

from axletree.ground.north.method import (
    ClosedMethod,
    ClosedReason,
    NorthMethod,
    NorthMethodKind,
    method_by,
)
from axletree.ground.north.passages import azimuth_rate, star_passages
from axletree.ground.north.pointers import (
    NorthSearch,
    Pointer,
    next_below,
    pointer,
    sight_parts,
    sight_sigma_deg,
)
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.parts.mount import PolarScope
from axletree.sky.arrays import Floats, Mask
from axletree.sky.catalogue.objects import star_object
from axletree.sky.catalogue.pole_star import SIGMA_OCTANTIS_MAG, pole_star_hip, pole_star_name
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.catalogue.stars import StarArrays, stars
from axletree.sky.directions import separation_deg
from axletree.sky.positions.bodies import sun_altitude_deg
from axletree.sky.positions.body_day import body_through_day
from axletree.sky.positions.objects import stars_of
from axletree.sky.positions.stars import star_positions
from axletree.sky.time.instants import SIDEREAL_DAY_S, Instants
from axletree.sky.time.nights import later

BRIGHT_STAR_MAG = 2.1
BRIGHT_STAR_SUN_DEG = -6.0
LOWEST_STAR_DEG, HIGHEST_STAR_DEG = 6.0, 70.0
ABOVE_SKYLINE_DEG = 1.0
MOST_STARS = 3
PASSAGE_HOURS = 8.0
# Sun's altitude below which each is seen: Polaris by eye, sigma Octantis in a scope, by eye
# (common practice, no source).
POLARIS_SUN_DEG, SIGMA_SCOPE_SUN_DEG, SIGMA_EYE_SUN_DEG = -8.0, -12.0, -14.0
DARK_SITE_LIMIT_MAG = 6.0
A_DAY_H = 24.5


def _sun_low_enough(search: NorthSearch, altitude_deg: float) -> datetime | None:
    """`at` itself if the Sun is that low then, else when it next gets there within a day."""
    if search.sun_altitude_deg <= altitude_deg:
        return search.at
    sun = body_through_day("sun", search.observer, search.at)
    found = next_below(sun.altitude_true_deg, altitude_deg, search.at, A_DAY_H)
    return None if found is None else later(found, 1.0)


def star_methods(search: NorthSearch) -> tuple[list[NorthMethod], list[ClosedMethod]]:
    """The best bright stars at the first dark moment, and the best next meridian passages.

    Low stars are best: a leaning sight turns the line by its lean times tan(altitude).
    """
    dark = _sun_low_enough(search, BRIGHT_STAR_SUN_DEG)
    if dark is None:
        return [], [ClosedMethod(NorthMethodKind.STAR, ClosedReason.SUN_STAYS_HIGH)]
    bright = _bright()
    methods = _stars_at(bright, dark, search) + _passages(bright, dark, search)
    closed = []
    if dark != search.at:
        closed.append(ClosedMethod(NorthMethodKind.STAR, ClosedReason.TOO_LIGHT, dark))
    if not methods:
        closed.append(ClosedMethod(NorthMethodKind.STAR, ClosedReason.NONE_ABOVE_SKYLINE))
    return methods, closed


def _stars_at(bright: StarArrays, at: datetime, search: NorthSearch) -> list[NorthMethod]:
    seen = star_positions(bright, Instants.from_datetime(at), search.observer)
    azimuth, altitude = seen.azimuth_deg[:, 0], seen.altitude_deg[:, 0]
    turn = azimuth_rate(azimuth, seen.altitude_true_deg[:, 0], search.observer.latitude_deg)
    pace = turn * 360.0 / (SIDEREAL_DAY_S / 60.0)
    placed = np.flatnonzero(_well_placed(azimuth, altitude, search.horizon))
    sigma = sight_sigma_deg(altitude[placed], pace[placed], search.errors)
    found = []
    for i in placed[np.argsort(sigma, kind="stable")[:MOST_STARS]]:
        there = Pointer(at, float(azimuth[i]), float(altitude[i]), float(pace[i]))
        found.append(_by_star(NorthMethodKind.STAR, there, search, int(bright.number[i])))
    return found


def _passages(bright: StarArrays, at: datetime, search: NorthSearch) -> list[NorthMethod]:
    observer = search.observer
    passing = star_passages(bright, observer, at)
    soon = passing.wait_s < PASSAGE_HOURS * 3600.0
    placed = soon & _well_placed(passing.azimuth_deg, passing.altitude_deg, search.horizon)
    rows, columns = np.nonzero(placed)
    if not len(rows):
        return []
    wait = passing.wait_s[rows, columns]
    dark = sun_altitude_deg(Instants.from_datetime(at).plus(wait), observer) < BRIGHT_STAR_SUN_DEG
    rows, columns, wait = rows[dark], columns[dark], wait[dark]
    altitude, rate = passing.altitude_deg[rows, columns], passing.rate_deg_per_min[rows, columns]
    # Waiting an hour is worth a twentieth of the error.
    price = sight_sigma_deg(altitude, rate, search.errors) * (1.0 + 0.05 * wait / 3600.0)
    best = np.argsort(price, kind="stable")[:MOST_STARS]
    found = []
    for i, j in zip(rows[best], columns[best], strict=True):
        there = Pointer(
            later(at, float(passing.wait_s[i, j])),
            float(passing.azimuth_deg[i, j]),
            float(passing.altitude_deg[i, j]),
            float(passing.rate_deg_per_min[i, j]),
        )
        star = int(bright.number[i])
        found.append(_by_star(NorthMethodKind.STAR_ON_MERIDIAN, there, search, star))
    return found


def _by_star(kind: NorthMethodKind, there: Pointer, search: NorthSearch, hip: int) -> NorthMethod:
    found = method_by(kind, there, search, sight_parts(there, search.errors))
    return replace(found, object_name=_name(hip))


def _well_placed(azimuth: Floats, altitude: Floats, horizon: Horizon) -> Mask:
    top = horizon.altitude_at(azimuth) + ABOVE_SKYLINE_DEG
    return np.asarray((altitude > np.maximum(top, LOWEST_STAR_DEG)) & (altitude < HIGHEST_STAR_DEG))


@functools.cache
def _bright() -> StarArrays:
    return _apart(stars(BRIGHT_STAR_MAG, hipparcos_only=True))


def _apart(bright: StarArrays) -> StarArrays:
    """Without the fainter star of pairs that the eye sees as one."""
    gap = separation_deg(
        bright.ra_deg[:, None], bright.dec_deg[:, None], bright.ra_deg, bright.dec_deg
    )
    near = np.tril(gap < 0.1, k=-1)  # the list runs from bright to faint
    return bright.take(np.flatnonzero(np.count_nonzero(near, axis=1) == 0))


def _name(hip: int) -> str:
    names = names_of(hip)
    return names[0] if names else f"HIP {hip}"


def pole_star_methods(
    search: NorthSearch, scope: PolarScope, eye_limit_mag: float | None
) -> tuple[list[NorthMethod], list[ClosedMethod]]:
    """The pole star with its own azimuth, at the first moment when it can be seen.

    Polaris by eye or in the polar scope; sigma Octantis needs a polar scope, or eyes under a
    dark sky (`eye_limit_mag`, None: not known, taken as not dark enough).
    """
    observer = search.observer
    name = pole_star_name(observer.north)
    shut = ClosedMethod(NorthMethodKind.POLE_STAR, ClosedReason.TOO_FAINT, object_name=name)
    if observer.north:
        needed = POLARIS_SUN_DEG
    elif scope.kind == "scope":
        needed = SIGMA_SCOPE_SUN_DEG
    elif eye_limit_mag is not None and eye_limit_mag >= DARK_SITE_LIMIT_MAG:
        needed = SIGMA_EYE_SUN_DEG
    else:
        return [], [replace(shut, magnitude=SIGMA_OCTANTIS_MAG)]
    dark = _sun_low_enough(search, needed)
    if dark is None:
        return [], [replace(shut, reason=ClosedReason.SUN_STAYS_HIGH)]
    row = stars_of([star_object(pole_star_hip(observer.north))])
    seen = pointer(lambda instants: star_positions(row, instants, observer), dark)
    top = float(search.horizon.altitude_at(seen.azimuth_deg))
    if seen.altitude_deg <= max(top, 0.0):
        hidden = replace(shut, reason=ClosedReason.HIDDEN, altitude_deg=seen.altitude_deg)
        return [], [replace(hidden, skyline_deg=top)]
    errors = search.errors
    sighting = {"scope": errors.scope_deg, "hollow": errors.bore_deg}.get(
        scope.kind, errors.sighting_deg
    )
    # Through the axis itself nothing is carried down to the ground, so nothing leans.
    own = errors if scope.kind == "none" else replace(errors, lean_deg=0.0)
    parts = sight_parts(seen, own, sighting)
    item = method_by(NorthMethodKind.POLE_STAR, seen, search, parts)
    waits = [replace(shut, reason=ClosedReason.TOO_LIGHT, opens=dark)] if dark != search.at else []
    return [replace(item, object_name=name)], waits
