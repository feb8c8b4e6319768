"""What is to be found, when, on which mount, under which sky; and which named stars show then?"""

from __future__ import annotations

from functools import cache

import numpy as np

from axletree.find.person import NAMED_FAINTEST_MAG
from axletree.find.turning.knobs import Mounted
from axletree.find.turning.recognised import stars_with_own_name
from axletree.find.turning.shafts import SkyPlace
from axletree.kit.frozen import dataclass
from axletree.mount.room.table import RoomTable
from axletree.sky.arrays import Floats, Ints
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.catalogue.stars import StarArrays, stars
from axletree.sky.contrast import naked_eye_limit_mag
from axletree.sky.positions.stars import Positions, star_positions
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants


@dataclass(frozen=True)
class SkyLight:
    """The sky that the stars stand against: its brightness, and what the air takes."""

    sky_mag_arcsec2: float
    extinction_mag_per_airmass: float


@dataclass(frozen=True)
class Seeking:
    """One object to be found: its place (1,) at `arrival` (one instant), the mount and its room."""

    mounted: Mounted
    table: RoomTable
    thing: SkyPlace
    arrival: Instants
    sky: SkyLight

    @property
    def sun(self) -> SunRule:
        """The rule that keeps tube and eye from the Sun."""
        return SunRule.of(self.mounted.kit, self.mounted.observer)


@dataclass(frozen=True)
class NamedStars:
    """Stars with a name (n,), bright to faint, and where they stand on arrival.

    `dimmed_mag`: V with what the air takes.
    """

    stars: StarArrays
    names: tuple[tuple[str, ...], ...]
    places: Positions
    dimmed_mag: Floats

    def place(self, which: int | Ints) -> SkyPlace:
        """Where one of them or some stand on arrival."""
        return SkyPlace.of(
            self.places.hour_angle_h[which, 0], self.places.declination_deg[which, 0]
        )


def named_stars(seeking: Seeking, proper: bool) -> NamedStars:
    """Those to `NAMED_FAINTEST_MAG`; `proper`: only with a name of their own, not a letter."""
    listed, names = _proper() if proper else _designated()
    return placed(seeking, listed, names)


def placed(seeking: Seeking, listed: StarArrays, names: tuple[tuple[str, ...], ...]) -> NamedStars:
    """The stars of a list where they stand on arrival."""
    places = star_positions(listed, seeking.arrival[:1], seeking.mounted.observer)
    air = np.where(np.isfinite(places.airmass[:, 0]), places.airmass[:, 0], 40.0)
    dimmed = listed.magnitude_v + seeking.sky.extinction_mag_per_airmass * air
    return NamedStars(listed, names, places, dimmed)


def naked_eye_mag(seeking: Seeking) -> float:
    """The faintest star that this person sees without any instrument, the air's loss apart."""
    skill = seeking.mounted.skill
    return float(naked_eye_limit_mag(seeking.sky.sky_mag_arcsec2, skill.field_factor))


@cache
def _designated() -> tuple[StarArrays, tuple[tuple[str, ...], ...]]:
    bright = stars(NAMED_FAINTEST_MAG, hipparcos_only=True)
    names = [names_of(int(hip)) for hip in bright.number]
    has = np.array([bool(each) for each in names])
    return bright.take(has), tuple(each for each in names if each)


@cache
def _proper() -> tuple[StarArrays, tuple[tuple[str, ...], ...]]:
    listed, names = _designated()
    has = np.array([int(hip) in stars_with_own_name() for hip in listed.number])
    return listed.take(has), tuple(n for n, ok in zip(names, has, strict=True) if ok)
