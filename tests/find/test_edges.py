"""What is drawn and told of a finding where its parts begin and end, against plane geometry."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from scipy.integrate import quad

from axletree.axis.model import unmeasured
from axletree.find.at_eyepiece.answer import (
    BesidePlanet,
    EarthShadowOnMoon,
    MoonAtEyepiece,
    PlanetAtEyepiece,
    ShadowOnDisc,
)
from axletree.find.at_eyepiece.ask import at_eyepiece
from axletree.find.at_eyepiece.in_view import disc_in_view
from axletree.find.finding import finding
from axletree.find.naked_eye import Hand, hand_measure
from axletree.find.practice.learned import PRIOR_FACTOR, FoundBy, Try, learn
from axletree.find.scene import FindingQuestion
from axletree.find.start_star import StartStar
from axletree.find.turning.seeking import SkyLight
from axletree.find.view import SkyTurn
from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.mount.room.table import room_table
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer, observer_of
from axletree.sky.time.instants import Instants

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


@pytest.mark.parametrize(
    ("found", "missed"), [([0.9, 0.8, 0.6], []), ([0.7], [0.9, 0.4]), ([], [0.9, 0.8])]
)
def test_what_tries_teach_is_bayes_rule(found: list[float], missed: list[float]) -> None:
    """The mean and the spread of log f by an integral of scipy's: a try whose chance was p has
    1 - (1 - p)^(1 / f^2) where all errors are f times as large (Rayleigh's law)."""
    tries = [Try(FoundBy.HOP, True, None, p) for p in found]
    tries += [Try(FoundBy.HOP, False, None, p) for p in missed]
    way = learn(tries).of(FoundBy.HOP)
    assert way is not None

    def likely(x: float) -> float:
        lost = [(1.0 - p) ** math.exp(-2.0 * x) for p in (*found, *missed)]
        n = len(found)
        told = math.prod(1.0 - one for one in lost[:n]) * math.prod(lost[n:])
        return told * math.exp(-0.5 * (x / PRIOR_FACTOR) ** 2)

    whole, first, second = (quad(lambda x, k=k: x**k * likely(x), -2, 2)[0] for k in range(3))
    mean = first / whole
    assert math.log(way.factor) == pytest.approx(mean, abs=1e-3)
    assert way.factor_log_sigma == pytest.approx(math.sqrt(second / whole - mean**2), abs=1e-3)


PLAIN_SIGHT = "[tube.finder]\nplain_sight = true\nrings_deg = [0.5, 2]\n"


@pytest.mark.parametrize(("hour", "finder", "led"),
                         [(21, True, True), (15, True, False), (21, False, False)])  # fmt: skip
def test_circles_lead_to_a_star_at_dusk_and_never_by_day(
    hour: int, finder: bool, led: bool
) -> None:
    """Under a sky of our own in which the bare eye sees no star: a finder that magnifies shows
    some, to which the circles lead; with the Sun up nobody sets out so, whatever the sky."""
    kit = demo_kit()
    if not finder:
        head, _, rest = demo_text("courtyard").partition("[tube.finder]\n")
        without, problems = check_text(head + PLAIN_SIGHT + rest[rest.index("[[eyepiece]]") :])
        assert without is not None, problems
        kit = without
    here = observer_of(kit.site)
    at = Instants.from_datetime(datetime(2026, 8, 12, hour, 30, tzinfo=UTC))
    # Of either object Vega is the star in the finder, were it not for the Sun.
    name = "M57" if hour == 21 else "M13"
    told = finding(
        FindingQuestion(
            kit=kit, observer=here, arrival=at, target=find(name), side=-1,
            table=room_table(kit, observer=here), model=unmeasured(15.0, 15.0),
            sky=SkyLight(7.5, 0.25), brief=True,
        )
    )  # fmt: skip
    assert (told.start is not None) is led
    if led:
        assert isinstance(told.start, StartStar)
        assert told.start.by_circles is not None
