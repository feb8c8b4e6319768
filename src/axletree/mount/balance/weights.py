"""Which of the owned weights go on the shaft, and where?

A loading is an order of weights from the head outwards, slid along the shaft as one block: for
a given order this reaches every moment that the order can reach at all, between the block
against the head and the block at the shaft's end. All combinations are searched, and of small
ones all orders.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate, permutations, product
from math import prod

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import Weight

MOST_COMBINATIONS = 20_000
_ALL_ORDERS_UP_TO = 6
# Room to slide either way that a first placement should leave for trimming (our figure).
TRIM_ROOM_MM = 15.0
_EXACT_KG_M = 1e-9


@dataclass(frozen=True)
class Loading:
    """Weights on the shaft, from the head outwards.

    `position_mm` are distances from the crossing of the axes to each weight's middle;
    `gap_mm` from the start of the usable shaft to each weight's nearer face. `leftover_kg_m` is
    the moment still missing on the weights' side (negative: the weights are too heavy).
    `inward_mm` and `outward_mm` is how far the block can still slide.
    """

    mass_kg: tuple[float, ...]
    thickness_mm: tuple[float, ...]
    position_mm: tuple[float, ...]
    gap_mm: tuple[float, ...]
    leftover_kg_m: float
    inward_mm: float
    outward_mm: float

    @property
    def exact(self) -> bool:
        """True when the weights balance the tube's side fully."""
        return abs(self.leftover_kg_m) <= _EXACT_KG_M

    @property
    def total_kg(self) -> float:
        """Mass of all weights on the shaft."""
        return float(sum(self.mass_kg))

    @property
    def moment_kg_m(self) -> float:
        """Sum of mass times distance from the crossing."""
        return float(np.dot(self.mass_kg, self.position_mm) / 1000)


_Type = tuple[float, float, int]  # mass, thickness, count


def _types(weights: Sequence[Weight]) -> list[_Type]:
    """(mass, thickness, count) of distinct weights, heaviest first."""
    counts: dict[tuple[float, float], int] = {}
    for weight in weights:
        key = (weight.mass_kg, weight.thickness_mm)
        counts[key] = counts.get(key, 0) + weight.count
    return [(m, t, n) for (m, t), n in sorted(counts.items(), reverse=True)]


def combinations(
    weights: Sequence[Weight], shaft_length_mm: float
) -> Iterator[tuple[tuple[float, float], ...]]:
    """Every choice of owned weights that fits on the shaft, as (mass kg, thickness mm) pairs."""
    return _choices(_types(weights), shaft_length_mm)


