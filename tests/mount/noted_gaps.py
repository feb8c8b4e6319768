"""Gaps that a person would note on a rig drawn from the errors of its dimensions: other code."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np

from axletree.axis.state import BY_OBJECT_DEG, GapNote
from axletree.mount.learned.narrow import SHAPE_ERROR_M
from axletree.mount.rig.kinematics import Axes
from axletree.mount.rig.parts import Rig
from mount.rigs_drawn import DrawnRigs, first_touch_h

TONIGHT = date(2026, 11, 29)
AT = datetime(2026, 11, 29, 21, tzinfo=UTC)


def noted_gap(
    rig: Rig, axes: Axes, way: tuple[int, float, float], gap_mm: float, rng: np.random.Generator,
    *, error_mm: float = 4.0, hours: np.ndarray | None = None,
) -> GapNote | None:  # fmt: skip
    """What is noted when a rig on its way (side +1 east or -1 west, hour angle, declination) first
    comes so near, read with its errors; None where it never does, or begins nearer."""
    side, H, d = way
    hours = np.arange(0.0, 8.0, 0.2) if hours is None else hours
    # What is read is off by the note's own error and by what rods stand for.
    true_mm = gap_mm + np.hypot(error_mm, 1000.0 * SHAPE_ERROR_M) * rng.standard_normal()
    when = float(
        first_touch_h(DrawnRigs([rig], axes), side, H, d, hours, true_mm / 1000.0, 0.15)[0]
    )
    if not 0.0 < when < np.inf:
        return None
    return GapNote(
        AT, TONIGHT, "east" if side > 0 else "west",
        H + when + BY_OBJECT_DEG / 15.0 * rng.standard_normal(),
        d + BY_OBJECT_DEG * rng.standard_normal(), BY_OBJECT_DEG, gap_mm, error_mm, "", "",
    )  # fmt: skip
