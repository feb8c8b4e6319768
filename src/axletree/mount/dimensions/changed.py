"""What does the kit look like with other dimensions?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike
from pydantic import BaseModel

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.kit.reading.problems import named
from axletree.mount.dimensions.names import attributes_of, part_of, rig_names

_Tree = dict[str | int, Any]


def with_dimensions(kit: Kit, values: ArrayLike, names: Sequence[str] | None = None) -> Kit:
    """The kit with these dimensions (n,) in place of its own, each in the unit of its key.

    `names` are some of those of `Dimensions`, or all of them in their order. The changed kit is
    not checked again and stays what it was in all else, so that derivatives can be taken: a value
    a little below zero is let through, and what was guessed from a changed value doesn't follow it
    (the covariance knows of that). Refuses another number of values than names, and names that
    this kit doesn't have.
    """
    names = rig_names(kit) if names is None else names
    given = np.asarray(values, dtype=np.float64)
    if given.shape != (len(names),):
        raise AxletreeError(f"{len(names)} dimensions need as many values, not {given.size}")
    tree: _Tree = {}
    for name, value in zip(names, given.tolist(), strict=True):
        *path, last = named(name)
        at = tree
        for part in path:
            at = at.setdefault(part, {})
        at[last] = value
    changed: Kit = _changed(kit, tree, "")
    return changed


def _changed(value: Any, tree: Mapping[str | int, Any], name: str) -> Any:
    if isinstance(value, tuple):
        entries = list(value)
        for i, inner in tree.items():
            at = f"{name}[{int(i) + 1}]"
            held = part_of(value, i, at)
            entries[int(i)] = _changed(held, inner, at) if isinstance(inner, dict) else inner
        return tuple(entries)
    model: type[BaseModel] = type(value)
    update = {}
    for key, inner in tree.items():
        at = f"{name}.{key}" if name else f"{key}"
        held = part_of(value, key, at)
        attribute = attributes_of(model)[str(key)]
        update[attribute] = _changed(held, inner, at) if isinstance(inner, dict) else inner
    return value.model_copy(update=update)
