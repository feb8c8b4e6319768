"""How many stars are there, down to a magnitude that no list of ours reaches?"""

from __future__ import annotations

import numpy as np

from axletree.kit.errors import AxletreeError

# Stars of the whole sky brighter than each visual magnitude, in thousands: the counts of F. H.
# Seares, P. J. van Rhijn and others as C. W. Allen, Astrophysical Quantities, gives them (from
# memory, good to perhaps 10 %).
_MAGNITUDES = np.arange(4.0, 19.0)
_THOUSANDS = np.array(
    [0.53, 1.62, 4.85, 14.3, 41.0, 117.0, 324.0, 870.0, 2270.0, 5700.0, 13800.0, 32000.0,
     71000.0, 150000.0, 296000.0]
)  # fmt: skip


def stars_to(magnitude_v: float) -> float:
    """Stars of the whole sky to this magnitude; between whole ones along the logarithm.

    Beyond V 18, and below 4, along the nearest two. The Milky Way holds several times as many to
    a square degree as the sky far from it, more so the fainter they are.
    """
    if not np.isfinite(magnitude_v):
        raise AxletreeError("a limiting magnitude must be a number")
    logs = np.log10(_THOUSANDS) + 3.0
    low = int(np.clip(np.floor(magnitude_v) - _MAGNITUDES[0], 0, len(logs) - 2))
    slope = logs[low + 1] - logs[low]
    return float(10.0 ** (logs[low] + slope * (magnitude_v - _MAGNITUDES[low])))


def times_as_many(limit_mag: float, list_limit_mag: float) -> float:
    """How many times as many stars show to `limit_mag` as a list to `list_limit_mag` holds; 1 or
    more, an average over the sky."""
    return max(stars_to(limit_mag) / stars_to(list_limit_mag), 1.0)
