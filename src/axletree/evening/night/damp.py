"""Will the glass dew over or freeze tonight?

Public: ``Damp``, ``DampNight``, ``damp_tonight``.

By the kit's own temperature where it gives one; else by a rule of the season (ours): frost in the
three middle months of winter from 45 degrees of latitude on, dew on every other clear night.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit

FROST_BELOW_C = 1.0
FROST_LATITUDE_DEG = 45.0
# The middle months of winter, north and south.
_WINTER = {True: (12, 1, 2), False: (6, 7, 8)}


class Damp(StrEnum):
    """What settles on glass that faces a clear sky."""

    DEW = "dew"
    FROST = "frost"


@dataclass(frozen=True)
class DampNight:
    """What settles, by the kit's `temperature_c` (None: by the season's rule)."""

    damp: Damp
    temperature_c: float | None


def damp_tonight(kit: Kit, day: date) -> DampNight:
    """What to expect on the evening of a day."""
    site = kit.site
    if "temperature_c" in site.model_fields_set and site.temperature_c is not None:
        cold = site.temperature_c < FROST_BELOW_C
        return DampNight(Damp.FROST if cold else Damp.DEW, site.temperature_c)
    winter = day.month in _WINTER[site.north] and abs(site.latitude_deg) >= FROST_LATITUDE_DEG
    return DampNight(Damp.FROST if winter else Damp.DEW, None)
