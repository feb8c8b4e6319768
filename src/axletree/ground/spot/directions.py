"""Which directions must be free for the evening, and when?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from enum import Enum

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.mount import Mount
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.objects import SkyObject, deep_sky, deep_sky_object, find, star_object
from axletree.sky.catalogue.pole_star import pole_star_hip, pole_star_name
from axletree.sky.events.twilight import ASTRONOMICAL_DEG, CIVIL_DEG, NAUTICAL_DEG, darkness
from axletree.sky.observer import Observer
from axletree.sky.optics import limiting_magnitude
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

SAMPLE_MIN = 6.0
SHOWN_PLANETS = ("venus", "mars", "jupiter", "saturn", "uranus")
MOST_OBJECTS = 40
LONGEST_H = 24.0
WIDEST_MARGIN_DEG = 45.0
FAINTER_THAN_POINTS_MAG = 3.0  # an extended object needs to be this much brighter than a star


@dataclass(frozen=True)
class WantedView:
    """A stretch of sky wanted free above an altitude, clockwise from one azimuth to the other."""

    from_deg: float
    to_deg: float
    above_deg: float
    name: str | None = None


@dataclass(frozen=True)
class SpotCriteria:
    """By what a place is judged.

    `objects` None: those of `objects_for`. `hours` counts only the first so many dark hours.
    `views` come on top of the kit's own. The pole star must clear the skyline by
    `pole_margin_deg` where `pole_needed`. `lowest_altitude_deg` is the kit's where None.
    Refuses hours outside 0-24 and margins outside 0-45.
    """

    objects: tuple[SkyObject, ...] | None = None
    hours: float | None = None
    views: tuple[WantedView, ...] = ()
    pole_needed: bool = True
    pole_margin_deg: float = 1.0
    lowest_altitude_deg: float | None = None

    def __post_init__(self) -> None:
        if self.hours is not None and not 0.0 < self.hours <= LONGEST_H:
            raise AxletreeError(f"hours {self.hours:g}: write a number from 0.1 to {LONGEST_H:g}")
        margin = self.pole_margin_deg
        if not 0.0 <= margin <= WIDEST_MARGIN_DEG:
            raise AxletreeError(
                f"margin {margin:g}: write a number from 0 to {WIDEST_MARGIN_DEG:g}"
            )


class DarkHours(Enum):
    """Which hours count."""

    FULL_DARKNESS = "full_darkness"
    DEEP_TWILIGHT = "deep_twilight"
    LIGHT_TWILIGHT = "light_twilight"
    NONE = "none"


_DEPRESSION_DEG = {
    DarkHours.FULL_DARKNESS: ASTRONOMICAL_DEG,
    DarkHours.DEEP_TWILIGHT: NAUTICAL_DEG,
    DarkHours.LIGHT_TWILIGHT: CIVIL_DEG,
}


@dataclass(frozen=True)
class WantedDirections:
    """Directions as seen through the air, degrees.

    `azimuth_deg`, `altitude_deg`: tracks (objects, samples) through the hours that count, each
    sample standing for `sample_h` hours. `pole_azimuth_deg`, `pole_altitude_deg` (p,): where the
    `pole_star` stands through those hours (or the pole itself, None, without darkness).
    `refracted_pole_deg` is the pole's altitude as seen; `pole_on_horizon`: it was wanted, but
    stands too low to be asked for. `dark_hours` in all, below `depression_deg`; both 0 where it
    never gets dark, and then `lowest_sun_deg` is given.
    `chosen`: the objects are those of `objects_for`.
    """

    names: tuple[str, ...]
    azimuth_deg: Floats
    altitude_deg: Floats
    sample_h: float
    lowest_altitude_deg: float
    pole_star: str | None
    pole_azimuth_deg: Floats
    pole_altitude_deg: Floats
    pole_needed: bool
    pole_margin_deg: float
    views: tuple[WantedView, ...]
    dark: DarkHours
    dark_hours: float
    depression_deg: float
    refracted_pole_deg: float
    lowest_sun_deg: float | None = None
    chosen: bool = False
    pole_on_horizon: bool = False

    @property
    def open_hours(self) -> Floats:
        """Hours in which each object stands above the lowest altitude under an open sky (k,)."""
        up = self.altitude_deg >= self.lowest_altitude_deg
        return np.asarray(up.sum(axis=1) * self.sample_h, dtype=np.float64)


@dataclass(frozen=True)
class _Darkness:
    """The moments that count, which kind they are of, and how deep the Sun sinks else."""

    kind: DarkHours
    instants: Instants | None = None
    lowest_sun_deg: float | None = None


def axes_height_m(mount: Mount, latitude_deg: float) -> float:
    """Height of the crossing of the two axes above the ground, from the kit's lengths."""
    head, tripod = mount.head, mount.tripod
    phi = np.radians(abs(latitude_deg))
    up = head.crossing_along_mm * np.sin(phi) + head.crossing_above_mm * np.cos(phi)
    hinge = tripod.top_height_mm + tripod.column_height_mm + head.pivot_height_mm
    return float((hinge + up) / 1000.0)


