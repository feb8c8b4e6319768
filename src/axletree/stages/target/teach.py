"""Why does one axis undo the Earth's turn? The place, and the bright stars that turn over it."""

from __future__ import annotations

from functools import cache

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.catalogue.stars import stars

FAINTEST_MAG = 2.75  # about ninety stars: enough to see the sky turn (our figure)


@dataclass(frozen=True)
class BrightStar:
    """One star of the turning sky, J2000.0."""

    right_ascension_h: float
    declination_deg: float
    magnitude_v: float


@dataclass(frozen=True)
class TeachAnswer:
    """Where the mount stands, and the stars above it, the brightest of the whole sky."""

    place: str
    latitude_deg: float
    stars: tuple[BrightStar, ...]


def teach(kit: Kit) -> TeachAnswer:
    """What the page beside the globe shows."""
    return TeachAnswer(kit.site.name, kit.site.latitude_deg, _bright())


@cache
def _bright() -> tuple[BrightStar, ...]:
    found = stars(FAINTEST_MAG)
    return tuple(
        BrightStar(float(ra) / 15.0, float(dec), float(mag))
        for ra, dec, mag in zip(found.ra_deg, found.dec_deg, found.magnitude_v, strict=True)
    )
