"""When does the Moon go through the Earth's shadow, how deep, and what of it is seen from here?

The shadow's size is a rule, not a fact: the air makes the Earth's shadow larger than the solid
Earth's, by an amount that is known by watching. Two rules are in use; `ShadowRule` names them:

* Danjon's: the Earth grows by a layer of 75 km (1/85) and is a little flat (-1/594): 1.01 of the
  Moon's parallax. F. Espenak and J. Meeus, Five Millennium Canon of Lunar Eclipses
  (NASA/TP-2009-214172), section 1.4.
* Chauvenet's: an Earth of 45 degrees of latitude, and both shadows grow by a fiftieth. Explanatory
  Supplement to the Astronomical Almanac, 3rd ed. 2013, ch. 11, after W. Chauvenet 1891, A Manual
  of Spherical and Practical Astronomy I, 542.

With pi the parallaxes and s the semidiameter of the Sun: umbra pi_moon + pi_sun - s, penumbra
pi_moon + pi_sun + s. The Moon is a sphere of 1737.4 km (IAU), the Sun one of 959.63 arcseconds at
1 au. (All from memory.)

Watched contacts of craters scatter by 0.4 % of the umbra's radius (from memory of the same canon):
that is the error of the contacts, 20 s to a minute.
"""

from __future__ import annotations

