"""Where does each star stand, at each instant, for this observer?"""

from __future__ import annotations

from dataclasses import fields
from typing import Any, Protocol

import erfa
import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.sky.air.refraction import airmass, apparent_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_24h, wrap_h
from axletree.sky.observer import Observer
from axletree.sky.time.instants import J2000_JD, Instants
from axletree.sky.time.orientation import Orientation, orientation

_erfa = erfa.ufunc
_DEG = np.pi / 180.0
_MAS = _DEG / 3.6e6


class StarLike(Protocol):
    """Catalogue places of anything beyond the planets: arrays of shape (n,), ICRS.

    Right ascension and declination in degrees at `epoch_year` (Julian year, such as 2000.0 or
    1991.25); proper motion in mas a year, in right ascension already times cos(declination);
    parallax in mas; radial velocity in km/s, away positive. What isn't known is 0.
    """

    @property
    def ra_deg(self) -> Floats: ...
    @property
    def dec_deg(self) -> Floats: ...
    @property
    def pm_ra_cosdec_mas_yr(self) -> Floats: ...
    @property
    def pm_dec_mas_yr(self) -> Floats: ...
    @property
    def parallax_mas(self) -> Floats: ...
    @property
    def radial_velocity_km_s(self) -> Floats: ...
    @property
    def epoch_year(self) -> Floats: ...


@dataclass(frozen=True)
class Stars:
    """The plainest `StarLike`: places of one's own, such as those of clusters and galaxies."""

    ra_deg: Floats
    dec_deg: Floats
    pm_ra_cosdec_mas_yr: Floats
    pm_dec_mas_yr: Floats
    parallax_mas: Floats
    radial_velocity_km_s: Floats
    epoch_year: Floats

    @classmethod
    def of(
        cls,
        ra_deg: ArrayLike,
        dec_deg: ArrayLike,
        *,
        pm_ra_cosdec_mas_yr: ArrayLike = 0.0,
        pm_dec_mas_yr: ArrayLike = 0.0,
        parallax_mas: ArrayLike = 0.0,
        radial_velocity_km_s: ArrayLike = 0.0,
        epoch_year: ArrayLike = 2000.0,
    ) -> Stars:
        """Stars from numbers or arrays, broadcast together; nan motion or parallax counts as 0."""
        optional = (pm_ra_cosdec_mas_yr, pm_dec_mas_yr, parallax_mas, radial_velocity_km_s)
        arrays = np.broadcast_arrays(
            np.atleast_1d(np.asarray(ra_deg, dtype=np.float64)),
            np.asarray(dec_deg, dtype=np.float64),
            *(np.nan_to_num(np.asarray(a, dtype=np.float64)) for a in optional),
            np.asarray(epoch_year, dtype=np.float64),
        )
        return cls(*(np.ascontiguousarray(a).ravel() for a in arrays))

    def __len__(self) -> int:
        return int(self.ra_deg.size)

    def take(self, which: Any) -> Stars:
        """The stars at these indices, in this slice, or where this mask is true."""
        return Stars(*(np.atleast_1d(getattr(self, f.name)[which]) for f in fields(self)))


def one_star(stars: StarLike, which: int) -> Stars:
    """The star at one index, as arrays of shape (1,)."""
    return Stars(*(np.atleast_1d(getattr(stars, f.name)[which]) for f in fields(Stars)))


