"""Places of the stars around a direction, against astropy's tangent plane and its air."""

from __future__ import annotations

from datetime import UTC, datetime

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import CIRS, AltAz, EarthLocation, SkyCoord
from astropy.time import Time

from axletree.find.patch import Patch, patch_around
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

AT = datetime(2026, 8, 12, 21, 30, tzinfo=UTC)
NORTH = (48.2, 16.4, 200.0)
SOUTH = (-41.3, 174.8, 100.0)


def around(name: str, spot: tuple[float, float, float], radius_deg: float) -> Patch:
    """Without air, which only the second test is about."""
    observer = Observer(*spot, pressure_hpa=0.0)
    instants = Instants.from_datetime(AT)
    places = object_positions([find(name)], instants, observer)
    azimuth, altitude = float(places.azimuth_deg[0, 0]), float(places.altitude_deg[0, 0])
    return patch_around(azimuth, altitude, radius_deg, instants, observer)


@pytest.mark.parametrize(
    ("name", "spot"), [("M57", NORTH), ("M13", NORTH), ("Polaris", NORTH), ("NGC 104", SOUTH)]
)
def test_places_are_astropys_tangent_plane(name: str, spot: tuple[float, float, float]) -> None:
    """Within a tenth of a per cent of the field; stars that hardly move, as theirs stand still."""
    radius_deg = 3.0
    patch = around(name, spot, radius_deg)
    assert len(patch) > 20
    here = EarthLocation(lat=spot[0] * u.deg, lon=spot[1] * u.deg, height=spot[2] * u.m)
    frame = CIRS(obstime=Time(AT), location=here)
    s = patch.stars
    stars = SkyCoord(s.ra_deg * u.deg, s.dec_deg * u.deg).transform_to(frame)
    target = find(name)
    origin = SkyCoord(target.ra_deg * u.deg, target.dec_deg * u.deg).transform_to(frame)
    still = np.hypot(s.pm_ra_cosdec_mas_yr, s.pm_dec_mas_yr) < 100.0
    assert still.sum() > 20
    turned = stars.transform_to(origin.skyoffset_frame())
    lon, lat = turned.lon.wrap_at(180 * u.deg).radian, turned.lat.radian
    xi, eta = np.degrees(np.tan(lon)), np.degrees(np.tan(lat) / np.cos(lon))
    assert np.abs(patch.east_deg - xi)[still].max() < 0.001 * radius_deg
    assert np.abs(patch.north_deg - eta)[still].max() < 0.001 * radius_deg


def test_low_down_the_field_is_flattened_as_astropys_air_flattens_it() -> None:
    """At 6 degrees, against astropy's two constants, which hold above 5: 0.1 % of the field."""
    observer = Observer(*NORTH)
    instants = Instants.from_datetime(AT)
    patch = patch_around(250.0, 6.0, 4.0, instants, observer)
    up = patch.star_altitude_deg > 5.0
    here = EarthLocation(lat=NORTH[0] * u.deg, lon=NORTH[1] * u.deg, height=NORTH[2] * u.m)
    frame = AltAz(
        obstime=Time(AT), location=here, pressure=observer.air_pressure_hpa * u.hPa,
        temperature=observer.air_temperature_c * u.deg_C, obswl=0.55 * u.um,
    )  # fmt: skip
    s = patch.stars.take(up)
    theirs = SkyCoord(s.ra_deg * u.deg, s.dec_deg * u.deg).transform_to(frame)
    assert up.sum() > 20
    assert np.abs(patch.star_altitude_deg[up] - theirs.alt.deg).max() < 0.004
    assert np.abs(patch.star_azimuth_deg[up] - theirs.az.deg).max() < 0.004


def test_the_middle_is_where_it_was_asked_for() -> None:
    patch = around("M57", NORTH, 2.0)
    named = patch.stars.number.tolist()
    assert 92420 in named, "Sheliak (beta Lyrae, HIP 92420) stands 1 degree from the Ring"
    k = named.index(92420)
    # Of the handbooks' places: 18h50m05s +33d21.8m, and 18h53m35s +33d01.7m.
    assert float(np.hypot(patch.east_deg[k], patch.north_deg[k])) == pytest.approx(0.806, abs=0.005)
    assert np.all(np.hypot(patch.east_deg, patch.north_deg) <= 2.001)
