"""The Moon's list of features, and which of them stand in the light."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from axletree.sky.directions import separation_deg, vector_from_angles
from axletree.sky.events.moon_phases import moon_phases
from axletree.sky.lunar.features import FeatureKind, moon_features
from axletree.sky.lunar.light import (
    APART_DEG,
    HIGHEST_SUN_DEG,
    LOWEST_SUN_DEG,
    best_lit,
    eye_heights_deg,
    sun_heights_deg,
    sun_rises,
)
from axletree.sky.lunar.nodding import moon_face
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

TORONTO = Observer(43.7, -79.4, 100.0)


def test_the_list() -> None:
    features = moon_features()
    assert len(features) >= 120
    assert len({f.name for f in features}) == len(features)
    assert {f.kind for f in features} == set(FeatureKind)
    # The gazetteer has craters and seas of 50 km and more: ours all found their row.
    large = [f for f in features if f.kind is FeatureKind.CRATER and f.size_km >= 52]
    assert len(large) > 60
    assert all(f.error_deg == 0.01 for f in large)


@pytest.mark.parametrize(
    ("name", "latitude", "longitude", "size"),
    [
        # A. Rükl, Atlas of the Moon, 1990 (from memory): to 0.5 degrees and a tenth of the size.
        ("Copernicus", 9.7, -20.0, 93),
        ("Tycho", -43.3, -11.2, 85),
        ("Plato", 51.6, -9.3, 101),
        ("Theophilus", -11.4, 26.4, 100),
        ("Clavius", -58.4, -14.4, 225),
        ("Petavius", -25.3, 60.4, 177),
        ("Gassendi", -17.5, -39.9, 110),
        ("Mare Crisium", 16.7, 59.0, 555),
        ("Aristarchus", 23.7, -47.4, 40),
        ("Rupes Recta", -22.0, -7.8, 134),
    ],
)
def test_places_of_an_atlas(name: str, latitude: float, longitude: float, size: float) -> None:
    one = next(f for f in moon_features() if f.name == name)
    apart = separation_deg(one.longitude_deg, one.latitude_deg, longitude, latitude)
    assert apart < 0.6
    assert one.size_km == pytest.approx(size, rel=0.1)


def test_the_light_at_the_quarters() -> None:
    """At first quarter the Sun rises over the middle of the disc, at last quarter it sets there;
    the terminator stands there (common practice, no source). Libration moves it by 8 degrees."""
    phases = moon_phases(datetime(2026, 1, 1, tzinfo=UTC), datetime(2027, 1, 1, tzinfo=UTC))
    by_name = {n: [p.time for p in phases if p.name == n] for n in {p.name for p in phases}}
    for name, colongitude in (("first quarter", 0.0), ("full", 90.0), ("last quarter", 180.0)):
        face = moon_face(Instants.from_datetimes(by_name[name]), None)
        # Eclipse or not, the Sun's longitude there differs from the Earth's by the phase alone.
        middle = (face.colongitude_deg - colongitude + face.longitude_deg + 180.0) % 360.0 - 180.0
        assert np.abs(middle).max() < 1.5
    first = moon_face(Instants.from_datetimes(by_name["first quarter"]), TORONTO)
    for k in range(len(by_name["first quarter"])):
        best = best_lit(first, k)
        assert len(best) == 5
        assert all(b.rising for b in best)
        assert all(LOWEST_SUN_DEG <= b.sun_deg <= HIGHEST_SUN_DEG for b in best)
        assert all(np.hypot(b.right_radii, b.up_radii) < 0.95 for b in best)
        places = vector_from_angles(
            np.array([b.feature.longitude_deg for b in best]),
            np.array([b.feature.latitude_deg for b in best]),
        )
        together = np.degrees(np.arccos(np.clip(places @ places.T, -1, 1)))
        assert together[~np.eye(5, dtype=bool)].min() >= APART_DEG
    full = moon_face(Instants.from_datetimes(by_name["full"]), TORONTO)
    assert all(len(best_lit(full, k)) <= 2 for k in range(len(by_name["full"])))


def test_colongitude_at_sunrise_over_copernicus() -> None:
    """The Sun rises over a feature when the colongitude is its western longitude (Meeus 1998,
    ch. 53): 20 degrees for Copernicus, less what the Sun's latitude does near the equator."""
    start = datetime(2026, 8, 20, tzinfo=UTC)
    instants = Instants.from_datetimes([start + timedelta(hours=k) for k in range(96)])
    face = moon_face(instants, None)
    k = next(j for j, f in enumerate(moon_features()) if f.name == "Copernicus")
    up = sun_heights_deg(face)[:, k]
    rise = int(np.argmin(np.abs(up)))
    assert 0 < rise < 95
    assert face.colongitude_deg[rise] == pytest.approx(20.1, abs=0.6)
    assert np.all(np.diff(up) > 0)
    assert sun_rises(face)[:, k].all()
    # The Sun climbs 12.19 degrees a day at the equator.
    assert (up[-1] - up[0]) / (95 / 24) == pytest.approx(12.19 * np.cos(np.radians(9.6)), rel=0.02)


def test_the_middle_of_the_disc_is_where_the_eye_stands_highest() -> None:
    face = moon_face(Instants.from_datetime(datetime(2026, 3, 1, tzinfo=UTC)), TORONTO)
    heights = eye_heights_deg(face)[0]
    features = moon_features()
    apart = [
        separation_deg(f.longitude_deg, f.latitude_deg, face.longitude_deg[0], face.latitude_deg[0])
        for f in features
    ]
    assert heights == pytest.approx(90.0 - np.array(apart), abs=1e-6)
