"""Which dimensions that something can touch did nobody measure?"""

from __future__ import annotations

from collections.abc import Iterable

from axletree.kit.kit import Kit

OF_THE_RIG = ("mount.", "tube.")
SHAPES = ("_mm", "directions_deg")
# Dimensions that nothing can touch.
WITHOUT_SHAPE = frozenset(("tube.obstruction_mm", "obstruction_mm"))


def guessed_of_rig(kit: Kit) -> list[str]:
    """Keys of mount and tube that nobody measured."""
    return [key for key in kit.guessed if key.startswith(OF_THE_RIG)]


def of_tripod(keys: Iterable[str]) -> list[str]:
    """Keys of the tripod's table, by their full names."""
    return [f"mount.tripod.{key}" for key in keys]


def guessed_shapes(kit: Kit) -> list[str]:
    """Those of them that are shapes, without the first part of the key."""
    keys = [key.split(".", 1)[1] for key in guessed_of_rig(kit)]
    return [key for key in keys if key.endswith(SHAPES) and key not in WITHOUT_SHAPE]
