"""How dark does this night get, when does the pole star show, and what does the Moon do?"""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

from axletree.evening.document import Darkness, Moonlight
from axletree.sky.events.rise_and_set import body_events, darkness, sun_events
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, later

# The Sun's depression at which second-magnitude stars show to the eye: common practice, no source.
FIRST_STARS_DEG = 8.0


def night_of(
    night: Night, observer: Observer, pole_star_sun_deg: float = FIRST_STARS_DEG
) -> Darkness:
    """The document's account of the Sun and the Moon for one night; moments to the second.

    `pole_star_sun_deg` is how far below the horizon the Sun must be for this pole star to show.
    """
    sun = sun_events(night, observer)
    first_stars = darkness(night, observer, pole_star_sun_deg).intervals
    moon = body_events("moon", night, observer)
    middle = later(night.start, night.length_s / 2)
    around = Instants.from_datetimes([middle, middle + timedelta(hours=6)])
    seen = body_positions("moon", around, observer)
    lit, soon = (float(fraction) for fraction in seen.lit_fraction[0])
    return Darkness(
        sunset=whole(sun.sunset),
        sunrise=whole(sun.sunrise),
        civil_dusk=whole(sun.civil_dusk),
        nautical_dusk=whole(sun.nautical_dusk),
        astronomical_dusk=whole(sun.astronomical_dusk),
        astronomical_dawn=whole(sun.astronomical_dawn),
        nautical_dawn=whole(sun.nautical_dawn),
        civil_dawn=whole(sun.civil_dawn),
        pole_star_visible=whole(first_stars[0][0]) if first_stars else None,
        note=sun.note,
        moon=Moonlight(
            lit_fraction=round(lit, 4),
            phase=phase_words(lit, growing=soon > lit),
            rise=whole(moon.rises[0]) if moon.rises else None,
            set=whole(moon.sets[0]) if moon.sets else None,
        ),
    )


def phase_words(lit_fraction: float, growing: bool) -> str:
    """The Moon's phase in common words."""
    if lit_fraction < 0.02:
        return "new"
    if lit_fraction > 0.98:
        return "full"
    if 0.45 < lit_fraction < 0.55:
        return "first quarter" if growing else "last quarter"
    shape = "crescent" if lit_fraction < 0.5 else "gibbous"
    return f"{'waxing' if growing else 'waning'} {shape}"


def clock_change(night: Night) -> str:
    """A sentence when local clocks are put forward or back in this night, else ''."""

    def offset(seconds: float) -> timedelta:
        return later(night.start, seconds).utcoffset() or timedelta()

    before, after = offset(0.0), offset(night.length_s)
    if before == after:
        return ""
    low, high = 0.0, night.length_s
    while high - low > 0.5:
        middle = (low + high) / 2.0
        low, high = (middle, high) if offset(middle) == before else (low, middle)
    new = later(night.start, round(high))
    old = new.replace(tzinfo=timezone(before)) + (before - after)
    minutes = abs(after - before) // timedelta(minutes=1)
    way, jump = ("forward", "times in between don't exist") if after > before else (
        "back", "times in between come twice"
    )  # fmt: skip
    return (
        f"Clocks are put {way} by {minutes} minutes in this night, from {old:%H:%M} to "
        f"{new:%H:%M}: {jump}. All times here are by the clock of their moment."
    )


def whole(moment: datetime | None) -> datetime | None:
    """The moment to the nearest second."""
    if moment is None:
        return None
    return (moment + timedelta(microseconds=500_000)).replace(microsecond=0)
