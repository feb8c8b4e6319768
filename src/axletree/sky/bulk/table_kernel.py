"""How is the night table filled by compiled code? Import it only through `kit.kernels`.

The same factors and the same air as in `table` and `quick_air`, one object after the other, so
that nothing is written but the answer. Arcs come from a polynomial in the square of the tangent,
which the processor works out for 8 or 16 instants at once: `ARC_TERMS` give 2e-7 arcseconds for
float64 and 0.01 for float32, whose last digit is 0.1 arcseconds at 360 degrees.
Loops are kept bare of calls with a choice inside, or the compiler would do one instant at a time.
"""

from __future__ import annotations

import functools
import math
from typing import Any

import numpy as np
from numpy.polynomial import Polynomial, chebyshev

from axletree.kit.kernels import compiled, inner
from axletree.sky.air.quick import LOW_STEPS_PER_DEG, QuickAir
from axletree.sky.bulk.table_runs import Run

ARC_TERMS = {np.dtype(np.float64): 14, np.dtype(np.float32): 9}
_LOOK = 64  # instants that are looked over together for any low one
_SCALARS = (0.0, 1e-30, 12.0, 24.0, 90.0, 180.0)


@functools.lru_cache(maxsize=4)
def arc_terms(dtype: Any) -> tuple[Any, ...]:
    """Terms a, b, c... of arctan x = x (a + b x^2 + c x^4 ...) in degrees for x within [0, 1].

    Chebyshev's polynomial, near the best of its degree.
    """
    count = ARC_TERMS[np.dtype(dtype)]

    def arc_over_x(u: Any) -> Any:
        x = np.sqrt(np.maximum(u, 1e-30))
        return np.degrees(np.arctan(x)) / x

    terms = chebyshev.chebinterpolate(lambda v: arc_over_x((v + 1.0) / 2.0), count - 1)
    inside = Polynomial(chebyshev.cheb2poly(terms))(Polynomial([-1.0, 2.0]))
    return numbers(inside.coef, dtype)


def numbers(values: Any, dtype: Any) -> tuple[Any, ...]:
    """Numbers of one precision: a literal would turn all that it meets into float64."""
    return tuple(np.dtype(dtype).type(v) for v in values)


def scalars(dtype: Any) -> tuple[Any, ...]:
    """What the loops need by the name of numbers."""
    return numbers(_SCALARS, dtype)


@inner(loose=True)
def _sum(terms: Any, u: Any) -> Any:
    """terms[0] + terms[1] u + terms[2] u^2 ..."""
    total = terms[len(terms) - 1]
    for k in range(len(terms) - 2, -1, -1):
        total = total * u + terms[k]
    return total


@inner(loose=True)
def _angle(y: Any, x: Any, arc: Any, n: Any) -> Any:
    """The angle of (x, y) in degrees, within [-180, 180]; 0 for no direction at all."""
    zero, tiny, _, _, quarter, half = n
    ax, ay = abs(x), abs(y)
    big = ax if ax > ay else ay
    small = ay if ax > ay else ax
    ratio = small / (big if big > tiny else tiny)
    angle = ratio * _sum(arc, ratio * ratio)
    if ay > ax:
        angle = quarter - angle
    if x < zero:
        angle = half - angle
    return -angle if y < zero else angle


@inner(loose=True)
def _fill_horizon(
    v: Any, local: Any, arc: Any, air: Any, n: Any, least: Any, altitude: Any, azimuth: Any
) -> None:
    """Azimuth; true altitude, and the air's lift where its tangent is above `least`."""
    x0, x1, x2, x3 = local[0], local[1], local[2], local[3]
    y0, y1, y2, y3 = local[4], local[5], local[6], local[7]
    z0, z1, z2, z3 = local[8], local[9], local[10], local[11]
    v0, v1, v2, zero, half = v[0], v[1], v[2], n[0], n[5]
    for j in range(len(altitude)):
        minus_east = v0 * x0[j] + v1 * x1[j] + v2 * x2[j] + x3[j]
        minus_north = v0 * y0[j] + v1 * y1[j] + v2 * y2[j] + y3[j]
        up = v0 * z0[j] + v1 * z1[j] + v2 * z2[j] + z3[j]
        # From minus north the arc runs from 0 to 360 by itself.
        azimuth[j] = _angle(minus_east, minus_north, arc, n) + half
        across = math.sqrt(minus_east * minus_east + minus_north * minus_north)
        low = least * across
        cot = across / (up if up > low else low)
        lift = cot * _sum(air, cot * cot)
        altitude[j] = _angle(up, across, arc, n) + (lift if up >= low else zero)


@inner(loose=True)
def _lift_low(table: Any, low: Any, out: Any) -> None:
    """Add the air's lift to true altitudes nearer than `reach` to the middle of its table."""
    start, middle, reach, per_degree, none = low
    for first in range(0, len(out), _LOOK):
        some = out[first : first + _LOOK]
        found = none
        for j in range(len(some)):
            found += reach if abs(some[j] - middle) < reach else none
        if found > none:
            for j in range(len(some)):
                if abs(some[j] - middle) < reach:
                    place = (some[j] - start) * per_degree
                    k = min(max(int(place), 0), len(table) - 2)
                    some[j] += table[k] + (table[k + 1] - table[k]) * (place - k)


