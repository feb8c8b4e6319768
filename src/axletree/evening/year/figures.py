"""What is a night worth for the deep sky, for Moon and planets, and to this audience?

Public: ``NightFigures``, ``Scale``, ``raw_figures``, ``scale_of``, ``Shares``, ``shares_of``.

Each figure is a share of the best night of the kit's own year, 0 to 100. The first stops of a
night count most: whoever has shown Saturn and a globular cluster has had an evening.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.year.filling import Filling
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Audience, Theme, audience_of
from axletree.sky.arrays import Floats, Indices


@dataclass(frozen=True)
class Shares:
    """How much deep sky, Moon and planets, and the stops as they are count in the score; sum 1."""

    deep_sky: float
    moon_and_planets: float
    stops: float


# What each audience comes out for (common practice, no source; the figures are ours): a class for
# the Moon's shadows and the rings, whoever is out alone for what is far, everybody else for what
# pleases tonight, which under a dark sky is the deep sky and in a town the Moon.
OF_AUDIENCE: dict[Audience, Shares] = {
    "alone": Shares(0.65, 0.05, 0.3),
    "family": Shares(0.15, 0.35, 0.5),
    "class": Shares(0.1, 0.4, 0.5),
    "public": Shares(0.1, 0.3, 0.6),
}
DEEP_THEMES: frozenset[Theme] = frozenset(("clusters", "nebulae", "galaxies"))
# Of the logarithm of a stop's weight, over as many stops as are wanted: the last deep-sky stop
# counts three tenths of the first, the last of the list a twentieth (ours).
_DEEP_FALL, _STOPS_FALL = 1.2, 3.0
# Stops that please three quarters as much are worth a third: what pleases differs little from night
# to night, and much to people (ours).
_PLEASED_POWER = 4.0


@dataclass(frozen=True)
class NightFigures:
    """Figures of m nights, (m,): as they come, or from 0 to 100 by a `Scale`."""

    deep_sky: Floats
    moon_and_planets: Floats
    stops: Floats


@dataclass(frozen=True)
class Scale:
    """The best of each figure, and of the score made from them, in a kit's own year."""

    deep_sky: float
    moon_and_planets: float
    stops: float
    score: float = 1.0

    def of(self, raw: NightFigures) -> NightFigures:
        """From 0 to 100; a night may be a little better than the best of those looked at."""
        return NightFigures(
            _part(raw.deep_sky, self.deep_sky),
            _part(raw.moon_and_planets, self.moon_and_planets),
            _part(raw.stops, self.stops),
        )


def shares_of(kit: Kit) -> Shares:
    """What counts how much for the kit's audience; what none of its themes is counts nothing."""
    shares, themes = OF_AUDIENCE[audience_of(kit.habits)], set(kit.habits.themes)
    if themes & {"anything", "first looks"}:
        return shares
    deep = shares.deep_sky if themes & DEEP_THEMES else 0.0
    bodies = shares.moon_and_planets if "moon and planets" in themes else 0.0
    total = deep + bodies + shares.stops
    return Shares(deep / total, bodies / total, shares.stops / total)


def raw_figures(
    kit: Kit, deep_left: Floats, room: Floats, bodies: Filling, stops: Filling, wanted: int
) -> NightFigures:
    """Of m nights: from what is left of the deep sky in each slot and the `room` of it (m, slots),
    the stops of Moon and planets alone, and those of everything; `wanted` stops at most."""
    given = kit.habits.weights
    # What anything gets that shows plainly and stands high, however little it pleases.
    for_nothing = 100.0 * (given.shows + given.differs + given.comfort) / given.total
    pleased = np.maximum(stops.points - for_nothing, 0.0)
    return NightFigures(
        deep_sky=_best_first(deep_left, room, wanted, _DEEP_FALL),
        moon_and_planets=(bodies.points * bodies.part).sum(axis=1),
        stops=_pleased(pleased, stops.part, wanted),
    )


def scale_of(kit: Kit, raw: NightFigures, rows: Indices) -> Scale:
    """The best of a year, from the nights at `rows` that stand for it."""

    def best(values: Floats) -> float:
        return max(float(values[rows].max(initial=0.0)), 1e-9)

    plain = Scale(best(raw.deep_sky), best(raw.moon_and_planets), best(raw.stops))
    score = best(mixed(shares_of(kit), plain.of(raw)))
    return Scale(plain.deep_sky, plain.moon_and_planets, plain.stops, score)


def mixed(shares: Shares, figures: NightFigures) -> Floats:
    """The figures (m,) in one, as the audience counts them."""
    return np.asarray(
        shares.deep_sky * figures.deep_sky
        + shares.moon_and_planets * figures.moon_and_planets
        + shares.stops * figures.stops
    )


def score_of(kit: Kit, scale: Scale, figures: NightFigures, kept: Floats) -> Floats:
    """0 to 100 for this audience; `kept` is what must be seen and is there, as a share."""
    return _part(mixed(shares_of(kit), figures) * kept, scale.score)


def _part(values: Floats, best: float) -> Floats:
    return np.asarray(np.clip(100.0 * values / best, 0.0, 100.0))


def _pleased(values: Floats, size: Floats, most: int) -> Floats:
    """How much the stops please, (m,): by the usual one of them, and by how many there are.

    Of the best stops, so many as please most together: nobody is worse off for more of them.
    """
    value, weight = _weighed(values, size, most, _STOPS_FALL)
    number = np.cumsum(weight, axis=1)
    usual = np.cumsum(value * weight, axis=1) / np.maximum(number, 1e-9)
    together = usual**_PLEASED_POWER * number
    return np.asarray(together.max(axis=1, initial=0.0))


def _best_first(values: Floats, size: Floats, most: int, fall: float) -> Floats:
    """Sum over at most `most` stops, (m,): the best first, each next one weighing less.

    `values` and `size`, how many stops or what part of one, are (m, k).
    """
    value, weight = _weighed(values, size, most, fall)
    return np.asarray((value * weight).sum(axis=1))


def _weighed(values: Floats, size: Floats, most: int, fall: float) -> tuple[Floats, Floats]:
    """Values and weights (m, k) of at most `most` stops, the best first."""
    order = np.argsort(-values, axis=1, kind="stable")
    value, stops = np.take_along_axis(values, order, 1), np.take_along_axis(size, order, 1)
    before = np.cumsum(stops, axis=1) - stops
    stops = np.clip(most - before, 0.0, stops)
    return value, stops * np.exp(-fall * (before + stops / 2.0) / most)
