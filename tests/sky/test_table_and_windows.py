"""The quick tables against the direct way, and their hard cases."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.kit.kernels import Way
from axletree.sky.bulk.night_table import Work, night_blocks, night_table
from axletree.sky.bulk.windows import SIDEREAL_TURN_H, windows
from axletree.sky.directions import separation_deg
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars, star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, nights_between

EVENING = datetime(2026, 5, 25, 20, tzinfo=UTC)


def some_stars(count: int = 200, seed: int = 7) -> Stars:
    rng = np.random.default_rng(seed)
    return Stars.of(
        np.append(rng.uniform(0, 360, count), [10.0, 37.95, 317.2, 0.0]),
        np.append(np.degrees(np.arcsin(rng.uniform(-1, 1, count))), [90.0, 89.264, -88.956, -90.0]),
        pm_ra_cosdec_mas_yr=40.0,
        pm_dec_mas_yr=-300.0,
        parallax_mas=20.0,
    )


@pytest.mark.parametrize("way", ["numpy", "compiled"])
@pytest.mark.parametrize("latitude", [-89.9, -38.0, 0.0, 51.5, 90.0])
def test_table_agrees_with_the_direct_way(latitude: float, way: Way) -> None:
    observer = Observer(latitude, 20.0, 500.0)
    stars = some_stars()
    # Half a day longer than a day: two runs; 5 minutes.
    instants = Instants.grid(EVENING, count=432, step_s=300.0)
    direct = star_positions(stars, instants, observer)
    exact = night_table(stars, instants, observer, work=Work(way, threads=2))
    up = direct.altitude_deg > -0.9
    apart = separation_deg(
        exact.azimuth_deg, exact.altitude_deg, direct.azimuth_deg, direct.altitude_deg
    )
    assert apart[up].max() * 3600 < 0.01
    under = direct.altitude_deg < -4.1  # where there is no refraction any more
    assert under.any()
    assert np.abs(exact.altitude_deg - direct.altitude_deg)[under].max() * 3600 < 0.01
    on_sky = separation_deg(
        exact.hour_angle_h * 15, exact.declination_deg, direct.hour_angle_h * 15,
        direct.declination_deg,
    )  # fmt: skip
    assert on_sky.max() * 3600 < 0.01
    assert (exact.hour_angle_h > -12.0 - 1e-9).all()
    assert (exact.hour_angle_h <= 12.0).all()
    display = night_table(stars, instants, observer, precision="display", work=Work(way))
    apart = separation_deg(
        display.azimuth_deg.astype(float),
        display.altitude_deg.astype(float),
        direct.azimuth_deg,
        direct.altitude_deg,
    )
    assert display.altitude_deg.dtype == np.float32
    assert apart[up].max() * 3600 < 0.2


def test_moments_that_lie_months_apart() -> None:
    """Each stands for itself: with the parallax of the nearest star (Proxima, 0.768 arcseconds:
    SIMBAD, from memory) a place moves by up to 0.4 arcseconds in a month."""
    observer = Observer(51.5, 20.0, 500.0)
    rng = np.random.default_rng(3)
    stars = Stars.of(rng.uniform(0, 360, 50), rng.uniform(-30, 89, 50), parallax_mas=768.0)
    instants = Instants.from_datetime(EVENING).plus(np.arange(12) * 30.0 * 86400.0)
    direct = star_positions(stars, instants, observer)
    table = night_table(stars, instants, observer, work=Work("numpy"))
    for found, meant in (
        ((table.azimuth_deg, table.altitude_deg), (direct.azimuth_deg, direct.altitude_deg)),
        ((table.hour_angle_h * 15, table.declination_deg),
         (direct.hour_angle_h * 15, direct.declination_deg)),
    ):  # fmt: skip
        apart = separation_deg(*found, *meant)
        assert apart[direct.altitude_deg > -0.9].max() * 3600 < 0.01


@pytest.mark.parametrize("way", ["numpy", "compiled"])
def test_table_columns_buffers_and_blocks(way: Way) -> None:
    observer = Observer(38.0, -8.0)
    stars = some_stars()
    instants = Instants.grid(EVENING, count=50, step_s=600.0)
    whole = night_table(stars, instants, observer, work=Work(way))
    part = night_table(stars, instants, observer, ("altitude",), work=Work(way))
    assert part.azimuth_deg.shape == (0, 0)
    assert np.array_equal(part.altitude_deg, whole.altitude_deg)
    again = night_table(stars, instants, observer, out=part, what=("altitude",), work=Work(way))
    assert again.altitude_deg is part.altitude_deg
    rows = 0
    for which, block in night_blocks(stars, instants, observer, block=37, work=Work(way)):
        for name in ("altitude_deg", "azimuth_deg", "hour_angle_h", "declination_deg"):
            assert getattr(block, name) == pytest.approx(getattr(whole, name)[which], abs=1e-9)
        rows += which.stop - which.start
    assert rows == len(stars)


@pytest.mark.parametrize("way", ["numpy", "compiled"])
def test_table_refusals(way: Way) -> None:
    observer, stars = Observer(38.0, -8.0), some_stars(5)
    instants = Instants.grid(EVENING, count=5)
    with pytest.raises(AxletreeError, match="back in time"):
        night_table(stars, instants[::-1], observer)
    with pytest.raises(AxletreeError, match="precision"):
        night_table(stars, instants, observer, precision="fast")  # type: ignore[arg-type]
    with pytest.raises(AxletreeError, match="column 'colour'"):
        night_table(stars, instants, observer, what=("colour",))  # type: ignore[arg-type]
    with pytest.raises(AxletreeError, match="way 'quickly' is not one of"):
        night_table(stars, instants, observer, work=Work("quickly"))  # type: ignore[arg-type]
    with pytest.raises(AxletreeError, match=r"out\.altitude"):
        night_table(stars, instants, observer, out=night_table(stars, instants[:2], observer))
    empty = night_table(stars, instants[:0], observer, work=Work(way))
    arrays = (empty.altitude_deg, empty.azimuth_deg, empty.hour_angle_h, empty.declination_deg)
    assert all(a.shape == (9, 0) for a in arrays)


def test_windows_against_the_direct_way() -> None:
    # Each object and night: the refracted altitude at rise and set is the one asked for.
    stars = some_stars(60)
    nights = nights_between(date(2026, 1, 1), date(2026, 12, 31), "America/St_Johns")[::33]
    altitudes = np.linspace(0.0, 40.0, len(stars))
    for latitude in (-43.9, 0.0, 51.5):
        observer = Observer(latitude, -52.7, 100.0)
        found = windows(stars, nights, observer, altitudes)
        for n, night in enumerate(nights):
            base = Instants.from_datetime(night.start)
            for k in range(len(stars)):
                if found.never_up[n, k]:
                    continue
                hours = [found.rise_h[n, k], found.transit_h[n, k], found.set_h[n, k]]
                assert 0 <= hours[1] <= 24.1
                seen = star_positions(
                    stars.take([k]), base.plus(np.array(hours, dtype=float) * 3600), observer
                )
                if k < 60:  # not the stars at the poles, whose culmination is no event
                    assert seen.hour_angle_h[0, 1] * 3600 == pytest.approx(0.0, abs=1.0)
                if found.always_up[n, k]:
                    continue
                rate = np.abs(seen.altitude_deg[0, [0, 2]] - altitudes[k]) * 3600
                assert (rate < 15.0).all()  # no more than a second of time


def test_windows_of_pole_and_antipole() -> None:
    stars = some_stars(0)
    nights = [Night.of(date(2026, 3, 1), UTC)]
    found = windows(stars, nights, Observer(50.0, 0.0), 10.0)
    assert found.always_up[0, 0]
    assert found.never_up[0].tolist() == [False, False, True, True]
    at_pole = windows(some_stars(5), nights, Observer(90.0, 0.0), 10.0)
    dec = some_stars(5).dec_deg
    assert (at_pole.always_up[0] == (dec > 10.0)).all()
    assert (at_pole.never_up[0] == (dec < 10.0)).all()
    assert windows(stars, [], Observer(0.0, 0.0)).rise_h.shape == (0, 4)


def test_windows_against_counting() -> None:
    stars = some_stars(80)
    observer = Observer(38.57, -7.9, 300.0)
    nights = [Night.of(date(2026, 8, 1), "Europe/Lisbon"), Night.of(date(2026, 1, 9), "UTC")]
    found = windows(stars, nights, observer, 8.0)
    first, last = np.array([0.5, 5.5]), np.array([17.0, 23.75])
    # A window comes again a sidereal turn later, and has come one before.
    hours = sum(
        np.fmax(
            np.minimum(found.set_h + turn, last[:, None])
            - np.maximum(found.rise_h + turn, first[:, None]),
            0.0,
        )
        for turn in (-SIDEREAL_TURN_H, 0.0, SIDEREAL_TURN_H)
    )
    for n, night in enumerate(nights):
        instants = Instants.from_datetime(night.start).plus(
            np.arange(first[n] * 3600, last[n] * 3600, 60.0) + 30.0
        )
        altitude = night_table(stars, instants, observer, ("altitude",)).altitude_deg
        counted = (altitude >= 8.0).sum(axis=1) / 60
        assert hours[n] == pytest.approx(counted, abs=2.5 / 60)
    assert pytest.approx(23.9344696, abs=1e-6) == SIDEREAL_TURN_H


def test_window_altitudes_are_checked() -> None:
    with pytest.raises(AxletreeError, match=r"-5.0: it must lie"):
        windows(some_stars(2), [Night.of(date(2026, 3, 1), UTC)], Observer(0, 0), -5.0)
