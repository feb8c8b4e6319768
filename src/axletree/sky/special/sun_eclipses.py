"""When does the Moon go before the Sun as seen from this place, and how much does it cover?

Times with the UT1 of the Earth's table, the Moon a sphere of k = 0.2725076 Earth's equatorial
radii (IAU 1982), or of one's own choosing; the Sun one of 959.63 arcseconds at 1 au. The mountains
at the Moon's edge stand up to 2 arcseconds off that sphere: the error of the contacts. Definitions:
Explanatory Supplement to the Astronomical Almanac, 3rd ed. 2013, ch. 11 (from memory); here from
the places of both as this observer sees them.

Whoever looks at any of this looks at the Sun. Nothing here opens a direction: that is for
`sky.sun_rule`.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.directions import angle_between_deg
from axletree.sky.positions.bodies import see_body
from axletree.sky.positions.ephemeris import AU_KM
from axletree.sky.special.kinds import (
    Figure,
    FigureKind,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.moon_eclipses import EARTH_KM, SUN_AT_ONE_AU_ARCSEC
from axletree.sky.special.watch import Watch, altitude_azimuth_deg, approach, contacts, rate_per_s
from axletree.sky.sun_rule import SunRule

# The Moon's mean radius at its edge, with mountains and valleys: IAU 1982 (from memory).
LIMB_RADIUS_KM = 0.2725076 * EARTH_KM
LIMB_DOUBT_ARCSEC = 2.0
_REACH_S = 4.0 * 3600.0
# Farther than so from the Sun's middle, seen from the Earth's centre, it covers it for nobody.
_FAR_DEG = 2.0
_STEPS = 181  # through the eclipse, for its best moment above the horizon


@dataclass(frozen=True)
class Discs:
    """Sun and Moon as they stand before each other, (n,), degrees."""

    apart_deg: Floats
    sun_deg: Floats
    moon_deg: Floats

    @property
    def magnitude(self) -> Floats:
        """The part of the Sun's diameter that is covered; negative while they are apart.

        Where the whole Moon stands before the Sun, or hides it, the ratio of the diameters, as
        almanacs have it.
        """
        part = (self.sun_deg + self.moon_deg - self.apart_deg) / (2.0 * self.sun_deg)
        inside = self.apart_deg <= np.abs(self.sun_deg - self.moon_deg)
        return np.where(inside, self.moon_deg / self.sun_deg, part)

    @property
    def covered(self) -> Floats:
        """The part of the Sun's disc that is covered: the lens of two circles."""
        a, s, m = self.apart_deg, self.sun_deg, self.moon_deg
        safe = np.maximum(a, 1e-12)
        at_sun = np.arccos(np.clip((a * a + s * s - m * m) / (2.0 * safe * s), -1.0, 1.0))
        at_moon = np.arccos(np.clip((a * a + m * m - s * s) / (2.0 * safe * m), -1.0, 1.0))
        lens = s * s * (at_sun - 0.5 * np.sin(2.0 * at_sun))
        lens = lens + m * m * (at_moon - 0.5 * np.sin(2.0 * at_moon))
        whole = np.minimum(m * m / (s * s), 1.0)
        part = np.where(a <= np.abs(s - m), whole, lens / (np.pi * s * s))
        return np.where(a >= s + m, 0.0, part)


def sun_and_moon(watch: Watch, seconds: Floats, moon_radius_km: float = LIMB_RADIUS_KM) -> Discs:
    """Both discs as this observer sees them, without refraction."""
    sun, moon = watch.see(("sun", "moon"), seconds)
    sun_au = np.linalg.norm(sun.from_observer_au, axis=-1)
    moon_km = np.linalg.norm(moon.from_observer_au, axis=-1) * AU_KM
    return Discs(
        apart_deg=angle_between_deg(sun.cirs, moon.cirs),
        sun_deg=SUN_AT_ONE_AU_ARCSEC / 3600.0 / sun_au,
        moon_deg=np.degrees(np.arcsin(moon_radius_km / moon_km)),
    )


def sun_eclipses_here(
    watch: Watch, new_moons_s: Floats, moon_radius_km: float = LIMB_RADIUS_KM
) -> list[SpecialNight]:
    """Every eclipse of the Sun at these new Moons (n,) of which the place sees something."""
    near = new_moons_s[sun_and_moon(watch.geocentric(), new_moons_s).apart_deg < _FAR_DEG]

    def discs(seconds: Floats) -> Discs:
        return sun_and_moon(watch, seconds, moon_radius_km)

    def squared(seconds: Floats, _: Ints) -> Floats:
        return np.asarray(discs(seconds).apart_deg ** 2)

    closest, _ = approach(squared, near, _REACH_S, 1200.0)
    closest = closest[discs(closest).magnitude > 0.0]
    return [
        night
        for middle in closest
        if (night := _at_place(watch, float(middle), moon_radius_km)) is not None
    ]


