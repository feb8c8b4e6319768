"""When does something begin to be in the way on the way round, and when does it cease?

An object goes once round the hour circle; on some arcs of it something is in the way. `Arcs`
holds for many objects (rows) the hour angles at which such arcs begin and end.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask

# (row, hour angle) -> value; below zero means in the way.
Value = Callable[[Indices, Floats], Floats]
Refine = Callable[[Indices, Floats, Floats, Floats, Floats], Floats]

NEVER_H = np.inf


@dataclass(frozen=True)
class Arcs:
    """Arcs of n rows, at most k each: hour angles of their begins and ends, padded with nan.

    `always` marks rows where something is in the way all the way round.
    """

    begin_h: Floats  # (n, k)
    end_h: Floats  # (n, k)
    always: Mask  # (n,)


def find_arcs(values: Floats, hours: Floats, refine: Refine) -> Arcs:
    """Arcs of negative `values` (n, m), sampled at ascending `hours`, (m,) or (n, m).

    `refine` takes rows, the hours before and after each change, and the two values there, and
    returns the hours of change.
    """
    blocked = values < 0.0
    before = np.roll(blocked, 1, axis=1)
    each = np.broadcast_to(hours, values.shape)
    begins, ends = np.nonzero(blocked & ~before), np.nonzero(before & ~blocked)
    rows, columns = (np.concatenate(pair) for pair in zip(begins, ends, strict=True))
    high = each[rows, columns]
    low = each[rows, columns - 1] - np.where(columns == 0, 24.0, 0.0)
    at = refine(rows, low, high, values[rows, columns - 1], values[rows, columns])
    k, n = len(begins[0]), len(values)
    always = np.asarray(blocked.all(axis=1), dtype=np.bool_)
    return Arcs(_padded(rows[:k], at[:k], n), _padded(rows[k:], at[k:], n), always)


def _padded(rows: Indices, at: Floats, n: int) -> Floats:
    """Values of sorted rows as (n, k), padded with nan."""
    count = np.bincount(rows, minlength=n)
    out = np.full((n, int(count.max(initial=0))), np.nan)
    place = np.arange(len(rows)) - np.repeat(np.cumsum(count) - count, count)
    out[rows, place] = at
    return out


def between(low: Floats, high: Floats, at_low: Floats, at_high: Floats) -> Floats:
    """Where a straight line between two values crosses zero."""
    rise = at_high - at_low
    part = np.where(rise != 0.0, -at_low / np.where(rise != 0.0, rise, 1.0), 0.5)
    return np.asarray(low + np.clip(part, 0.0, 1.0) * (high - low))


def halved(value: Value, rows: Indices, low: Floats, high: Floats, steps: int) -> Floats:
    """The change of sign between `low` and `high`, by halving: right even where values jump."""
    below = value(rows, low) < 0.0
    for _ in range(steps):
        middle = 0.5 * (low + high)
        same = (value(rows, middle) < 0.0) == below
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    return np.asarray(0.5 * (low + high))


def closed_in(
    value: Value, rows: Indices, low: Floats, high: Floats, guess: Floats, steps: int
) -> Floats:
    """The change of sign between `low` and `high` of a smooth value, by regula falsi.

    Illinois variant. Where the ends have the same sign the guess comes back.
    """
    at_low, at_high = value(rows, low), value(rows, high)
    good = (at_low < 0.0) != (at_high < 0.0)
    last = np.zeros(len(rows), dtype=np.int8)
    t = between(low, high, at_low, at_high)
    for _ in range(steps):
        t = between(low, high, at_low, at_high)
        now = value(rows, t)
        first = (now < 0.0) == (at_low < 0.0)
        side = np.where(first, -1, 1).astype(np.int8)
        again = np.where(side == last, 0.5, 1.0)
        at_high = np.where(first, at_high * again, now)
        at_low = np.where(first, now, at_low * again)
        low, high = np.where(first, t, low), np.where(first, high, t)
        last = side
    return np.where(good, between(low, high, at_low, at_high), guess)


@dataclass(frozen=True)
class Ahead:
    """Of each query: is something in the way now, hours until it begins, hours since it ended.

    `until_h` is 0 where something is in the way, inf where nothing ever is; `since_h` likewise,
    looking back.
    """

    blocked: Mask
    until_h: Floats
    since_h: Floats


def look(arcs: Arcs, rows: Indices, hour_angle_h: Floats) -> Ahead:
    """What lies ahead and behind of hour angles (q,) on the given rows (q,)."""
    shape = rows.shape
    far = np.full(shape, NEVER_H)
    if arcs.begin_h.shape[1] == 0:
        blocked = arcs.always[rows]
        nothing = np.where(blocked, 0.0, far)
        return Ahead(blocked, nothing, nothing.copy())
    here = hour_angle_h[:, None]
    begin, end = arcs.begin_h[rows], arcs.end_h[rows]
    to_begin = np.nan_to_num(np.mod(begin - here, 24.0), nan=NEVER_H).min(axis=1)
    left = np.mod(end - here, 24.0)
    to_end = np.nan_to_num(np.where(left == 0.0, 24.0, left), nan=NEVER_H).min(axis=1)
    from_end = np.nan_to_num(np.mod(here - end, 24.0), nan=NEVER_H).min(axis=1)
    blocked = (to_end < to_begin) | (to_begin == 0.0) | arcs.always[rows]
    return Ahead(blocked, np.where(blocked, 0.0, to_begin), np.where(blocked, 0.0, from_end))
