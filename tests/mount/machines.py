"""Kits and poses that the tests of the machine share."""

from __future__ import annotations

import numpy as np

from axletree.kit.kit import Kit, check_text, demo_text

KITS = ("courtyard", "paddock")


def kit_with(name: str, *changes: tuple[str, str]) -> Kit:
    """A demo kit with pieces of its text replaced."""
    text = demo_text(name)
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    kit, problems = check_text(text)
    assert kit is not None, problems
    return kit


def at_latitude(kit: Kit, latitude_deg: float) -> Kit:
    """The same kit elsewhere."""
    site = kit.site.model_copy(update={"latitude_deg": latitude_deg})
    return kit.model_copy(update={"site": site})


def random_sky(n: int, seed: int, pole_gap_deg: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
    """Hour angles and declinations spread evenly over the sphere."""
    rng = np.random.default_rng(seed)
    top = np.sin(np.radians(90.0 - pole_gap_deg))
    return rng.uniform(-12, 12, n), np.degrees(np.arcsin(rng.uniform(-top, top, n)))


def hour_gap(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Difference of hour angles, the short way round."""
    return np.abs((a - b + 12.0) % 24.0 - 12.0)