def _choices(
    types: Sequence[_Type], shaft_length_mm: float
) -> Iterator[tuple[tuple[float, float], ...]]:
    if not types:
        raise AxletreeError(
            "the kit owns no counterweights ([[mount.weight]] with mass_kg), so nothing can balance"
            " the tube"
        )
    # No more of one kind than the shaft is long.
    room = [min(n, int(shaft_length_mm // t)) for _, t, n in types]
    if prod(r + 1 for r in room) > MOST_COMBINATIONS:
        raise AxletreeError(
            "the kit owns too many different weights to try every combination "
            f"({MOST_COMBINATIONS}); leave out those that never go on the shaft"
        )
    for counts in product(*(range(r + 1) for r in room)):
        chosen = tuple((m, t) for (m, t, _), n in zip(types, counts, strict=True) for _ in range(n))
        if sum(t for _, t in chosen) <= shaft_length_mm:
            yield chosen


def _best_order(
    chosen: tuple[tuple[float, float], ...], start_mm: float, length_mm: float, need_kg_m: float
) -> Loading:
    """The order that comes nearest; the heavy weights stay nearest to the head if they may.

    Packed tightly, the moment about the head is least with the heaviest per millimetre nearest
    (W. E. Smith 1956, Naval Research Logistics Quarterly 3, 59: the ratio rule), and greatest
    with them farthest. Between the two an order may leave a gap that another fills; of up to
    six weights all orders are tried.
    """
    usual = place(chosen, start_mm, length_mm, need_kg_m)
    if usual.exact:
        return usual
    dense = tuple(sorted(chosen, key=lambda w: w[0] / w[1], reverse=True))
    near, far = (place(o, start_mm, length_mm, need_kg_m) for o in (dense, dense[::-1]))
    found = [usual, near, far]
    between = near.leftover_kg_m > 0 > far.leftover_kg_m
    if between and len(chosen) <= _ALL_ORDERS_UP_TO:
        orders = set(permutations(chosen))
        found += [place(o, start_mm, length_mm, need_kg_m) for o in sorted(orders)]
    return min(found, key=_rank)


def place(
    order: Sequence[tuple[float, float]],
    shaft_start_mm: float,
    shaft_length_mm: float,
    need_kg_m: float,
) -> Loading:
    """The block of weights in this order, slid to where its moment is nearest to `need_kg_m`."""
    # Plain numbers: arrays of two or three weights cost ten times as much.
    mass, thickness = tuple(float(m) for m, _ in order), tuple(float(t) for _, t in order)
    face = tuple(accumulate(thickness, initial=0.0))[: len(order)]
    slack = shaft_length_mm - sum(thickness)
    at_head = sum(
        m * (shaft_start_mm + f + t / 2) for m, f, t in zip(mass, face, thickness, strict=True)
    ) / 1000  # fmt: skip
    slide = min(max((need_kg_m - at_head) * 1000 / sum(mass), 0.0), slack) if order else 0.0
    position = tuple(
        shaft_start_mm + slide + f + t / 2 for f, t in zip(face, thickness, strict=True)
    )
    reached = sum(m * at for m, at in zip(mass, position, strict=True)) / 1000
    return Loading(
        mass_kg=mass,
        thickness_mm=thickness,
        position_mm=position,
        gap_mm=tuple(f + slide for f in face),
        leftover_kg_m=need_kg_m - reached,
        inward_mm=slide,
        outward_mm=slack - slide,
    )


def loading_at(
    chosen: Sequence[tuple[Weight, float]], shaft_start_mm: float, shaft_length_mm: float
) -> Loading:
    """Weights where somebody has put them, as (weight, gap in mm from the shaft's start).

    `leftover_kg_m` and the room to slide are 0: nothing was asked of them. Refuses a weight
    that reaches beyond the shaft.
    """
    for weight, gap in chosen:
        if not 0 <= gap <= shaft_length_mm - weight.thickness_mm + 1e-6:
            raise AxletreeError(f"{gap:.0f} mm lies outside the shaft")
    return Loading(
        mass_kg=tuple(w.mass_kg for w, _ in chosen),
        thickness_mm=tuple(w.thickness_mm for w, _ in chosen),
        position_mm=tuple(shaft_start_mm + gap + w.thickness_mm / 2 for w, gap in chosen),
        gap_mm=tuple(gap for _, gap in chosen),
        leftover_kg_m=0.0,
        inward_mm=0.0,
        outward_mm=0.0,
    )


def _rank(loading: Loading) -> tuple[float, ...]:
    """Balanced first; then with room to trim; then the fewest; then the nearest to the head."""
    tight = min(loading.inward_mm, loading.outward_mm) < TRIM_ROOM_MM
    inertia = sum(m * at**2 for m, at in zip(loading.mass_kg, loading.position_mm, strict=True))
    if loading.exact:
        return (0.0, 0.0, float(tight), len(loading.mass_kg), inertia)
    return (1.0, abs(loading.leftover_kg_m), float(tight), len(loading.mass_kg), inertia)


def loadings(
    weights: Sequence[Weight], shaft_start_mm: float, shaft_length_mm: float, need_kg_m: float
) -> list[Loading]:
    """The best order of every combination of owned weights, best combination first.

    `need_kg_m` is the moment that the weights must supply. When no combination balances, the
    first is the one that comes nearest. A combination may be empty: no weight at all. A kit
    without weights is refused.
    """
    return list(_ranked(tuple(_types(weights)), shaft_start_mm, shaft_length_mm, need_kg_m))


# A rig is built anew for each of its dimensions, and most of them leave the balance as it was.
@lru_cache(maxsize=256)
def _ranked(
    types: tuple[_Type, ...], shaft_start_mm: float, shaft_length_mm: float, need_kg_m: float
) -> tuple[Loading, ...]:
    found = [
        _best_order(chosen, shaft_start_mm, shaft_length_mm, need_kg_m)
        for chosen in _choices(types, shaft_length_mm)
    ]
    return tuple(sorted(found, key=_rank))


def missing_at_end_kg(loading: Loading, shaft_start_mm: float, shaft_length_mm: float) -> float:
    """Mass that would close the gap if hung at the shaft's very end; 0 when nothing is missing."""
    end_m = (shaft_start_mm + shaft_length_mm) / 1000
    return max(0.0, loading.leftover_kg_m) / end_m


def longer_shaft_mm(loading: Loading) -> float:
    """How much longer the shaft would have to be for these weights to balance; inf without any."""
    if loading.leftover_kg_m <= _EXACT_KG_M:
        return 0.0
    return loading.leftover_kg_m * 1000 / loading.total_kg if loading.total_kg else float("inf")
