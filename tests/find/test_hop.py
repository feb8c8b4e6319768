"""The steps of a hop, against astropy's separations and position angles; why there is none."""

from __future__ import annotations

from dataclasses import replace

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import SkyCoord
from hop_scene import EVENINGS, question_at, sight_of

from axletree.find.hopping.answer import (
    HopHelpKind,
    HopOutcome,
    HopQuestion,
    HopStar,
    MoveAxis,
    WeakPart,
)
from axletree.find.hopping.help import hop_with_help, what_helps
from axletree.find.hopping.hop import OFFERED, hop
from axletree.find.hopping.way import EDGE, ONE_TURN
from axletree.find.view import clock_h

NORTH_AUTUMN, NORTH_SUMMER, SOUTH_WINTER, SOUTH_SUMMER = EVENINGS
SIGHT = sight_of("practised")
VEGA, SHELIAK = 91262, 92420


def asked(name: str, evening: tuple = NORTH_SUMMER) -> HopQuestion:
    question = question_at(name, evening, SIGHT)
    assert question is not None, f"{name} is down"
    return question


def coordinate(hour_angle_h: float, declination_deg: float) -> SkyCoord:
    """A place on the mount's own sphere; longitude grows to the east."""
    return SkyCoord(-15.0 * hour_angle_h * u.deg, declination_deg * u.deg)


def place(star: HopStar | None, question: HopQuestion) -> SkyCoord:
    if star is None:
        return coordinate(question.patch.hour_angle_h, question.patch.declination_deg)
    return coordinate(star.hour_angle_h, star.declination_deg)


SCENES = [
    ("M57", NORTH_SUMMER), ("M13", NORTH_SUMMER), ("M81", NORTH_SUMMER), ("M33", NORTH_AUTUMN),
    ("M83", SOUTH_WINTER), ("M79", SOUTH_SUMMER), ("M104", SOUTH_WINTER),
]  # fmt: skip


@pytest.mark.parametrize(("name", "evening"), SCENES)
def test_steps_are_astropys_geometry(name: str, evening: tuple) -> None:
    """Distances to an arcsecond, angles to 0.01 degrees; each next star inside the finder."""
    question = asked(name, evening)
    answer = hop(question)
    assert answer.outcome is HopOutcome.HOP
    assert answer.start == answer.steps[0].present
    assert answer.steps[-1].following is None
    for step in answer.steps:
        here, there = place(step.present, question), place(step.following, question)
        assert step.distance_deg == pytest.approx(here.separation(there).deg, abs=1 / 3600)
        angle = here.position_angle(there).deg
        assert abs((step.position_angle_deg - angle + 180) % 360 - 180) < 0.01
        assert step.distance_field == pytest.approx(step.distance_deg / 7.0)
        assert step.distance_deg <= EDGE * 3.5 + 1e-6
        turned = coordinate(
            step.present.hour_angle_h + step.hour_deg / 15.0,
            step.present.declination_deg + step.declination_deg,
        )
        assert turned.separation(there).arcsec < 1.0, "both turns lead to the next star"
        for partner in step.present.pattern.partners:
            row = question.patch
            at = SkyCoord(row.star_azimuth_deg[partner.row] * u.deg,
                          row.star_altitude_deg[partner.row] * u.deg)  # fmt: skip
            own = SkyCoord(row.star_azimuth_deg[step.present.row] * u.deg,
                           row.star_altitude_deg[step.present.row] * u.deg)  # fmt: skip
            assert partner.separation_deg == pytest.approx(own.separation(at).deg, abs=1 / 3600)
            assert partner.number == row.stars.number[partner.row]


@pytest.mark.parametrize(("name", "evening"), SCENES)
def test_an_axis_left_out_brings_nothing_that_counts(name: str, evening: tuple) -> None:
    question = asked(name, evening)
    seen = 0
    for step in hop(question).steps:
        there = place(step.following, question)
        turned = coordinate(
            step.present.hour_angle_h + step.hour_deg / 15.0 * (MoveAxis.HOUR in step.axes),
            step.present.declination_deg
            + step.declination_deg * (MoveAxis.DECLINATION in step.axes),
        )
        assert turned.separation(there).deg <= ONE_TURN * 3.5 * 1.5
        seen += 1
    assert seen


