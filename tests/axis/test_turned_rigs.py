"""The circles of imperfect mounts against mounts whose shafts are turned by scipy's `Rotation`."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest
from turned_rigs import Rigs, hours_apart, random_rigs, shafts, up_to_90

from axletree.axis.model import learned, unmeasured
from axletree.axis.shown import circles_shown, instrument_angles, pointed_at
from axletree.axis.unknowns import USUAL_INDEX_ARCMIN, ModelPart
from axletree.sky.observer import Observer

BOTH_POLES = pytest.mark.parametrize("sign", [1.0, -1.0], ids=["north", "south"])
AT = datetime(2026, 10, 10, 20, tzinfo=UTC)


def model_of(rigs: Rigs, k: int):
    """The pointing model that knows rig `k` exactly."""
    values = [rigs.high, rigs.east, rigs.slip_hour, rigs.slip_declination, rigs.cone, rigs.lean]
    own = unmeasured(0.0, 0.0, AT)
    return own.with_values(np.array([v[k] for v in values]), np.zeros((6, 6)))


def observer_of(rigs: Rigs, k: int) -> Observer:
    pressure = 1013.25 * rigs.air
    return Observer(
        float(rigs.latitude_deg[k]), 0.0, pressure_hpa=pressure, temperature_c=15.0,
    )  # fmt: skip


def on_stars(rng, rigs, most_declination, lowest):
    """Shafts turned anywhere on either side, and the stars in the tubes; those high enough."""
    n = len(rigs.high)
    side = rng.choice([1.0, -1.0], n)
    declination = rng.uniform(-most_declination, most_declination, n)
    turned = shafts(side, rng.uniform(-6.0, 6.0, n), declination)
    hour, dec, altitude = rigs.stars_at(*turned)
    return side, turned, hour, dec, np.flatnonzero(altitude > lowest)


@BOTH_POLES
def test_errors_up_to_three_degrees_and_declinations_up_to_85(sign):
    """Circles within 0.01 degree of the turned mount; here far nearer, both laws being exact."""
    rng = np.random.default_rng(16)
    rigs = random_rigs(rng, 300, sign, 180.0)
    side, turned, hour, dec, up = on_stars(rng, rigs, 85.0, 5.0)
    right_h, right_d = rigs.shown(*turned)
    worst = 0.0
    for k in up:
        model, observer = model_of(rigs, k), observer_of(rigs, k)
        circles = circles_shown(model, hour[k], dec[k], side[k], observer)
        # A mount's own hour circle reads 12 h off on the other side from where it was set.
        there = model.set_on(1)
        as_it_stands = circles_shown(there, hour[k], dec[k], side[k], observer)
        off_h = hours_apart(as_it_stands.hour_circle_h, right_h[k]) * 15.0
        off_d = circles.declination_circle_deg - up_to_90(right_d[k])
        worst = max(worst, abs(float(off_h)), abs(float(off_d)))
        half = 0.0 if side[k] > 0 else 12.0
        apart = hours_apart(circles.hour_circle_h + half, right_h[k])
        assert float(apart) == pytest.approx(0.0, abs=1e-6)
        counted = right_d[k] if side[k] > 0 else 180.0 - right_d[k]
        assert bool(circles.past_ninety) == (abs(counted) > 90.0)
        back = pointed_at(model, (circles.hour_circle_h, counted), side[k], observer)
        assert float(back.declination_deg) == pytest.approx(dec[k], abs=1e-6)
        east_west = hours_apart(back.hour_angle_h, hour[k]) * np.cos(np.radians(dec[k]))
        assert float(east_west) == pytest.approx(0.0, abs=1e-7)
    assert len(up) > 100
    assert worst < 1e-5


@BOTH_POLES
def test_through_the_air(sign):
    """Another refraction (Pulkovo) and the same turns: within 0.01 degree."""
    rng = np.random.default_rng(17)
    rigs = random_rigs(rng, 300, sign, 180.0, air=1.0)
    side, turned, hour, dec, up = on_stars(rng, rigs, 60.0, 20.0)
    right_h, right_d = rigs.shown(*turned)
    assert len(up) > 80
    for k in up:
        circles = circles_shown(model_of(rigs, k).set_on(1), hour[k], dec[k], side[k],
                                observer_of(rigs, k))  # fmt: skip
        assert abs(float(hours_apart(circles.hour_circle_h, right_h[k]))) * 15.0 < 0.01
        assert float(circles.declination_circle_deg) == pytest.approx(
            float(up_to_90(right_d[k])), abs=0.01
        )


@BOTH_POLES
def test_a_perfect_mount_stands_as_the_real_one_does(sign):
    """Room asks at which hour angle and declination a perfect mount would stand in this pose."""
    rng = np.random.default_rng(18)
    rigs = random_rigs(rng, 100, sign, 180.0)
    side, turned, hour, dec, up = on_stars(rng, rigs, 80.0, 5.0)
    assert len(up) > 30
    for k in up:
        own = instrument_angles(model_of(rigs, k), hour[k], dec[k], side[k], observer_of(rigs, k))
        again = shafts(side[k], *own)
        assert float(hours_apart(again[0] / 15.0, turned[0][k] / 15.0)) == pytest.approx(
            0, abs=1e-6
        )
        assert float(again[1]) == pytest.approx(turned[1][k], abs=1e-5)


@BOTH_POLES
@pytest.mark.parametrize("azimuth", [90.0, -60.0])
def test_a_head_turned_about_the_vertical_turns_its_hour_circle_too(sign, azimuth):
    """A level mount that faces 1.5 degrees wrong: the model knows the axis alone, to a hair.

    The hour circle that was right for the level head follows from it.
    """
    latitude = sign * np.full(40, 50.0)
    nought = np.zeros(40)
    rigs = Rigs(latitude, *(nought for _ in range(6)), azimuth_arcmin=azimuth)
    rng = np.random.default_rng(19)
    side, turned, hour, dec, up = on_stars(rng, rigs, 60.0, 5.0)
    right_h, right_d = rigs.shown(*turned)
    flat = np.cos(np.radians(50.0))
    model = unmeasured(300.0, 300.0, pole_altitude_deg=50.0)
    sure = model.covariance.copy()
    # The circles were right for the level head, and the tube is square.
    sure[2, 2] -= USUAL_INDEX_ARCMIN**2
    sure[[3, 4, 5], [3, 4, 5]] = 0.0

    # An axis turned about the vertical is a little higher, too: the versine, in the second order.
    a = np.radians(50.0)
    # Towards the east is clockwise from above for an axis to the north, the other way to the south.
    east = sign * np.sin(np.radians(azimuth / 60.0)) * flat
    toward = np.cos(a) * np.cos(a) * np.cos(np.radians(azimuth / 60.0)) + np.sin(a) ** 2
    high = -np.sin(a) * np.cos(a) * np.cos(np.radians(azimuth / 60.0)) + np.sin(a) * np.cos(a)
    size = np.arctan2(np.hypot(high, east), toward) / np.hypot(high, east) / np.radians(1 / 60.0)
    information = np.zeros((6, 6))
    information[0, 0] = information[1, 1] = 1e6
    values = np.array([high * size, east * size, 0, 0, 0, 0])
    start = model.with_values(np.zeros(6), sure)
    found = learned(start, values, information, (ModelPart.AXIS,), AT)
    observer = Observer(50.0 * sign, 0.0, pressure_hpa=0.0)
    circles = circles_shown(found.set_on(1), hour[up], dec[up], side[up], observer)
    assert len(up) > 10
    # To second order in a degree and a half: 1.2 arcminutes.
    assert np.abs(hours_apart(circles.hour_circle_h, right_h[up])).max() * 900.0 < 1.5
    assert np.abs(circles.declination_circle_deg - up_to_90(right_d[up])).max() * 60.0 < 0.01
    naive = circles_shown(found.with_values(values, np.zeros((6, 6))).set_on(1), hour[up], dec[up],
                          side[up], observer)  # fmt: skip
    assert np.abs(hours_apart(naive.hour_circle_h, right_h[up])).max() * 900.0 > 40.0
