"""Which nights have meteors, when most, and how many does one pair of eyes see under this sky?

    rate = ZHR 10^(-B |longitude - peak|) sin h r^(limit - 6.5)

with the radiant's height h and the faintest star seen, where moonlight counts (the usual formula
of the International Meteor Organization, from memory).
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.air.brightness import sky_brightness_mag_arcsec2
from axletree.sky.arrays import Floats, Indices
from axletree.sky.contrast import naked_eye_limit_mag
from axletree.sky.directions import wrap_180
from axletree.sky.events.moon_phases import ecliptic_longitude_deg
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.special.kinds import (
    Figure,
    FigureKind,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.shower_list import SHOWERS, Shower
from axletree.sky.special.watch import Watch, part_of
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import Orientation

# A third of a shower's rate is not foreseen (ours, from the scatter of the list over the years).
RATE_ERROR = 1.0 / 3.0
# Fewer an hour than that make no night special (ours; chance meteors are 5 to 10 an hour).
LEAST_AN_HOUR = 3.0
_WATCHED_DEG = 50.0  # the height at which watchers look, for the sky's brightness
_STEP_S = 1800.0
_SUN_BELOW_DEG = -12.0
_PEAK_DOUBT_S = 3.0 * 3600.0
_PRECESSION_DEG_PER_YEAR = 5028.796195 / 360000.0  # general, IAU 2006


@dataclass(frozen=True)
class NightSky:
    """What a pair of eyes has to see against: zenith sky, air's extinction, eyes."""

    zenith_mag_arcsec2: float
    extinction_mag: float
    field_factor: float = 1.0


def shower_rate(
    shower: Shower, from_peak_deg: Floats, height_deg: Floats, limit_mag: Floats
) -> Floats:
    """Meteors an hour for one pair of eyes; 0 with the radiant down. Arrays broadcast."""
    now = shower.zenith_rate * 10.0 ** (-shower.steepness * np.abs(from_peak_deg))
    up = np.sin(np.radians(np.maximum(height_deg, 0.0)))
    return np.asarray(now * up * shower.population ** (np.asarray(limit_mag) - 6.5))


def showers_here(watch: Watch, sky: NightSky) -> list[SpecialNight]:
    """The best hour of each shower's best night, where it gives `LEAST_AN_HOUR` or more."""
    which, peaks = peaks_s(watch, np.array([shower.peak_longitude_deg for shower in SHOWERS]))
    steps = np.arange(-86400.0, 86400.0, _STEP_S)
    around = [peak + steps for peak in peaks.tolist()]
    around = [span[(span >= 0.0) & (span < watch.length_s)] for span in around]
    kept = [k for k, span in enumerate(around) if span.size]
    if not kept:
        return []
    # Each peak itself comes behind the hours around it: everything is looked at once.
    spans = [np.append(around[k], peaks[k]) for k in kept]
    hours = _hours(watch, sky, np.concatenate(spans))
    ends = np.cumsum([span.size for span in spans]).tolist()
    found = []
    for k, begin, end in zip(kept, [0, *ends], ends, strict=False):
        night = _best(watch, SHOWERS[int(which[k])], hours.part(slice(begin, end)))
        if night is not None:
            found.append(night)
    return found


def peaks_s(watch: Watch, longitude_deg: Floats) -> tuple[Indices, Floats]:
    """When the Sun's longitude of J2000.0 passes each of these (n,): which of them, and seconds.

    Also a day beyond the ends; a longitude that is passed several times comes several times.
    """
    year_s = 365.2564 * 86400.0
    now = float(_sun_longitude_deg(watch, np.zeros(1))[0])
    first = np.mod(longitude_deg - now, 360.0) / 360.0 * year_s
    years = np.arange(-1, int(watch.length_s / year_s) + 2)
    which = np.repeat(np.arange(len(longitude_deg)), len(years))
    s = (first[:, np.newaxis] + years * year_s).ravel()
    near = (s >= -3.0 * 86400.0) & (s < watch.length_s + 3.0 * 86400.0)
    which, s = which[near], np.clip(s[near], 0.0, watch.length_s)
    for _ in range(4):
        off = wrap_180(_sun_longitude_deg(watch, s) - longitude_deg[which])
        s = s - off / 360.0 * year_s
    inside = (s >= -86400.0) & (s < watch.length_s + 86400.0)
    return which[inside], s[inside]


