"""How does this person find: by what they noted, how often do turns and hops lead there, how soon?

Each noted try has the chance p that was reckoned for it. Where the true errors are f times the
assumed ones, Rayleigh's law for a round field makes it 1 - (1 - p)^(1 / f^2). The prior of f is 1,
known to `PRIOR_FACTOR` (ours); Bayes' rule on a grid of log f does the rest. Minutes are taken as
normal in their logarithm with a known spread (ours): the mean of the prior and of the tries by
their weights (any handbook of statistics).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum

import numpy as np

from axletree.find.practice.rig_work import LearnedWork, RigWork, median_min
from axletree.kit.frozen import dataclass

# How far a person's errors may be from the assumed ones: a standard deviation of log f (ours).
PRIOR_FACTOR = 0.5
# What one try takes a person, minutes, and the standard deviations of its logarithm between persons
# and between the tries of one (ours).
USUAL_MIN = {"steps": 3.0, "hop": 5.0, "sweep": 4.0, "eye": 1.0}
_LOG_SIGMAS = (0.5, 0.6)
_LOG_F = np.linspace(-2.0, 2.0, 401)


class FoundBy(StrEnum):
    """How an object was looked for."""

    STEPS = "steps"
    HOP = "hop"
    SWEEP = "sweep"
    EYE = "eye"


@dataclass(frozen=True)
class Try:
    """One way that was tried: whether it led there, in how many minutes, and the chance that was
    reckoned with for it (0-1, by assumed errors); None for what nobody noted."""

    by: FoundBy
    found: bool
    minutes: float | None = None
    chance: float | None = None


@dataclass(frozen=True)
class LearnedWay:
    """What the tries of one way teach.

    `tries` those that count for the chance, of which `found`; `factor` is how many times the
    assumed error this person's is, `factor_log_sigma` the error of its logarithm. `minutes` a find
    usually takes (the median) from `timed` tries, `minutes_sigma` its error, `took_log` the sum of
    their logarithms.
    """

    by: FoundBy
    tries: int
    found: int
    factor: float
    factor_log_sigma: float
    timed: int
    minutes: float
    minutes_sigma: float
    took_log: float = 0.0

    def chance(self, assumed: float) -> tuple[float, float]:
        """What an assumed chance (0-1) is for this person, and its standard deviation."""
        told = with_factor(assumed, self.factor)
        return told, self.told_sigma(told)

    def told_sigma(self, told: float) -> float:
        """The standard deviation of a chance (0-1) that was made with the factor already."""
        low, high = self.told_range(told)
        return (high - low) / 2.0

    def told_range(self, told: float) -> tuple[float, float]:
        """Such a chance (0-1) with errors a standard deviation larger and smaller than learned:
        near 0 and near 1 it doesn't lie in the middle."""
        low, high = (with_factor(told, math.exp(k * self.factor_log_sigma)) for k in (1.0, -1.0))
        return low, high


@dataclass(frozen=True)
class LearnedFinding:
    """What a log teaches of one person with one rig, by way; a way without tries is not in it.

    `work`: how long setting up and taking down take, as far as they were noted.
    """

    ways: tuple[LearnedWay, ...]
    work: tuple[LearnedWork, ...] = ()

    def of(self, by: FoundBy) -> LearnedWay | None:
        """What it teaches of one way."""
        return next((way for way in self.ways if way.by is by), None)

    def of_work(self, work: RigWork) -> LearnedWork | None:
        """What it teaches of setting up or taking down."""
        return next((one for one in self.work if one.work is work), None)

    def seconds_to_find(self, assumed_s: float) -> tuple[float, float] | None:
        """How long a find of any way takes this person, and its standard deviation, where
        `assumed_s` stood for it before; None where nobody noted a time."""
        took, timed = sum(way.took_log for way in self.ways), sum(way.timed for way in self.ways)
        if not timed:
            return None
        usual, sigma = median_min(assumed_s / 60.0, took, timed, _LOG_SIGMAS)
        return usual * 60.0, sigma * 60.0


def with_factor(chance: float, factor: float) -> float:
    """A chance (0-1) to lie in a round field when all errors are `factor` times as large."""
    return 1.0 - math.pow(max(1.0 - chance, 0.0), factor**-2)


def learn(tries: Iterable[Try]) -> LearnedFinding:
    """What these tries teach; a try without its reckoned chance teaches minutes alone."""
    listed = list(tries)
    ways = [_way(by, [t for t in listed if t.by is by]) for by in FoundBy]
    return LearnedFinding(tuple(way for way in ways if way is not None))


def _way(by: FoundBy, tries: list[Try]) -> LearnedWay | None:
    if not tries:
        return None
    known = [t for t in tries if t.chance is not None and 0.0 < t.chance < 1.0]
    log = -0.5 * (_LOG_F / PRIOR_FACTOR) ** 2
    for one in known:
        missed = (1.0 - (one.chance or 0.0)) ** np.exp(-2.0 * _LOG_F)
        log = log + np.log(np.maximum(1.0 - missed if one.found else missed, 1e-300))
    weight = np.exp(log - log.max())
    weight /= weight.sum()
    mean = float(weight @ _LOG_F)
    sigma = math.sqrt(float(weight @ (_LOG_F - mean) ** 2))
    took = [math.log(t.minutes) for t in tries if t.found and t.minutes is not None]
    minutes, minutes_sigma = median_min(USUAL_MIN[by], sum(took), len(took), _LOG_SIGMAS)
    return LearnedWay(
        by=by, tries=len(known), found=sum(t.found for t in known), factor=math.exp(mean),
        factor_log_sigma=sigma, timed=len(took), minutes=minutes,
        minutes_sigma=minutes_sigma, took_log=sum(took),
    )  # fmt: skip
