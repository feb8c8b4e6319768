"""It isn't in the field: along which legs do the knobs search around the place?

A square spiral in knob turns, looked through all the way: the hour knob's turns are those on the
sky divided by the cosine of the declination. Undriven, the sky's turn since the last leg of the
hour knob is in the next one, so that the search goes along with the object. Every change of a
knob's direction first takes up its backlash.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from axletree.find.turning.arrival import SKY_DEG_PER_S, Arrival
from axletree.find.turning.knobs import KnobFigures, Mounted, knob_figures
from axletree.find.turning.shafts import SkyPlace, turns_within, way_seconds
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask

# From leg to leg, in parts of the field's width: what shows at its edge is easily missed (ours).
STEP_OF_FIELD = 0.8
ENOUGH = 0.95  # chance that what was searched holds the object (our figure)
MOST_LEGS = 24  # nobody keeps count of more (our figure)
_RINGS, _ROUND = 48, 96


class SweptBy(StrEnum):
    """Which knob makes a leg."""

    HOUR = "hour"
    DECLINATION = "declination"


class SweepRefusal(StrEnum):
    """Why there is no search in knob turns."""

    NO_KNOB = "no_knob"  # one axis has none, or nobody counted its turns
    OUT_OF_REACH = "out_of_reach"


@dataclass(frozen=True)
class SweepLeg:
    """One leg: `turns` of its knob, clockwise positive, backlash and the sky's turn included.

    `sky_deg`: how far the field goes on the sky, west and north positive. `chance` (0-1): how
    likely the object lies in what was seen by its end. `seconds` that it takes.
    """

    by: SweptBy
    turns: float
    sky_deg: float
    seconds: float
    chance: float


@dataclass(frozen=True)
class Sweep:
    """A search around a place where the object should be, and the way back to the star.

    `step_deg` between neighbouring legs. `chance_before`: in the field at the first look. `legs` go
    on until the chance is `ENOUGH`, or the knobs' reach or `MOST_LEGS` ends them. `seconds` with
    the first look, after which the search begins. `back_hour_turns`
    and `back_declination_turns`, clockwise positive, lead from the last leg's end to the star; None
    where they are too many to count. `carried`: the sky's turn is in the legs.
    """

    step_deg: float
    chance_before: float
    legs: tuple[SweepLeg, ...]
    seconds: float
    back_hour_turns: float | None
    back_declination_turns: float | None
    carried: bool

    @property
    def chance(self) -> float:
        """How likely the object lies in all that was seen, 0-1."""
        return self.legs[-1].chance if self.legs else self.chance_before


def sweep(
    mounted: Mounted, star: SkyPlace, thing: SkyPlace, arrived: Arrival
) -> Sweep | SweepRefusal:
    """The search around an object to which a star led; places (1,) at the time of arrival.

    `arrived`: how surely the tube points there. Of that spread, not of a miscounted turn or a wrong
    star, the chances speak: back at the star both are found out.
    """
    hour, declination = knobs = knob_figures(mounted)
    if hour.degrees_per_turn is None or declination.degrees_per_turn is None:
        return SweepRefusal.NO_KNOB
    turned = turns_within(mounted, star, thing, np.zeros(1))
    if not turned.reached[0]:
        return SweepRefusal.OUT_OF_REACH
    search = _Search(mounted, knobs, turned.to_object[0], float(turned.declination_deg[0]))
    points = _spread_points(np.array(arrived.covariance_deg2))
    seen = _near(points, np.zeros(2), np.zeros(2), search.radius_deg)
    before = float(seen.mean())
    legs: list[SweepLeg] = []
    chance = before
    while chance < ENOUGH and len(legs) < MOST_LEGS:
        k, sky_deg = search.next_leg(len(legs))
        if not search.within_reach(k, sky_deg):
            break
        begin = search.on_sky()
        turns, seconds = search.go(k, sky_deg)
        seen |= _near(points, begin, search.on_sky(), search.radius_deg)
        chance = float(seen.mean())
        by = (SweptBy.HOUR, SweptBy.DECLINATION)[k]
        legs.append(SweepLeg(by, turns, sky_deg, seconds, chance))
    way = np.array([[turned.hour_deg[0], turned.declination_deg[0]]]) + search.at_deg
    back_s = float(way_seconds(mounted, way, knobs)[0])
    return Sweep(
        step_deg=search.step_deg,
        chance_before=before,
        legs=tuple(legs),
        seconds=mounted.skill.look_s + sum(leg.seconds for leg in legs),
        back_hour_turns=search.back(0, -float(way[0, 0]) + search.sky_deg_per_s * back_s),
        back_declination_turns=search.back(1, -float(way[0, 1])),
        carried=not mounted.driven,
    )


class _Search:
    """Where the search has got to: `at_deg` (2,) of both shafts from the object's, west, north."""

    def __init__(
        self, mounted: Mounted, knobs: tuple[KnobFigures, KnobFigures], to_sky: Floats,
        arm_deg: float,
    ) -> None:  # fmt: skip
        self.mounted, self.knobs, self.to_sky = mounted, knobs, to_sky
        self.radius_deg = mounted.eyepiece_field_deg / 2.0
        self.step_deg = STEP_OF_FIELD * mounted.eyepiece_field_deg
        self.sky_deg_per_s = 0.0 if mounted.driven else SKY_DEG_PER_S
        # While somebody looks and doesn't find, the sky goes on.
        self.owed_deg = self.sky_deg_per_s * mounted.skill.look_s
        self.at_deg = np.array([-self.owed_deg, 0.0])
        self.came_deg = arm_deg
        # Come to from the east, and from where the declination knob led.
        self.last = [1.0, 1.0 if arm_deg >= 0.0 else -1.0]
        self.first = tuple(self.last)

    def on_sky(self) -> Floats:
        """Where the field's middle stands (2,): degrees east and north of the object's place."""
        return np.asarray(self.to_sky @ self.at_deg)

    def next_leg(self, number: int) -> tuple[int, float]:
        """Which axis turns in a leg (0 hour, 1 declination), and how far on the sky, degrees."""
        k = number % 2
        length = (number // 2 + 1) * self.step_deg
        sign = self.first[k] * (1.0 if number % 4 < 2 else -1.0)
        return k, sign * length

    def within_reach(self, k: int, sky_deg: float) -> bool:
        """Whether the declination arm gets there; a worm has no end."""
        gears = self.mounted.kit.mount.gears
        if k == 0 or not gears.declination_arm:
            return True
        there = self.came_deg + self.at_deg[1] + self._shaft_deg(1, sky_deg)
        return bool(abs(there) <= max(self.knobs[1].most_deg, abs(self.came_deg)))

    def go(self, k: int, sky_deg: float) -> tuple[float, float]:
        """Make a leg: its knob's turns, clockwise positive, and the seconds that it takes."""
        skill = self.mounted.skill
        fields = abs(sky_deg) / self.mounted.eyepiece_field_deg
        seconds = skill.change_knob_s + fields * skill.sweep_field_s
        shaft = self._shaft_deg(k, sky_deg)
        self.owed_deg += self.sky_deg_per_s * seconds
        if k == 1:
            self.at_deg = self.at_deg + np.array([-self.sky_deg_per_s * seconds, shaft])
            return self._turns(1, shaft), seconds
        # What the sky went on while the other knob was turned is made up for here.
        aim = np.array([shaft + self.lag_deg(seconds), 0.0])
        turns = self._turns(0, shaft + self.owed_deg)
        self.at_deg = self.at_deg + aim
        self.owed_deg = 0.0
        return turns, seconds

    def lag_deg(self, seconds: float) -> float:
        """By how much the hour axis lagged behind the sky before a leg of so many seconds."""
        return self.owed_deg - self.sky_deg_per_s * seconds

    def back(self, k: int, shaft_deg: float) -> float | None:
        """Knob turns for a turn of the shaft; None where nobody would count them."""
        if not bool(self.knobs[k].by_knob(np.array([shaft_deg]))[0]):
            return None
        return self._turns(k, shaft_deg)

    def _shaft_deg(self, k: int, sky_deg: float) -> float:
        return sky_deg / float(np.linalg.norm(self.to_sky[:, k]))

    def _turns(self, k: int, shaft_deg: float) -> float:
        knob, sign = self.knobs[k], 1.0 if shaft_deg >= 0.0 else -1.0
        turns = shaft_deg / (knob.degrees_per_turn or np.inf)
        if sign != self.last[k]:
            turns += sign * knob.backlash_turns
        self.last[k] = sign
        return knob.clockwise * turns


def _spread_points(covariance_deg2: Floats) -> Floats:
    """Points (n, 2) that share a normal law evenly: equal parts of it along rings."""
    radius = np.sqrt(-2.0 * np.log1p(-(np.arange(_RINGS) + 0.5) / _RINGS))
    angle = (np.arange(_ROUND) + 0.5) * 2.0 * np.pi / _ROUND
    round_points = np.stack([np.outer(radius, np.cos(angle)), np.outer(radius, np.sin(angle))], -1)
    sizes, axes = np.linalg.eigh(covariance_deg2)
    root = axes * np.sqrt(np.maximum(sizes, 0.0))
    return np.asarray(round_points.reshape(-1, 2) @ root.T)


def _near(points: Floats, begin: Floats, end: Floats, radius_deg: float) -> Mask:
    """Which points (n, 2) come within a radius of the way from one place to another."""
    way = end - begin
    length2 = float(way @ way)
    share = np.zeros(len(points)) if length2 == 0.0 else (points - begin) @ way / length2
    nearest = begin + np.clip(share, 0.0, 1.0)[:, None] * way
    return np.asarray(np.linalg.norm(points - nearest, axis=-1) <= radius_deg)
