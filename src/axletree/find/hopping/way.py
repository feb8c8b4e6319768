"""Which chain of stars leads a finder to an object, and how surely?

Nodes are stars that show in the finder; a move keeps the next star inside the field while the
present one stands in the middle. The search runs from the object outwards, so that only stars
about it are looked at: E. W. Dijkstra 1959, cost -log(chance) and a price for each step.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from copy import copy
from dataclasses import replace
from itertools import pairwise

import numpy as np

from axletree.find.chance import in_field_around
from axletree.find.hopping.pattern import Partners, partners_of
from axletree.find.hopping.recognise import (
    SURELY,
    Rivals,
    Showing,
    chance_of_right,
    chance_of_start,
    chance_told,
    faintest_start_mag,
    place_sigma_deg,
    rivals_of,
    showing,
)
from axletree.find.hopping.shortest import cheapest_path
from axletree.find.person import Skill, wrong_named_star
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask, distinct
from axletree.sky.directions import wrap_180

# Ours: a step is worth 10 % of chance, a second turn in it 2 %.
PRICE_STEP = 0.10
PRICE_TURN = 0.02
# A star nearer to the field's edge than a twentieth of its radius isn't asked for.
EDGE = 0.95
# A move along one axis is one turn where it brings the star this near, in parts of the radius.
ONE_TURN = 0.1
# Stars beyond this many are never the next to go to (a way of four fields holds a dozen a field),
# except close to the object, where fainter ones help, too.
_NODES = 250
_CLOSE = 30
# A move to a star less sure than this is never made, nor a last one less sure than the other.
_HOPELESS = 0.4
_HOPELESS_ARRIVAL = 0.02
_DEG = math.pi / 180.0


@dataclass(frozen=True)
class HopSight:
    """What is looked through, and what it shows under this sky.

    Fields are true ones, across. The limits are magnitudes as the stars stand in the lists, after
    the air's share: the finder's and the bare eye's. `finder_off_deg`: how far finder and tube may
    look apart, in each of two directions.
    """

    finder_field_deg: float
    finder_limit_mag: float
    bare_eye_limit_mag: float
    eyepiece_field_deg: float
    finder_off_deg: float = 0.0

    @property
    def radius_deg(self) -> float:
        """Half the finder's field."""
        return 0.5 * self.finder_field_deg


@dataclass(frozen=True)
class StarsAbout:
    """Stars about an object as the mount's axes see them, arrays (n,).

    `hour_deg` positive west, `declination_deg`, both through the air; `usable`: stands in the open
    sky. The object's own place beside them.
    """

    hour_deg: Floats
    declination_deg: Floats
    magnitude_v: Floats
    usable: Mask
    object_hour_deg: float
    object_declination_deg: float


@dataclass(frozen=True)
class StarChain:
    """Stars from the start to the last before the object, and the chances on the way.

    `chances`: of the start, of each star after it, and of the object in the eyepiece at the end.
    """

    stars: tuple[int, ...]
    chances: tuple[float, ...]

    @property
    def chance(self) -> float:
        """That the object is in the weakest eyepiece at the end."""
        return math.prod(self.chances)


