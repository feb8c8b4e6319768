"""What kinds of arrays does the whole house speak of?

Public: ``Floats``, ``Reals``, ``Singles``, ``Ints``, ``Indices``, ``Mask``, ``Texts``; and
``distinct`` of an array.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

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
