"""What the moons do: against a plain scan of the same geometry, and against itself."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.moons.before_the_disc import before_disc, from_edge_km
from axletree.sky.moons.phenomena import (
    CONTACTS,
    Contact,
    MoonEvent,
    moon_phenomena,
    phenomena_table,
)
from axletree.sky.moons.places import moon_places
from axletree.sky.moons.sight import sight, smooth_sight
from axletree.sky.moons.systems import JUPITER
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.time.instants import Instants

START = datetime(2026, 12, 5, tzinfo=UTC)


def test_a_plain_scan_finds_the_same() -> None:
    """Every half minute for six days: what stands before, behind or dark, counted in places."""
    days = 6
    found = moon_phenomena("jupiter", START, START + timedelta(days=days))
    assert len(found) > 20
    instants = Instants.grid(START, START + timedelta(days=days), step_s=30.0)
    places = moon_places("jupiter", instants)
    shadow = np.isfinite(places.shadow_west_radii)
    for event, mask, contacts in (
        (MoonEvent.SHADOW, shadow, (Contact.MIDDLE_IN, Contact.MIDDLE_OUT)),
        (MoonEvent.TRANSIT, places.before, (Contact.FIRST_EDGE_IN, Contact.LAST_EDGE_OUT)),
        (MoonEvent.OCCULTATION, places.behind, (Contact.FIRST_EDGE_IN, Contact.LAST_EDGE_OUT)),
        (MoonEvent.ECLIPSE, places.dark, (Contact.MIDDLE_IN, Contact.MIDDLE_OUT)),
    ):
        for row, moon in enumerate(places.names):
            begins = np.flatnonzero(~mask[row, :-1] & mask[row, 1:]) + 1
            mine = [p for p in found if p.event is event and p.moon == moon]
            told = [c.time for p in mine if (c := p.at(contacts[0])) and c.time > START]
            assert len(told) == len(begins)
            for k, time in zip(begins, told, strict=True):
                scanned = START + timedelta(seconds=30.0 * int(k))
                assert abs((scanned - time).total_seconds() - 15.0) < 25.0


def test_order_and_errors() -> None:
    found = moon_phenomena("jupiter", START, START + timedelta(days=30))
    assert {p.event for p in found} == set(MoonEvent)
    for p in found:
        times = [c.time for c in p.contacts]
        assert times == sorted(times)
        assert [c.contact for c in p.contacts] == [c for c in CONTACTS if p.at(c)]
        assert p.grazing == (len(times) < 6)
        assert all(3.0 < c.doubt_s < 400.0 for c in p.contacts)
        # A moon's own width at the edge: Io 3.5 minutes, Callisto 10, more where it passes aslant.
        if not p.grazing:
            assert 150.0 < (times[2] - times[0]).total_seconds() < 3600.0
    middles = [p.contacts[0].time + (p.contacts[-1].time - p.contacts[0].time) / 2 for p in found]
    late = [(b - a).total_seconds() for a, b in pairwise(middles)]
    assert min(late) > -600.0


def test_what_nobody_sees_is_marked() -> None:
    """Before opposition moons go dark west of Jupiter and come out behind it (common practice)."""
    found = moon_phenomena("jupiter", START, START + timedelta(days=10))
    io = [
        p for p in found if p.moon == "io" and p.event in (MoonEvent.ECLIPSE, MoonEvent.OCCULTATION)
    ]
    assert len(io) > 8
    for p in io:
        into, out = p.at(Contact.MIDDLE_IN), p.at(Contact.MIDDLE_OUT)
        assert into is not None
        assert out is not None
        assert into.seen == (p.event is MoonEvent.ECLIPSE)
        assert out.seen == (p.event is MoonEvent.OCCULTATION)


def test_a_span_knows_what_began_before_it() -> None:
    whole = moon_phenomena("jupiter", START, START + timedelta(days=4))
    middle = whole[len(whole) // 2]
    inside = middle.contacts[2].time + timedelta(minutes=5)
    part = moon_phenomena("jupiter", inside, inside + timedelta(minutes=1))
    same = [p for p in part if (p.moon, p.event) == (middle.moon, middle.event)]
    assert len(same) == 1
    apart = [
        abs((a.time - b.time).total_seconds())
        for a, b in zip(same[0].contacts, middle.contacts, strict=True)
    ]
    assert max(apart) < 1.0


def test_the_smooth_sight_is_the_sight() -> None:
    base = Instants.from_datetime(START)
    kernel = load_ephemeris()
    seconds = np.linspace(0.0, 40 * 86400.0, 57)
    smooth = smooth_sight("jupiter", base, 40 * 86400.0, kernel).at(seconds)
    plain = sight("jupiter", base.plus(seconds), kernel, np.zeros(3))
    assert np.abs(smooth.days - plain.days).max() * 86400.0 < 1e-3
    assert np.abs(smooth.to_observer_km - plain.to_observer_km).max() < 5.0
    assert np.abs(smooth.to_sun_km - plain.to_sun_km).max() < 5.0
    assert np.abs(smooth.velocity_km_s - plain.velocity_km_s).max() < 1e-3


def test_titan_and_refusals() -> None:
    found = moon_phenomena(
        "saturn", datetime(2025, 7, 1, tzinfo=UTC), datetime(2025, 8, 1, tzinfo=UTC)
    )
    assert {p.event for p in found} == {MoonEvent.SHADOW, MoonEvent.ECLIPSE}
    # Sun 1.9 to 2.4 degrees over the rings: every orbit has its shadow, 16 days apart.
    shadows = [p.contacts[0].time for p in found if p.event is MoonEvent.SHADOW]
    assert (shadows[1] - shadows[0]).total_seconds() / 86400.0 == pytest.approx(15.95, abs=0.05)
    assert (
        moon_phenomena("saturn", datetime(2032, 1, 1, tzinfo=UTC), datetime(2032, 3, 1, tzinfo=UTC))
        == []
    )
    with pytest.raises(AxletreeError):
        moon_phenomena(
            "jupiter", datetime(2060, 1, 1, tzinfo=UTC), datetime(2060, 1, 2, tzinfo=UTC)
        )


@pytest.mark.parametrize("from_sun", [False, True])
def test_light_on_its_way(from_sun: bool) -> None:
    """Each ray followed by itself: when it left the moon, and where Jupiter stood when it passed.

    Solved anew from the barycentric places, without the short ways of `before_disc` (linear in
    the seconds between moon and planet): 5 km, 0.5 s of Callisto.
    """
    c = 299792.458
    kernel = load_ephemeris()
    instants = Instants.from_datetimes([START + timedelta(days=1.7 * k) for k in range(12)])
    once = sight("jupiter", instants, kernel, np.zeros(3))
    t = (instants.tt1 - 2451545.0) + instants.tt2

    def body(name: str, days: np.ndarray) -> np.ndarray:
        where = kernel.barycentric_au(name, np.full(len(days), 2451545.0), days)
        return np.asarray(where * 149597870.7)

    def length(v: np.ndarray) -> np.ndarray:
        return np.linalg.norm(v, axis=1)

    near_sides = set()
    for moon in range(4):
        which = np.full(len(t), moon)

        def at(days: np.ndarray, which: np.ndarray = which) -> np.ndarray:
            return body("jupiter", days) + JUPITER.state(which, days)[0]

        line = before_disc(JUPITER, which, np.full(len(t), from_sun), once)
        shadow = from_sun & (line.z > 0.0)
        near_sides |= set(shadow.tolist())
        left = once.days.copy()
        for _ in range(6):
            # The moon's own light comes in now; a shadow's edge passed the moon on its way down
            # to the plane of Jupiter's disc, whose light comes in now.
            along = np.sum(line.z_axis * (at(left) - body("jupiter", once.days)), axis=1)
            down = once.days - along / c / 86400.0
            seen = t - length(body("earth", t) - at(left)) / c / 86400.0
            left = np.where(shadow, down, seen)
        # Jupiter when the light that the moon now lacks was level with it.
        height = np.sum(line.z_axis * JUPITER.state(which, left)[0], axis=1)
        passed = np.where(shadow, once.days, left + height / c / 86400.0)
        planet = body("jupiter", passed if from_sun else once.days)
        assert length(at(left) - planet - line.place).max() < 5.0
    assert near_sides == ({False, True} if from_sun else {False})


def test_the_shadow_on_the_disc() -> None:
    """It lies on the disc, runs from east to west, and leads its moon's place before opposition
    (the Sun then stands west of us seen from Jupiter; common practice)."""
    found = moon_phenomena("jupiter", START, START + timedelta(days=8))
    one = next(p for p in found if p.event is MoonEvent.SHADOW and p.moon == "io")
    into, out = one.at(Contact.MIDDLE_IN), one.at(Contact.MIDDLE_OUT)
    assert into is not None
    assert out is not None
    span = (out.time - into.time).total_seconds()
    instants = Instants.from_datetime(into.time).plus(np.linspace(2.0, span - 2.0, 41))
    places = moon_places("jupiter", instants)
    west, north = places.shadow_west_radii[0], places.shadow_north_radii[0]
    assert np.isfinite(west).all()
    assert np.all(np.diff(west) > 0.0)
    assert np.hypot(west, north * 71492.0 / 66854.0).max() <= 1.001
    assert np.hypot(west[0], north[0]) > 0.97
    assert np.hypot(west[-1], north[-1]) > 0.97
    assert places.shadow_squeeze[0, 20] > 0.95
    assert places.shadow_squeeze[0, [0, -1]].max() < 0.3
    assert np.all(west > places.west_radii[0])
    # Io's disc: 1.2 arcseconds at opposition, 4.2 au (handbooks).
    assert 0.9 < places.size_arcsec[0, 0] < 1.25


def test_each_contact_is_the_edges_own() -> None:
    """A moon's middle stands outside Jupiter's edge by its radius when its first edge comes in,
    inside by as much when the last one has; and so again on its way out (that is what a contact
    is). Radii in km: D. R. Williams, Planetary Fact Sheet, NASA."""
    base = Instants.from_datetime(START)
    length_s = 40 * 86400.0
    table = phenomena_table("jupiter", base, length_s)
    smooth = smooth_sight("jupiter", base, length_s, load_ephemeris())
    events = tuple(MoonEvent)
    across = [events.index(e) for e in (MoonEvent.TRANSIT, MoonEvent.OCCULTATION)]
    whole = np.isfinite(table.seconds).all(axis=1) & np.isin(table.event, across)
    moon = table.moon[whole]
    assert set(moon.tolist()) >= {0, 1, 2}
    radius = np.array([1821.6, 1560.8, 2631.2, 2410.3])[moon]
    for contact, part in zip(CONTACTS, (1.0, 0.0, -1.0, -1.0, 0.0, 1.0), strict=True):
        at = smooth.at(table.seconds[whole, CONTACTS.index(contact)])
        line = before_disc(JUPITER, moon, np.zeros(len(moon), dtype=bool), at)
        outside = from_edge_km("jupiter", line.x, line.y, line.tilt_rad)
        assert outside / radius == pytest.approx(part, abs=0.03), contact
