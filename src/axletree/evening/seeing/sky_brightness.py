"""How bright is the sky behind each object through the evening, and how much does the air take?"""

from __future__ import annotations

from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.site import RURAL_ZENITH_MAG
from axletree.sky.air.brightness import (
    DARK_ZENITH_MAG,
    dark_sky_nanolamberts,
    extinction_mag_per_airmass,
    mag_arcsec2,
    moonlight_nanolamberts,
    twilight_nanolamberts,
)
from axletree.sky.arrays import Floats
from axletree.sky.contrast import FIELD_FACTOR, sky_from_naked_eye_limit
from axletree.sky.directions import separation_deg
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import Positions
from axletree.sky.time.instants import Instants


class SkyAssumption(Enum):
    """What of the sky was taken for granted where the kit leaves it open."""

    RURAL = "rural_sky"
    FROM_FAINTEST_STAR = "sky_from_faintest_star"
    CLEAR_AIR = "clear_air"


@dataclass(frozen=True)
class AssumedSky:
    """One assumption and its figure: mag/arcsec² overhead, or magnitudes that the air takes."""

    what: SkyAssumption
    value: float
    faintest_star_mag: float | None = None


@dataclass(frozen=True)
class SkyState:
    """Sun and Moon at m instants, and the site's own darkness.

    Degrees (m,): the Sun's true altitude, by which twilight is told, the Moon's as seen;
    `moon_phase_angle_deg` 0 at full Moon. `zenith_mag_arcsec2` is the moonless night sky overhead.
    `assumed`: what the kit left open.
    """

    sun_altitude_deg: Floats
    sun_azimuth_deg: Floats
    moon_altitude_deg: Floats
    moon_azimuth_deg: Floats
    moon_phase_angle_deg: Floats
    zenith_mag_arcsec2: float
    extinction_mag: float
    assumed: tuple[AssumedSky, ...]

    def behind(self, places: Positions, *, moonlight: bool = True) -> Floats:
        """Sky brightness (objects, m) in V mag/arcsec2 behind objects at their places."""
        apart = separation_deg(
            places.azimuth_deg,
            places.altitude_deg,
            self.moon_azimuth_deg[np.newaxis],
            self.moon_altitude_deg[np.newaxis],
        )
        moon = self.moon_altitude_deg if moonlight else np.full_like(self.moon_altitude_deg, -90.0)
        altitude, air = np.maximum(places.altitude_deg, 0.0), self.extinction_mag
        phase = self.moon_phase_angle_deg[np.newaxis]
        from_sun = places.azimuth_deg - self.sun_azimuth_deg[np.newaxis]
        return mag_arcsec2(
            dark_sky_nanolamberts(altitude, self.zenith_mag_arcsec2, air)
            + moonlight_nanolamberts(altitude, moon[np.newaxis], apart, phase, air)
            + twilight_nanolamberts(self.sun_altitude_deg[np.newaxis], altitude, from_sun)
        )


def site_sky(kit: Kit) -> tuple[float, float, tuple[AssumedSky, ...]]:
    """Moonless zenith (V mag/arcsec2), what the air takes there (mag), and what was assumed."""
    site = kit.site
    assumed: list[AssumedSky] = []
    if site.sky_brightness_mag_arcsec2 is not None:
        zenith = site.sky_brightness_mag_arcsec2
    elif site.naked_eye_limit_mag is not None:
        factor = FIELD_FACTOR[kit.habits.observer]
        zenith = float(sky_from_naked_eye_limit(site.naked_eye_limit_mag, factor))
        assumed.append(
            AssumedSky(SkyAssumption.FROM_FAINTEST_STAR, zenith, site.naked_eye_limit_mag)
        )
    else:
        zenith = RURAL_ZENITH_MAG
        assumed.append(AssumedSky(SkyAssumption.RURAL, zenith))
    if site.extinction_mag_per_airmass is not None:
        extinction = site.extinction_mag_per_airmass
    else:
        extinction = float(extinction_mag_per_airmass(site.elevation_m))
        assumed.append(AssumedSky(SkyAssumption.CLEAR_AIR, extinction))
    return min(zenith, DARK_ZENITH_MAG + 0.5), extinction, tuple(assumed)


def sky_state(kit: Kit, observer: Observer, instants: Instants) -> SkyState:
    """Sun, Moon and darkness over the kit's site at these instants."""
    zenith, extinction, assumed = site_sky(kit)
    bodies = body_positions(("sun", "moon"), instants, observer)
    return SkyState(
        sun_altitude_deg=bodies.altitude_true_deg[0],
        sun_azimuth_deg=bodies.azimuth_deg[0],
        moon_altitude_deg=bodies.altitude_deg[1],
        moon_azimuth_deg=bodies.azimuth_deg[1],
        moon_phase_angle_deg=bodies.phase_angle_deg[1],
        zenith_mag_arcsec2=zenith,
        extinction_mag=extinction,
        assumed=assumed,
    )
