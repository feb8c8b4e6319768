"""Lets these tests import the maintainer's tools and their own and the app's helpers."""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
for folder in (HERE, HERE.parent, HERE.parent / "app", HERE.parents[1] / "tools"):
    sys.path.insert(0, str(folder))
