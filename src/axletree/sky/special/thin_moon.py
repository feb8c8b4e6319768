"""On which evening does the thin Moon first show after new Moon?

B. D. Yallop 1997, A Method for Predicting the First Sighting of the New Crescent Moon (NAO
Technical Note 69; from memory): at the best time, four ninths of the way from sunset to moonset,
q = (ARCV - (11.8371 - 6.3226 W + 0.7319 W^2 - 0.1018 W^3)) / 10 with the geocentric difference of
heights ARCV (degrees) and the crescent's greatest width W (arcminutes, seen from the place).
q above 0.216: easily seen; to -0.014: in very clear air; to -0.160: may need a glass to find it;
to -0.232: in a glass only; below: not at all.
"""

from __future__ import annotations

from datetime import datetime
from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import angle_between_deg, wrap_180
from axletree.sky.events.crossings import find_crossings
from axletree.sky.events.moon_phases import ecliptic_longitude_deg
from axletree.sky.events.rise_and_set import HORIZON_DEG
from axletree.sky.events.twilight import SUN_HORIZON_DEG
from axletree.sky.positions.bodies import see_bodies, see_body
from axletree.sky.positions.ephemeris import AU_KM
from axletree.sky.positions.poles import RADIUS_KM
from axletree.sky.positions.stars import positions_from_cirs
from axletree.sky.special.kinds import (
    Figure,
    FigureKind,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.watch import Watch

# Yallop's classes: least q of each.
EASY_Q, CLEAR_AIR_Q, FIND_BY_GLASS_Q, GLASS_ONLY_Q = 0.216, -0.014, -0.160, -0.232
_EVENINGS = 4
# The Moon gains 360 degrees on the Sun in 29.530589 days.
_GAIN_DEG_PER_S = 360.0 / (29.530589 * 86400.0)
# Sightings scatter about the borders of the classes (from memory of the note's table).
_Q_ERROR = 0.05


class CrescentClass(Enum):
    """How easily the thin Moon is seen."""

    EASY = "easy"
    CLEAR_AIR = "clear_air"
    FIND_BY_GLASS = "find_by_glass"
    GLASS_ONLY = "glass_only"
    NOT_SEEN = "not_seen"


def crescent_class(q: float) -> CrescentClass:
    """The class of a figure q."""
    borders = (
        (EASY_Q, CrescentClass.EASY),
        (CLEAR_AIR_Q, CrescentClass.CLEAR_AIR),
        (FIND_BY_GLASS_Q, CrescentClass.FIND_BY_GLASS),
        (GLASS_ONLY_Q, CrescentClass.GLASS_ONLY),
    )
    return next((kind for least, kind in borders if q > least), CrescentClass.NOT_SEEN)


def yallop_q(arcv_deg: Floats, width_arcmin: Floats) -> Floats:
    """The figure of the note, (n,)."""
    w = np.asarray(width_arcmin, dtype=np.float64)
    least = 11.8371 - 6.3226 * w + 0.7319 * w**2 - 0.1018 * w**3
    return np.asarray((np.asarray(arcv_deg) - least) / 10.0)


def thin_moons(watch: Watch, new_moons_s: Floats) -> list[SpecialNight]:
    """The first evening after each new Moon on which a telescope may find it (q above -0.160)."""
    if not new_moons_s.size:
        return []
    new_moons_s = _new_in_longitude_s(watch, new_moons_s)
    start = np.repeat(new_moons_s, _EVENINGS) + np.tile(np.arange(_EVENINGS), len(new_moons_s)) * (
        86400.0
    )
    sunset = find_crossings(
        lambda s: _heights(watch, s)[0] - SUN_HORIZON_DEG, start, start + 86400.0, 3600.0
    )
    down = ~sunset.upward
    at_sunset, span = sunset.seconds[down], sunset.span[down]
    moonset = find_crossings(
        lambda s: _heights(watch, s)[1] - HORIZON_DEG, at_sunset, at_sunset + 28800.0, 2400.0
    )
    new = span[moonset.span] // _EVENINGS
    best = at_sunset[moonset.span] + 4.0 / 9.0 * (moonset.seconds - at_sunset[moonset.span])
    rows = np.flatnonzero(~moonset.upward & (best >= 0.0) & (best < watch.length_s))
    looks = _looks(watch, best[rows])
    times = watch.times(best[rows])
    found: dict[int, SpecialNight] = {}
    for k, row in enumerate(rows.tolist()):
        moon = int(new[row])
        if moon not in found and looks.q[k] > FIND_BY_GLASS_Q:
            age_h = float(best[row] - new_moons_s[moon]) / 3600.0
            found[moon] = _told(watch, times[k], looks, k, age_h)
    return list(found.values())


@dataclass(frozen=True)
class _Looks:
    """The thin Moon at its best moments (n,): degrees, arcminutes, and the figure of the note."""

    altitude_deg: Floats
    azimuth_deg: Floats
    width_arcmin: Floats
    q: Floats


def _looks(watch: Watch, at: Floats) -> _Looks:
    assert watch.observer is not None
    instants, turned = watch.at(at)
    moon = see_body("moon", instants, turned, watch.kernel)
    here = positions_from_cirs(
        np.arctan2(moon.cirs[:, 1], moon.cirs[:, 0]),
        np.arcsin(moon.cirs[:, 2]),
        turned,
        watch.observer,
    )
    up = _up(watch, at)
    earth = watch.geocentric()
    moon_c, sun_c = earth.see(("moon", "sun"), at)
    high = 90.0 - angle_between_deg(moon_c.cirs, up)
    arcv = high - (90.0 - angle_between_deg(sun_c.cirs, up))
    arcl = np.radians(angle_between_deg(moon_c.cirs, sun_c.cirs))
    distance = np.linalg.norm(moon.from_observer_au, axis=-1) * AU_KM
    radius = np.degrees(np.arcsin(RADIUS_KM["moon"] / distance)) * 60.0
    width = radius * (1.0 - np.cos(arcl))
    return _Looks(here.altitude_deg, here.azimuth_deg, width, yallop_q(arcv, width))


def _told(watch: Watch, time: datetime, looks: _Looks, k: int, age_h: float) -> SpecialNight:
    moment = NamedMoment(
        kind=MomentKind.BEST,
        time=time,
        doubt_s=300.0,
        altitude_deg=float(looks.altitude_deg[k]),
        azimuth_deg=float(looks.azimuth_deg[k]),
        seen=True,
    )
    return SpecialNight(
        kind=SpecialKind.THIN_MOON,
        day=watch.night(time).date,
        bodies=("moon",),
        greatest=moment,
        moments=(moment,),
        figures=(
            Figure(FigureKind.MOON_AGE_H, age_h, 0.1),
            Figure(FigureKind.CRESCENT_ARCMIN, float(looks.width_arcmin[k]), 0.01),
            Figure(FigureKind.CRESCENT_Q, float(looks.q[k]), _Q_ERROR),
        ),
    )


def _new_in_longitude_s(watch: Watch, near_s: Floats) -> Floats:
    """The new Moons themselves: equal longitudes of Moon and Sun, to a minute."""
    seconds = near_s
    for _ in range(5):
        instants = watch.base.plus(seconds)
        moon, _ = ecliptic_longitude_deg("moon", instants, watch.kernel)
        sun, _ = ecliptic_longitude_deg("sun", instants, watch.kernel)
        seconds = seconds - wrap_180(moon - sun) / _GAIN_DEG_PER_S
    return np.asarray(seconds)


def _heights(watch: Watch, seconds: Floats) -> tuple[Floats, Floats]:
    """True altitudes of the Sun's middle and the Moon's (n,), degrees."""
    assert watch.observer is not None
    instants, turned = watch.at(seconds)
    heights = []
    for seen in see_bodies(("sun", "moon"), instants, turned, watch.kernel):
        cirs = seen.cirs
        ra, dec = np.arctan2(cirs[:, 1], cirs[:, 0]), np.arcsin(cirs[:, 2])
        places = positions_from_cirs(ra, dec, turned, watch.observer)
        heights.append(places.altitude_true_deg)
    return heights[0], heights[1]


def _up(watch: Watch, seconds: Floats) -> Floats:
    """The zenith's direction in the celestial intermediate frame, (n, 3)."""
    assert watch.observer is not None
    _, turned = watch.at(seconds)
    along = np.asarray(turned.astrom["eral"])
    phi = watch.observer.latitude_rad
    return np.stack(
        [
            np.cos(phi) * np.cos(along),
            np.cos(phi) * np.sin(along),
            np.full_like(along, np.sin(phi)),
        ],
        axis=-1,
    )
