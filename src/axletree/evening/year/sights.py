"""Which fixed objects show from here on each of many nights, how clearly and how high?

What the spot, the rig and the object have in common depends on the hour angle alone, and what
the telescope shows depends on the sky's brightness behind the object alone. So both are tabled
once for each object that could ever show; a night only looks them up: the hour angle from the
sidereal time, the brightness from the Moon and the twilight of that instant.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace

import numpy as np

from axletree.evening.ground_here import Ground
from axletree.evening.hosting.pace import show_seconds
from axletree.evening.objects.not_offered import SHOWN_MARGIN
from axletree.evening.objects.requested import Requested, requested_of
from axletree.evening.objects.twins import without_twins
from axletree.evening.offered.candidates import Candidates
from axletree.evening.seeing.eyepiece import Views, views_of
from axletree.evening.seeing.visibility import (
    PAIR,
    USUAL_AIRMASS,
    Looks,
    extinction_of,
    margins,
    suiting_view,
)
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.clearance.map import map_circles
from axletree.mount.room.table import HOURS_PER_SECOND, RoomTable
from axletree.sky.air.brightness import dark_sky_nanolamberts, mag_arcsec2, scattering_part
from axletree.sky.air.refraction import airmass, apparent_altitude_deg
from axletree.sky.arrays import Floats, Indices, Mask, Singles
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import azimuth_altitude, wrap_h
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.time.instants import Instants

EVERY = 3  # of the clearance map's steps: 6 minutes of hour angle
LEVELS = np.arange(14.0, 22.51, 0.5)  # sky brightness, V mag/arcsec2
ALL_MAG = 99.0
UNSEEN = -9.0  # a margin that says nothing but that it isn't seen
_HOURS, _DECLINATIONS = map_circles()
_FAR = 200.0  # so much air that a pair's light decides, not its separation


@dataclass(frozen=True)
class Sights:
    """n fixed objects that can show: tables over hour angle (n, steps) and brightness (n, levels).

    `ra_h` and `dec_deg` of date; `open` where the object clears the skyline and one tube side
    has room for a whole stop; `light` is the margin without any air, `cap` what a pair's
    separation allows. `darkest` (n, steps) is the margin without Moon and twilight, `UNSEEN`
    where it is closed or nothing is known of its light; where it is closed `airmass`, `dark` and
    `scattering` are 0.
    `must` marks what must be seen; `asked` is all there was to choose from.
    """

    candidates: Candidates
    must: Mask
    requested: Requested
    ra_h: Floats
    dec_deg: Floats
    open: Mask
    altitude_deg: Singles
    airmass: Singles
    dark: Singles  # moonless sky behind it, nanolamberts
    scattering: Singles  # what the air there scatters of the Moon's light
    light: Singles
    cap: Singles
    darkest: Singles
    extinction_mag: float
    considered: int

    def __len__(self) -> int:
        return len(self.candidates)

    def take(self, which: Indices) -> Sights:
        """The objects at these rows."""
        rows = {
            f.name: getattr(self, f.name)[which]
            for f in fields(self)
            if f.name not in ("candidates", "requested", "extinction_mag", "considered")
        }
        return replace(self, candidates=self.candidates.take(which), **rows)


def sights_of(
    kit: Kit, observer: Observer, ground: Ground, zenith_mag: float, middle: Instants,
    own: Sequence[SkyObject] = (),
) -> Sights:  # fmt: skip
    """The tables of all fixed objects of the catalogue that could ever show through this kit.

    `middle` (1,) is a moment near the middle of the nights: places are of that date.
    """
    requested = requested_of(kit, own, ALL_MAG)
    excluded = np.isin(np.array(requested.candidates.ids, dtype=object), list(requested.excluded))
    rows = np.flatnonzero((requested.candidates.source != 0) & ~excluded)
    candidates = requested.candidates.take(rows)
    seen = star_positions(Stars.of(candidates.ra_deg, candidates.dec_deg), middle, observer)
    ra_h, dec = seen.right_ascension_h[:, 0], seen.declination_deg[:, 0]
    highest = np.minimum(90.0 - np.abs(dec - observer.latitude_deg), 90.0)
    k = extinction_of(kit)
    rising = np.flatnonzero(highest > kit.habits.lowest_altitude_deg - 1.0)
    sky_there = mag_arcsec2(dark_sky_nanolamberts(highest[rising], zenith_mag, k))[:, np.newaxis]
    high_air = airmass(highest[rising])[:, np.newaxis]
    looks = candidates.looks.take(rising)
    best = margins(kit, looks, views_of(kit), sky_there, high_air)[:, :, 0]
    could = np.zeros(len(rows), dtype=np.bool_)
    could[rising] = np.nan_to_num(best, nan=-9.0).max(axis=0) >= SHOWN_MARGIN
    could[rising] |= np.isin(rows[rising], list(requested.must_rows))
    could_rows = np.flatnonzero(could)
    best_known_first = could_rows[np.argsort(-candidates.fame[could_rows], kind="stable")]
    kept = np.sort(without_twins(candidates, best_known_first))
    part, ra_h, dec = candidates.take(kept), ra_h[kept], dec[kept]
    table = ground.table
    H = _HOURS[::EVERY]
    azimuth, true = azimuth_altitude(H, dec[:, np.newaxis], observer.latitude_deg)
    altitude = _apparent(true, observer)
    lowest = np.maximum(kit.habits.lowest_altitude_deg, ground.horizon.altitude_at(azimuth))
    room = room_for_a_stop(table, show_seconds(kit))
    is_open = (altitude > lowest) & room[map_row(dec)]
    is_must = np.isin(rows[kept], list(requested.must_rows))
    air, dark, scattering = (np.zeros(is_open.shape, np.float32) for _ in range(3))
    clear = altitude[is_open]
    air[is_open] = airmass(clear)
    dark[is_open] = dark_sky_nanolamberts(clear, zenith_mag, k)
    scattering[is_open] = scattering_part(clear, k)
    light, cap = _light(kit, part, k)
    light[is_must] = np.where(np.isnan(light[is_must]), SHOWN_MARGIN, light[is_must])
    darkest = np.full(is_open.shape, UNSEEN, np.float32)
    sky, each = mag_arcsec2(dark[is_open]), np.nonzero(is_open)[0]
    moonless = looked_up(light.ravel(), cap.ravel(), sky, air[is_open], k, each)
    darkest[is_open] = np.nan_to_num(moonless, nan=UNSEEN)
    return Sights(
        candidates=part,
        must=is_must,
        requested=requested,
        ra_h=ra_h,
        dec_deg=dec,
        open=is_open,
        altitude_deg=altitude.astype(np.float32),
        airmass=air,
        dark=dark,
        scattering=scattering,
        light=light,
        cap=cap,
        darkest=darkest,
        extinction_mag=k,
        considered=len(rows),
    )


def _apparent(altitude_deg: Floats, observer: Observer) -> Floats:
    """Altitude through the air by a table of a tenth of a degree: within an arcsecond above 2."""
    true = np.linspace(-90.0, 90.0, 1801)
    return np.interp(altitude_deg, true, apparent_altitude_deg(true, observer))


def room_for_a_stop(table: RoomTable, show_s: float) -> Mask:
    """True (declinations, steps) where one tube side is clear now and until the stop is over.

    Declinations are those of the clearance map, steps every `EVERY`-th of its hour angles.
    """
    hours = _HOURS[::EVERY]
    ahead = int(np.ceil(show_s * HOURS_PER_SECOND / (hours[1] - hours[0])))
    usable = np.zeros((len(_DECLINATIONS), len(hours)), dtype=np.bool_)
    for i, side in enumerate((1, -1)):
        clear = table.clear[i][::EVERY].T.copy()
        past = np.abs(wrap_h(hours - 6.0 * side)) - 6.0  # how far the weights are above the tube
        clear &= (past <= table.weights_up_h) & (-past <= table.weights_down_h)
        through = clear.copy()
        for step in range(1, ahead + 1):
            through &= np.roll(clear, -step, axis=1)
        usable |= through
    return usable


def map_row(declination_deg: Floats) -> Indices:
    """The nearest row of `room_for_a_stop`."""
    grid = _DECLINATIONS
    place = np.round((declination_deg - grid[0]) / (grid[1] - grid[0]))
    return np.asarray(np.clip(place, 0, len(grid) - 1).astype(np.intp))


def map_step(hour_angle_h: Floats) -> Indices:
    """The nearest column of `room_for_a_stop`; any turn of the hour angle."""
    hours = _HOURS[::EVERY]
    place = np.round((hour_angle_h - hours[0]) / (hours[1] - hours[0]))
    return np.asarray(np.mod(place, len(hours)).astype(np.intp))


def _light(kit: Kit, candidates: Candidates, k: float) -> tuple[Singles, Singles]:
    """Margin without air (n, levels) in the suiting eyepiece, and what separation allows."""
    n, looks, views = len(candidates), candidates.looks, views_of(kit)
    light = np.empty((n, len(LEVELS)), np.float32)
    cap = np.full(light.shape, np.inf, np.float32)
    eyepiece = suiting_view(kit, looks, views)
    for number in range(len(views.labels)):
        one = views.one(number)
        rows = np.flatnonzero(eyepiece == number)
        thick = _at_levels(kit, looks.take(rows), one, _FAR) + k * _FAR
        light[rows] = thick
        pair = np.flatnonzero(looks.sort[rows] == PAIR)
        apart = _at_levels(kit, looks.take(rows[pair]), one, USUAL_AIRMASS)
        by_light = light[rows[pair]] - USUAL_AIRMASS * k
        cap[rows[pair]] = np.where(apart < by_light - 1e-3, apart, np.inf)
    return light, cap


def _at_levels(kit: Kit, looks: Looks, view: Views, air: float) -> Floats:
    """Margins (n, levels) through one eyepiece, under so much air."""
    shape = (len(looks.sort), len(LEVELS))
    sky = np.broadcast_to(LEVELS, shape)
    return np.asarray(margins(kit, looks, view, sky, np.full(shape, air))[0])


def looked_up(
    light: Singles, cap: Singles, sky: Floats, air: Singles, k: float, each: Indices
) -> Singles:
    """Margins behind sky brightnesses (rows, n), between the tables' levels."""
    place = np.clip((sky - LEVELS[0]) / (LEVELS[1] - LEVELS[0]), 0.0, len(LEVELS) - 1.001)
    level = place.astype(np.intp)
    part = (place - level).astype(np.float32)
    at = level + each * len(LEVELS)
    low = light.take(at)
    out = low + (light.take(at + 1) - low) * part - np.float32(k) * air
    return np.asarray(np.minimum(out, cap.take(at)))
