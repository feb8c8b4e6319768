"""When does something that changes smoothly with time pass a given value?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

Value = Callable[[Floats], Floats]


@dataclass(frozen=True)
class Crossings:
    """Passages in order of span and time, arrays (n,): `span` index, `seconds`, `upward`."""

    span: Ints
    seconds: Floats
    upward: Mask


def find_crossings(
    value: Value,
    start_s: Floats,
    stop_s: Floats,
    step_s: float,
    level: float = 0.0,
    tolerance_s: float = 0.05,
) -> Crossings:
    """Every passage of `value(seconds)` through `level` within spans, (m,) starts and stops.

    Sampled every `step_s` or a little less, and at the top of the parabola through each high and
    low, so that a passage there and back within one step isn't lost (on the turning sky, looked
    at every ten minutes, none of a minute or more); then narrowed down inside its bracket to
    `tolerance_s`.
    """
    start, stop = np.atleast_1d(start_s), np.atleast_1d(stop_s)
    longest = float(np.max(stop - start)) if start.size else 0.0
    count = max(3, int(np.ceil(longest / step_s)) + 1)
    t = start[:, np.newaxis] + (stop - start)[:, np.newaxis] * np.linspace(0.0, 1.0, count)
    f = value(t.ravel()).reshape(t.shape) - level
    t, f = _with_extremes(value, t, f, level)
    span, k = np.nonzero((f[:, :-1] < 0.0) != (f[:, 1:] < 0.0))
    a, b, fa, fb = t[span, k], t[span, k + 1], f[span, k], f[span, k + 1]
    seconds = narrow(lambda s: value(s) - level, a, b, fa, fb, tolerance_s)
    return Crossings(span=span, seconds=seconds, upward=fb >= 0.0)


def _with_extremes(value: Value, t: Floats, f: Floats, level: float) -> tuple[Floats, Floats]:
    """Samples beside a low above the level, or a high below it, nudged onto it: it may lie
    beyond the level. By how little it does the parabola itself couldn't tell."""
    before, here, after = f[:, :-2], f[:, 1:-1], f[:, 2:]
    curve = before - 2.0 * here + after
    with np.errstate(divide="ignore", invalid="ignore"):
        shift = 0.5 * (before - after) / curve
    same = (np.sign(before) == np.sign(here)) & (np.sign(here) == np.sign(after))
    beside = same & (np.abs(shift) <= 1.0) & (np.sign(curve) == np.sign(here))
    if not beside.any():
        return t, f
    row, k = np.nonzero(beside)
    t, f = t.copy(), f.copy()
    step = t[row, k + 2] - t[row, k + 1]
    moved = t[row, k + 1] + shift[row, k] * step
    t[row, k + 1] = moved
    f[row, k + 1] = value(moved) - level
    return t, f


def narrow(f: Value, a: Floats, b: Floats, fa: Floats, fb: Floats, tolerance_s: float) -> Floats:
    """Roots (n,) inside brackets, by false position with Anderson and Bjorck's weights.

    `f` takes one time a bracket, in their order; `fa`, `fb` of unlike sign are its values at
    their ends `a`, `b`, (n,) seconds.

    Source: N. Anderson and A. Bjorck 1973, BIT 13, 253.
    """
    a, b, fa, fb = a.copy(), b.copy(), fa.copy(), fb.copy()
    if a.size == 0:
        return a
    x = b
    for _ in range(60):
        slope = fb - fa
        x_new = np.where(slope != 0.0, b - fb * (b - a) / np.where(slope != 0.0, slope, 1.0), b)
        done = np.abs(x_new - x) < tolerance_s
        x = x_new
        if done.all():
            break
        fx = f(x)
        crossed = (fx < 0.0) != (fb < 0.0)
        weight = 1.0 - fx / np.where(fb != 0.0, fb, 1.0)
        weight = np.where(weight > 0.0, weight, 0.5)
        a, fa = np.where(crossed, b, a), np.where(crossed, fb, fa * weight)
        b, fb = x, fx
    return x


def spans_of(nights: Sequence[Night]) -> tuple[Instants, tuple[Floats, Floats]]:
    """The first night's start, and each night's start and stop in seconds from it."""
    starts = Instants.from_datetimes([n.start for n in nights])
    base = starts[0]
    start_s = starts.seconds_since(base)
    return base, (start_s, start_s + np.array([n.length_s for n in nights]))


def passages(
    found: Crossings, base: Instants, night: Night, *, upward: bool
) -> tuple[datetime, ...]:
    """Times of the passages in one direction, in the night's zone."""
    seconds = found.seconds[found.upward == upward]
    return tuple(base.plus(seconds).to_datetimes(night.zone)) if seconds.size else ()
