"""What does the evening want from a place: which directions must be free, and when?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from axletree.kit.kit import Kit
from axletree.kit.parts.mount import Mount
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.objects import SkyObject, deep_sky, deep_sky_object, find, star_object
from axletree.sky.events.twilight import ASTRONOMICAL_DEG, CIVIL_DEG, NAUTICAL_DEG, darkness
from axletree.sky.observer import Observer
from axletree.sky.optics import limiting_magnitude
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

POLE_STAR_HIP = {True: 11767, False: 104382}
POLE_STAR_NAME = {True: "Polaris", False: "σ Octantis"}
SAMPLE_MIN = 6.0
SHOWN_PLANETS = ("venus", "mars", "jupiter", "saturn", "uranus")
MOST_OBJECTS = 40
FAINTER_THAN_POINTS_MAG = 3.0  # an extended object needs to be this much brighter than a star


@dataclass(frozen=True)
class View:
    """A stretch of sky wanted free above an altitude, clockwise from one azimuth to the other."""

    from_deg: float
    to_deg: float
    above_deg: float
    name: str = "view"


@dataclass(frozen=True)
class Wishes:
    """Directions as seen through the air, degrees.

    `azimuth_deg`, `altitude_deg`: tracks (objects, samples) through the hours that count, each
    sample standing for `sample_h` hours. `pole_azimuth_deg`, `pole_altitude_deg` (p,): where the
    pole star stands through those hours (or the pole, without darkness). `dark_hours` in all,
    below `depression_deg`; both 0 where it never gets dark. `notes` say what was assumed.
    """

    names: tuple[str, ...]
    azimuth_deg: Floats
    altitude_deg: Floats
    sample_h: float
    lowest_altitude_deg: float
    pole_name: str
    pole_azimuth_deg: Floats
    pole_altitude_deg: Floats
    pole_needed: bool
    pole_margin_deg: float
    views: tuple[View, ...]
    dark_hours: float
    depression_deg: float
    notes: tuple[str, ...]

    def open_hours(self) -> Floats:
        """Hours in which each object stands above the lowest altitude under an open sky (k,)."""
        up = self.altitude_deg >= self.lowest_altitude_deg
        return np.asarray(up.sum(axis=1) * self.sample_h, dtype=np.float64)


def axes_height_m(mount: Mount, latitude_deg: float) -> float:
    """Height of the crossing of the two axes above the ground, from the kit's lengths."""
    head, tripod = mount.head, mount.tripod
    phi = np.radians(abs(latitude_deg))
    up = head.crossing_along_mm * np.sin(phi) + head.crossing_above_mm * np.cos(phi)
    hinge = tripod.top_height_mm + tripod.column_height_mm + head.pivot_height_mm
    return float((hinge + up) / 1000.0)


