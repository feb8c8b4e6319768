"""Where must the polar axis point, and how far from there is the pole star?

The axis should meet the refracted pole (by default) so that stars near it stay at rest as they
are seen. The pole star is Polaris in the north and sigma Octantis in the south.
"""

from __future__ import annotations

from functools import cache

import erfa
import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.pole_star import POLARIS_HIP, SIGMA_OCTANTIS_HIP
from axletree.sky.catalogue.stars import StarArrays, pole_stars
from axletree.sky.directions import vector_from_azimuth_altitude, wrap_24h
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import places_at_j2000
from axletree.sky.time.instants import J2000_JD

# Lower than this the air lifts and blurs a pole star beyond use: the axis is set without it
# (common practice, no source).
LOW_POLE_DEG = 5.0
# The ring of a polar scope is not older than such scopes, nor made for the far future.
_RING_YEARS = (1950.0, 2100.0)


@dataclass(frozen=True)
class PoleTarget:
    """The direction that the axis should have.

    `azimuth_deg` is 0 or 180; `altitude_deg` the altitude to set; `true_altitude_deg` the
    latitude without its sign; `lift_arcmin` what the air adds to it here (also given when the
    true pole was asked for).
    """

    north: bool
    azimuth_deg: float
    altitude_deg: float
    true_altitude_deg: float
    lift_arcmin: float
    refracted: bool

    @property
    def vector(self) -> Floats:
        """Unit vector (3,), x east, y north, z up."""
        return vector_from_azimuth_altitude(self.azimuth_deg, self.altitude_deg)

    @property
    def latitude_deg(self) -> float:
        """The site's latitude in degrees, south negative."""
        return self.true_altitude_deg if self.north else -self.true_altitude_deg


def pole_target(observer: Observer, true_pole: bool = False) -> PoleTarget:
    """The refracted pole above this observer's horizon, or the true one on request."""
    true = abs(observer.latitude_deg)
    seen = refracted_pole_altitude_deg(observer)
    return PoleTarget(
        north=observer.north,
        azimuth_deg=0.0 if observer.north else 180.0,
        altitude_deg=true if true_pole else seen,
        true_altitude_deg=true,
        lift_arcmin=(seen - true) * 60.0,
        refracted=not true_pole,
    )


@dataclass(frozen=True)
class PoleStar:
    """The star that shows the way: its name, HIP number, magnitude and catalogue place."""

    name: str
    hip: int
    magnitude_v: float
    place: StarArrays


@cache
def pole_star(north: bool) -> PoleStar:
    """Polaris or sigma Octantis."""
    hip, name = (POLARIS_HIP, "Polaris") if north else (SIGMA_OCTANTIS_HIP, "σ Octantis")
    near = pole_stars(north, radius_deg=2.0, limit_mag=6.0)
    place = near.take((near.number == hip) & ~near.from_gaia)
    return PoleStar(name, hip, float(place.magnitude_v[0]), place)


def mean_place(year: ArrayLike, north: bool) -> tuple[Floats, Floats]:
    """Mean place of the pole star: right ascension in hours, distance from the pole in arcminutes.

    Proper motion and the IAU 2006 precession, without nutation and aberration.
    """
    years = np.asarray(year, dtype=np.float64)
    days = (years - 2000.0) * 365.25
    columns = [float(column[0]) for column in places_at_j2000(pole_star(north).place)]
    ra, dec, *_ = erfa.ufunc.pmsafe(*columns, J2000_JD, 0.0, J2000_JD, days)
    of_date = erfa.ufunc.rxp(erfa.ufunc.pmat06(J2000_JD, days), erfa.ufunc.s2c(ra, dec))
    x, y, z = of_date[..., 0], of_date[..., 1], of_date[..., 2]
    away = np.degrees(np.arctan2(np.hypot(x, y), z if north else -z)) * 60.0
    return wrap_24h(np.degrees(np.arctan2(y, x)) / 15.0), np.asarray(away)


def mean_pole_distance_arcmin(year: ArrayLike, north: bool) -> Floats:
    """Distance of the pole star from the mean pole of each Julian year, arcminutes.

    It is what the rings engraved in polar scopes are made for.
    """
    return mean_place(year, north)[1]


def ring_year(ring_radius_arcmin: float, north: bool) -> float | None:
    """The Julian year for which a ring of this radius was right, between 1950 and 2100.

    None if no year fits: then the ring was not made for this star.
    """
    years = np.linspace(*_RING_YEARS, 1501)
    off = mean_pole_distance_arcmin(years, north) - ring_radius_arcmin
    at = np.flatnonzero((off[:-1] < 0) != (off[1:] < 0))
    if at.size == 0:
        return None
    k = int(at[0])
    return float(years[k] + (years[k + 1] - years[k]) * off[k] / (off[k] - off[k + 1]))
