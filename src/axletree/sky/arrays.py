"""What kinds of arrays does the whole house speak of?

Public: ``Floats``, ``Reals``, ``Singles``, ``Ints``, ``Indices``, ``Mask``, ``Texts``.
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
