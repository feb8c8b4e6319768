"""The chance that the right star is taken, against drawn errors and scipy's normal."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm, rayleigh

from axletree.find.chance import in_field, in_field_around, normal_tail
from axletree.find.hopping.pattern import PatternKind, partners_of
from axletree.find.hopping.recognise import (
    Showing,
    chance_of_right,
    chance_of_start,
    chance_told,
    mistaken,
    noticed,
    place_sigma_deg,
    rivals_of,
    showing,
)
from axletree.find.person import NOTICE_MAG, skill_of

SKILL = skill_of("practised")
RADIUS_DEG = 3.5


def field(*stars: tuple[float, float, float], limit_mag: float = 9.0) -> Showing:
    """Stars at (east, north, V), degrees from a middle."""
    x, y, m = np.array(stars).T
    v = np.stack([np.ones(len(m)), np.radians(x), np.radians(y)], axis=1)
    return showing(v / np.linalg.norm(v, axis=1)[:, None], m, limit_mag, RADIUS_DEG)


def chance(sky: Showing, distance_deg: float) -> float:
    """Star 1 told from star 0."""
    sigma = float(place_sigma_deg(distance_deg, RADIUS_DEG, SKILL))
    among = rivals_of(sky, 1, sigma, SKILL)
    return float(chance_of_right(sky, among, np.array([0]), np.array([distance_deg]), SKILL)[0])


def drawn(sky: Showing, distance_deg: float) -> float:
    """100,000 people who judge place and brightness and take the nearest in both."""
    random = np.random.default_rng(3)
    sigma = np.hypot(SKILL.distance_part * distance_deg, SKILL.distance_field * RADIUS_DEG)
    at = np.degrees(sky.vector[:, 1:] / sky.vector[:, :1])
    judged = at[1] + sigma * random.standard_normal((100_000, 2))
    bright = sky.magnitude_v[1] + SKILL.brightness_mag * random.standard_normal(100_000)
    score = ((judged[:, None] - at) ** 2).sum(-1) / sigma**2
    score += ((bright[:, None] - sky.magnitude_v) / SKILL.brightness_mag) ** 2
    return float((score.argmin(axis=1) == 1).mean())


@pytest.mark.parametrize(
    ("other", "tolerance"),
    [((2.5, 0.0, 6.0), 0.004), ((2.2, 0.4, 6.5), 0.004), ((1.6, 0.1, 7.2), 0.004)],
)
def test_one_rival_is_a_normals_tail(other: tuple[float, float, float], tolerance: float) -> None:
    sky = field((0, 0, 5.0), (2, 0, 6.0), other)
    assert chance(sky, 2.0) == pytest.approx(drawn(sky, 2.0), abs=tolerance)


def test_several_rivals_count_as_independent() -> None:
    """Where the chance is worth offering that errs by under 0.03 (drawn people)."""
    sky = field((0, 0, 5), (2, 0, 6), (2.7, 0.2, 6.3), (1.4, -0.5, 6.8), (2.2, 0.9, 5.5))
    assert chance(sky, 2.0) > 0.6
    assert chance(sky, 2.0) == pytest.approx(drawn(sky, 2.0), abs=0.03)


def test_what_is_told_is_what_drawn_people_do() -> None:
    """Where many rivals stand close together as well, which independence makes too few of."""
    crowd = [(2 + 0.3 * k, 0.4 + 0.05 * k, 6 + 0.1 * k) for k in range(6)]
    for others in ([(2.7, 0.2, 6.3), (1.4, -0.5, 6.8), (2.2, 0.9, 5.5)], crowd):
        sky = field((0, 0, 5), (2, 0, 6), *others)
        among = rivals_of(sky, 1, float(place_sigma_deg(2.0, RADIUS_DEG, SKILL)), SKILL)
        assert chance_told(sky, among, 0, SKILL) == pytest.approx(drawn(sky, 2.0), abs=0.02)


def test_what_does_not_show_is_not_taken() -> None:
    alone = field((0, 0, 5.0), (3.2, 0, 6.0))
    outside = field((0, 0, 5.0), (3.2, 0, 6.0), (3.7, 0, 6.0))
    faint = field((0, 0, 5.0), (3.2, 0, 6.0), (2.9, 0, 6.0), limit_mag=4.0)
    assert chance(outside, 3.2) == pytest.approx(chance(alone, 3.2))
    assert chance(faint, 3.2) < 1e-3, "a star below the limit is not seen"


def test_a_companion_on_the_star_does_no_harm() -> None:
    """Nearer than a practised person centres a star: 0.05 of the radius, 10 arcminutes."""
    assert chance(field((0, 0, 5), (2, 0, 6), (2.1, 0, 6)), 2.0) == pytest.approx(1.0, abs=1e-3)
    assert chance(field((0, 0, 5), (2, 0, 6), (2.3, 0, 6)), 2.0) < 0.8


def test_half_see_a_star_at_the_limit() -> None:
    m = np.array([7.0, 8.0, 8.0 + NOTICE_MAG, 8.0 - NOTICE_MAG, 9.5])
    assert noticed(m, 8.0) == pytest.approx(norm.cdf((8.0 - m) / NOTICE_MAG), abs=1e-4)


def test_tails_and_round_fields_are_scipys() -> None:
    x = np.linspace(0.0, 8.0, 50)
    assert normal_tail(x) == pytest.approx(norm.sf(x), abs=1e-4)
    assert normal_tail(50.0) < 1e-10
    s = np.array([0.1, 0.4, 2.0])
    assert in_field_around(s, 0.5) == pytest.approx(rayleigh.cdf(0.5, scale=s), abs=1e-9)
    assert in_field_around(0.3, 0.5) == pytest.approx(
        in_field([0, 0], np.eye(2) * 0.09, 0.5), abs=1e-6
    )


def test_a_start_is_named_and_told() -> None:
    """Alone in its field only the name can be wrong; a twin is taken by some."""
    alone = field((0, 0, 1.0), (0, 0, 9.5))
    sure = chance_of_start(alone, rivals_of(alone, 0, SKILL.sight_deg, SKILL), SKILL)
    expected = 1 - SKILL.wrong_bright_star
    assert sure == pytest.approx(expected, abs=1e-3)
    twins = field((0, 0, 1.0), (1, 0, 1.0))
    poor = chance_of_start(twins, rivals_of(twins, 0, SKILL.sight_deg, SKILL), SKILL)
    assert poor == pytest.approx(expected * norm.cdf(0.5), abs=1e-2)


SIGMA_DEG = 0.4
FAR_SIGMA_DEG = 0.9
CASES = {
    PatternKind.ALONE: [(0, 0, 6)],
    PatternKind.PAIR: [(0, 0, 6), (2.3, 0, 6), (0, 0.5, 6.5)],
    PatternKind.BRIGHTER_NEIGHBOUR: [(0, 0, 7), (2.3, 0, 7), (-0.5, 0.9, 4.0)],
    # About the twin both partners stand a little farther out: one alone tells too little.
    PatternKind.ROW: [
        (0, 0, 6), (2.3, 0, 6), (0, 0.5, 6), (0, -0.5, 6), (2.3, 0.75, 6), (2.3, -0.75, 6),
    ],
    PatternKind.TRIANGLE: [
        (0, 0, 6), (2.3, 0, 6), (0, 0.5, 6), (0.5, 0, 6), (2.3, 0.75, 6), (3.05, 0, 6),
    ],
}  # fmt: skip


@pytest.mark.parametrize("kind", CASES)
def test_the_pattern_is_what_its_stars_make(kind: PatternKind) -> None:
    """Star 0 has a twin, star 1, too far off to be a partner; what stands about them differs."""
    sky = field(*CASES[kind])
    among = rivals_of(sky, 0, FAR_SIGMA_DEG, SKILL)
    told, partners = partners_of(sky, among, FAR_SIGMA_DEG, SKILL)
    assert partners.kind is kind
    before, after = (float(mistaken(sky, r, FAR_SIGMA_DEG).sum()) for r in (among, told))
    assert partners.left == pytest.approx(after)
    if kind is not PatternKind.ALONE:
        assert after < 0.8 * before


def test_a_partner_that_both_have_is_not_chosen() -> None:
    """The bright neighbour stands alike about both twins, the faint one about the right one."""
    sky = field((0, 0, 6), (0.8, 0, 6), (0, 0.6, 5.5), (0.8, 0.6, 5.5), (-0.4, -0.7, 7.0))
    _, partners = partners_of(sky, rivals_of(sky, 0, SIGMA_DEG, SKILL), SIGMA_DEG, SKILL)
    assert partners.star[0] == 4


def test_a_sharper_eye_is_surer() -> None:
    sky = field((0, 0, 5), (2, 0, 6), (2.4, 0.2, 6.3))
    expert = replace(SKILL, distance_part=0.05, distance_field=0.02)
    among = rivals_of(sky, 1, SIGMA_DEG, expert)
    sharp = chance_of_right(sky, among, np.array([0]), np.array([2.0]), expert)[0]
    assert sharp > chance(sky, 2.0) + 0.05


def test_of_two_close_twins_each_is_the_others_partner() -> None:
    """The western of two: the other stands to the east of it, and not of the other."""
    sky = field((0, 0, 6), (0.6, 0, 6))
    _, partners = partners_of(sky, rivals_of(sky, 0, SIGMA_DEG, SKILL), SIGMA_DEG, SKILL)
    assert partners.star == (1,)
    assert partners.left < 0.02
