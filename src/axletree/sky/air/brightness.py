"""How bright is the sky behind an object, and how much light does the air take?

Brightness is V magnitudes per square arcsecond; parts add up in nanolamberts. All arrays
broadcast; altitudes and angles in degrees.

* Moonlight: K. Krisciunas and B. E. Schaefer 1991, PASP 103, 1033 (their letters below); good
  to about 0.25 mag by their own account.
* Twilight: F. Patat, O. S. Ugolnikov and O. V. Postylyakov 2006, A&A 455, 385, table 2, zenith,
  V, Sun 5 to 15 degrees below the horizon (coefficients from memory). Away from the zenith a fit
  of ours to what M. J. Koomen et al. 1952, JOSA 42, 353, measured (from memory, no table at hand;
  half a magnitude to either side): brighter towards the Sun and low down, darker opposite it.
* Extinction: D. S. Hayes and D. W. Latham 1975, ApJ 197, 593, in the form of D. W. E. Green
  1992, ICQ 14, 55 (coefficients from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats

DARK_ZENITH_MAG = 21.6  # a dark rural sky near solar minimum, common practice
_PATAT = (11.84, 1.518, -0.057)
_TWILIGHT_START_DEG = 5.0
_TWILIGHT_END_DEG = _TWILIGHT_START_DEG - _PATAT[1] / (2.0 * _PATAT[2])  # its faintest: 18.3
_DAY_MAG = 3.0
# Constant, cosine and its square of the azimuth from the Sun; below 10 degrees it goes on alike.
_TWILIGHT_AZIMUTH = (0.45, 0.85, 0.10)
_LOWEST_TWILIGHT_DEG = 80.0


def nanolamberts(mag_arcsec2: ArrayLike) -> Floats:
    """Surface brightness in nanolamberts. Krisciunas and Schaefer 1991, eq. 1."""
    V = np.asarray(mag_arcsec2, dtype=np.float64)
    return np.asarray(34.08 * np.exp(20.7233 - 0.92104 * V))


def mag_arcsec2(nanolambert: ArrayLike) -> Floats:
    """Surface brightness in V magnitudes per square arcsecond; inverse of `nanolamberts`."""
    B = np.asarray(nanolambert, dtype=np.float64)
    return np.asarray((20.7233 - np.log(B / 34.08)) / 0.92104)


def sky_airmass(altitude_deg: ArrayLike) -> Floats:
    """Optical path through the glowing sky, 1 at the zenith, 5 at the horizon; eq. 3."""
    sin_Z = np.cos(np.radians(np.maximum(np.asarray(altitude_deg, dtype=np.float64), 0.0)))
    return np.asarray((1.0 - 0.96 * sin_Z**2) ** -0.5)


def dark_sky_nanolamberts(
    altitude_deg: ArrayLike, zenith_mag_arcsec2: ArrayLike, extinction_mag: ArrayLike
) -> Floats:
    """Moonless night sky at an altitude, from its value at the zenith; eq. 2."""
    X = sky_airmass(altitude_deg)
    k = np.asarray(extinction_mag, dtype=np.float64)
    return np.asarray(nanolamberts(zenith_mag_arcsec2) * 10.0 ** (-0.4 * k * (X - 1.0)) * X)


def moonlight_nanolamberts(
    altitude_deg: ArrayLike,
    moon_altitude_deg: ArrayLike,
    separation_deg: ArrayLike,
    moon_phase_angle_deg: ArrayLike,
    extinction_mag: ArrayLike,
) -> Floats:
    """What the Moon adds to the sky's brightness; 0 while it is below the horizon.

    `separation_deg` between Moon and object, phase angle 0 at full Moon. Eqs. 15, 16, 20, 21;
    nearer than 10 degrees their eq. 19 for the aureole (held within half a degree).
    """
    arriving = moonlight_arriving(moon_altitude_deg, moon_phase_angle_deg, extinction_mag)
    kept = scattering_part(altitude_deg, extinction_mag)
    return np.asarray(moonlight_scattered(separation_deg) * arriving * kept)


def moonlight_arriving(
    moon_altitude_deg: ArrayLike, moon_phase_angle_deg: ArrayLike, extinction_mag: ArrayLike
) -> Floats:
    """The Moon's light on the air above this place, 0 while it is down: eq. 20, and of eq. 15 what
    it loses on its way."""
    alpha = np.abs(np.asarray(moon_phase_angle_deg, dtype=np.float64))
    moon = np.asarray(moon_altitude_deg, dtype=np.float64)
    k = np.asarray(extinction_mag, dtype=np.float64)
    illuminance = 10.0 ** (-0.4 * (3.84 + 0.026 * alpha + 4e-9 * alpha**4))
    return np.asarray(np.where(moon > 0.0, illuminance * 10.0 ** (-0.4 * k * sky_airmass(moon)), 0))


def moonlight_scattered(separation_deg: ArrayLike) -> Floats:
    """How much of it comes from so far beside the Moon: eqs. 16, 19 and 21."""
    rho = np.asarray(separation_deg, dtype=np.float64)
    aureole = 6.2e7 / np.maximum(rho, 0.5) ** 2
    mie = np.where(rho < 10.0, aureole, 10.0 ** (6.15 - rho / 40.0))
    return np.asarray(10.0**5.36 * (1.06 + np.cos(np.radians(rho)) ** 2) + mie)


def scattering_part(altitude_deg: ArrayLike, extinction_mag: ArrayLike) -> Floats:
    """What the air at this altitude scatters of the light that crosses it; eq. 15's last factor."""
    k = np.asarray(extinction_mag, dtype=np.float64)
    return np.asarray(1.0 - 10.0 ** (-0.4 * k * sky_airmass(altitude_deg)))


