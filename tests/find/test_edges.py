"""What is drawn and told of a finding where its parts begin and end, against plane geometry."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from axletree.find.at_eyepiece.answer import (
    BesidePlanet,
    EarthShadowOnMoon,
    MoonAtEyepiece,
    PlanetAtEyepiece,
    ShadowOnDisc,
)
from axletree.find.at_eyepiece.ask import at_eyepiece
from axletree.find.at_eyepiece.in_view import disc_in_view
from axletree.find.naked_eye import Hand, hand_measure
from axletree.find.view import SkyTurn
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer

HERE = Observer(52.0, 10.0, 100.0)
AT = datetime(2026, 12, 19, 23, 30, tzinfo=UTC)
PLAIN = SkyTurn(0.0, 90.0, 0.0, False)  # north up, east to the left


def common_part(apart: float, R: float) -> float:
    """Area that circles of radius 1 and R share (any handbook of plane geometry)."""
    if apart <= R - 1.0:
        return math.pi
    a = math.acos((apart**2 + 1.0 - R**2) / (2.0 * apart))
    b = math.acos((apart**2 + R**2 - 1.0) / (2.0 * apart * R))
    return a - math.sin(2 * a) / 2 + R**2 * (b - math.sin(2 * b) / 2)


@pytest.mark.parametrize("apart", [0.5, 1.69, 1.72, 2.0, 2.6, 3.2, 3.6])
@pytest.mark.parametrize("toward", [0.0, 70.0, 200.0])
def test_the_umbra_drawn_is_the_part_that_two_circles_share(apart: float, toward: float) -> None:
    moon = at_eyepiece(find("Moon"), AT, HERE)
    assert isinstance(moon, MoonAtEyepiece)
    umbra = 2.7  # in the Moon's radii, as usual
    shadow = EarthShadowOnMoon(0.5, 1.0, toward, apart, umbra)
    disc = disc_in_view(replace(moon, shadow=shadow), PLAIN.matrix())
    assert disc is not None
    assert disc.dark is not None
    x, y = disc.dark.T
    area = 0.5 * abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    assert area == pytest.approx(common_part(apart, umbra), abs=0.01)
    # All of its edge lies on the Moon's edge or on the shadow's, whose middle lies `toward`.
    p = math.radians(toward)
    from_shadow = np.hypot(x + apart * math.sin(p), y - apart * math.cos(p))
    off = np.minimum(np.abs(np.hypot(x, y) - 1.0), np.abs(from_shadow - umbra))
    assert off.max() < 1e-9
    assert np.hypot(x, y).max() <= 1.0 + 1e-9
    assert from_shadow.max() <= umbra + 1e-9


@pytest.mark.parametrize("turn_deg", [0.0, 55.0, 160.0, 290.0])
def test_a_moons_shadow_is_a_circle_seen_aslant(turn_deg: float) -> None:
    """On a globe a small circle looks as wide as it is along the limb, and narrower by the cosine
    towards the limb (orthographic projection)."""
    jupiter = at_eyepiece(find("Jupiter"), AT, HERE)
    assert isinstance(jupiter, PlanetAtEyepiece)
    out, squeeze, t = 0.8, 0.6, math.radians(turn_deg)
    at = np.array([out * math.cos(t), out * math.sin(t)])  # west is to the right
    moon = replace(jupiter.moons[0], shadow=ShadowOnDisc(*at.tolist(), squeeze))
    disc = disc_in_view(replace(jupiter, axis_deg=0.0, moons=(moon,)), PLAIN.matrix())
    assert disc is not None
    [edge] = disc.shadows
    size = moon.size_arcsec / jupiter.diameter_arcsec
    outward = (edge - at) @ at / out
    along = (edge - at) @ np.array([-at[1], at[0]]) / out
    assert np.hypot(outward / squeeze, along) == pytest.approx(size, rel=1e-9)


def test_only_moons_on_the_disc_are_before_or_behind_it() -> None:
    """Seen past the edge a moon is beside the disc or in the shadow; over it, before or behind."""
    states = []
    for hours in range(0, 48, 3):
        jupiter = at_eyepiece(find("Jupiter"), AT + timedelta(hours=hours), HERE)
        assert isinstance(jupiter, PlanetAtEyepiece)
        for moon in jupiter.moons:
            over = moon.state in (BesidePlanet.BEFORE_DISC, BesidePlanet.BEHIND_DISC)
            # Jupiter's poles are 6.5 % nearer to its middle.
            assert over or moon.apart_radii > 0.93
            assert not over or moon.apart_radii < 1.01
            states.append(moon.state)
    assert states.count(BesidePlanet.BESIDE) > len(states) / 2
    assert states.count(BesidePlanet.BEFORE_DISC) > 0


@pytest.mark.parametrize("degrees", [0.05, 0.2, 0.7])
def test_less_than_a_finger_is_half_a_finger(degrees: float) -> None:
    """Common practice, no source: nobody measures less than half a finger's width."""
    assert hand_measure(degrees) == (Hand.LITTLE_FINGER, 0.5)