class WaySearch:
    """One finder under one sky around one object: the chains that lead there."""

    def __init__(self, about: StarsAbout, sight: HopSight, skill: Skill) -> None:
        self.about, self.sight, self.skill = about, sight, skill
        self.vector = _vectors(about.hour_deg, about.declination_deg)
        self.goal = _vectors(
            np.array([about.object_hour_deg]), np.array([about.object_declination_deg])
        )[0]
        self.field: Showing = showing(
            self.vector, about.magnitude_v, sight.finder_limit_mag, sight.radius_deg
        )
        self.to_goal_deg = _angle_deg(self.vector @ self.goal)
        self.nodes = self._nodes()
        self._node_vector = self.vector[self.nodes]
        # Told from the farthest star that can stand in the middle, places are judged worst.
        self._worst_deg = float(place_sigma_deg(EDGE * sight.radius_deg, sight.radius_deg, skill))
        self._named = frozenset(self.starts().tolist())
        self._told: dict[int, tuple[Rivals, Partners]] = {}
        self._begun: dict[int, float] = {}

    def through(self, sight: HopSight) -> WaySearch:
        """The same stars for another finder or sky: nothing that was looked at holds there."""
        return WaySearch(self.about, sight, self.skill)

    def into(self, eyepiece_field_deg: float) -> WaySearch:
        """The same finder with another eyepiece: which stars are taken for which stays known."""
        other = copy(self)
        other.sight = replace(self.sight, eyepiece_field_deg=eyepiece_field_deg)
        return other

    def _nodes(self) -> Indices:
        """Stars that somebody may be sent to."""
        surely = self.about.usable & (self.field.noticed >= SURELY)
        seen = np.flatnonzero(surely)
        brightest = seen[np.argsort(self.about.magnitude_v[seen], kind="stable")[:_NODES]]
        close = seen[self.to_goal_deg[seen] <= 0.5 * self.sight.radius_deg]
        helpful = close[np.argsort(self.about.magnitude_v[close], kind="stable")[:_CLOSE]]
        return np.asarray(distinct(np.concatenate([brightest, helpful])))

    def starts(self) -> Indices:
        """Stars that the bare eye can be asked to name."""
        bright = self.about.magnitude_v <= faintest_start_mag(self.sight.bare_eye_limit_mag)
        return np.flatnonzero(bright & self.about.usable)

    def arrival(self, star: Indices) -> Floats:
        """Chance that the object is in the eyepiece after the last move from these stars."""
        sigma = place_sigma_deg(self.to_goal_deg[star], self.sight.radius_deg, self.skill)
        sigma = np.hypot(sigma, self.sight.finder_off_deg)
        return in_field_around(sigma, 0.5 * self.sight.eyepiece_field_deg)

    def best(self, starts: Indices, price: float = 1.0, least: float = 0.0) -> StarChain | None:
        """The cheapest way from any of these stars; None where no chain leads to the object.

        `price` multiplies what steps cost beside their chance: 0 asks for the surest way, and then
        `least` is the chance below which none is looked for.
        """
        allowed = {int(s) for s in starts}
        if not allowed:
            return None
        open_nodes = np.zeros(len(self.vector), dtype=np.bool_)
        open_nodes[self.nodes] = True
        last = self.nodes[self.to_goal_deg[self.nodes] <= EDGE * self.sight.radius_deg]
        last = last[self.arrival(last) >= _HOPELESS_ARRIVAL]
        arrives = self.arrival(last)
        arrival = dict(zip(last.tolist(), arrives.tolist(), strict=True))
        begin = zip(last.tolist(), self._cost(arrives, last, price).tolist(), strict=True)
        rest = dict(zip(self.nodes.tolist(), self._rest(starts, price).tolist(), strict=True))

        def backward(target: int) -> Iterable[tuple[int, float]]:
            open_nodes[target] = False  # the cheapest way to it is known
            present, distance_deg = self._within(target, open_nodes)
            rivals, _ = self.told(target)
            chances = chance_of_right(self.field, rivals, present, distance_deg, self.skill)
            hopeful = chances >= _HOPELESS
            present, chances = present[hopeful], chances[hopeful]
            costs = self._cost(chances, present, price, target)
            return zip(present.tolist(), costs.tolist(), strict=True)

        def finish(star: int) -> float | None:
            if star not in allowed:
                return None
            p = self._chance_of_start(star)
            return -math.log(p) if p >= _HOPELESS else None

        most = -math.log(least) if least > 0.0 and price == 0.0 else math.inf
        found = cheapest_path(begin, backward, finish, rest.__getitem__, most)
        if found is None:
            return None
        stars = found[1][::-1]
        between = [
            chance_told(self.field, self.told(b)[0], a, self.skill) for a, b in pairwise(stars)
        ]
        begun = self._chance_of_start(stars[0])
        return StarChain(stars, (begun, *between, arrival[stars[-1]]))

    def _chance_of_start(self, star: int) -> float:
        if star not in self._begun:
            self._begun[star] = chance_of_start(self.field, self.told(star)[0], self.skill)
        return self._begun[star]

    def told(self, target: int) -> tuple[Rivals, Partners]:
        """The stars that may be taken for this one, and those about it that tell it from them."""
        if target not in self._told:
            sigma = max(self._worst_deg, self.skill.sight_deg if target in self._named else 0.0)
            among = rivals_of(self.field, target, sigma, self.skill)
            self._told[target] = partners_of(self.field, among, sigma, self.skill)
        return self._told[target]

    def _within(self, target: int, among: Mask) -> tuple[Indices, Floats]:
        """Nodes of these that can stand in the middle while the target shows, and how far."""
        along = self._node_vector @ self.vector[target]
        edge = math.cos(EDGE * self.sight.radius_deg * _DEG)
        near = (along > edge) & among[self.nodes]
        return self.nodes[near], _angle_deg(along[near])

    def _rest(self, starts: Indices, price: float) -> Floats:
        """What a way from each node back to a start costs at least: the steps, and to name it."""
        named = -np.log(1.0 - wrong_named_star(self.about.magnitude_v[starts], self.skill))
        if price == 0.0:
            return np.full(len(self.nodes), named.min())
        far_deg = _angle_deg(self._node_vector @ self.vector[starts].T)
        steps = np.ceil(far_deg / (EDGE * self.sight.radius_deg) - 1e-9)
        return np.asarray((price * PRICE_STEP * steps + named).min(axis=1))

    def _cost(
        self, chance: Floats, star: Indices, price: float, target: int | None = None
    ) -> Floats:
        lost = -np.log(np.maximum(chance, 1e-9))
        if price == 0.0:
            return np.asarray(lost)
        across, north = np.abs(self.move(star, target)[1:])
        little = ONE_TURN * self.sight.radius_deg
        turns = PRICE_TURN * ((across > little) & (north > little))
        return np.asarray(price * (PRICE_STEP + turns) + lost)

    def move(self, star: Indices, target: int | None) -> tuple[Floats, Floats, Floats]:
        """Turn of the hour axis (positive west), its size on the sky, turn in declination; degrees.

        `target` None is the object.
        """
        a = self.about
        hour = a.object_hour_deg if target is None else float(a.hour_deg[target])
        dec = a.object_declination_deg if target is None else float(a.declination_deg[target])
        turn = wrap_180(hour - a.hour_deg[star])
        return turn, turn * math.cos(dec * _DEG), np.asarray(dec - a.declination_deg[star])


def _vectors(hour_deg: Floats, declination_deg: Floats) -> Floats:
    H, d = np.radians(hour_deg), np.radians(declination_deg)
    return np.stack([np.cos(d) * np.cos(H), -np.cos(d) * np.sin(H), np.sin(d)], axis=-1)


def _angle_deg(cosine: Floats) -> Floats:
    return np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
