"""Files that a person wrote: what is understood, and which line is wrong."""

from __future__ import annotations

from datetime import UTC, datetime, time

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.pole.rows.drift_file import read_drift
from axletree.pole.rows.readings_file import read_circles
from axletree.sky.observer import Observer

HERE = Observer(38.57, -7.91, 290.0)


def moment(words: str) -> datetime:
    try:
        return datetime.combine(datetime(2026, 12, 5), time.fromisoformat(words), tzinfo=UTC)
    except ValueError:
        return datetime.fromisoformat(words).replace(tzinfo=UTC)


def drift(text: str):
    return read_drift(text, "stars.csv", HERE, moment)


def test_every_way_of_giving_a_drift():
    rows = drift(
        "hour_angle_h,declination_deg,watched_s,drift_arcsec,divisions,division_arcsec,"
        "field_arcmin,field_part,towards\n"
        "0,10,300,-4.5,,,,,\n"
        "0,10,300,4.5,,,,,south\n"
        "0:30,10:30,300,,3,2.5,,,north\n"
        "-1,10,300,,,,30,,south\n"
        "-1,10,300,,,,30,1,north\n"
    )
    assert rows.drift_arcsec == pytest.approx([-4.5, -4.5, 7.5, -900.0, 1800.0])
    assert rows.hour_angle_h[2] == pytest.approx(0.5)
    assert rows.declination_deg[2] == pytest.approx(10.5)
    assert rows.lines == (2, 3, 4, 5, 6)


@pytest.mark.parametrize(
    ("north", "west", "view", "towards", "sign"),
    [
        ("up", "", "", "up", 1), ("up", "", "", "down", -1), ("left", "", "", "right", -1),
        # Facing south at the meridian with bare eyes north is up and west to the right.
        ("", "right", "straight", "up", 1),
        # A straight view is a turn of that: upside down, west is left and north down.
        ("", "left", "straight", "down", 1), ("", "up", "straight", "left", 1),
        # A star diagonal swaps left and right: north up, west left.
        ("", "left", "mirrored", "up", 1), ("", "right", "mirrored", "up", -1),
        ("", "up", "mirrored", "right", 1),
    ],
)  # fmt: skip
def test_directions_in_the_eyepiece(north, west, view, towards, sign):
    """Facts of the trade: an odd number of mirrors swaps left and right (common practice)."""
    rows = drift(
        "hour_angle_h,declination_deg,watched_s,drift_arcsec,towards,north_is,west_is,view\n"
        f"0,10,300,5,{towards},{north},{west},{view}\n"
    )
    assert rows.drift_arcsec[0] == pytest.approx(5.0 * sign)


def test_an_orientation_that_contradicts_itself_is_a_drift_of_the_wrong_sign():
    head = "hour_angle_h,declination_deg,watched_s,drift_arcsec,towards,north_is,west_is,view\n"
    with pytest.raises(AxletreeError, match=r"line 2, north_is.*north is down, not up.*mirrored"):
        drift(head + "0,10,300,5,up,up,left,straight\n")
    with pytest.raises(AxletreeError, match="north can't be left while west is left"):
        drift(head + "0,10,300,5,up,left,left,straight\n")
    with pytest.raises(AxletreeError, match=r"line 2, towards.*hour angle, not declination"):
        drift(head + "0,10,300,5,left,up,,\n")


def test_names_and_times_are_placed():
    from astropy import units as u
    from astropy.coordinates import EarthLocation, HADec, SkyCoord
    from astropy.time import Time
    from astropy.utils import iers

    iers.conf.auto_download, iers.conf.auto_max_age = False, None
    head = "star,started,watched_s,drift_arcsec\n"
    rows = drift(head + "Altair,19:20,300,1\nHIP 113963,19:40,300,2\n")
    assert rows.names == ("Altair", "Markab")
    site = EarthLocation.from_geodetic(-7.91, 38.57, 290.0)
    when = Time("2026-12-05T19:20:00")
    altair = SkyCoord(
        297.6958273 * u.deg, 8.8683212 * u.deg, pm_ra_cosdec=536.23 * u.mas / u.yr,
        pm_dec=385.29 * u.mas / u.yr, distance=5.13 * u.pc, obstime=Time(2000.0, format="jyear"),
    )  # fmt: skip
    seen = altair.apply_space_motion(new_obstime=when).transform_to(
        HADec(obstime=when, location=site)
    )
    # Position of J2000 from memory; the check is that the right star is at the right hour.
    assert rows.hour_angle_h[0] == pytest.approx(seen.ha.hour, abs=1e-3)
    assert rows.declination_deg[0] == pytest.approx(seen.dec.deg, abs=2e-3)
    assert rows.moments[1] == datetime(2026, 12, 5, 19, 40, tzinfo=UTC)


