"""Is the library of solvers there, and what is said where it isn't?

OR-tools is large and compiled: an installation can lack it or hold one that this machine can't
load. Whoever needs it loads it here.
"""

from __future__ import annotations

import importlib
from types import ModuleType

from axletree.kit.errors import AxletreeError

ROUTING = "ortools.constraint_solver.pywrapcp"
ROUTING_NAMES = "ortools.constraint_solver.routing_enums_pb2"
FLOW = "ortools.graph.python.min_cost_flow"


def solver_library(module: str, needed_by: str) -> ModuleType:
    """A module of OR-tools; where it can't be loaded one sentence, with what needs it."""
    try:
        return importlib.import_module(module)
    except (ImportError, OSError) as error:
        reason = " ".join(str(error).split())
        raise AxletreeError(
            f"{needed_by} needs the library 'ortools', which can't be loaded here ({reason}); "
            "install it again, or go without"
        ) from None