def _at_place(watch: Watch, closest_s: float, moon_radius_km: float) -> SpecialNight | None:
    """One eclipse with its contacts, or None where the Sun is down all the while."""

    def outer(seconds: Floats, _: Ints) -> Floats:
        at = sun_and_moon(watch, seconds, moon_radius_km)
        return np.asarray(at.apart_deg - at.sun_deg - at.moon_deg)

    def inner(seconds: Floats, _: Ints) -> Floats:
        at = sun_and_moon(watch, seconds, moon_radius_km)
        return np.asarray(at.apart_deg - np.abs(at.sun_deg - at.moon_deg))

    middle = np.array([closest_s])
    named = [(MomentKind.GREATEST, closest_s, 1.0)]
    for gap, first, last in (
        (outer, MomentKind.PARTIAL_BEGINS, MomentKind.PARTIAL_ENDS),
        (inner, MomentKind.TOTAL_BEGINS, MomentKind.TOTAL_ENDS),
    ):
        for kind, found in zip((first, last), contacts(gap, middle, _REACH_S), strict=True):
            if np.isfinite(found[0]):
                moves = rate_per_s(gap, found, [0])
                doubt = LIMB_DOUBT_ARCSEC / 3600.0 / max(float(moves[0]), 1e-7)
                named.append((kind, float(found[0]), doubt))
    named.sort(key=lambda row: row[1])
    through = np.linspace(named[0][1], named[-1][1], _STEPS)
    up = _sun_up(watch, through)[0]
    if not up.any():
        return None
    at = sun_and_moon(watch, middle, moon_radius_km)
    best = sun_and_moon(watch, through[up], moon_radius_km)
    if not _sun_up(watch, middle)[0][0]:
        # The greatest that is seen here is at its rising or its setting.
        k = int(np.argmax(best.magnitude))
        named.append((MomentKind.BEST, float(through[up][k]), 60.0))
        named.sort(key=lambda row: row[1])
        shown = (float(best.magnitude[k]), float(best.covered[k]))
    else:
        shown = (float(at.magnitude[0]), float(at.covered[0]))
    seconds = np.array([row[1] for row in named])
    seen, altitude, azimuth = _sun_up(watch, seconds)
    times = watch.times(seconds)
    moments = tuple(
        NamedMoment(kind, times[k], doubt, float(altitude[k]), float(azimuth[k]), bool(seen[k]))
        for k, (kind, _, doubt) in enumerate(named)
    )
    error = LIMB_DOUBT_ARCSEC / 3600.0 / (2.0 * float(at.sun_deg[0]))
    known = MomentKind.BEST if any(r[0] is MomentKind.BEST for r in named) else MomentKind.GREATEST
    return SpecialNight(
        kind=_kind(at),
        day=next(m for m in moments if m.kind is known).time.date(),
        bodies=("sun", "moon"),
        greatest=next(m for m in moments if m.kind is known),
        moments=moments,
        figures=(
            Figure(FigureKind.SUN_MAGNITUDE, shown[0], error),
            Figure(FigureKind.SUN_COVERED, shown[1], error),
        ),
        grazing=float(at.magnitude[0]) < 2.0 * error,
    )


def _kind(at: Discs) -> SpecialKind:
    if at.apart_deg[0] > abs(at.sun_deg[0] - at.moon_deg[0]):
        return SpecialKind.SUN_ECLIPSE_PARTIAL
    if at.moon_deg[0] >= at.sun_deg[0]:
        return SpecialKind.SUN_ECLIPSE_TOTAL
    return SpecialKind.SUN_ECLIPSE_ANNULAR


def _sun_up(watch: Watch, seconds: Floats) -> tuple[Mask, Floats, Floats]:
    """Whether the Sun is up, its apparent altitude and its azimuth, (n,)."""
    assert watch.observer is not None
    instants, turned = watch.at(seconds)
    cirs = see_body("sun", instants, turned, watch.kernel).cirs
    altitude, azimuth = altitude_azimuth_deg(cirs, turned, watch.observer)
    return SunRule(watch.observer).sun_is_up(instants), altitude, azimuth
