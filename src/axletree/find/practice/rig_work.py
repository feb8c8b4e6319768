"""How long do setting up and taking down take this person, by what they noted?

Minutes are taken as normal in their logarithm: the mean of what was assumed before and of the
evenings by their weights (any handbook of statistics).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum

from axletree.kit.frozen import dataclass

# Standard deviations of the logarithm of the minutes between persons with like rigs, and between
# the evenings of one (ours).
PERSONS_LOG, EVENINGS_LOG = 0.4, 0.25


class RigWork(StrEnum):
    """What is done with the rig before and after the showing."""

    SET_UP = "set_up"
    TAKE_DOWN = "take_down"


@dataclass(frozen=True)
class LearnedWork:
    """What notes of `evenings` evenings teach of one work; `took_log` is the sum of the logarithms
    of their minutes."""

    work: RigWork
    evenings: int
    took_log: float

    def minutes(self, assumed_min: float) -> tuple[float, float]:
        """The usual minutes where `assumed_min` stood for them before, and their standard
        deviation."""
        return median_min(assumed_min, self.took_log, self.evenings, (PERSONS_LOG, EVENINGS_LOG))


def learn_work(noted: Iterable[tuple[RigWork, float]]) -> tuple[LearnedWork, ...]:
    """What these works and minutes teach; a work that nobody noted is not in it."""
    listed = list(noted)
    found = {work: [math.log(took) for one, took in listed if one is work] for work in RigWork}
    return tuple(LearnedWork(work, len(all_), sum(all_)) for work, all_ in found.items() if all_)


def median_min(
    assumed_min: float, took_log: float, count: int, log_sigmas: tuple[float, float]
) -> tuple[float, float]:
    """The median of minutes, and its standard deviation: `took_log` sums the logarithms of `count`
    of them; `log_sigmas` are those between persons and between the tries of one."""
    prior, each = (sigma**-2 for sigma in log_sigmas)
    total = prior + each * count
    minutes = math.exp((prior * math.log(assumed_min) + each * took_log) / total)
    return minutes, minutes / math.sqrt(total)
