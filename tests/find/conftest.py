"""Lets the tests of this folder import what stands beside them, and others' kits and rigs."""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
for folder in (HERE, HERE.parent / "mount", HERE.parent / "axis"):
    sys.path.insert(0, str(folder))