def places_at_j2000(
    stars: StarLike,
) -> tuple[Floats, Floats, Floats, Floats, Floats, Floats]:
    """What ERFA takes, for epoch J2000.0: right ascension and declination (rad), their yearly
    motions (rad, of the coordinate itself), parallax (arcsec), radial velocity (km/s)."""
    ra, dec = stars.ra_deg * _DEG, stars.dec_deg * _DEG
    # Right at a pole the coordinate angle has no motion that means anything.
    motion_ra = stars.pm_ra_cosdec_mas_yr * _MAS / np.maximum(np.cos(dec), 1e-9)
    motion_dec = stars.pm_dec_mas_yr * _MAS
    parallax = np.maximum(stars.parallax_mas, 0.0) * 1e-3
    velocity = np.where(parallax > 0.0, stars.radial_velocity_km_s, 0.0)
    kept = (ra, dec, motion_ra, motion_dec, parallax, velocity)
    if np.all(stars.epoch_year == 2000.0):
        return kept
    days = (stars.epoch_year - 2000.0) * 365.25
    moved = _erfa.pmsafe(*kept, J2000_JD, days, J2000_JD, 0.0)
    # Where nothing moves, the parallax that pmsafe puts in for safety must not creep in.
    still = (motion_ra == 0.0) & (motion_dec == 0.0) & (velocity == 0.0)
    ra2, dec2, mra2, mdec2, px2, rv2 = (
        np.where(still, k, m) for k, m in zip(kept, moved[:6], strict=True)
    )
    return ra2, dec2, mra2, mdec2, np.where(parallax > 0.0, px2, 0.0), rv2


@dataclass(frozen=True)
class Positions:
    """Apparent topocentric places, every array of shape (objects, instants).

    Right ascension in hours [0, 24) and declination in degrees, of the true equator and equinox
    of date; hour angle in hours (-12, 12], positive west; azimuth 0-360 from true north through
    east; `altitude_true_deg` without air, `altitude_deg` as seen through it; airmass for the
    latter, infinite below the horizon. Polar motion (under 0.6 arcseconds) is in all of them, so
    that hour angle and declination turn into azimuth and altitude with the latitude alone.
    """

    right_ascension_h: Floats
    declination_deg: Floats
    hour_angle_h: Floats
    azimuth_deg: Floats
    altitude_true_deg: Floats
    altitude_deg: Floats
    airmass: Floats


def positions_from_cirs(
    cirs_ra_rad: Floats, cirs_dec_rad: Floats, turned: Orientation, observer: Observer
) -> Positions:
    """Positions from directions in the celestial intermediate frame, (objects, instants)."""
    azimuth, zenith, hour_angle, declination, ra = _erfa.atioq(
        cirs_ra_rad, cirs_dec_rad, turned.astrom
    )
    altitude_true = 90.0 - zenith / _DEG
    altitude = apparent_altitude_deg(altitude_true, observer)
    return Positions(
        right_ascension_h=wrap_24h((ra - turned.origins_rad) / (15.0 * _DEG)),
        declination_deg=declination / _DEG,
        hour_angle_h=wrap_h(hour_angle / (15.0 * _DEG)),
        azimuth_deg=np.mod(azimuth / _DEG, 360.0),
        altitude_true_deg=altitude_true,
        altitude_deg=altitude,
        airmass=airmass(altitude),
    )


def star_positions(
    stars: StarLike,
    instants: Instants,
    observer: Observer,
    turned: Orientation | None = None,
) -> Positions:
    """Apparent places of `stars` at `instants`, arrays of shape (stars, instants).

    Proper motion, parallax, light deflection by the Sun, annual and diurnal aberration,
    precession-nutation IAU 2006/2000A, Earth rotation and polar motion; refraction for
    `altitude_deg` only. `turned` saves work when the orientation is already at hand.
    """
    if turned is None:
        turned = orientation(instants, observer)
    columns = (a[:, np.newaxis] for a in places_at_j2000(stars))
    cirs_ra, cirs_dec = _erfa.atciq(*columns, turned.astrom)
    return positions_from_cirs(cirs_ra, cirs_dec, turned, observer)


def star_positions_each(stars: StarLike, instants: Instants, observer: Observer) -> Positions:
    """`star_positions` of each star at an instant of its own: arrays (stars,), as many instants."""
    turned = orientation(instants, observer)
    cirs_ra, cirs_dec = _erfa.atciq(*places_at_j2000(stars), turned.astrom)
    return positions_from_cirs(cirs_ra, cirs_dec, turned, observer)