def wanted_directions(
    kit: Kit, night: Night, observer: Observer, criteria: SpotCriteria
) -> WantedDirections:
    """Where the sky must be free this night.

    The hours that count are those of full darkness; where there is none, of deep, then of light
    twilight; without any, only pole and views count.
    """
    lowest = criteria.lowest_altitude_deg
    lowest = kit.habits.lowest_altitude_deg if lowest is None else lowest
    dark = _darkness(night, observer, criteria.hours)
    chosen = criteria.objects is None and dark.instants is not None
    objects: Sequence[SkyObject] = criteria.objects or ()
    if criteria.objects is None and dark.instants is not None:
        objects = objects_for(kit, dark.instants, observer, lowest)
    azimuth = altitude = np.zeros((len(objects), 0))
    if dark.instants is not None and objects:
        seen = object_positions(objects, dark.instants, observer)
        azimuth, altitude = seen.azimuth_deg, seen.altitude_deg
    pole_azimuth, pole_altitude = _pole_track(observer, dark.instants)
    pole_deg = refracted_pole_altitude_deg(observer)
    low = pole_deg < criteria.pole_margin_deg + 1.0
    own = () if kit.yard is None else kit.yard.views
    count = 0 if dark.instants is None else len(dark.instants)
    return WantedDirections(
        names=tuple(o.name for o in objects),
        azimuth_deg=azimuth,
        altitude_deg=altitude,
        sample_h=SAMPLE_MIN / 60.0,
        lowest_altitude_deg=lowest,
        pole_star=None if dark.instants is None else pole_star_name(observer.north),
        pole_azimuth_deg=pole_azimuth,
        pole_altitude_deg=pole_altitude,
        pole_needed=criteria.pole_needed and not low,
        pole_margin_deg=criteria.pole_margin_deg,
        views=(
            *(WantedView(v.from_azimuth_deg, v.to_azimuth_deg, v.above_deg, v.name) for v in own),
            *criteria.views,
        ),
        dark=dark.kind,
        dark_hours=count * SAMPLE_MIN / 60.0,
        depression_deg=_DEPRESSION_DEG.get(dark.kind, 0.0),
        refracted_pole_deg=pole_deg,
        lowest_sun_deg=dark.lowest_sun_deg,
        chosen=chosen,
        pole_on_horizon=criteria.pole_needed and low,
    )


def _darkness(night: Night, observer: Observer, hours: float | None) -> _Darkness:
    """Moments every `SAMPLE_MIN` minutes of the deepest darkness that the night has."""
    step = timedelta(minutes=SAMPLE_MIN)
    for kind, depression in _DEPRESSION_DEG.items():
        dark = darkness(night, observer, depression)
        if dark.never_dark:
            continue
        moments = []
        for start, stop in dark.intervals:
            count = int((stop - start) / step)
            moments += [start + step * (k + 0.5) for k in range(count)]
        if hours is not None:
            moments = [m for m in moments if m < moments[0] + timedelta(hours=hours)]
        if moments:
            return _Darkness(kind, Instants.from_datetimes(moments))
    sun = darkness(night, observer, CIVIL_DEG).lowest_sun_altitude_deg
    return _Darkness(DarkHours.NONE, lowest_sun_deg=sun)


def _pole_track(observer: Observer, instants: Instants | None) -> tuple[Floats, Floats]:
    """Azimuths and altitudes of what leads to the pole; each quarter hour is enough."""
    if instants is None:
        azimuth = 0.0 if observer.north else 180.0
        altitude = refracted_pole_altitude_deg(observer)
        return np.array([azimuth]), np.array([altitude])
    star = star_object(pole_star_hip(observer.north))
    step = max(1, round(15.0 / SAMPLE_MIN))
    seen = object_positions([star], instants[::step], observer)
    return seen.azimuth_deg[0], seen.altitude_deg[0]


def objects_for(
    kit: Kit, instants: Instants, observer: Observer, lowest_altitude_deg: float
) -> list[SkyObject]:
    """Up to `MOST_OBJECTS` objects worth showing that stand high enough at some of the moments.

    The person's must-sees first, then planets and Messier objects from bright to faint, none
    fainter than the tube shows, none that the person excludes.
    """
    excluded = {_key(find(name)) for name in kit.habits.exclude if _known(name)}
    # What the person brought along isn't known on this floor; a spot serves for longer.
    wanted = [find(name) for name in kit.habits.must_see if _known(name)]
    planets = [find(name) for name in SHOWN_PLANETS]
    table = deep_sky()
    rows = [deep_sky_object(int(i)) for i in np.flatnonzero(table.messier != "")]
    limit = float(limiting_magnitude(kit.tube.aperture_mm)) - FAINTER_THAN_POINTS_MAG
    bright = [o for o in rows if o.magnitude_v is not None and o.magnitude_v <= limit]
    bright.sort(key=lambda o: o.magnitude_v or 0.0)
    candidates: list[SkyObject] = []
    for item in [*wanted, *planets, *bright]:
        if _key(item) not in excluded and _key(item) not in map(_key, candidates):
            candidates.append(item)
    seen = object_positions(candidates, instants[:: max(1, len(instants) // 24)], observer)
    highest = seen.altitude_deg.max(axis=1)
    high = np.flatnonzero(highest >= lowest_altitude_deg)
    return [candidates[int(i)] for i in high[:MOST_OBJECTS]]


def _key(item: SkyObject) -> str:
    return item.catalogue_id or item.name


def _known(name: str) -> bool:
    try:
        find(name)
    except AxletreeError:
        return False
    return True
