"""Which stars turn over the mount that explains itself?"""

from __future__ import annotations

from functools import cache
from typing import Any

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk

router = APIRouter(prefix="/answer")
FAINTEST_MAG = 2.75


@cache
def _bright() -> list[list[float]]:
    from axletree.sky.catalogue.stars import stars

    found = stars(FAINTEST_MAG)
    return [
        [round(float(ra) / 15.0, 3), round(float(dec), 2), round(float(mag), 1)]
        for ra, dec, mag in zip(found.ra_deg, found.dec_deg, found.magnitude_v, strict=True)
    ]


@router.get("/teach")
def teach(desk: OnDesk) -> dict[str, Any]:
    """The site's latitude, and bright stars as right ascension (h), declination, magnitude."""
    site = desk.kit.site
    return {"latitude_deg": site.latitude_deg, "place": site.name, "stars": _bright()}
