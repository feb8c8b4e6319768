"""Figures of finding that a person can reckon by hand, and defaults as they are told."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from astropy.coordinates import GeocentricTrueEcliptic, get_body
from astropy.time import Time
from scipy.stats import norm

from axletree.axis.model import unmeasured
from axletree.find import finding
from axletree.find.at_eyepiece.answer import MoonAtEyepiece
from axletree.find.at_eyepiece.ask import at_eyepiece
from axletree.find.at_eyepiece.planet import _matters
from axletree.find.hopping.recognise import _APART, faintest_start_mag
from axletree.find.person import skill_of
from axletree.find.practice import along_axis
from axletree.find.practice.along_axis import sky_rolls_deg, view_along_axis
from axletree.find.seen_through import Seeing
from axletree.find.start_star import StartRefusal
from axletree.find.turning.arrival import arrival, chance_within, seconds_sigma
from axletree.find.turning.knobs import KnobFigures, LockReason, Mounted, _reaching, knob_figures
from axletree.find.turning.seeking import _designated
from axletree.kit.kit import Kit, demo_kit
from axletree.pole.enough.still_point import ThroughTube
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer

HERE = Observer(52.0, 10.0, 100.0)
NEWCOMER = skill_of("newcomer")


def mounted(kit: Kit, field_deg: float = 1.0) -> Mounted:
    return Mounted(kit, HERE, unmeasured(15.0, 15.0), 1, False, NEWCOMER, field_deg, 6.0)


def age_deg(at: datetime) -> float:
    """The Moon's ecliptic longitude less the Sun's, seen from the Earth's middle, by astropy."""
    time = Time(at)
    frame = GeocentricTrueEcliptic(equinox=time, obstime=time)
    sun, moon = (get_body(b, time).transform_to(frame).lon.deg for b in ("sun", "moon"))
    return float((moon - sun) % 360.0)


@pytest.mark.parametrize("day", range(0, 30, 2))
def test_the_moons_edge_of_light_goes_round_with_its_age(day: int) -> None:
    """The terminator lies 90 degrees from where the Sun stands overhead; seen from the Earth's
    middle at the age of the Moon less 90 west of the disc's, libration apart: 8 degrees, and the
    observer's own 1 degree. It waxes while the Moon goes before."""
    at = datetime(2026, 12, 9, 12, tzinfo=UTC) + timedelta(days=day)
    age = age_deg(at)
    assert min(age, abs(age - 180.0), 360.0 - age) > 3.0  # no eye tells it nearer
    told = at_eyepiece(find("Moon"), at, HERE)
    assert isinstance(told, MoonAtEyepiece)
    assert told.waxing == (age < 180.0)
    off = told.terminator_longitude_deg - ((90.0 - age) if told.waxing else (270.0 - age))
    assert abs((off + 180.0) % 360.0 - 180.0) < 10.0


@pytest.mark.parametrize("middle", ["2027-04-20T22", "2027-05-06T11", "2027-11-28T03"])
@pytest.mark.parametrize("hours", [-11.0, 11.0])
def test_it_waxes_up_to_full_however_it_nods(middle: str, hours: float) -> None:
    """Full and new Moons at which the disc has turned aside by 5 degrees, half a day's light."""
    at = datetime.fromisoformat(middle).replace(tzinfo=UTC) + timedelta(hours=hours)
    age = age_deg(at)
    assert 3.0 < min(age, abs(age - 180.0), 360.0 - age) < 9.0
    told = at_eyepiece(find("Moon"), at, HERE)
    assert isinstance(told, MoonAtEyepiece)
    assert abs(told.libration_longitude_deg) > 4.0
    assert told.waxing == (age < 180.0)


def test_what_goes_on_lasts_to_its_last_moment() -> None:
    begin = datetime(2026, 12, 19, 20, tzinfo=UTC)
    turns = [SimpleNamespace(time=begin + timedelta(hours=h), seen=False) for h in (0, 2)]
    told: Any = SimpleNamespace(turns=turns)
    for hours, matters in ((-0.5, False), (0.5, True), (1.9, True), (2.5, False)):
        at = begin + timedelta(hours=hours)
        assert _matters(told, at, at + timedelta(hours=3)) is matters


def test_stars_are_points_unless_the_unrest_is_told() -> None:
    assert Seeing(21.0, 0.2, NEWCOMER).seeing_arcsec == 0.0


def test_a_time_is_never_kept_better_than_to_ten_seconds() -> None:
    """And a long one to a quarter of it (our figures)."""
    told = seconds_sigma(mounted(demo_kit("courtyard")), np.array([0.0, 8.0, 39.0, 200.0]))
    assert told == pytest.approx([10.0, 10.0, 10.0, 50.0])


def test_with_everything_right_the_object_stands_where_it_was_aimed() -> None:
    """Rayleigh's law about the middle: 1 - exp(-r^2 / 2 sigma^2), for the field's half."""
    sigma = 0.02
    covariance = np.eye(2) * sigma**2
    expected = 1.0 - np.exp(-0.5 * (0.03 / sigma) ** 2)
    assert chance_within(covariance, 0.03, (), 1.0) == pytest.approx(expected, abs=2e-4)
    found = arrival(mounted(demo_kit("courtyard"), field_deg=0.06), covariance, (), 1.0)
    assert found.eyepiece == pytest.approx(expected, abs=2e-4)