def twilight_brighter_mag(altitude_deg: ArrayLike, from_sun_deg: ArrayLike) -> Floats:
    """By how many magnitudes the twilight sky is brighter there than at the zenith; broadcasts.

    `from_sun_deg` is the azimuth from the Sun's, either way. 0 at the zenith; at 30 degrees of
    altitude 1.4 mag above the Sun, 0.45 at right angles, -0.3 (darker) opposite it.
    """
    low = np.clip(90.0 - np.asarray(altitude_deg, dtype=np.float64), 0.0, _LOWEST_TWILIGHT_DEG)
    towards = np.cos(np.radians(np.asarray(from_sun_deg, dtype=np.float64)))
    c0, c1, c2 = _TWILIGHT_AZIMUTH
    return np.asarray((low / 60.0) ** 1.5 * (c0 + c1 * towards + c2 * towards**2))


def twilight_nanolamberts(
    sun_altitude_deg: ArrayLike, altitude_deg: ArrayLike = 90.0, from_sun_deg: ArrayLike = 90.0
) -> Floats:
    """What the Sun below the horizon adds to a place in the sky; 0 from 18.3 degrees down.

    The published parabola less its own faintest value (the night sky it ends in). With the Sun
    higher than 5 degrees below the horizon its slope is carried on as a rough guide, no
    brighter than a day sky of 3 mag per square arcsecond.
    """
    depression = -np.asarray(sun_altitude_deg, dtype=np.float64)
    a0, a1, a2 = _PATAT
    x = np.minimum(depression, _TWILIGHT_END_DEG) - _TWILIGHT_START_DEG
    mag = np.where(x >= 0.0, a0 + a1 * x + a2 * x**2, a0 + a1 * x)
    end = _TWILIGHT_END_DEG - _TWILIGHT_START_DEG
    night = nanolamberts(a0 + a1 * end + a2 * end**2)
    added = np.maximum(nanolamberts(np.maximum(mag, _DAY_MAG)) - night, 0.0)
    factor = 10.0 ** (0.4 * twilight_brighter_mag(altitude_deg, from_sun_deg))
    return np.asarray(np.minimum(added * factor, nanolamberts(_DAY_MAG)))


def sky_brightness_mag_arcsec2(
    altitude_deg: ArrayLike,
    *,
    zenith_mag_arcsec2: ArrayLike = DARK_ZENITH_MAG,
    extinction_mag: ArrayLike = 0.2,
    sun_altitude_deg: ArrayLike = -90.0,
    moon_altitude_deg: ArrayLike = -90.0,
    moon_separation_deg: ArrayLike = 90.0,
    moon_phase_angle_deg: ArrayLike = 180.0,
) -> Floats:
    """Night sky, moonlight and twilight together behind an object at an altitude, V mag/arcsec2."""
    total = (
        dark_sky_nanolamberts(altitude_deg, zenith_mag_arcsec2, extinction_mag)
        + moonlight_nanolamberts(
            altitude_deg,
            moon_altitude_deg,
            moon_separation_deg,
            moon_phase_angle_deg,
            extinction_mag,
        )
        + twilight_nanolamberts(sun_altitude_deg)
    )
    return mag_arcsec2(total)


def extinction_mag_per_airmass(elevation_m: ArrayLike, aerosol_mag: ArrayLike = 0.12) -> Floats:
    """Visual extinction of clear air at an elevation: molecules, ozone and aerosol.

    `aerosol_mag` is the haze at sea level (0.12 clean countryside), with a scale height of
    1.5 km; molecules 0.1451 with 7.996 km; ozone 0.016. At sea level 0.28, at 2 km 0.16.
    """
    h = np.asarray(elevation_m, dtype=np.float64) / 1000.0
    molecules = 0.1451 * np.exp(-h / 7.996)
    haze = np.asarray(aerosol_mag, dtype=np.float64) * np.exp(-h / 1.5)
    return np.asarray(molecules + 0.016 + haze)
