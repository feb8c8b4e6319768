"""What do all rows of a night table share on one day?

What changes slowly (proper motion, parallax, deflection by the Sun) goes into a unit vector an
object; what is the same for all objects (aberration, precession-nutation, Earth rotation, polar
motion, latitude) into one matrix of 3 rows and 4 columns an instant, the fourth holding
first-order aberration. Hour angle and declination follow from knots about an hour apart.
"""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Reals
from axletree.sky.bulk.matrices import equatorial_matrices, tents, unit_vectors
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import StarLike, places_at_j2000
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import Orientation, orientation

_RUN_S = 80_000.0  # under a turn of the sky, so that an hour angle wraps once at most


@dataclass(frozen=True)
class Run:
    """What all objects share on one day: instants `columns`, and factors for them.

    `four` is in float64; vectors, local and tent are in the table's own precision.
    """

    columns: slice
    four: Floats  # (objects, 4): unit vectors and a 1 for aberration
    vectors: Reals  # the same
    local: Reals  # (3, 4, n): minus east, minus north, up
    knots: Indices  # (knots,): numbers of instants within the run
    tent: Reals  # (knots, n): weights of linear interpolation between knots
    matrices: Floats  # (knots, 3, 4): meridian, west, pole
    turn_rad: Floats  # (knots,): the Earth's turn


def table_runs(
    stars: StarLike, instants: Instants, seconds: Floats, observer: Observer, dtype: Any
) -> list[Run]:
    """The runs that these instants (at `seconds` from the first) make up."""
    turned = orientation(instants, observer)
    places = places_at_j2000(stars)
    day = np.floor(seconds / _RUN_S)
    edges = [0, *(np.flatnonzero(np.diff(day)) + 1), len(seconds)]
    return [
        _run(places, turned, seconds, slice(int(a), int(b)), observer, dtype)
        for a, b in itertools.pairwise(edges)
        if b > a
    ]


def _run(
    places: tuple[Floats, ...],
    turned: Orientation,
    seconds: Floats,
    columns: slice,
    observer: Observer,
    dtype: Any,
) -> Run:
    astrom = np.ascontiguousarray(turned.astrom[columns])
    middle = astrom[len(astrom) // 2]
    vectors = unit_vectors(places, middle)
    both = equatorial_matrices(astrom)
    phi = observer.latitude_rad
    to_meridian, west, pole = both[:, 0], both[:, 1], both[:, 2]
    minus_east = west
    minus_north = np.sin(phi) * to_meridian - np.cos(phi) * pole
    up = np.cos(phi) * to_meridian + np.sin(phi) * pole
    local = np.stack([minus_east.T, minus_north.T, up.T])
    four = np.concatenate([vectors, np.ones((len(vectors), 1))], axis=1)
    knots, tent = tents(seconds[columns])
    return Run(
        columns=columns,
        four=four,
        vectors=np.ascontiguousarray(four, dtype=dtype),
        local=np.ascontiguousarray(local, dtype=dtype),
        knots=knots,
        tent=np.ascontiguousarray(tent, dtype=dtype),
        matrices=both[knots],
        turn_rad=astrom["eral"][knots],
    )
