"""How does a guess about the tube follow what it was made from?"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from axletree.kit.kit import Kit
from axletree.kit.parts.defaults import tube_defaults

# What the guesses about a tube are made from (see `axletree.kit.parts.defaults`).
PARENTS = (
    "tube.aperture_mm", "tube.focal_length_mm", "tube.length_mm", "tube.diameter_mm",
    "tube.mass_kg", "tube.finder.radius_mm",
)  # fmt: skip
Slopes = dict[tuple[str, str], float]


def tube_slopes(kit: Kit, sigma_of: Callable[[str], float]) -> Slopes:
    """By (guess, parent) how much a guess changes with what it was made from; none that is 0.

    Central differences over one standard deviation of the parent to either side. A chain (focal
    length, tube length, balance point) is followed to its end.
    """
    tube, guessed = kit.tube, set(kit.guessed)
    known: dict[str, Any] = {"kind": tube.kind}
    for name in PARENTS[:5]:
        if name not in guessed:
            key = name.removeprefix("tube.")
            known[key] = getattr(tube, key)
    if tube.finder is not None:
        known["finder"] = {"radius_mm": tube.finder.radius_mm}
    slopes: Slopes = {}
    for parent in PARENTS:
        key = parent.removeprefix("tube.")
        if key == "finder.radius_mm" and tube.finder is None:
            continue
        value = tube.finder.radius_mm if "." in key and tube.finder else getattr(tube, key)
        step = min(sigma_of(parent), 0.5 * value)
        high, low = (_guesses(known, key, value + by) for by in (step, -step))
        for name in high.keys() & guessed - {parent}:
            slope = (high[name] - low[name]) / (2.0 * step)
            if slope:
                slopes[name, parent] = slope
    return slopes


def _guesses(known: dict[str, Any], key: str, value: float) -> dict[str, float]:
    """All numbers that are guessed for a tube where one of its keys has another value."""
    table = {**known, "finder": {"radius_mm": value}} if "." in key else {**known, key: value}
    filled = tube_defaults(table)
    finder = filled.pop("finder", {})
    found = {f"tube.{name}": guess for name, guess in filled.items()}
    found |= {f"tube.finder.{name}": guess for name, guess in finder.items()}
    return {name: float(v) for name, v in found.items() if isinstance(v, int | float)}