def test_one_star_is_taken_for_another_once_in_a_thousand() -> None:
    """Nearer to the other than to its own place: half the way, in errors of the judgement."""
    assert norm.sf(_APART / 2.0) == pytest.approx(1e-3, rel=0.05)


def test_stars_are_named_to_magnitude_four_and_a_half() -> None:
    """A magnitude above what the bare eye sees, as the figures of the constellations go (ours)."""
    assert faintest_start_mag(7.0) == 4.5
    assert faintest_start_mag(4.9) == pytest.approx(3.9)
    named, _ = _designated()
    assert 4.4 < named.magnitude_v.max() <= 4.5


def test_a_guessed_knob_serves_while_its_error_is_three_tenths_of_the_fields_radius() -> None:
    """Worms with a tenth of their teeth open: 0.3 of 5 degrees, over a tenth (our figure)."""
    knob = KnobFigures(
        degrees_per_turn=5.0, clockwise=1, backlash_turns=0.0, part_sigma=0.1,
        periodic_sigma_deg=0.0, most_deg=-1.0, beyond=LockReason.NO_KNOB, circle_sigma_deg=0.01,
    )  # fmt: skip
    kit = demo_kit("courtyard")
    guessed = kit.model_copy(update={"known_errors": (("mount.gears.hour_worm_teeth", 14.4),)})
    hour, _ = knob_figures(mounted(guessed, field_deg=10.0))
    part = 14.4 / kit.mount.gears.hour_worm_teeth
    assert hour.part_sigma == pytest.approx(part)
    assert hour.beyond is LockReason.TURN_UNSURE
    assert hour.circle_sigma_deg * np.sqrt(2.0) < 0.3 * 5.0
    assert hour.most_deg == pytest.approx(0.3 * 5.0 / part)
    trusted = _reaching(knob, np.inf, 0.15)
    assert (trusted.most_deg, trusted.beyond) == (pytest.approx(1.5), LockReason.TURN_UNSURE)


def test_an_arm_that_says_nothing_reaches_ten_degrees_in_all() -> None:
    """From its middle five to either side (our figure)."""
    kit = demo_kit("courtyard")
    gears = kit.mount.gears.model_copy(
        update={"declination_arm": True, "declination_arm_deg_per_turn": 1.0}
    )
    assert gears.declination_arm_range_deg is None
    mount = kit.mount.model_copy(update={"gears": gears})
    _, across = knob_figures(mounted(kit.model_copy(update={"mount": mount}), field_deg=4.0))
    assert (across.most_deg, across.beyond) == (pytest.approx(5.0), LockReason.BEYOND_THE_ARM)


def through(what: ThroughTube) -> Any:
    return SimpleNamespace(through=what, field_deg=1.5)


@pytest.mark.parametrize(
    ("level_deg", "down_deg", "turned_deg"), [(10.0, 100.0, 90.0), (170.0, -170.0, 20.0)]
)
def test_the_sky_turns_from_where_it_stood_with_the_shaft_level(
    level_deg: float, down_deg: float, turned_deg: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The short way round; who looks straight through the finder keeps the head upright."""

    def picture(rig: Any, tube: Any, axes: Any, tube_end_h: Any, swing_deg: float) -> Any:
        # Level with the tube in the west, then weights down: a quarter turn apart.
        assert abs(tube_end_h[1] - tube_end_h[0]) == 6.0
        return SimpleNamespace(zenith_deg=np.array([level_deg, down_deg]))

    monkeypatch.setattr(along_axis, "picture", picture)
    kit: Any = demo_kit("courtyard")
    nothing: Any = None
    for what, expected in ((ThroughTube.EYEPIECE, turned_deg), (ThroughTube.FINDER, 0.0)):
        assert sky_rolls_deg(kit, through(what), nothing, nothing) == expected


@pytest.mark.parametrize(
    ("mirrored", "zenith_deg", "look", "turned_deg"),
    [(False, 180.2, "inverted", 0.0), (False, 0.3, "erect", 0.3), (False, 181.0, "erect", 181.0),
     (True, 180.0, "mirrored", 180.0)],
)  # fmt: skip
def test_upside_down_is_told_as_inverted(
    mirrored: bool, zenith_deg: float, look: str, turned_deg: float,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    seen = SimpleNamespace(mirrored=mirrored, zenith_deg=zenith_deg)
    monkeypatch.setattr(along_axis, "picture", lambda *_: seen)
    kit: Any = demo_kit("courtyard")
    view: Any = through(ThroughTube.EYEPIECE)
    nothing: Any = None
    told = view_along_axis(kit, view, nothing, nothing, 5.0)
    assert told.look == look
    assert told.rotation_deg == pytest.approx(turned_deg)


def test_circles_alone_are_asked_for_where_no_star_is_known(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """By night, and where the finder shows the object; without a way by circles there is none."""
    scene: Any = SimpleNamespace(
        by_day=False, place=None, seeking=SimpleNamespace(mounted=None),
        question=SimpleNamespace(shows_in_finder=True, arrival=None),
    )  # fmt: skip
    for led, chance in ((SimpleNamespace(chance=0.9), 0.9), (None, None)):
        monkeypatch.setattr(finding, "by_circles", lambda *_, led=led: led)
        assert finding._alone_by_circles(scene, StartRefusal.TOO_FAINT) == chance
    scene.by_day = True
    assert finding._alone_by_circles(scene, StartRefusal.TOO_FAINT) is None