@inner(loose=True)
def _knot_angles(v: Any, turns: Any, ahead: Any, arc: Any, n: Any, hour: Any, dec: Any) -> None:
    """Hour angle (hours, growing on past 12) and declination of one object at the knots."""
    x0, x1, x2, x3 = turns[0], turns[1], turns[2], turns[3]
    y0, y1, y2, y3 = turns[4], turns[5], turns[6], turns[7]
    z0, z1, z2, z3 = turns[8], turns[9], turns[10], turns[11]
    v0, v1, v2 = v[0], v[1], v[2]
    for k in range(len(hour)):
        to_meridian = v0 * x0[k] + v1 * x1[k] + v2 * x2[k] + x3[k]
        west = v0 * y0[k] + v1 * y1[k] + v2 * y2[k] + y3[k]
        to_pole = v0 * z0[k] + v1 * z1[k] + v2 * z2[k] + z3[k]
        hour[k] = _angle(west, to_meridian, arc, n) / 15.0
        across = math.sqrt(to_meridian * to_meridian + west * west)
        dec[k] = _angle(to_pole, across, arc, n)
    first = hour[0]
    for k in range(len(hour)):
        hour[k] -= 24.0 * np.rint((hour[k] - first - ahead[k]) / 24.0)


@inner(loose=True)
def _fill_between(knots: Any, part: Any, value: Any, out: Any) -> None:
    """Straight lines between knots; `part` is how far on towards the next one."""
    for s in range(len(knots) - 1):
        here, on = value[s], part[knots[s] : knots[s + 1]]
        step, some = value[s + 1] - here, out[knots[s] : knots[s + 1]]
        for j in range(len(some)):
            some[j] = here + step * on[j]
    out[len(out) - 1] = value[len(knots) - 1]


@inner(loose=True)
def _wrap(n: Any, out: Any) -> None:
    """Hour angles under 36 h into (-12, 12]."""
    half, whole = n[2], n[3]
    for j in range(len(out)):
        out[j] = out[j] - whole if out[j] > half else out[j]


@compiled(loose=True)
def fill(
    objects: Any, columns: Any, sky: Any, air: Any, knots: Any,
    altitude: Any, azimuth: Any, hour_angle: Any, declination: Any,
) -> None:  # fmt: skip
    """Fill rows of the four columns; those without any columns of their own are left out.

    `objects` are the first and last of `sky`'s, and which of them the arrays' first row is.
    """
    vectors, local, arc, n = sky
    terms, least, low_table, low = air
    four, turns, ahead, at, part, arc64, n64 = knots
    hour, dec = np.empty(len(at)), np.empty(len(at))
    value = np.empty(len(at), vectors.dtype)
    start, stop = columns
    unwanted = np.empty(stop - start, vectors.dtype)
    for i in range(objects[0], objects[1]):
        row = i - objects[2]
        if altitude.shape[1] or azimuth.shape[1]:
            up = altitude[row, start:stop] if altitude.shape[1] else unwanted
            around = azimuth[row, start:stop] if azimuth.shape[1] else unwanted
            _fill_horizon(vectors[i], local, arc, terms, n, least, up, around)
            if altitude.shape[1]:
                _lift_low(low_table, low, up)
        if hour_angle.shape[1] or declination.shape[1]:
            _knot_angles(four[i], turns, ahead, arc64, n64, hour, dec)
        if hour_angle.shape[1]:
            value[:] = hour
            _fill_between(at, part, value, hour_angle[row, start:stop])
            _wrap(n, hour_angle[row, start:stop])
        if declination.shape[1]:
            value[:] = dec
            _fill_between(at, part, value, declination[row, start:stop])


def fill_run(
    run: Run,
    air: QuickAir,
    objects: tuple[int, int, int],
    altitude: Any,
    azimuth: Any,
    hour_angle: Any,
    declination: Any,
) -> None:
    """Fill the run's columns of some rows; an array without columns is left out.

    `objects`: first and last (not included) of the run's, and which of them the arrays begin with.
    """
    dtype = run.vectors.dtype
    n = len(run.tent[0])
    next_knot = np.searchsorted(run.knots, np.arange(n), side="right")
    part = run.tent[np.minimum(next_knot, len(run.knots) - 1), np.arange(n)]
    turns = np.ascontiguousarray(run.matrices.reshape(-1, 12).T)
    ahead = (np.unwrap(run.turn_rad) - run.turn_rad[0]) * (12.0 / np.pi)
    # Above the join the lift has been added already: no such altitude is below this middle.
    end = air.join_deg + 0.5 * float(air.low[-1])
    reach = 0.5 * (end - air.low_start)
    low = (air.low_start, air.low_start + reach, reach, LOW_STEPS_PER_DEG, 0.0)
    fill(
        objects,
        (run.columns.start, run.columns.stop),
        (run.vectors, run.local.reshape(12, n), arc_terms(dtype), scalars(dtype)),
        (
            numbers(air.coefficients, dtype),
            dtype.type(air.least_q),
            air.low,
            numbers(low, dtype),
        ),
        (run.four, turns, ahead, run.knots, part, numbers(arc_terms(dtype), np.float64),
         scalars(np.float64)),
        altitude, azimuth, hour_angle, declination,
    )  # fmt: skip
