"""How dark does this night get, when does the pole star show, and what does the Moon do?"""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from enum import Enum

from axletree.kit.frozen import dataclass
from axletree.sky.events.rise_and_set import body_events, darkness, sun_events
from axletree.sky.events.twilight import Darkest, darkest_at
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, later

# The Sun's depression at which second-magnitude stars show to the eye: common practice, no source.
FIRST_STARS_DEG = 8.0


class MoonPhase(Enum):
    """The Moon's phase, as people name it."""

    NEW = "new"
    WAXING_CRESCENT = "waxing_crescent"
    FIRST_QUARTER = "first_quarter"
    WAXING_GIBBOUS = "waxing_gibbous"
    FULL = "full"
    WANING_GIBBOUS = "waning_gibbous"
    LAST_QUARTER = "last_quarter"
    WANING_CRESCENT = "waning_crescent"


@dataclass(frozen=True)
class Moonlight:
    """The Moon of this night: lit fraction 0 to 1, phase, and the first rise and set in it."""

    lit_fraction: float
    phase: MoonPhase
    rise: datetime | None
    set: datetime | None


@dataclass(frozen=True)
class NightLight:
    """The Sun and the Moon of one night, moments to the second; None where it does not happen.

    The Sun stands lowest at `lowest_sun_altitude_deg` (true altitude), which makes it as dark as
    `darkest` says; `dark_noon`: it is not up at the noon before either.
    """

    sunset: datetime | None
    sunrise: datetime | None
    civil_dusk: datetime | None
    nautical_dusk: datetime | None
    astronomical_dusk: datetime | None
    astronomical_dawn: datetime | None
    nautical_dawn: datetime | None
    civil_dawn: datetime | None
    pole_star_visible: datetime | None
    lowest_sun_altitude_deg: float
    darkest: Darkest
    dark_noon: bool
    moon: Moonlight


@dataclass(frozen=True)
class ClockChange:
    """Local clocks are put forward or back by `minutes` in this night, from `old` to `new`."""

    forward: bool
    minutes: int
    old: datetime
    new: datetime


def night_of(
    night: Night, observer: Observer, pole_star_sun_deg: float = FIRST_STARS_DEG
) -> NightLight:
    """The account of the Sun and the Moon for one night; moments to the second.

    `pole_star_sun_deg` is how far below the horizon the Sun must be for this pole star to show.
    """
    sun = sun_events(night, observer)
    first_stars = darkness(night, observer, pole_star_sun_deg).intervals
    moon = body_events("moon", night, observer)
    middle = later(night.start, night.length_s / 2)
    around = Instants.from_datetimes([middle, middle + timedelta(hours=6)])
    seen = body_positions("moon", around, observer)
    lit, soon = (float(fraction) for fraction in seen.lit_fraction[0])
    return NightLight(
        sunset=whole(sun.sunset),
        sunrise=whole(sun.sunrise),
        civil_dusk=whole(sun.civil_dusk),
        nautical_dusk=whole(sun.nautical_dusk),
        astronomical_dusk=whole(sun.astronomical_dusk),
        astronomical_dawn=whole(sun.astronomical_dawn),
        nautical_dawn=whole(sun.nautical_dawn),
        civil_dawn=whole(sun.civil_dawn),
        pole_star_visible=whole(first_stars[0][0]) if first_stars else None,
        lowest_sun_altitude_deg=sun.lowest_altitude_deg,
        darkest=darkest_at(sun.lowest_altitude_deg),
        dark_noon=sun.dark_noon,
        moon=Moonlight(
            lit_fraction=round(lit, 4),
            phase=phase_of(lit, growing=soon > lit),
            rise=whole(moon.rises[0]) if moon.rises else None,
            set=whole(moon.sets[0]) if moon.sets else None,
        ),
    )


def phase_of(lit_fraction: float, growing: bool) -> MoonPhase:
    """The Moon's phase, from how much of it is lit and whether that grows."""
    if lit_fraction < 0.02:
        return MoonPhase.NEW
    if lit_fraction > 0.98:
        return MoonPhase.FULL
    if 0.45 < lit_fraction < 0.55:
        return MoonPhase.FIRST_QUARTER if growing else MoonPhase.LAST_QUARTER
    if lit_fraction < 0.5:
        return MoonPhase.WAXING_CRESCENT if growing else MoonPhase.WANING_CRESCENT
    return MoonPhase.WAXING_GIBBOUS if growing else MoonPhase.WANING_GIBBOUS


def clock_change(night: Night) -> ClockChange | None:
    """When local clocks are put forward or back in this night; None where they are not."""

    def offset(seconds: float) -> timedelta:
        return later(night.start, seconds).utcoffset() or timedelta()

    before, after = offset(0.0), offset(night.length_s)
    if before == after:
        return None
    low, high = 0.0, night.length_s
    while high - low > 0.5:
        middle = (low + high) / 2.0
        low, high = (middle, high) if offset(middle) == before else (low, middle)
    new = later(night.start, round(high))
    old = new.replace(tzinfo=timezone(before)) + (before - after)
    minutes = abs(after - before) // timedelta(minutes=1)
    return ClockChange(after > before, minutes, old, new)


def whole(moment: datetime | None) -> datetime | None:
    """The moment to the nearest second."""
    if moment is None:
        return None
    return (moment + timedelta(microseconds=500_000)).replace(microsecond=0)
