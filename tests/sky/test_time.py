"""Moments, time scales and what is said about them when Earth rotation isn't known."""

from __future__ import annotations

import warnings
from datetime import UTC, date, datetime, timedelta, timezone
from itertools import pairwise
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.observer import Observer
from axletree.sky.time.earth_rotation import (
    RotationDoubtKind,
    earth_rotation_at,
    earth_rotation_table,
)
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, nights_between
from axletree.tell.shared.text import rotation_words

EVENING = datetime(2026, 11, 25, 20, tzinfo=UTC)


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(AxletreeError, match="has no zone"):
        Instants.from_datetime(datetime(2026, 1, 1))
    with pytest.raises(AxletreeError, match="has no zone"):
        Night.containing(datetime(2026, 1, 1), "UTC")


def test_a_moment_asked_twice_is_the_moment_that_was_meant() -> None:
    # Python calls both equal: the hour of 2026 October 25 that Lisbon has twice (tz database).
    first = datetime(2026, 10, 25, 1, 30, tzinfo=ZoneInfo("Europe/Lisbon"))
    second = first.replace(fold=1)
    assert first == second
    apart = Instants.from_datetime(second).seconds_since(Instants.from_datetime(first))
    assert apart == pytest.approx([3600.0], abs=1e-4)
    with pytest.raises(ValueError, match="read-only"):
        Instants.from_datetime(first).tt2[0] = 0.0


def test_tt_is_69_184_seconds_ahead_of_utc() -> None:
    # 37 leap seconds and 32.184 s (IERS Bulletin C; IAU).
    i = Instants.from_datetime(EVENING)
    assert ((i.tt1 - i.utc1) + (i.tt2 - i.utc2)) * 86400 == pytest.approx([69.184], abs=1e-4)
    ut1 = ((i.ut11 - i.utc1) + (i.ut12 - i.utc2)) * 86400
    assert ut1 == pytest.approx(i.dut1_s, abs=1e-4)
    assert abs(i.dut1_s[0]) < 0.9  # by definition of UTC


def test_there_and_back_to_the_microsecond() -> None:
    zone = timezone(timedelta(hours=5, minutes=45))
    moments = [EVENING + timedelta(seconds=k * 12345.678901) for k in range(200)]
    back = Instants.from_datetimes(moments).to_datetimes(zone)
    assert all(abs(a - b) <= timedelta(microseconds=1) for a, b in zip(moments, back, strict=True))
    assert back[0].utcoffset() == timedelta(hours=5, minutes=45)
    assert Instants.from_datetime(EVENING).to_datetimes("Europe/Lisbon")[0].hour == 20


def test_the_leap_second_of_2016() -> None:
    # IERS Bulletin C 52: 23:59:60 on 2016 December 31.
    last = Instants.from_datetime(datetime(2016, 12, 31, 23, 59, 59, tzinfo=UTC))
    first = Instants.from_datetime(datetime(2017, 1, 1, tzinfo=UTC))
    assert first.seconds_since(last) == pytest.approx([2.0], abs=1e-4)
    assert last.plus(2.0).to_datetimes() == [datetime(2017, 1, 1, tzinfo=UTC)]
    # UT1-UTC jumps by a second there, the Earth doesn't.
    jump = first.dut1_s - last.dut1_s
    assert jump == pytest.approx([1.0], abs=0.01)
    noon = Instants.from_datetime(datetime(2016, 12, 31, 12, tzinfo=UTC))
    assert noon.to_datetimes() == [datetime(2016, 12, 31, 12, tzinfo=UTC)]


def test_beyond_the_table_it_says_so_and_keeps_the_last_value() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")  # ERFA's 'dubious year' must not come through
        far = Instants.from_datetime(datetime(2049, 6, 1, tzinfo=UTC))
        early = Instants.from_datetime(datetime(1965, 6, 1, tzinfo=UTC))
        near = Instants.from_datetime(datetime(2026, 6, 1, tzinfo=UTC))
    assert far.doubts[0].kind is RotationDoubtKind.AFTER_TABLE
    assert "last value" in rotation_words(far.doubts)
    assert "3″" in rotation_words(far.doubts)
    assert [doubt.kind for doubt in early.doubts] == [RotationDoubtKind.BEFORE_TABLE]
    assert "first value" in rotation_words(early.doubts)
    assert near.doubts == ()
    assert rotation_words(near.doubts) == ""
    table = earth_rotation_table()
    assert far.dut1_s == pytest.approx(table.ut1_minus_tai_s[-1] + 37.0, abs=1e-9)
    assert earth_rotation_at(np.zeros(0))[3] == ()


