"""Is the library of solvers there, and what is said where it isn't?

OR-tools comes with the extra `axletree[order]`: an installation can lack it, or hold one that this
machine can't load. Whoever needs it loads it here; nothing else may, for its import takes time and
memory that an evening without it must not pay.
"""

from __future__ import annotations

from types import ModuleType

from axletree.kit.errors import AxletreeError


def routing_library(needed_by: str) -> tuple[ModuleType, ModuleType]:
    """OR-tools' routing library and its settings; where they can't be loaded one sentence."""
    try:
        from ortools.constraint_solver import pywrapcp, routing_enums_pb2
    except (ImportError, OSError) as error:
        reason = " ".join(str(error).split())
        raise AxletreeError(
            f"{needed_by} needs the extra, pip install 'axletree[order]' ({reason}), or go without"
        ) from None
    return pywrapcp, routing_enums_pb2
