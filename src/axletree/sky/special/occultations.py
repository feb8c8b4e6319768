"""When does the Moon go before a bright star or a planet, as seen from this place?

Contacts with the mean limb: a sphere of `LIMB_RADIUS_KM` (k = 0.2725076, IAU 1982) about the
Moon's centre of mass, or of a radius of one's own. Mountains at the edge stand up to 2 arcseconds
off it and the middle of the figure half an arcsecond from that of the mass: the error of a
contact. A planet counts by its middle; its disc takes a while to go.
"""

from __future__ import annotations

import numpy as np

from axletree.sky.arrays import Floats, Indices, Ints, Mask
from axletree.sky.directions import angle_between_deg, position_angle_deg
from axletree.sky.positions.bodies import Seen, body_altitude_deg, see_body
from axletree.sky.positions.ephemeris import AU_KM
from axletree.sky.special.kinds import (
    Figure,
    FigureKind,
    Limb,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.neighbours import OCCULTED_STAR_LIMIT_MAG, belt_stars, occulted
from axletree.sky.special.rough import RoughSky, star_directions
from axletree.sky.special.sun_eclipses import LIMB_DOUBT_ARCSEC, LIMB_RADIUS_KM
from axletree.sky.special.watch import (
    Neighbours,
    Pair,
    Watch,
    altitude_azimuth_deg,
    approach,
    contacts,
    rate_per_s,
)

# From the Earth's centre, the farthest at which any place sees it: parallax and radius.
_FAR_DEG = 1.35
_REACH_S = 2.0 * 3600.0
_AWAY_S = 2.5 * 3600.0
# A star by the Moon's edge is shown once the Sun is so far down (ours: civil twilight).
SUN_BELOW_DEG = -6.0
_GRAZING_ARCSEC = 10.0


def occultations_here(
    watch: Watch,
    sky: RoughSky,
    star_limit_mag: float = OCCULTED_STAR_LIMIT_MAG,
    moon_radius_km: float = LIMB_RADIUS_KM,
) -> list[SpecialNight]:
    """Every occultation of a star to `star_limit_mag` or a planet of which a contact is seen."""
    targets = occulted(star_limit_mag)
    which, guess = _near_passages(sky, targets)

    def apart(seconds: Floats, pair: Ints) -> tuple[Seen, Floats]:
        instants, turned = watch.at(seconds)
        moon = see_body("moon", instants, turned, watch.kernel)
        other = targets.cirs(which[pair], instants, turned, watch.kernel)
        return moon, angle_between_deg(moon.cirs, other)

    def squared(seconds: Floats, pair: Ints) -> Floats:
        return np.asarray(apart(seconds, pair)[1] ** 2)

    def gap(seconds: Floats, pair: Ints) -> Floats:
        moon, angle = apart(seconds, pair)
        return np.asarray(angle - _radius_deg(moon, moon_radius_km))

    closest, _ = approach(squared, guess, _REACH_S, 900.0)
    hidden = gap(closest, np.arange(len(closest))) < 0.0
    which, closest = which[hidden], closest[hidden]
    into, out = contacts(gap, closest, _AWAY_S)
    depth = -gap(closest, np.arange(len(closest))) * 3600.0
    edges = [_Contacts(watch, targets, which, s, gap) for s in (into, out)]
    return [
        _night(watch, targets.names[which[k]], edges, k, (closest[k], depth[k]), star_limit_mag)
        for k in range(len(closest))
        if edges[0].seen[k] or edges[1].seen[k]
    ]


class _Contacts:
    """Places, limbs and errors at one contact of each pair, arrays (n,)."""

    def __init__(
        self, watch: Watch, targets: Neighbours, which: Ints, seconds: Floats, gap: Pair
    ) -> None:
        assert watch.observer is not None
        instants, turned = watch.at(seconds)
        moon = see_body("moon", instants, turned, watch.kernel).cirs
        sun = see_body("sun", instants, turned, watch.kernel).cirs
        other = targets.cirs(which, instants, turned, watch.kernel)
        self.seconds = seconds
        self.altitude, self.azimuth = altitude_azimuth_deg(other, turned, watch.observer)
        low_sun = body_altitude_deg("sun", instants, watch.observer, watch.kernel)
        self.seen: Mask = (self.altitude > 0.0) & (low_sun < SUN_BELOW_DEG)
        lit = np.radians(_angle_at(moon, sun) - _angle_at(moon, other))
        self.dark: Mask = np.cos(lit) < 0.0
        self.doubt_s = LIMB_DOUBT_ARCSEC / 3600.0 / rate_per_s(gap, seconds, np.arange(len(which)))

    def moment(self, watch: Watch, kind: MomentKind, k: int) -> NamedMoment:
        """The contact of one pair."""
        return NamedMoment(
            kind=kind,
            time=watch.times(self.seconds[k])[0],
            doubt_s=float(self.doubt_s[k]),
            altitude_deg=float(self.altitude[k]),
            azimuth_deg=float(self.azimuth[k]),
            seen=bool(self.seen[k]),
            limb=Limb.DARK if self.dark[k] else Limb.BRIGHT,
        )


def _night(
    watch: Watch,
    name: str,
    edges: list[_Contacts],
    k: int,
    deepest: tuple[float, float],
    star_limit_mag: float,
) -> SpecialNight:
    moments = (
        edges[0].moment(watch, MomentKind.DISAPPEARS, k),
        edges[1].moment(watch, MomentKind.REAPPEARS, k),
    )
    first_seen = next(m for m in moments if m.seen)
    figures = [Figure(FigureKind.DEPTH_ARCSEC, float(deepest[1]), LIMB_DOUBT_ARCSEC)]
    names, _, magnitudes = belt_stars(star_limit_mag)
    if name in names:
        figures.append(Figure(FigureKind.MAGNITUDE_V, magnitudes[names.index(name)], 0.02))
    return SpecialNight(
        kind=SpecialKind.OCCULTATION,
        day=watch.night(first_seen.time).date,
        bodies=("moon", name),
        greatest=first_seen,
        moments=moments,
        figures=tuple(figures),
        grazing=bool(deepest[1] < _GRAZING_ARCSEC),
    )


def _near_passages(sky: RoughSky, targets: Neighbours) -> tuple[Indices, Floats]:
    """Which target the Moon comes near, and when (seconds)."""
    moon = sky.towards["moon"]
    rows = [sky.apart_deg(moon, sky.towards[name])[np.newaxis] for name in targets.planets]
    fixed = star_directions(targets.stars)
    rows.append(sky.apart_deg(moon[np.newaxis], fixed[:, np.newaxis]))
    return sky.low_points(np.concatenate(rows), _FAR_DEG)


def _radius_deg(moon: Seen, radius_km: float) -> Floats:
    distance = np.linalg.norm(moon.from_observer_au, axis=-1) * AU_KM
    return np.asarray(np.degrees(np.arcsin(radius_km / distance)))


def _angle_at(middle: Floats, other: Floats) -> Floats:
    """Position angle of one direction as seen from another, degrees."""

    def spherical(v: Floats) -> tuple[Floats, Floats]:
        return np.degrees(np.arctan2(v[:, 1], v[:, 0])), np.degrees(np.arcsin(v[:, 2]))

    return position_angle_deg(*spherical(middle), *spherical(other))
