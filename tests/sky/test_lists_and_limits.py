"""Figures of lists against what their names say, and where limits lie."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import SkyCoord

from axletree.kit.errors import AxletreeError
from axletree.sky.lunar.nodding import moon_face
from axletree.sky.moons.systems import SATURN
from axletree.sky.orbits.lines import LineError, read_line
from axletree.sky.special.shower_list import SHOWERS
from axletree.sky.time.instants import Instants
from orbit_lines import Made, comet_line, minor_planet_line

MADE = Made(q=1.2, e=0.6, argument=30.0, node=200.0, inclination=12.0,
            perihelion_jd=2461200.5, epoch_jd=2461100.5, slope=0.15)  # fmt: skip

# Beside the constellation of its name a radiant may stand in another at the peak: the Quadrantids
# in what was the Quadrant and is Bootes, the Lyrids just across the border of Hercules, the
# Perseids where Perseus meets Cassiopeia (any handbook, from memory).
ELSEWHERE = {"Quadrantids": "Bootes", "Lyrids": "Hercules", "Perseids": "Cassiopeia"}
STEMS = {
    "Aquariids": "Aquarius", "Capricornids": "Capricornus", "Perseids": "Perseus",
    "Aurigids": "Auriga", "Draconids": "Draco", "Orionids": "Orion", "Taurids": "Taurus",
    "Leonids": "Leo", "Geminids": "Gemini", "Ursids": "Ursa Minor",
}  # fmt: skip


@pytest.mark.parametrize("shower", SHOWERS, ids=lambda shower: shower.code)
def test_a_shower_is_named_for_where_it_comes_from(shower) -> None:
    """The radiant's constellation by astropy's borders (N. Roman 1987)."""
    meant = ELSEWHERE.get(shower.name) or STEMS[shower.name.split()[-1]]
    place = SkyCoord(shower.ra_deg * u.deg, shower.dec_deg * u.deg)
    assert place.get_constellation().replace("ö", "o") == meant


# Code: the Sun's longitude at the peak, radiant, population index and rate as the calendars of the
# International Meteor Organization print them (working list of the 2020s, from memory).
WORKING_LIST = """
QUA 283.15 230 49 2.1 80    LYR 32.32 271 34 2.1 18    ETA 45.5 338 -1 2.4 50
SDA 127 340 -16 2.5 25      CAP 127 307 -10 2.5 5      PER 140.0 48 58 2.2 100
AUR 158.6 91 39 2.5 6       SPE 166.7 48 40 3.0 5      DRA 195.4 262 56 2.6 5
ORI 208 95 16 2.5 20        STA 223 54 14 2.3 5        NTA 230 58 22 2.3 5
LEO 235.27 152 22 2.5 10    GEM 262.2 112 33 2.6 150   URS 270.7 217 76 2.8 10
"""


def test_showers_as_the_working_list_has_them() -> None:
    rows = np.array(WORKING_LIST.split()).reshape(-1, 6)
    assert [s.code for s in SHOWERS] == rows[:, 0].tolist()
    printed = rows[:, 1:].astype(float)
    ours = np.array([[s.peak_longitude_deg, s.ra_deg, s.dec_deg, s.population, s.zenith_rate]
                     for s in SHOWERS])  # fmt: skip
    # Editions differ by a degree in the radiant.
    assert np.all(np.abs(ours - printed) <= [0.005, 1.0, 1.0, 0.005, 0.005])


def test_the_sun_stands_in_the_moons_horizon_at_the_terminator() -> None:
    """Along the Moon's equator it comes up in the east of sunrise's place and is down west of it,
    at sunset's the other way round: the Moon turns eastwards, as the Earth does."""
    days = [datetime(2026, 3, d, tzinfo=UTC) for d in range(1, 30, 2)]
    face = moon_face(Instants.from_datetimes(days), None)
    for at, day_lies in ((face.sunrise_longitude_deg, 1.0), (face.sunset_longitude_deg, -1.0)):
        for beside in (0.0, 1.0, -1.0):
            a = np.radians(at + beside)
            up = np.stack([np.cos(a), np.sin(a), np.zeros_like(a)], axis=-1)
            height = np.degrees(np.arcsin(np.sum(up * face.to_sun, axis=-1)))
            assert height == pytest.approx(beside * day_lies, abs=0.01)


def test_titan_is_as_bright_as_handbooks_say() -> None:
    """Magnitude 8.3 at a mean opposition (handbooks, from memory): Saturn at 9.54 au, the Earth 1
    nearer."""
    seen = SATURN.magnitude_v10[0] + 5.0 * np.log10(9.54 * 8.54)
    assert seen == pytest.approx(8.3, abs=0.07)


@pytest.mark.parametrize("step_s", [1.0, 0.25])
def test_steps_of_time_may_be_short(step_s: float) -> None:
    start = datetime(2026, 8, 12, 21, tzinfo=UTC)
    grid = Instants.grid(start, count=5, step_s=step_s)
    assert grid.seconds_since(grid[:1]) == pytest.approx(np.arange(5) * step_s, abs=1e-6)
    with pytest.raises(AxletreeError, match="greater than 0"):
        Instants.grid(start, count=5, step_s=0.0)


@pytest.mark.parametrize("write", [comet_line, minor_planet_line])
def test_no_orbit_is_tilted_by_more_than_half_a_turn(write) -> None:
    """An inclination counts from 0 to 180 degrees (by definition)."""
    assert read_line(write(replace(MADE, inclination=179.9))).orbit.inclination_deg == 179.9
    with pytest.raises(LineError):
        read_line(write(replace(MADE, inclination=181.0)))


@pytest.mark.parametrize(
    ("first", "meant"),
    [("0073P       ", "73P"), ("    CK23A030", "C/2023 A3"), ("    PJ94P010", "P/1994 P1")],
)
def test_a_comet_without_its_name_is_told_by_its_first_columns(first: str, meant: str) -> None:
    """Columns 1-12: number, letter, packed designation (Minor Planet Center)."""
    line = first + comet_line(MADE)[12:102]
    assert read_line(line).name.key == meant


def test_a_minor_planet_comes_to_its_perihelion_when_its_anomaly_says() -> None:
    """Kepler: the mean anomaly grows evenly, a whole turn in a period of a^1.5 years. Between 180
    and 360 degrees the next perihelion is nearer than the last."""
    period = (MADE.q / (1.0 - MADE.e)) ** 1.5 * 365.2568983  # days; Gauss' year
    for part in (-0.45, -0.2, 0.05, 0.3, 0.49):
        made = replace(MADE, perihelion_jd=MADE.epoch_jd + part * period)
        orbit = read_line(minor_planet_line(made)).orbit
        assert orbit.perihelion_tt == pytest.approx(made.perihelion_jd, abs=0.01)