def test_a_series_becomes_one_drift():
    lines = "".join(f"Altair,19:2{k},{3.0 * k}\n" for k in range(6))
    rows = drift("star,read_at,offset_arcsec\n" + lines + "Markab,19:40,0\n,19:45,-8\n")
    assert rows.names == ("Altair", "Markab")
    assert rows.drift_arcsec == pytest.approx([15.0, -8.0])
    assert rows.watched_s == pytest.approx([300.0, 300.0])
    # A line through six even readings: the textbook's sigma of a slope.
    t = np.arange(6) * 60.0
    slope_sigma = 2.0 / np.sqrt(np.sum((t - t.mean()) ** 2))
    assert rows.sigma_arcsec[0] == pytest.approx(slope_sigma * 300.0)


def test_semicolons_and_decimal_commas():
    head = "hour_angle_h;declination_deg;watched_s;drift_arcsec\n"
    rows = drift(head + "\n# a remark\n1,5;10;300;-2,5\n")
    assert rows.drift_arcsec[0] == -2.5
    assert rows.lines == (4,)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no rows"),
        ("star,watched_s,drift_arcsec\n", "no rows"),
        ("star,watched,drift_arcsec\nVega,1,2\n", "no column 'watched'; did you mean 'watched_s'"),
        ("star,star,watched_s\nVega,Vega,3\n", "stands twice"),
        ("star,started,watched_s,drift_arcsec\nVega,21:05,300,x\n", "line 2, drift_arcsec: 'x' is"),
        ("star,started,watched_s,drift_arcsec\nVega,21:05,,1\n", "line 2, watched_s: is missing"),
        ("star,started,watched_s,drift_arcsec\nVega,21:05,0,1\n", "line 2, watched_s: 0 must lie"),
        ("star,started,watched_s,drift_arcsec\nVega,soon,300,1\n", "started: 'soon' is not a time"),
        ("star,started,watched_s,drift_arcsec\nVegga,21:05,300,1\n", "line 2, star: no object"),
        ("star,started,watched_s,drift_arcsec\nJupiter,21:05,300,1\n", "moves among the stars"),
        ("star,watched_s,drift_arcsec\nVega,300,1\n", "line 2: give the time"),
        ("watched_s,drift_arcsec\n300,1\n", "line 2: give a star's name"),
        ("star,started,watched_s\nVega,21:05,300\n", "line 2: give one of"),
        ("star,started,watched_s,drift_arcsec,towards\nVega,21:05,300,-1,north\n", "plain size"),
        ("star,started,watched_s,drift_arcsec,towards\nVega,21:05,300,1,up\n", "needs north_is"),
        ("star,started,watched_s,drift_arcsec\nVega,21:05,300,1,9\n", "line 2: 5 cells"),
        ("star,started,watched_s,drift_arcsec\nVega,21:05,300,nan\n", "'nan' is not a number"),
        ("star,started,watched_s,drift_arcsec\nSpica,21:05,300,1\n", "below the horizon"),
        ("star,read_at,offset_arcsec\nVega,21:05,1\n", "at least two different times"),
    ],
)
def test_a_broken_row_is_named(text, words):
    with pytest.raises(AxletreeError) as refused:
        drift(text)
    assert words in str(refused.value)
    assert str(refused.value).startswith("stars.csv")
    assert "\n" not in str(refused.value)


def test_a_right_ascension_circle_is_turned_into_an_hour_circle():
    text = (
        "star,read_at,tube_side,ra_circle_h,hour_circle_h,declination_circle_deg\n"
        "Altair,19:20,east,19.87,,8.9\n"
        "Altair,19:20,east,,3.9,8.9\n"
    )
    rows = read_circles(text, "circles.csv", HERE, moment)
    # Altair's right ascension of date is 19 h 52 m: both circles show its hour angle.
    assert rows.hour_circle_h[0] == pytest.approx(rows.hour_angle_h[0], abs=0.02)
    assert rows.hour_circle_h[1] == 3.9


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("Altair,19:20,up,1,,8", "tube_side: 'up' is not one of east, west"),
        ("Altair,19:20,,1,,8", "tube_side: is missing"),
        ("Altair,19:20,east,,,8", "give either hour_circle_h or ra_circle_h"),
        ("Altair,19:20,east,1,2,8", "give either hour_circle_h or ra_circle_h"),
        ("Altair,19:20,east,1,,", "declination_circle_deg: is missing"),
        ("Altair,,east,,2,8", "give the time at which Altair"),
    ],
)
def test_a_broken_circle_row_is_named(row, words):
    text = f"star,read_at,tube_side,ra_circle_h,hour_circle_h,declination_circle_deg\n{row}\n"
    with pytest.raises(AxletreeError) as refused:
        read_circles(text, "circles.csv", HERE, moment)
    assert words in str(refused.value)
    assert "line 2" in str(refused.value)
