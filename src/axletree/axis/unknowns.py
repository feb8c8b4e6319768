"""By which six figures does a mount differ from a perfect one, and how large are they usually?"""

from __future__ import annotations

from typing import Literal

Circle = Literal["hour", "declination"]
CIRCLES: tuple[Circle, ...] = ("hour", "declination")

CONE, LEAN = "cone", "lean"
UNKNOWNS = ("high", "east", "index_hour", "index_declination", CONE, LEAN)

# What ordinary mounts have as they leave the bench (common practice, no source).
USUAL_CONE_ARCMIN = 20.0
USUAL_LEAN_ARCMIN = 10.0
