"""Which features of the Moon come into good light between two instants, and which leave it?"""

from __future__ import annotations

from datetime import UTC, datetime, tzinfo

import numpy as np

from axletree.sky.arrays import Floats
from axletree.sky.happenings.kinds import Happening, HappeningKind, Turn, TurnKind
from axletree.sky.lunar.features import MoonFeature, moon_features
from axletree.sky.lunar.light import (
    HIGHEST_SUN_DEG,
    LOWEST_EYE_DEG,
    LOWEST_SUN_DEG,
    eye_heights_deg,
    shows_by_shadow,
    sun_heights_deg,
)
from axletree.sky.lunar.nodding import moon_face
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import Ephemeris
from axletree.sky.time.instants import Instants, span

# The Sun climbs half a degree an hour there: a straight line between samples is good to 1 s.
_STEP_S = 1800.0
_DAY_DEG = 360.0 / 29.530589  # the Sun's way round the Moon's sky, degrees a day


def moon_happenings(
    start: datetime,
    stop: datetime,
    observer: Observer,
    zone: str | tzinfo = UTC,
    ephemeris: Ephemeris | None = None,
) -> tuple[Happening, ...]:
    """Features that stand in good light (Sun 2 to 12 degrees high) some time from start to stop.

    In the order of their list (the best known have rank 1); features near the edge of the disc
    are left out. The error of a moment is that of the feature's place (0.01 or 0.5 degrees) by
    the Sun's speed: a minute or an hour.
    """
    base, length = span(start, stop)
    seconds = np.linspace(0.0, length, max(int(np.ceil(length / _STEP_S)) + 1, 2))
    face = moon_face(base.plus(seconds), observer, ephemeris)
    sun, eye = sun_heights_deg(face), eye_heights_deg(face)
    found = []
    for k, feature in enumerate(moon_features()):
        good = (sun[:, k] >= LOWEST_SUN_DEG) & (sun[:, k] <= HIGHEST_SUN_DEG)
        if not good.any() or not shows_by_shadow(feature):
            continue
        if np.max(eye[good, k]) < LOWEST_EYE_DEG:
            continue
        turns = _turns(feature, sun[:, k], seconds, base, zone)
        found.append(Happening("moon", HappeningKind.FEATURE_IN_LIGHT, feature.name, turns))
    return tuple(found)


def _turns(
    feature: MoonFeature, sun: Floats, seconds: Floats, base: Instants, zone: str | tzinfo
) -> tuple[Turn, ...]:
    # A feature far from the equator meets the heights aslant, and so later or earlier.
    slant = max(np.cos(np.radians(feature.latitude_deg)), 0.2)
    doubt = feature.error_deg / (_DAY_DEG * slant) * 86400.0
    times: list[tuple[float, TurnKind]] = []
    for level, kind in (
        (LOWEST_SUN_DEG, TurnKind.SUN_AT_LOWEST),
        (HIGHEST_SUN_DEG, TurnKind.SUN_AT_HIGHEST),
    ):
        f = sun - level
        j = np.flatnonzero((f[1:] < 0.0) != (f[:-1] < 0.0))
        cross = seconds[j] - f[j] * (seconds[j + 1] - seconds[j]) / (f[j + 1] - f[j])
        times += [(float(s), kind) for s in cross]
    times.sort()
    moments = base.plus(np.array([s for s, _ in times])).to_datetimes(zone) if times else []
    return tuple(
        Turn(kind, time, float(doubt)) for (_, kind), time in zip(times, moments, strict=True)
    )
