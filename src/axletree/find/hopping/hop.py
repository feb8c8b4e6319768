"""How does a finder get from a naked-eye star to an object, step by step?

Where no hop is sure enough to be offered, the answer says what is weakest; `help` what would help.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axletree.find.chance import in_field_around
from axletree.find.hopping.answer import (
    HopAnswer,
    HopOutcome,
    HopQuestion,
    HopStar,
    HopStep,
    MoveAxis,
    Partner,
    Pattern,
    WeakPart,
)
from axletree.find.hopping.way import ONE_TURN, StarChain, StarsAbout, WaySearch
from axletree.sky.arrays import Indices
from axletree.sky.directions import hour_angle_declination, position_angle_deg, separation_deg

OFFERED = 0.7  # the least chance of a hop that anybody is sent on; ours
WAY_FIELDS = 2.0  # stars this many finder fields about the object are looked at; ours
MANY_STEPS = 4  # a hop of more is made shorter where it stays sure enough; ours
_DEARER = 2.0  # by steps that cost so many times as much
_FARTHEST_DEG = 20.0


def way_radius_deg(finder_field_deg: float) -> float:
    """How far about the object stars matter, for the patch."""
    return min(WAY_FIELDS * finder_field_deg, _FARTHEST_DEG)


def hop(question: HopQuestion) -> HopAnswer:
    """The hop that is worth most: sure, and of few steps."""
    return hop_by(search_of(question), question)


def search_of(question: HopQuestion) -> WaySearch:
    """What looks for its chains."""
    return WaySearch(stars_about(question), question.sight, question.skill)


def hop_by(search: WaySearch, question: HopQuestion) -> HopAnswer:
    """The same with a search that is at hand, which goes on to know what it has looked at."""
    starts = starts_of(search, question)
    if question.object_shows:
        chance = _aimed(search)
        if chance >= OFFERED:
            return HopAnswer(HopOutcome.SHOWS, chance)
    way = _best(search, starts)
    if way is not None and way.chance >= OFFERED:
        return _told(question, search, way, HopOutcome.HOP)
    if way is None:
        outcome = HopOutcome.NO_CHAIN if len(starts) else HopOutcome.NO_START
        return HopAnswer(outcome, None)
    answer = _told(question, search, way, HopOutcome.UNSURE)
    return replace(answer, weakest=_weakest(way))


def stars_about(question: HopQuestion) -> StarsAbout:
    """The stars of the patch as the mount's axes see them."""
    patch = question.patch
    hour_h, declination = hour_angle_declination(
        patch.star_azimuth_deg, patch.star_altitude_deg, question.latitude_deg
    )
    usable = patch.star_altitude_deg > 0.0
    if question.open_sky is not None:
        usable = usable & question.open_sky
    return StarsAbout(
        hour_deg=15.0 * hour_h,
        declination_deg=declination,
        magnitude_v=patch.stars.magnitude_v,
        usable=usable,
        object_hour_deg=15.0 * patch.hour_angle_h,
        object_declination_deg=patch.declination_deg,
    )


def starts_of(search: WaySearch, question: HopQuestion) -> Indices:
    """The stars that this hop may begin with."""
    starts = search.starts()
    if question.start is None:
        return starts
    return np.asarray(starts[question.patch.stars.number[starts] == question.start])


def _aimed(search: WaySearch) -> float:
    """Chance that an object lies in the finder's field when its place is aimed at by bare eye."""
    starts = search.starts()
    if not len(starts):
        return 0.0
    nearest = float(search.to_goal_deg[starts].min())
    sigma = np.hypot(search.skill.sight_deg, search.skill.distance_part * nearest)
    return float(in_field_around(sigma, search.sight.radius_deg))


def _best(search: WaySearch, starts: Indices) -> StarChain | None:
    """The chain worth most; a shorter one where it is long, the surest where it isn't sure."""
    way = search.best(starts)
    if way is None:
        return None
    if way.chance < OFFERED:
        return surest(search, starts) or way
    if len(way.stars) > MANY_STEPS:
        shorter = search.best(starts, price=_DEARER)
        if shorter is not None and shorter.chance >= OFFERED:
            return shorter
    return way


def surest(search: WaySearch, starts: Indices) -> StarChain | None:
    """The surest chain of those worth offering."""
    return search.best(starts, price=0.0, least=OFFERED)


def _weakest(way: StarChain) -> WeakPart:
    at = int(np.argmin(way.chances))
    if at == 0:
        return WeakPart.START
    return WeakPart.ARRIVAL if at == len(way.chances) - 1 else WeakPart.STAR


def _told(
    question: HopQuestion, search: WaySearch, way: StarChain, outcome: HopOutcome
) -> HopAnswer:
    stars = [_star(question, search, row) for row in way.stars]
    following = [*stars[1:], None]
    steps = tuple(
        _step(search, a, b, chance)
        for a, b, chance in zip(stars, following, way.chances[1:], strict=True)
    )
    return HopAnswer(outcome, way.chance, stars[0], way.chances[0], steps)


def _star(question: HopQuestion, search: WaySearch, row: int) -> HopStar:
    number, about = question.patch.stars.number, search.about
    told = search.told(row)[1]
    partners = tuple(
        Partner(
            k,
            int(number[k]),
            *_from(search, row, k),
            float(about.magnitude_v[k] - about.magnitude_v[row]),
        )
        for k in told.star
    )
    return HopStar(
        row=row,
        number=int(number[row]),
        magnitude_v=float(about.magnitude_v[row]),
        hour_angle_h=float(about.hour_deg[row]) / 15.0,
        declination_deg=float(about.declination_deg[row]),
        pattern=Pattern(told.kind, partners, told.left),
    )


def _from(search: WaySearch, row: int, other: int | None) -> tuple[float, float, float]:
    """Distance in degrees and in fields, and position angle, of a star or of the object (None)."""
    a = search.about
    hour, dec = a.object_hour_deg, a.object_declination_deg
    if other is not None:
        hour, dec = float(a.hour_deg[other]), float(a.declination_deg[other])
    ends = (-a.hour_deg[row], a.declination_deg[row], -hour, dec)
    far = float(separation_deg(*ends))
    return far, far / search.sight.finder_field_deg, float(position_angle_deg(*ends))


def _step(search: WaySearch, present: HopStar, following: HopStar | None, chance: float) -> HopStep:
    target = None if following is None else following.row
    hour, across, north = search.move(np.array([present.row]), target)
    sizes = [
        (abs(float(across[0])), MoveAxis.HOUR),
        (abs(float(north[0])), MoveAxis.DECLINATION),
    ]
    sizes.sort(key=lambda size: -size[0])
    little = ONE_TURN * search.sight.radius_deg
    far, field, angle = _from(search, present.row, target)
    return HopStep(
        present=present,
        following=following,
        hour_deg=float(hour[0]),
        declination_deg=float(north[0]),
        axes=tuple(axis for size, axis in sizes if size > little),
        distance_deg=far,
        distance_field=field,
        position_angle_deg=angle,
        fainter_mag=None if following is None else following.magnitude_v - present.magnitude_v,
        chance=chance,
    )
