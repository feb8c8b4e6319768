"""Which entries of the catalogues are one sight: a double that is also a red star?"""

from __future__ import annotations

import numpy as np

from axletree.evening.offered.candidates import Candidates
from axletree.sky.arrays import Indices, Mask
from axletree.sky.directions import separation_deg

# Two entries nearer than this are one thing to look at: no field of ours parts them (ours).
TWIN_DEG = 0.02
# One stop shows all of these: what stands in the field of the first is no stop of its own.
SIGHTS = {
    "Double Cluster": ("NGC 869", "NGC 884"),
    "NGC 224": ("NGC 221", "NGC 205"),
    "NGC 1976": ("NGC 1982", "NGC 1977", "NGC 1980", "NGC 1981"),
    "NGC 3627": ("NGC 3623",),
    "NGC 4406": ("NGC 4374",),
    "NGC 5194": ("NGC 5195",),
    "NGC 6523": ("NGC 6530",),
}


def without_twins(candidates: Candidates, order: Indices, most: int | None = None) -> Indices:
    """The rows of `order` without a second entry for the same place, the first one stays.

    At most `most` rows. The Moon and the planets have no twins.
    """
    twins = _twins(candidates, order)
    kept: dict[int, None] = {}
    for row in order.tolist():
        if most is not None and len(kept) == most:
            break
        if not any(twin in kept for twin in twins.get(row, ())):
            kept[row] = None
    return np.array(list(kept), dtype=np.intp)


def one_of_a_sight(candidates: Candidates, order: Indices, asked: Mask) -> Indices:
    """The rows of `order` without what stands in the field of a greater one (`SIGHTS`).

    What somebody `asked` for (n candidates,) stays.
    """
    there = {candidates.ids[row] for row in order.tolist()}
    beside = {part for whole, parts in SIGHTS.items() if whole in there for part in parts}
    kept = [row for row in order.tolist() if asked[row] or candidates.ids[row] not in beside]
    return np.array(kept, dtype=np.intp)


def _twins(candidates: Candidates, rows: Indices) -> dict[int, list[int]]:
    """For each row that has some, the rows within `TWIN_DEG` along a great circle."""
    fixed = rows[np.isfinite(candidates.ra_deg[rows])]
    fixed = fixed[np.argsort(candidates.dec_deg[fixed], kind="stable")]
    ra, dec = candidates.ra_deg[fixed], candidates.dec_deg[fixed]
    found: dict[int, list[int]] = {}
    for ahead in range(1, len(fixed)):
        close = np.flatnonzero(dec[ahead:] - dec[:-ahead] < TWIN_DEG)
        if len(close) == 0:
            break
        apart = separation_deg(ra[close], dec[close], ra[close + ahead], dec[close + ahead])
        for k in close[apart < TWIN_DEG].tolist():
            one, other = int(fixed[k]), int(fixed[k + ahead])
            found.setdefault(one, []).append(other)
            found.setdefault(other, []).append(one)
    return found
