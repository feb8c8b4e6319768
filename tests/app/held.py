"""How much memory do the arrays of a thing hold that others do not hold as well?"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np


def arrays_of(thing: Any) -> dict[int, int]:
    """Bytes of every array reached from a frozen answer, by identity; of a part the whole's."""
    found: dict[int, int] = {}
    seen: set[int] = set()
    waiting = [thing]
    while waiting:
        one = waiting.pop()
        if id(one) in seen:
            continue
        seen.add(id(one))
        if isinstance(one, np.ndarray):
            while isinstance(one.base, np.ndarray):
                one = one.base
            found[id(one)] = one.nbytes
        elif dataclasses.is_dataclass(one):
            waiting += vars(one).values()
        elif isinstance(one, dict):
            waiting += one.values()
        elif isinstance(one, (list, tuple)):
            waiting += one
    return found