def test_the_chance_is_that_of_all_its_parts() -> None:
    answer = hop(asked("M33", NORTH_AUTUMN))
    assert answer.start_chance is not None
    parts = [answer.start_chance, *(step.chance for step in answer.steps)]
    assert answer.chance == pytest.approx(float(np.prod(parts)))
    assert all(0.0 < p <= 1.0 for p in parts)


def test_the_ring_from_its_neighbour() -> None:
    """M57 lies 0.8 degrees from Sheliak, between it and Sulafat (any handbook)."""
    answer = hop(asked("M57"))
    assert answer.start is not None
    assert answer.start.number in (SHELIAK, 93194)
    assert len(answer.steps) == 1
    assert answer.chance is not None
    assert answer.chance >= 0.9


def test_from_a_star_that_is_named() -> None:
    answer = hop(replace(asked("M57"), start=VEGA))
    assert answer.start is not None
    assert answer.start.number == VEGA
    assert 2 <= len(answer.steps) <= 4


def test_an_object_that_shows_is_aimed_at() -> None:
    answer = hop(replace(asked("M13"), object_shows=True))
    assert answer.outcome is HopOutcome.SHOWS
    assert answer.steps == ()
    assert answer.chance is not None
    assert answer.chance >= OFFERED


def test_no_star_to_begin_with() -> None:
    city = replace(asked("M64"), sight=replace(SIGHT, bare_eye_limit_mag=2.0))
    answer = hop(city)
    assert answer.outcome is HopOutcome.NO_START
    assert answer.chance is None


def test_a_field_too_small_for_a_chain() -> None:
    """A fifth of a degree across, there's no star to go to next; Sheliak is still a start."""
    small = replace(SIGHT, finder_field_deg=0.2)
    answer = hop(replace(asked("M57"), sight=small))
    assert answer.outcome is HopOutcome.NO_CHAIN
    assert answer.chance is None


def test_a_narrow_eyepiece_is_the_weak_part_and_a_wider_one_helps() -> None:
    narrow = replace(SIGHT, eyepiece_field_deg=0.5)
    question = replace(asked("M57"), sight=narrow)
    answer = hop(question)
    assert answer.outcome is HopOutcome.UNSURE
    assert answer.weakest is WeakPart.ARRIVAL
    assert answer.chance is not None
    assert answer.chance < OFFERED
    helps = {h.kind: h for h in what_helps(question)}
    assert helps[HopHelpKind.WIDER_EYEPIECE].figure == pytest.approx(0.75)
    assert all(h.chance >= OFFERED for h in helps.values())
    assert hop_with_help(question) == replace(answer, helps=tuple(helps.values()))


def test_what_is_sure_needs_no_help() -> None:
    assert hop_with_help(asked("M57")) == hop(asked("M57"))


def test_a_start_too_far_away_is_answered_with_a_better_one() -> None:
    """Capella is not in Lyra's part of the sky."""
    question = replace(asked("M57"), start=24608)
    assert hop(question).outcome is HopOutcome.NO_START
    assert HopHelpKind.OTHER_START in {h.kind for h in what_helps(question)}


def test_what_stands_behind_a_roof_is_not_told() -> None:
    question = asked("M57")
    hidden = question.patch.stars.number != SHELIAK
    answer = hop(replace(question, open_sky=hidden))
    assert SHELIAK not in {step.present.number for step in answer.steps}


@pytest.mark.parametrize(
    ("north_deg", "mirrored", "east", "north"),
    [(0.0, False, 9.0, 12.0), (180.0, False, 3.0, 6.0), (0.0, True, 3.0, 12.0),
     (90.0, False, 12.0, 3.0), (90.0, True, 6.0, 3.0)],
)  # fmt: skip
def test_hours_as_the_eye_sees_them(
    north_deg: float, mirrored: bool, east: float, north: float
) -> None:
    """On the sky, north up, east lies to the left (common practice, no source)."""
    assert clock_h(90.0, north_deg, mirrored) == pytest.approx(east)
    assert clock_h(0.0, north_deg, mirrored) == pytest.approx(north)
