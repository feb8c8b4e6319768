"""When do planets stand opposite the Sun or farthest from it, and when are Saturn's rings edge-on?

Oppositions: when the apparent geocentric longitudes of planet and Sun differ by 180 degrees.
Greatest elongations: the greatest angle from the Sun, from the Earth's centre. Rings: when the
Earth or the Sun passes their plane. Definitions: Explanatory Supplement to the Astronomical
Almanac, 3rd ed. 2013 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from axletree.sky.arrays import Floats, Ints
from axletree.sky.directions import angle_between_deg, wrap_180
from axletree.sky.discs.rings import saturn_rings
from axletree.sky.events.crossings import find_crossings
from axletree.sky.events.moon_phases import ecliptic_longitude_deg
from axletree.sky.positions.bodies import body_positions
from axletree.sky.special.kinds import (
    Figure,
    FigureKind,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.rough import RoughSky
from axletree.sky.special.watch import Watch, approach

OUTER = ("mars", "jupiter", "saturn", "uranus", "neptune")
INNER = ("mercury", "venus")
_STEP_S = 5.0 * 86400.0
# Mars moves least: a degree of difference in two days; places are good to 0.01 arcseconds.
_OPPOSITION_DOUBT_S = 5.0
# The parabola about a greatest elongation is flat.
_ELONGATION_DOUBT_S = 600.0
# The plane's own error, 0.01 degrees, over the Earth's motion across it (some 0.05 degrees a day).
_RINGS_DOUBT_S = 5.0 * 3600.0
_NO_SUN_NEAR_DEG = -6.0


def oppositions(watch: Watch, sky: RoughSky) -> list[SpecialNight]:
    """Every opposition of Mars, Jupiter, Saturn, Uranus and Neptune in the span."""
    found = []
    for name in OUTER:
        from_opposite = sky.apart_deg(sky.towards[name], -sky.towards["sun"])
        _, guesses = sky.low_points(from_opposite[np.newaxis], 20.0)
        # In longitude within five days of the closest approach (Mars leans most).
        start, stop = guesses - _STEP_S, guesses + _STEP_S
        if not guesses.size:
            continue

        def difference(seconds: Floats, name: str = name) -> Floats:
            instants = watch.base.plus(seconds)
            planet, _ = ecliptic_longitude_deg(name, instants, watch.kernel)
            sun, _ = ecliptic_longitude_deg("sun", instants, watch.kernel)
            return wrap_180(planet - sun - 180.0)

        for s in find_crossings(difference, start, stop, _STEP_S).seconds:
            found += _told(
                watch, SpecialKind.OPPOSITION, name, float(s), (_OPPOSITION_DOUBT_S, _looks)
            )
    return found


def elongations(watch: Watch, sky: RoughSky) -> list[SpecialNight]:
    """Every greatest elongation of Mercury and Venus, evenings and mornings."""
    found = []
    earth = watch.geocentric()
    for name in INNER:
        angle = sky.apart_deg(sky.towards[name], sky.towards["sun"])
        _, guesses = sky.low_points((60.0 - angle)[np.newaxis], 60.0)

        def low(seconds: Floats, _: Ints, name: str = name) -> Floats:
            planet, sun = earth.see((name, "sun"), seconds)
            return np.asarray(60.0 - angle_between_deg(planet.cirs, sun.cirs))

        seconds, _ = approach(low, guesses, 2.0 * 86400.0, 21600.0)
        for s in seconds:
            instants = watch.base.plus(s)
            planet, _ = ecliptic_longitude_deg(name, instants, watch.kernel)
            sun, _ = ecliptic_longitude_deg("sun", instants, watch.kernel)
            east = bool(wrap_180(planet - sun)[0] > 0.0)
            kind = SpecialKind.ELONGATION_EVENING if east else SpecialKind.ELONGATION_MORNING
            found += _told(watch, kind, name, float(s), (_ELONGATION_DOUBT_S, _looks_far))
    return found


def rings_edge_on(watch: Watch) -> list[SpecialNight]:
    """When the Earth, and when the Sun, passes the plane of Saturn's rings."""
    assert watch.observer is not None
    observer = watch.observer
    found = []
    for kind, field in (
        (SpecialKind.RINGS_EDGE_TO_EARTH, "opening_deg"),
        (SpecialKind.RINGS_EDGE_TO_SUN, "sun_deg"),
    ):

        def height(seconds: Floats, field: str = field) -> Floats:
            rings = saturn_rings(watch.base.plus(seconds), observer, watch.kernel)
            return np.asarray(getattr(rings, field))

        end = np.array([watch.length_s])
        passages = find_crossings(height, np.zeros(1), end, 10.0 * 86400.0, tolerance_s=60.0)
        for s in passages.seconds:
            found += _told(watch, kind, "saturn", float(s), (_RINGS_DOUBT_S, _looks_far))
    return found


Looks = Callable[[Watch, str, float], tuple[Figure, ...]]


def _told(
    watch: Watch, kind: SpecialKind, name: str, seconds: float, how: tuple[float, Looks]
) -> list[SpecialNight]:
    """The night around that moment, if it lies in the span."""
    if not 0.0 <= seconds < watch.length_s:
        return []
    assert watch.observer is not None
    doubt_s, looks = how
    instants = watch.base.plus(seconds)
    here = body_positions([name, "sun"], instants, watch.observer, ephemeris=watch.kernel)
    time = watch.times(np.array([seconds]))[0]
    seen = here.altitude_deg[0, 0] > 0.0 and here.altitude_deg[1, 0] < _NO_SUN_NEAR_DEG
    moment = NamedMoment(
        kind=MomentKind.EXACT,
        time=time,
        doubt_s=doubt_s,
        altitude_deg=float(here.altitude_deg[0, 0]),
        azimuth_deg=float(here.azimuth_deg[0, 0]),
        seen=bool(seen),
    )
    figures = looks(watch, name, seconds)
    return [SpecialNight(kind, watch.night(time).date, (name,), moment, (moment,), figures)]


def _looks(watch: Watch, name: str, seconds: float) -> tuple[Figure, ...]:
    assert watch.observer is not None
    body = body_positions(name, watch.base.plus(seconds), watch.observer, ephemeris=watch.kernel)
    return (
        Figure(FigureKind.MAGNITUDE_V, float(body.magnitude_v[0, 0]), 0.1),
        Figure(FigureKind.DIAMETER_ARCSEC, float(body.diameter_arcsec[0, 0]), 0.05),
    )


def _looks_far(watch: Watch, name: str, seconds: float) -> tuple[Figure, ...]:
    assert watch.observer is not None
    body = body_positions(name, watch.base.plus(seconds), watch.observer, ephemeris=watch.kernel)
    away = Figure(FigureKind.ELONGATION_DEG, float(body.elongation_deg[0, 0]), 0.01)
    return (away, *_looks(watch, name, seconds))
