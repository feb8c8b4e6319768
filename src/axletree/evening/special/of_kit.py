"""Which special nights does this kit have at its place, and which are great ones?"""

from __future__ import annotations

from datetime import date, timedelta

from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.sky_brightness import site_sky
from axletree.kit.kit import Kit
from axletree.sky.contrast import FIELD_FACTOR
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import FAINT_PLANETS, FIRST_YEAR, LAST_YEAR, PLANETS
from axletree.sky.special.ask import MOST_FIELD_DEG, Wishes, special_nights
from axletree.sky.special.kinds import (
    MOON_ECLIPSES,
    SUN_ECLIPSES,
    FigureKind,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.showers import NightSky

# Ours: what people come out for, or travel for.
GREAT_STAR_MAG = 2.5
GREAT_METEORS_PER_HOUR = 20.0
GREAT_OPPOSITIONS = ("mars", "jupiter", "saturn")
# A meeting of planets lasts some evenings about its closest one.
_AROUND = timedelta(days=6)


def special_of(kit: Kit, observer: Observer, first: date, last: date) -> tuple[SpecialNight, ...]:
    """Everything special from the evening of `first` to that of `last` for this kit.

    Together is what fits the widest field of the kit's eyepieces; meteors count for this sky and
    these eyes. Days outside the planets' years are refused.
    """
    zenith, extinction, _ = site_sky(kit)
    wishes = Wishes(
        field_deg=min(float(views_of(kit).true_field_deg.max()), MOST_FIELD_DEG),
        sky=NightSky(zenith, extinction, FIELD_FACTOR[kit.habits.observer]),
    )
    return special_nights(observer, first, last, kit.site.zone, wishes)


def special_tonight(kit: Kit, observer: Observer, day: date) -> tuple[SpecialNight, ...]:
    """What makes this one evening special, meetings that are closest on another among it.

    An eclipse of the Sun on this date comes along: it is over or begins before the evening.
    """
    first = max(day - _AROUND, date(FIRST_YEAR, 1, 1))
    last = min(day + _AROUND, date(LAST_YEAR, 12, 31))
    near = special_of(kit, observer, first, last)
    return tuple(night for night in near if night.day == day or day in night.nights)


def is_great(night: SpecialNight) -> bool:
    """Whether it is one that people come out for."""
    other = night.bodies[-1]
    if night.kind in MOON_ECLIPSES:
        return night.kind is not SpecialKind.MOON_ECLIPSE_PENUMBRAL
    if night.kind in SUN_ECLIPSES or night.kind in _RINGS:
        return True
    if night.kind is SpecialKind.OCCULTATION:
        bright = night.figure(FigureKind.MAGNITUDE_V)
        return other in PLANETS or (bright is not None and bright.value <= GREAT_STAR_MAG)
    if night.kind is SpecialKind.MEETING:
        return other in PLANETS and not set(FAINT_PLANETS) & set(night.bodies)
    if night.kind is SpecialKind.METEORS:
        rate = night.figure(FigureKind.METEORS_PER_HOUR)
        return rate is not None and rate.value >= GREAT_METEORS_PER_HOUR
    return night.kind is SpecialKind.OPPOSITION and other in GREAT_OPPOSITIONS


_RINGS = frozenset({SpecialKind.RINGS_EDGE_TO_EARTH, SpecialKind.RINGS_EDGE_TO_SUN})