def test_the_table_is_daily_and_reaches_into_predictions() -> None:
    table = earth_rotation_table()
    assert (np.diff(table.mjd) == 1.0).all()
    assert table.mjd[0] == 41684.0  # 1973 January 2
    assert table.mjd[-1] - table.predicted_from_mjd > 300
    assert np.abs(np.diff(table.ut1_minus_tai_s)).max() < 0.006  # longest day was 4 ms too long
    assert np.abs(table.xp_rad).max() < np.radians(1 / 3600)


def test_grid() -> None:
    g = Instants.grid(EVENING, EVENING + timedelta(hours=1), step_s=600)
    assert len(g) == 7
    assert g.seconds_since(g[0]) == pytest.approx(np.arange(7) * 600.0, abs=1e-4)
    assert len(Instants.grid(EVENING, count=720)) == 720
    assert len(list(iter(g))) == 7
    with pytest.raises(AxletreeError, match="either a stop or a count"):
        Instants.grid(EVENING)
    with pytest.raises(AxletreeError, match="before the start"):
        Instants.grid(EVENING, EVENING - timedelta(hours=1))
    with pytest.raises(AxletreeError, match="step_s"):
        Instants.grid(EVENING, count=3, step_s=0.0)


def test_nights_run_from_noon_to_noon_by_the_local_clock() -> None:
    night = Night.of(date(2026, 10, 24), "Europe/Lisbon")  # the clocks go back that night
    assert night.start.isoformat() == "2026-10-24T12:00:00+01:00"
    assert night.stop.isoformat() == "2026-10-25T12:00:00+00:00"
    assert night.length_s == 25 * 3600
    assert len(night.instants(3600.0)) == 25
    assert night.hours_after_start(night.stop) == 25.0
    lisbon = ZoneInfo("Europe/Lisbon")
    assert Night.containing(datetime(2026, 10, 25, 11, 59, tzinfo=lisbon), lisbon) == night
    after = Night.containing(datetime(2026, 10, 25, 12, 0, tzinfo=lisbon), lisbon)
    assert after.date == date(2026, 10, 25)
    year = nights_between(date(2026, 1, 1), date(2026, 12, 31), "Pacific/Auckland")
    assert len(year) == 365
    assert all(a.stop == b.start for a, b in pairwise(year))
    with pytest.raises(AxletreeError, match="before the first"):
        nights_between(date(2026, 2, 1), date(2026, 1, 1), "UTC")


@pytest.mark.parametrize(
    ("values", "word"),
    [
        ({"latitude_deg": 95.0, "longitude_deg": 0.0}, "latitude_deg"),
        ({"latitude_deg": float("nan"), "longitude_deg": 0.0}, "latitude_deg"),
        ({"latitude_deg": 0.0, "longitude_deg": 400.0}, "longitude_deg"),
        ({"latitude_deg": 0.0, "longitude_deg": 0.0, "elevation_m": 20000.0}, "elevation_m"),
        ({"latitude_deg": 0.0, "longitude_deg": 0.0, "pressure_hpa": 2000.0}, "pressure_hpa"),
        ({"latitude_deg": 0.0, "longitude_deg": 0.0, "temperature_c": 290.0}, "temperature_c"),
        ({"latitude_deg": 0.0, "longitude_deg": 0.0, "relative_humidity": 50.0}, "humidity"),
    ],
)
def test_impossible_observers_are_refused(values: dict[str, float], word: str) -> None:
    with pytest.raises(AxletreeError, match=word):
        Observer(**values)


def test_observer_air() -> None:
    assert Observer(0.0, 0.0).air_pressure_hpa == pytest.approx(1013.25)
    assert Observer(0.0, 0.0, 2000.0).air_temperature_c == pytest.approx(2.0)
    given = Observer(-1.0, 0.0, 2000.0, 800.0, 12.0)
    assert (given.air_pressure_hpa, given.air_temperature_c, given.north) == (800.0, 12.0, False)
