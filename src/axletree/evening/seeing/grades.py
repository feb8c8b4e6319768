"""How well does an object show to a visitor, in a word, from its margin above the threshold?

Public: ``Visibility``, ``visibility_of``, ``shows_through_thin_cloud``, ``LEAST_MARGINS_MAG``.
"""

from __future__ import annotations

from enum import Enum

import numpy as np

NO_GLOW_KINDS = ("moon", "planet", "double star", "star", "minor planet", "open cluster")


class Visibility(Enum):
    """How well an object shows to a visitor, from its margin above the threshold."""

    FIRST_GLANCE = "first_glance"
    PLAIN = "plain"
    SOFT = "soft"
    EDGE_OF_SIGHT = "edge_of_sight"
    NOT_SEEN = "not_seen"
    UNKNOWN = "unknown"


# Margins in magnitudes from which an object shows so (ours).
LEAST_MARGINS_MAG = (
    (2.0, Visibility.FIRST_GLANCE),
    (1.0, Visibility.PLAIN),
    (0.4, Visibility.SOFT),
    (0.0, Visibility.EDGE_OF_SIGHT),
)


def shows_through_thin_cloud(kind: str, visibility: Visibility) -> bool:
    """Whether an object of this kind that shows so well still shows when thin cloud takes about
    two magnitudes (ours). Glows lose their contrast before they lose their light."""
    return visibility is Visibility.FIRST_GLANCE and kind in NO_GLOW_KINDS


def visibility_of(margin_mag: float) -> Visibility:
    """How well an object of this margin shows; nan is UNKNOWN."""
    if np.isnan(margin_mag):
        return Visibility.UNKNOWN
    for least, visibility in LEAST_MARGINS_MAG:
        if margin_mag >= least:
            return visibility
    return Visibility.NOT_SEEN