from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.directions import angle_between_deg, angles_from_vector, position_angle_deg
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import Seen, body_altitude_deg, see_body
from axletree.sky.positions.ephemeris import AU_KM, Ephemeris, load_ephemeris
from axletree.sky.positions.poles import RADIUS_KM
from axletree.sky.special.kinds import (
    Figure,
    FigureKind,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.watch import Watch, altitude_azimuth_deg, approach, contacts, rate_per_s
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

EARTH_KM = 6378.137
SUN_AT_ONE_AU_ARCSEC = 959.63
# The Earth's mean radius for a shadow, at latitude 45 degrees, in equatorial ones.
_MEAN_RADIUS = 0.998340
_DANJON, _CHAUVENET = 1.01, 1.02
_SHADOW_DOUBT = 0.004
_REACH_S = 4.5 * 3600.0
# Beyond so far from the shadow's middle no Moon is touched by any shadow (1.6 degrees, rounded up).
_FAR_DEG = 1.9
# A smaller penumbral eclipse is hardly seen (common practice, no source).
FAINT_PENUMBRAL_MAGNITUDE = 0.7
# The Moon is shown in an eclipse while the Sun is down.
_SUN_DOWN_DEG = -0.85


class ShadowRule(Enum):
    """By how much the Earth's air makes its shadow larger."""

    DANJON = "danjon"
    CHAUVENET = "chauvenet"


@dataclass(frozen=True)
class Shadow:
    """The Earth's shadow where the Moon is, at each moment (n,), degrees.

    `apart_deg` from the shadow's middle to the Moon's; radii of umbra, penumbra and Moon, all as
    seen from the Earth's centre. `toward_deg` is the position angle of the shadow's middle from the
    Moon's, from celestial north of date through east.
    """

    apart_deg: Floats
    toward_deg: Floats
    umbra_deg: Floats
    penumbra_deg: Floats
    moon_deg: Floats

    @property
    def umbral_magnitude(self) -> Floats:
        """The part of the Moon's diameter within the umbra; negative outside it."""
        reach = self.umbra_deg + self.moon_deg - self.apart_deg
        return np.asarray(reach / (2.0 * self.moon_deg))

    @property
    def penumbral_magnitude(self) -> Floats:
        """The part of the Moon's diameter within the penumbra; negative outside it."""
        reach = self.penumbra_deg + self.moon_deg - self.apart_deg
        return np.asarray(reach / (2.0 * self.moon_deg))


def earth_shadow(
    instants: Instants,
    rule: ShadowRule = ShadowRule.DANJON,
    ephemeris: Ephemeris | None = None,
) -> Shadow:
    """How far the Moon is from the shadow, and how large both are, at each moment."""
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    kernel.check(instants)
    turned = orientation(instants, None)
    moon = see_body("moon", instants, turned, kernel)
    return _shadow(moon, see_body("sun", instants, turned, kernel), rule)


def _shadow(moon: Seen, sun: Seen, rule: ShadowRule) -> Shadow:
    moon_km = np.linalg.norm(moon.from_observer_au, axis=-1) * AU_KM
    sun_km = np.linalg.norm(sun.from_observer_au, axis=-1) * AU_KM
    parallax = np.degrees(np.arcsin(EARTH_KM / moon_km))
    parallax_sun = np.degrees(np.arcsin(EARTH_KM / sun_km))
    radius_sun = SUN_AT_ONE_AU_ARCSEC / 3600.0 * AU_KM / sun_km
    grown = parallax * (_DANJON if rule is ShadowRule.DANJON else _MEAN_RADIUS)
    times = _CHAUVENET if rule is ShadowRule.CHAUVENET else 1.0
    return Shadow(
        apart_deg=angle_between_deg(moon.cirs, -sun.cirs),
        toward_deg=position_angle_deg(
            *angles_from_vector(moon.cirs), *angles_from_vector(-sun.cirs)
        ),
        umbra_deg=times * (grown + parallax_sun - radius_sun),
        penumbra_deg=times * (grown + parallax_sun + radius_sun),
        moon_deg=np.degrees(np.arcsin(RADIUS_KM["moon"] / moon_km)),
    )


@dataclass(frozen=True)
class MoonEclipse:
    """One passage through the shadow, whoever sees it: seconds from the watch's base.

    `contacts_s` names the moments that happen; `greatest_s` is among them.
    """

    kind: SpecialKind
    greatest_s: float
    contacts_s: tuple[tuple[MomentKind, float, float], ...]
    umbral_magnitude: float
    penumbral_magnitude: float
    magnitude_error: float


def moon_eclipses(
    watch: Watch, full_moons_s: Floats, rule: ShadowRule = ShadowRule.DANJON
) -> list[MoonEclipse]:
    """Every eclipse of the Moon at these full Moons (seconds within a day of each, (n,))."""
    earth = watch.geocentric()

    def shadow(seconds: Floats) -> Shadow:
        moon, sun = earth.see(("moon", "sun"), seconds)
        return _shadow(moon, sun, rule)

    def squared(seconds: Floats, _: Ints) -> Floats:
        return np.asarray(shadow(seconds).apart_deg ** 2)

    near = full_moons_s[shadow(full_moons_s).apart_deg < _FAR_DEG]
    closest, _ = approach(squared, near, _REACH_S, 3600.0)
    here = shadow(closest)
    touched = here.penumbral_magnitude > 0.0
    closest = closest[touched]
    if not closest.size:
        return []
    edges = {
        (MomentKind.PENUMBRA_BEGINS, MomentKind.PENUMBRA_ENDS): ("penumbra_deg", 1.0),
        (MomentKind.PARTIAL_BEGINS, MomentKind.PARTIAL_ENDS): ("umbra_deg", 1.0),
        (MomentKind.TOTAL_BEGINS, MomentKind.TOTAL_ENDS): ("umbra_deg", -1.0),
    }
    rows: list[list[tuple[MomentKind, float, float]]] = [[] for _ in closest]
    for (first, last), (border, sign) in edges.items():

        def gap(seconds: Floats, _: Ints, border: str = border, sign: float = sign) -> Floats:
            at = shadow(seconds)
            return np.asarray(at.apart_deg - getattr(at, border) - sign * at.moon_deg)

        for kind, seconds in zip((first, last), contacts(gap, closest, _REACH_S), strict=True):
            there = np.flatnonzero(np.isfinite(seconds))
            size = getattr(shadow(seconds[there]), border)
            doubt = _SHADOW_DOUBT * size / rate_per_s(gap, seconds[there], there)
            for k, s, d in zip(there, seconds[there], doubt, strict=True):
                rows[k].append((kind, float(s), float(d)))
    at = shadow(closest)
    error = _SHADOW_DOUBT * at.umbra_deg / (2.0 * at.moon_deg)
    return [
        MoonEclipse(
            kind=_kind(at.umbral_magnitude[k]),
            greatest_s=float(closest[k]),
            contacts_s=tuple(
                sorted(
                    [*rows[k], (MomentKind.GREATEST, float(closest[k]), 1.0)],
                    key=lambda row: row[1],
                )
            ),
            umbral_magnitude=float(at.umbral_magnitude[k]),
            penumbral_magnitude=float(at.penumbral_magnitude[k]),
            magnitude_error=float(error[k]),
        )
        for k in range(len(closest))
    ]


def _kind(umbral: float) -> SpecialKind:
    if umbral >= 1.0:
        return SpecialKind.MOON_ECLIPSE_TOTAL
    return SpecialKind.MOON_ECLIPSE_PARTIAL if umbral > 0 else SpecialKind.MOON_ECLIPSE_PENUMBRAL


def moon_eclipses_here(
    watch: Watch, full_moons_s: Floats, rule: ShadowRule = ShadowRule.DANJON
) -> list[SpecialNight]:
    """Those of which anything happens while the Moon is above this place's horizon."""
    assert watch.observer is not None
    found = []
    for eclipse in moon_eclipses(watch, full_moons_s, rule):
        seconds = np.array([s for _, s, _ in eclipse.contacts_s])
        instants, turned = watch.at(seconds)
        cirs = see_body("moon", instants, turned, watch.kernel).cirs
        altitude, azimuth = altitude_azimuth_deg(cirs, turned, watch.observer)
        seen = _seen(instants, altitude, watch.observer, watch.kernel)
        if not seen.any():
            continue
        times = watch.times(seconds)
        moments = tuple(
            NamedMoment(kind, times[k], doubt, float(altitude[k]), float(azimuth[k]), bool(seen[k]))
            for k, (kind, _, doubt) in enumerate(eclipse.contacts_s)
        )
        greatest = next(m for m in moments if m.kind is MomentKind.GREATEST)
        umbral, error = eclipse.umbral_magnitude, eclipse.magnitude_error
        figures = (
            Figure(FigureKind.UMBRAL_MAGNITUDE, umbral, error),
            Figure(FigureKind.PENUMBRAL_MAGNITUDE, eclipse.penumbral_magnitude, error),
        )
        # The evening is that of the greatest moment, but of what is seen if that is not.
        shown = greatest if greatest.seen else next(m for m in moments if m.seen)
        day = watch.night(shown.time).date
        grazing = min(abs(umbral), abs(umbral - 1.0)) < 2.0 * error
        found.append(
            SpecialNight(eclipse.kind, day, ("moon",), greatest, moments, figures, grazing=grazing)
        )
    return found


def _seen(instants: Instants, altitude: Floats, observer: Observer, kernel: Ephemeris) -> Mask:
    sun = body_altitude_deg("sun", instants, observer, kernel)
    return np.asarray((altitude > 0.0) & (sun < _SUN_DOWN_DEG))
