"""What kinds of arrays does the whole house speak of?

Public: ``Floats``, ``Reals``, ``Singles``, ``Ints``, ``Indices``, ``Mask``, ``Texts``; and
``distinct`` and ``quantile`` of an array.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.kit.errors import AxletreeError

Floats = NDArray[np.float64]
# Of single or double precision: what runs over very big tables takes the one that fits.
Reals = NDArray[np.floating[Any]]
Singles = NDArray[np.float32]
Ints = NDArray[np.int64]
# Numbers of rows and columns, as NumPy itself counts them.
Indices = NDArray[np.intp]
Mask = NDArray[np.bool_]
# Names, kinds and lists of names, one a row.
Texts = NDArray[np.object_]


def distinct(values: Any) -> Any:
    """The different values of an array of numbers, ascending, (n,).

    What `numpy.unique` gives, which loads masked arrays for it, a fiftieth of a command's time.
    """
    rising = np.sort(np.asarray(values), axis=None)
    first = np.ones(len(rising), dtype=np.bool_)
    first[1:] = rising[1:] != rising[:-1]
    return rising[first]


def quantile(values: Floats, share: float, *, higher: bool = False) -> float:
    """The value below which this share of some numbers lies, between two or (`higher`) the upper.

    What `numpy.quantile` gives to the last digit (type 7 of R. J. Hyndman & Y. Fan 1996, The
    American Statistician 50, 361), which loads masked arrays for it as well.
    """
    if not 0.0 <= share <= 1.0:
        raise AxletreeError(f"share {share:g}: write a number from 0 to 1")
    rising = np.sort(values, axis=None)
    at = (len(rising) - 1) * share
    if higher:
        return float(rising[math.ceil(at)])
    low = math.floor(at)
    t = at - low
    a, b = float(rising[low]), float(rising[min(low + 1, len(rising) - 1)])
    return a + (b - a) * t if t < 0.5 else b - (b - a) * (1.0 - t)
