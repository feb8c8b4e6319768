"""Which objects to choose from does the person bring?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.offered.candidates import (
    THEME_OF_KIND,
    Candidates,
    looks_of_kind,
    source_of,
    themes_of,
)
from axletree.evening.offered.well_known import LISTED, OWN
from axletree.evening.seeing.visibility import EXTENDED, PAIR, POINT
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.orbits.brightness import COMA_HALF_PART, COMA_INDEX


def own_candidates(own: Sequence[SkyObject]) -> Candidates:
    """The person's own objects."""
    n = len(own)

    def column(name: str) -> Floats:
        values = [getattr(o, name) for o in own]
        return np.array([np.nan if v is None else v for v in values], dtype=np.float64)

    major = column("size_major_arcmin")
    pair = np.isfinite(column("separation_arcsec"))
    sort = np.where(pair, PAIR, np.where(np.isfinite(major), EXTENDED, POINT)).astype(np.int8)
    coma = np.array([o.orbit is not None and o.orbit.comet for o in own], dtype=np.bool_)
    return Candidates(
        names=tuple(o.name for o in own),
        ids=tuple(o.catalogue_id or f"own:{o.name}" for o in own),
        themes=themes_of([THEME_OF_KIND.get(o.kind, "anything") for o in own]),
        ra_deg=column("ra_deg"),
        dec_deg=column("dec_deg"),
        looks=looks_of_kind(
            sort,
            column("magnitude_v"),
            major_arcmin=major,
            minor_arcmin=column("size_minor_arcmin"),
            separation_arcsec=column("separation_arcsec"),
            companion=column("companion_magnitude_v"),
            half_light_arcmin=np.where(coma, major * COMA_HALF_PART, np.nan),
            axis_ratio=np.where(coma, 1.0, np.nan),
            profile_index=np.where(coma, COMA_INDEX, np.nan),
        ),
        fame=np.array([LISTED if o.kind == "minor planet" else OWN for o in own]),
        source=source_of(4, n),
        row=np.arange(n),
        own=tuple(own),
    )
