"""What Moon, planets and pairs show at the eyepiece, and where their parts lie in a view."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from axletree.find.at_eyepiece.answer import (
    BesidePlanet,
    MoonAtEyepiece,
    PairAtEyepiece,
    PlanetAtEyepiece,
)
from axletree.find.at_eyepiece.ask import at_eyepiece
from axletree.find.at_eyepiece.in_view import disc_in_view, feature_places
from axletree.find.view import SkyTurn
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.happenings.kinds import HappeningKind
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

HERE = Observer(52.0, 10.0, 100.0)
AT = datetime(2026, 12, 19, 23, 30, tzinfo=UTC)
# North up; as the sky is, east to the left; in a mirror, east to the right.
PLAIN = SkyTurn(0.0, 90.0, 0.0, False)
MIRRORED = SkyTurn(0.0, 270.0, 0.0, True)
UPSIDE_DOWN = SkyTurn(180.0, 270.0, 180.0, False)


def shown(name: str, at: datetime = AT) -> object:
    return at_eyepiece(find(name), at, HERE)


def test_what_is_a_mere_spot_shows_nothing() -> None:
    assert shown("M31") is None
    assert shown("Sun") is None
    assert isinstance(shown("Albireo"), PairAtEyepiece)
    assert isinstance(shown("Moon"), MoonAtEyepiece)


def test_jupiters_moons_stand_where_stars_of_their_places_would() -> None:
    """Their offsets beside those of a star put at the moon's right ascension and declination,
    along the way that every star goes. Within 0.5″ (the two theories' spread and the air)."""
    jupiter = shown("Jupiter")
    assert isinstance(jupiter, PlanetAtEyepiece)
    assert {m.name for m in jupiter.moons} == {"io", "europa", "ganymede", "callisto"}
    now = Instants.from_datetime(AT)
    middle = object_positions([find("Jupiter")], now, HERE)
    ra = float(middle.right_ascension_h[0, 0]) * 15.0
    dec = float(middle.declination_deg[0, 0])
    disc = disc_in_view(jupiter, PLAIN.matrix())
    assert disc is not None
    for moon, (x, y) in disc.moons:
        p, apart = np.radians(moon.position_angle_deg), moon.apart_arcsec / 3600.0
        star_ra = ra + apart * np.sin(p) / np.cos(np.radians(dec))
        star_dec = dec + apart * np.cos(p)
        # On the sky: east is where right ascension grows, on the left with north up.
        assert -x * disc.radius_arcsec == pytest.approx(
            (star_ra - ra) * np.cos(np.radians(star_dec)) * 3600.0, abs=0.5
        )
        assert y * disc.radius_arcsec == pytest.approx((star_dec - dec) * 3600.0, abs=0.5)
        # Along its own equator it is as far, the disc's axis turned off.
        assert np.hypot(x, y) == pytest.approx(moon.apart_radii, rel=2e-3, abs=0.02)


def test_a_diagonal_changes_left_and_right_and_a_newtonian_turns_half_round() -> None:
    jupiter = shown("Jupiter")
    assert isinstance(jupiter, PlanetAtEyepiece)
    discs = [disc_in_view(jupiter, t.matrix()) for t in (PLAIN, MIRRORED, UPSIDE_DOWN)]
    plain, mirrored, turned = ({m.name: at for m, at in d.moons} for d in discs if d)
    assert any(abs(x) > 2.0 for x, _ in plain.values())
    for name, (x, y) in plain.items():
        assert mirrored[name] == pytest.approx((-x, y))
        assert turned[name] == pytest.approx((-x, -y))


def test_io_goes_dark_before_it_is_hidden_and_the_hour_ahead_is_told() -> None:
    """19 December 2026: before opposition (10 February 2027, from memory) Jupiter's shadow lies
    west of it, and Io meets the shadow first."""
    before = shown("Jupiter", datetime(2026, 12, 19, 21, 0, tzinfo=UTC))
    assert isinstance(before, PlanetAtEyepiece)
    io = next(m for m in before.moons if m.name == "io")
    assert io.state is BesidePlanet.IN_SHADOW
    assert not io.state.seen
    assert HappeningKind.MOON_IN_SHADOW in {h.kind for h in before.happenings}
    hidden = shown("Jupiter")
    assert isinstance(hidden, PlanetAtEyepiece)
    assert next(m for m in hidden.moons if m.name == "io").state is BesidePlanet.BEHIND_DISC
    later = at_eyepiece(find("Jupiter"), AT, HERE, AT + timedelta(minutes=2))
    assert isinstance(later, PlanetAtEyepiece)
    assert {h.actor for h in later.happenings} == {"io"}


def test_the_waxing_moon_is_bright_on_the_west_and_its_eastern_sea_lies_there() -> None:
    """Common knowledge: from the north, high in the evening, the waxing Moon is bright on the
    right, and Mare Crisium lies at its right edge."""
    moon = shown("Moon", datetime(2026, 12, 17, 18, 0, tzinfo=UTC))
    assert isinstance(moon, MoonAtEyepiece)
    assert moon.waxing
    disc = disc_in_view(moon, PLAIN.matrix())
    assert disc is not None
    assert disc.dark is not None
    assert disc.dark[:, 0].mean() < -0.3
    assert moon.features
    places = feature_places(moon, PLAIN.matrix())
    for lit, (x, y) in zip(moon.features, places, strict=True):
        assert np.hypot(x, y) == pytest.approx(np.hypot(lit.right_radii, lit.up_radii))
        assert np.hypot(x, y) <= 1.0
    east = replace(moon.features[0], right_radii=0.85, up_radii=0.25)
    [(x, y)] = feature_places(replace(moon, features=(east,)), PLAIN.matrix())
    assert x > 0.6


def test_the_lit_part_drawn_is_the_lit_part_told() -> None:
    """The area of the unlit part's edge (shoelace formula) beside the fraction told."""
    for name, at in (("Venus", datetime(2026, 9, 20, 18, tzinfo=UTC)), ("Moon", AT)):
        body = shown(name, at)
        assert isinstance(body, PlanetAtEyepiece | MoonAtEyepiece)
        disc = disc_in_view(body, PLAIN.matrix())
        assert disc is not None
        assert disc.dark is not None
        x, y = disc.dark.T
        area = 0.5 * abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
        assert 1.0 - area / np.pi == pytest.approx(body.lit_fraction, abs=2e-3)


def test_the_nearer_half_of_the_rings_is_on_the_far_side_of_the_pole_that_leans_to_us() -> None:
    saturn = shown("Saturn", datetime(2026, 12, 5, 20, 30, tzinfo=UTC))
    assert isinstance(saturn, PlanetAtEyepiece)
    assert saturn.rings is not None
    upright = replace(saturn, axis_deg=0.0)
    for opening in (20.0, -20.0):
        rings = replace(upright.rings, opening_deg=opening, short_over_long=0.34)
        assert rings is not None
        disc = disc_in_view(replace(upright, rings=rings), PLAIN.matrix())
        assert disc is not None
        outer = disc.rings[0]
        near = outer[1 : len(outer) // 2]
        assert np.all(np.sign(near[:, 1]) == -np.sign(opening))
        assert outer[:, 0].max() == pytest.approx(
            saturn.rings.outer_arcsec / saturn.diameter_arcsec
        )


def test_pairs_keep_what_the_catalogue_says() -> None:
    albireo: SkyObject = find("Albireo")
    pair = at_eyepiece(albireo, AT, HERE)
    assert isinstance(pair, PairAtEyepiece)
    assert pair.separation_arcsec == albireo.separation_arcsec
    # 54° and 34.6″ (from memory; common lists say 54° to 55°, 34″ to 35″).
    assert pair.position_angle_deg == pytest.approx(54.0, abs=1.5)
    assert pair.separation_arcsec == pytest.approx(34.6, abs=0.8)


def eclipsed(at: datetime) -> MoonAtEyepiece:
    moon = shown("Moon", at)
    assert isinstance(moon, MoonAtEyepiece)
    assert moon.shadow is not None
    return moon


@pytest.mark.parametrize(
    ("at", "side_deg"),
    [
        # Which side of the shadow's middle the Moon passes: the sign of gamma in the canon of
        # F. Espenak and J. Meeus (+0.50 and -0.28, from memory): north of it, and south.
        (datetime(2026, 8, 28, 4, 13, tzinfo=UTC), 180.0),
        (datetime(2025, 9, 7, 18, 12, tzinfo=UTC), 0.0),
        # The Moon moves to the east, into the shadow and out of it.
        (datetime(2026, 8, 28, 2, 45, tzinfo=UTC), 90.0),
        (datetime(2026, 8, 28, 5, 40, tzinfo=UTC), 270.0),
    ],
)
def test_the_earths_shadow_comes_from_where_it_is(at: datetime, side_deg: float) -> None:
    shadow = eclipsed(at).shadow
    assert shadow is not None
    assert abs((shadow.toward_deg - side_deg + 180.0) % 360.0 - 180.0) < 75.0


def test_the_part_in_the_umbra_that_is_drawn_is_the_part_told() -> None:
    """Across the shadow it is as wide as the umbral magnitude says; wholly within, all of it."""
    moon = eclipsed(datetime(2026, 8, 28, 3, 15, tzinfo=UTC))
    assert moon.shadow is not None
    assert 0.3 < moon.shadow.umbral_magnitude < 0.8
    disc = disc_in_view(moon, PLAIN.matrix())
    assert disc is not None
    assert disc.dark is not None
    p = np.radians(moon.shadow.toward_deg)
    # North up, east on the left.
    along = disc.dark @ np.array([-np.sin(p), np.cos(p)])
    assert float(np.ptp(along)) / 2.0 == pytest.approx(moon.shadow.umbral_magnitude, abs=1e-3)
    assert float(along.max()) == pytest.approx(1.0, abs=1e-3)
    total = disc_in_view(eclipsed(datetime(2025, 9, 7, 18, 12, tzinfo=UTC)), PLAIN.matrix())
    assert total is not None
    assert total.dark is not None
    x, y = total.dark.T
    area = 0.5 * abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    assert area == pytest.approx(np.pi, abs=0.02)
    before = disc_in_view(eclipsed(datetime(2026, 8, 28, 2, 20, tzinfo=UTC)), PLAIN.matrix())
    assert before is not None
    assert before.dark is None
