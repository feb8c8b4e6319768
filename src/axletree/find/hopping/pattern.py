"""Which stars about the one that is meant tell it from those it may be taken for?

The person is told one or two partners ('you are right if a fainter star stands so far, that
way'). What counts is how badly the best star near the partner's place about each rival fits: in
errors of a judged place and brightness, as for the star itself.
"""

from __future__ import annotations

import math
from dataclasses import replace
from enum import Enum
from itertools import pairwise

import numpy as np

from axletree.find.hopping.recognise import Rivals, Showing, mistaken, place_sigma_deg
from axletree.find.person import Skill
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices

# Ours: where partners are looked for, in parts of the field's radius, and how many are tried.
NEAREST, FARTHEST = 0.03, 0.6
_TRIED = 6
_JUDGES = 8  # the likeliest rivals choose the pattern
_BEYOND = 1.2  # stars a little farther out may still be taken for a partner
_WORTH = 0.8  # a second partner must leave no more than this part
# Nothing where a partner should stand weighs as much as one five errors away.
MISSING = 25.0
_ENOUGH = 0.01  # with less left to mistake, one partner will do
_COUNTS = 0.002  # rivals less likely than this don't choose the pattern
MUCH_BRIGHTER_MAG = 1.5
ROW_WITHIN_DEG = 15.0
_DEG = np.pi / 180.0


class PatternKind(Enum):
    """What the star and its partners make."""

    ALONE = "alone"  # no rival that a partner would tell it from
    PAIR = "pair"
    BRIGHTER_NEIGHBOUR = "brighter_neighbour"
    TRIANGLE = "triangle"
    ROW = "row"


@dataclass(frozen=True)
class Partners:
    """The partner stars told (rows), what they make, and what may still be mistaken, 0-1.

    `left` holds for the worst place the star is told from, all rivals together.
    """

    kind: PatternKind
    star: tuple[int, ...]
    left: float


def partners_of(
    field: Showing, among: Rivals, sigma_deg: float, skill: Skill
) -> tuple[Rivals, Partners]:
    """The rivals once the partners are looked at, and the partners that tell most of them away.

    `sigma_deg`: the error with which the star's own place is judged, at the worst.
    """
    likely = mistaken(field, among, sigma_deg)
    worst = np.flatnonzero(likely > _COUNTS)
    tried = _candidates(field, among.target)
    if not len(worst) or not len(tried):
        return among, Partners(PatternKind.ALONE, (), float(likely.sum()))
    judges = worst[np.argsort(-likely[worst], kind="stable")[:_JUDGES]]
    judging = _some(among, judges)
    misfit = _misfit(field, judging, tried, skill)
    chosen = _choose(field, judging, misfit, sigma_deg)
    pattern = np.zeros(len(among.star))
    if len(judges) == len(worst):
        pattern[judges] = misfit[chosen].sum(axis=0)
    else:
        misfit = _misfit(field, _some(among, worst), tried[chosen], skill)
        pattern[worst] = misfit.sum(axis=0)
    told = replace(among, pattern=pattern)
    stars = tuple(int(star) for star in tried[chosen])
    left = float(mistaken(field, told, sigma_deg).sum())
    return told, Partners(_kind(field, among.target, stars), stars, left)


def _choose(field: Showing, among: Rivals, misfit: Floats, sigma_deg: float) -> list[int]:
    """Which one or two of the stars tried leave the least to mistake among these rivals.

    `misfit` (stars tried, rivals).
    """
    one = _left(field, among, misfit, sigma_deg)
    first = int(np.argmin(one))
    if one[first] < _ENOUGH or len(misfit) == 1:
        return [first]
    two = _left(field, among, misfit[first] + misfit, sigma_deg)
    two[first] = np.inf
    second = int(np.argmin(two))
    return [first, second] if two[second] < _WORTH * one[first] else [first]


def _candidates(field: Showing, target: int) -> Indices:
    """The brightest stars that stand about the target, neither on it nor far out."""
    rows, vector = field.plain
    along = vector @ field.vector[target]
    inner, outer = (math.cos(far * field.radius_deg * _DEG) for far in (NEAREST, FARTHEST))
    return rows[np.flatnonzero((along > outer) & (along < inner))[:_TRIED]]


def _misfit(field: Showing, among: Rivals, partners: Indices, skill: Skill) -> Floats:
    """How badly each rival's surroundings fit each partner (partners, rivals): squared errors."""
    target = field.vector[among.target]
    reach = (FARTHEST * field.radius_deg + float(among.apart_deg.max())) * _BEYOND * _DEG
    rows, vector, magnitude_v = field.likely
    near = np.flatnonzero(vector @ target > math.cos(reach))
    offset = field.vector[partners] - target
    distance_deg = np.linalg.norm(offset, axis=1) / _DEG
    sigma = place_sigma_deg(distance_deg, field.radius_deg, skill) * _DEG
    # Small places about the target, so that squares lose nothing to rounding.
    places = (field.vector[among.star] - target) + offset[:, np.newaxis]
    stars = vector[near] - target
    square = np.sum(places**2, axis=2)[..., np.newaxis] + np.sum(stars**2, axis=1)
    square -= 2.0 * (places.reshape(-1, 3) @ stars.T).reshape(square.shape)
    square /= (sigma**2)[:, np.newaxis, np.newaxis]
    brightness = magnitude_v[near] - field.magnitude_v[partners][:, np.newaxis]
    square += ((brightness / skill.brightness_mag) ** 2)[:, np.newaxis]
    rival, column = np.nonzero(among.star[:, np.newaxis] == rows[near])
    square[:, rival, column] = MISSING  # no star is its own partner
    return np.asarray(square.min(axis=2, initial=MISSING))


def _left(field: Showing, among: Rivals, pattern: Floats, sigma_deg: float) -> Floats:
    """What may still be mistaken with each pattern (patterns, rivals)."""
    return np.asarray(mistaken(field, replace(among, pattern=pattern), sigma_deg).sum(axis=-1))


def _some(among: Rivals, which: Indices) -> Rivals:
    return Rivals(
        among.target,
        among.star[which],
        among.apart_deg[which],
        among.brightness[which],
        among.pattern[which],
    )


def _kind(field: Showing, target: int, stars: tuple[int, ...]) -> PatternKind:
    if len(stars) == 1:
        brighter = field.magnitude_v[target] - field.magnitude_v[stars[0]]
        much = brighter >= MUCH_BRIGHTER_MAG
        return PatternKind.BRIGHTER_NEIGHBOUR if much else PatternKind.PAIR
    corners = [field.vector[k] for k in (target, *stars, target)]
    sides = sorted(float(np.linalg.norm(b - a)) for a, b in pairwise(corners))
    # The angle at the middle star, between the two shorter sides, by the law of cosines.
    cosine = (sides[0] ** 2 + sides[1] ** 2 - sides[2] ** 2) / (2.0 * sides[0] * sides[1])
    straight = cosine < -np.cos(ROW_WITHIN_DEG * _DEG)
    return PatternKind.ROW if straight else PatternKind.TRIANGLE