def _sun_longitude_deg(watch: Watch, seconds: Floats) -> Floats:
    instants = watch.base.plus(seconds)
    longitude, _ = ecliptic_longitude_deg("sun", instants, watch.kernel)
    return np.asarray(longitude - _PRECESSION_DEG_PER_YEAR * (instants.julian_year - 2000.0))


@dataclass(frozen=True)
class _Hours:
    """What the eyes have at moments (n,): the Sun's place, the light, how the Earth is turned."""

    seconds: Floats
    instants: Instants
    turned: Orientation
    sun_longitude_deg: Floats
    sun_altitude_deg: Floats
    moon_lit: Floats
    limit_mag: Floats

    def part(self, which: slice) -> _Hours:
        """Some of the moments."""
        return _Hours(
            self.seconds[which], self.instants[which], part_of(self.turned, which),
            self.sun_longitude_deg[which], self.sun_altitude_deg[which], self.moon_lit[which],
            self.limit_mag[which],
        )  # fmt: skip


def _hours(watch: Watch, sky: NightSky, seconds: Floats) -> _Hours:
    assert watch.observer is not None
    instants, turned = watch.at(seconds)
    both = body_positions(
        ["sun", "moon"], instants, watch.observer, ephemeris=watch.kernel, turned=turned
    )
    limit = _limit_mag(sky, both.altitude_deg, both.phase_angle_deg[1])
    longitude = _sun_longitude_deg(watch, seconds)
    return _Hours(
        seconds, instants, turned, longitude, both.altitude_deg[0], both.lit_fraction[1], limit
    )


def _best(watch: Watch, shower: Shower, hours: _Hours) -> SpecialNight | None:
    """The best of the hours, the last of which is the peak."""
    assert watch.observer is not None
    radiant = star_positions(
        Stars.of([shower.ra_deg], [shower.dec_deg]), hours.instants, watch.observer, hours.turned
    )
    height, dark = radiant.altitude_deg[0], hours.sun_altitude_deg < _SUN_BELOW_DEG
    from_peak = wrap_180(hours.sun_longitude_deg - shower.peak_longitude_deg)
    rate = np.where(dark, shower_rate(shower, from_peak, height, hours.limit_mag), 0.0)[:-1]
    k = int(np.argmax(rate))
    if rate[k] < LEAST_AN_HOUR:
        return None
    times = watch.times(hours.seconds[[k, -1]])
    best = NamedMoment(
        MomentKind.BEST,
        times[0],
        _STEP_S,
        float(height[k]),
        float(radiant.azimuth_deg[0, k]),
        seen=True,
    )
    peak = NamedMoment(
        MomentKind.EXACT,
        times[1],
        _PEAK_DOUBT_S,
        float(height[-1]),
        float(radiant.azimuth_deg[0, -1]),
        seen=bool(height[-1] > 0.0 and dark[-1]),
    )
    return SpecialNight(
        kind=SpecialKind.METEORS,
        day=watch.night(best.time).date,
        bodies=(shower.name,),
        greatest=best,
        moments=tuple(sorted((best, peak), key=lambda m: m.time)),
        figures=(
            Figure(FigureKind.METEORS_PER_HOUR, float(rate[k]), float(rate[k]) * RATE_ERROR),
            Figure(
                FigureKind.ZENITH_RATE_PER_HOUR,
                shower.zenith_rate,
                shower.zenith_rate * RATE_ERROR,
            ),
            Figure(FigureKind.RADIANT_DEG, float(height[k]), 2.0),
            Figure(FigureKind.LIMIT_MAG, float(hours.limit_mag[k]), 0.3),
            Figure(FigureKind.MOON_LIT_FRACTION, float(hours.moon_lit[k]), 0.001),
        ),
    )


def _limit_mag(sky: NightSky, heights_deg: Floats, moon_phase_deg: Floats) -> Floats:
    """The faintest star half way up, with the Moon a right angle away, (n,)."""
    light = sky_brightness_mag_arcsec2(
        _WATCHED_DEG,
        zenith_mag_arcsec2=sky.zenith_mag_arcsec2,
        extinction_mag=sky.extinction_mag,
        sun_altitude_deg=heights_deg[0],
        moon_altitude_deg=heights_deg[1],
        moon_separation_deg=90.0,
        moon_phase_angle_deg=moon_phase_deg,
    )
    return naked_eye_limit_mag(light, sky.field_factor)