def wishes_of(
    kit: Kit,
    night: Night,
    observer: Observer,
    objects: Sequence[SkyObject] | None = None,
    *,
    hours: float | None = None,
    views: Sequence[View] = (),
    pole_needed: bool = True,
    pole_margin_deg: float = 1.0,
    lowest_altitude_deg: float | None = None,
) -> Wishes:
    """What this night wants. Without `objects`, those of `objects_for`.

    The hours that count are those of full darkness; where there is none, of deep, then of light
    twilight, said in a note; `hours` takes only the first so many. `lowest_altitude_deg` is the
    kit's unless given. The kit's own views are added to `views`.
    """
    lowest = kit.habits.lowest_altitude_deg if lowest_altitude_deg is None else lowest_altitude_deg
    instants, depression, notes = _dark_samples(night, observer, hours)
    chosen = list(objects) if objects is not None else []
    if instants is not None and objects is None:
        chosen = objects_for(kit, instants, observer, lowest)
        notes.append(f"objects: the {len(chosen)} brightest of the planets and Messier's list")
    empty = np.zeros((len(chosen), 0))
    azimuth, altitude = empty, empty
    name, pole_azimuth, pole_altitude = _pole_track(observer, instants)
    if instants is not None and chosen:
        seen = object_positions(chosen, instants, observer)
        azimuth, altitude = seen.azimuth_deg, seen.altitude_deg
    if pole_needed and refracted_pole_altitude_deg(observer) < pole_margin_deg + 1.0:
        pole_needed = False
        notes.append(
            f"the pole stands {refracted_pole_altitude_deg(observer):.1f}° high, on the horizon: "
            "no place shows it with a margin, so it isn't asked for; align by level, north, "
            "latitude scale and drift"
        )
    own = () if kit.yard is None else tuple(
        View(v.from_azimuth_deg, v.to_azimuth_deg, v.above_deg, v.name) for v in kit.yard.views
    )  # fmt: skip
    return Wishes(
        names=tuple(o.name for o in chosen),
        azimuth_deg=azimuth,
        altitude_deg=altitude,
        sample_h=SAMPLE_MIN / 60.0,
        lowest_altitude_deg=lowest,
        pole_name=name,
        pole_azimuth_deg=pole_azimuth,
        pole_altitude_deg=pole_altitude,
        pole_needed=pole_needed,
        pole_margin_deg=pole_margin_deg,
        views=(*own, *views),
        dark_hours=0.0 if instants is None else len(instants) * SAMPLE_MIN / 60.0,
        depression_deg=depression,
        notes=tuple(notes),
    )


def _dark_samples(
    night: Night, observer: Observer, hours: float | None
) -> tuple[Instants | None, float, list[str]]:
    """Moments every `SAMPLE_MIN` minutes of darkness, the Sun's depression, and notes."""
    words = {
        ASTRONOMICAL_DEG: "",
        NAUTICAL_DEG: "it doesn't get fully dark: hours with the Sun below -12° count",
        CIVIL_DEG: "it doesn't get dark: hours with the Sun below -6° count",
    }
    for depression, note in words.items():
        dark = darkness(night, observer, depression)
        if dark.never_dark:
            continue
        step = timedelta(minutes=SAMPLE_MIN)
        moments = []
        for start, stop in dark.intervals:
            count = int((stop - start) / step)
            moments += [start + step * (k + 0.5) for k in range(count)]
        if hours is not None:
            moments = [m for m in moments if m < moments[0] + timedelta(hours=hours)]
        if moments:
            return Instants.from_datetimes(moments), depression, [note] if note else []
    sun = darkness(night, observer, CIVIL_DEG).lowest_sun_altitude_deg
    return None, 0.0, [
        f"no darkness this night, the Sun is lowest at {sun:.1f}°: only pole and views count"
    ]  # fmt: skip


def _pole_track(observer: Observer, instants: Instants | None) -> tuple[str, Floats, Floats]:
    """Name, azimuths and altitudes of what leads to the pole; each quarter hour is enough."""
    if instants is None:
        azimuth = 0.0 if observer.north else 180.0
        altitude = refracted_pole_altitude_deg(observer)
        return "the pole", np.array([azimuth]), np.array([altitude])
    star = star_object(POLE_STAR_HIP[observer.north])
    step = max(1, round(15.0 / SAMPLE_MIN))
    seen = object_positions([star], instants[::step], observer)
    return POLE_STAR_NAME[observer.north], seen.azimuth_deg[0], seen.altitude_deg[0]


def objects_for(
    kit: Kit, instants: Instants, observer: Observer, lowest_altitude_deg: float
) -> list[SkyObject]:
    """Up to `MOST_OBJECTS` things worth showing that stand high enough at some of the moments.

    The person's must-sees first, then planets and Messier objects from bright to faint, none
    fainter than the tube shows, none that the person excludes.
    """
    excluded = {_key(find(name)) for name in kit.habits.exclude if _known(name)}
    wanted = [find(name) for name in kit.habits.must_see]
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
    from axletree.kit.errors import AxletreeError

    try:
        find(name)
    except AxletreeError:
        return False
    return True
