"""How much of the deep sky that shows from here without Moon and twilight is left in each slot?

Counted on the glows and clusters themselves: how many of those that stand clear still show, and
how well. The season hardly counts in it (what stands there has its part in the stops): a moonless
hour of any month is worth more than a moonlit one of the best.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.objects.worth import ENOUGH_MAG
from axletree.evening.seeing.visibility import CLUSTER, GLOWS
from axletree.evening.year.night_samples import NightSamples
from axletree.evening.year.sights import Sights
from axletree.evening.year.slot_looks import looks_at
from axletree.sky.arrays import Floats, Ints, Mask, Reals

# Half of the deep sky left is worth an eighth, and the poorest season nearly the best (ours).
LEFT_POWER, SEASON_POWER = 3.0, 0.025
# So many glows stand for all of them, evenly through right ascension; a slot in two is looked at
# where they are short.
_SAMPLE = 450
_SHORT_S = 1200.0


def deep_sky(sights: Sights) -> Mask:
    """Which fixed objects (n,) are deep sky: glows and clusters, no stars."""
    return np.isin(sights.candidates.looks.sort, (*GLOWS, CLUSTER))


def deep_sky_left(sights: Sights, samples: NightSamples) -> Floats:
    """What the deep sky is worth in each slot, (sessions, slots): 1 is a moonless dark hour of the
    best season, 0 nothing at all. Zeros where no deep sky ever shows from here."""
    rows = np.flatnonzero(deep_sky(sights))
    if not len(rows):
        return np.zeros((samples.shape[0], samples.slots))
    rows = rows[np.argsort(sights.ra_h[rows], kind="stable")][:: max(1, len(rows) // _SAMPLE)]
    glows = sights.take(rows)
    columns = _columns(samples)
    looks = looks_at(glows, samples, columns)
    number, clarity = (looks.margin >= 0.0).sum(axis=2), _clarity(looks.margin).sum(axis=2)
    most, best = (looks.darkest >= 0.0).sum(axis=2), _clarity(looks.darkest).sum(axis=2)
    left = _share(number, most) * _share(clarity, best)
    season = _share(best, np.full(best.shape, _clarity(glows.darkest).sum(axis=0).max()))
    return _through_all(samples, columns, left**LEFT_POWER * season**SEASON_POWER)


def _columns(samples: NightSamples) -> list[int]:
    """The instants that are looked at: the middles of the slots, of short ones every other."""
    last = samples.slots
    if samples.slot_s > _SHORT_S or last < 3:
        return list(range(1, last + 1))
    return sorted({*range(1, last + 1, 2), last})


def _through_all(samples: NightSamples, columns: list[int], values: Floats) -> Floats:
    """From some of the slots to all of them, by straight lines."""
    if len(columns) == samples.slots:
        return values
    places = np.array(columns, dtype=np.float64)
    wanted = np.arange(1, samples.slots + 1, dtype=np.float64)
    return np.stack([np.interp(wanted, places, row) for row in values])


def _clarity(margin: Reals) -> Floats:
    """How well each shows, 0 to 1, as the part `shows` of its worth counts it."""
    return np.asarray(np.clip(margin, 0.0, ENOUGH_MAG) / ENOUGH_MAG)


def _share(part: Reals | Ints, whole: Reals | Ints) -> Floats:
    return np.asarray(np.clip(np.where(whole > 0.0, part / np.maximum(whole, 1e-9), 0.0), 0.0, 1.0))
