"""Which nights between two dates are special at this place?  One answer for all kinds."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, tzinfo
from zoneinfo import ZoneInfo

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.events.crossings import spans_of
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris
from axletree.sky.special.kinds import SpecialKind, SpecialNight
from axletree.sky.special.meetings import meetings_here
from axletree.sky.special.moon_eclipses import ShadowRule, moon_eclipses_here
from axletree.sky.special.neighbours import MEETING_STAR_LIMIT_MAG, OCCULTED_STAR_LIMIT_MAG
from axletree.sky.special.occultations import occultations_here
from axletree.sky.special.planets_year import elongations, oppositions, rings_edge_on
from axletree.sky.special.rough import new_and_full_moons_s, rough_sky
from axletree.sky.special.showers import NightSky, showers_here
from axletree.sky.special.sun_eclipses import LIMB_RADIUS_KM, sun_eclipses_here
from axletree.sky.special.thin_moon import thin_moons
from axletree.sky.special.watch import Watch
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

MOST_FIELD_DEG = 10.0


@dataclass(frozen=True)
class Wishes:
    """What counts as together (`field_deg`), as bright, and what the eyes look through.

    `sky`: None leaves the meteors out. `shadow_rule` and `moon_radius_km` as almanacs differ.
    """

    field_deg: float = 2.0
    sky: NightSky | None = None
    meeting_star_limit_mag: float = MEETING_STAR_LIMIT_MAG
    occulted_star_limit_mag: float = OCCULTED_STAR_LIMIT_MAG
    shadow_rule: ShadowRule = ShadowRule.DANJON
    moon_radius_km: float = LIMB_RADIUS_KM

    def __post_init__(self) -> None:
        if not 0.0 < self.field_deg <= MOST_FIELD_DEG:
            raise AxletreeError(
                f"field_deg is {self.field_deg:g}: it must lie above 0 and at most at"
                f" {MOST_FIELD_DEG:g} degrees"
            )


def special_nights(
    observer: Observer,
    first: date,
    last: date,
    zone: str | tzinfo,
    wishes: Wishes | None = None,
    *,
    ephemeris: Ephemeris | None = None,
) -> tuple[SpecialNight, ...]:
    """Everything special from the evening of `first` to that of `last`, in the order of time.

    Of what is seen from one place (eclipses, meetings, occultations, meteors, the thin Moon) only
    what this place sees; oppositions, elongations and rings belong to all. Dates outside the
    ephemeris (2020-2049 and a little), and a last date before the first, are refused.
    """
    if last < first:
        raise AxletreeError(f"the last date {last} lies before the first, {first}")
    asked = Wishes() if wishes is None else wishes
    where = ZoneInfo(zone) if isinstance(zone, str) else zone
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    nights = (Night.of(first, where), Night.of(last, where))
    base, (_, stop_s) = spans_of(nights)
    kernel.check(Instants.from_datetimes([nights[0].start, nights[1].stop]))
    # An eclipse of the Sun belongs to a day: the morning of the first one too.
    watch = Watch(base, float(stop_s[-1]), where, observer, kernel)
    sky = rough_sky(watch)
    new, full = new_and_full_moons_s(sky)
    found = [
        *moon_eclipses_here(watch, full, asked.shadow_rule),
        *sun_eclipses_here(watch, new, asked.moon_radius_km),
        *occultations_here(watch, sky, asked.occulted_star_limit_mag, asked.moon_radius_km),
        *meetings_here(watch, sky, asked.field_deg, asked.meeting_star_limit_mag),
        *oppositions(watch, sky),
        *elongations(watch, sky),
        *rings_edge_on(watch),
        *thin_moons(watch, new),
    ]
    if asked.sky is not None:
        found += showers_here(watch, asked.sky)
    kept = [night for night in _hidden_is_no_meeting(found) if first <= night.day <= last]
    return tuple(sorted(kept, key=lambda night: (night.greatest.time, night.kind.value)))


def _hidden_is_no_meeting(found: Sequence[SpecialNight]) -> list[SpecialNight]:
    """Without the meetings of the Moon with what it hides in the same night."""
    hidden = {(n.day, n.bodies) for n in found if n.kind is SpecialKind.OCCULTATION}
    return [
        n for n in found if n.kind is not SpecialKind.MEETING or (n.day, n.bodies) not in hidden
    ]
