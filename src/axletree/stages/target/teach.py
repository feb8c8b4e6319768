"""Why does one axis undo the Earth's turn? Three places, a star with a name, an eyepiece."""

from __future__ import annotations

from functools import cache

import numpy as np

from axletree.find.instruments import eyepieces_of
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.follow.altaz_rates import altaz_rates
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.catalogue.stars import stars
from axletree.sky.directions import azimuth_altitude
from axletree.sky.optics import drift_to_edge_s

FAINTEST_MAG = 2.75  # about ninety stars: enough to see the sky turn (our figure)
# Places that are unlike the own one: the equator, and one on the other half of the Earth; where the
# own lies near the equator, one on either half (ours).
OTHER_HALF_DEG, FAR_DEG, NEAR_EQUATOR_DEG = 35.0, 50.0, 15.0
# A star so near to the equator of the sky stands over most of the Earth at once (ours).
_EVERYWHERE_DEG = 10.0
_HIGH_DEG = 20.0
# The star of the upright mount's trouble passes so far from the point overhead (ours).
PASSES_ZENITH_DEG = 2.0


@dataclass(frozen=True)
class BrightStar:
    """One star of the turning sky, J2000.0; `name` is '' where it has none of its own."""

    right_ascension_h: float
    declination_deg: float
    magnitude_v: float
    name: str = ""


@dataclass(frozen=True)
class TeachEyepiece:
    """An eyepiece of the kit on the star of the lesson: the field, and how long the star takes from
    its middle to its edge where nothing turns."""

    label: str
    magnification: float
    true_field_deg: float
    leaves_s: float


@dataclass(frozen=True)
class TeachAnswer:
    """Where the mount stands, and the stars above it, the brightest of the whole sky.

    `latitudes_deg`: the own place first, then two unlike it. `star` stands over all three at once.
    `overhead_deg`: declination of a star that passes close to the point overhead; an upright axis
    would have to turn after it at `rush_deg_per_h` there.
    """

    place: str
    latitude_deg: float
    stars: tuple[BrightStar, ...]
    latitudes_deg: tuple[float, float, float]
    star: BrightStar
    eyepiece: TeachEyepiece
    overhead_deg: float
    rush_deg_per_h: float


def teach(kit: Kit) -> TeachAnswer:
    """What the page beside the globe shows."""
    latitude = kit.site.latitude_deg
    places = three_latitudes(latitude)
    star = named_star(places)
    eyepieces = eyepieces_of(kit)
    middle = eyepieces[len(eyepieces) // 2]
    leaves = float(drift_to_edge_s(middle.true_field_deg / 2.0, star.declination_deg))
    away = -PASSES_ZENITH_DEG if latitude >= 0.0 else PASSES_ZENITH_DEG
    return TeachAnswer(
        kit.site.name, latitude, _bright(), places, star,
        TeachEyepiece(middle.label, middle.magnification, middle.true_field_deg, leaves),
        latitude + away, abs(float(altaz_rates(0.0, latitude + away, latitude).azimuth)),
    )  # fmt: skip


def three_latitudes(latitude_deg: float) -> tuple[float, float, float]:
    """A place's latitude with two others that look unlike it."""
    sense = 1.0 if latitude_deg >= 0.0 else -1.0
    if abs(latitude_deg) < NEAR_EQUATOR_DEG:
        return latitude_deg, sense * FAR_DEG, -sense * OTHER_HALF_DEG
    return latitude_deg, 0.0, -sense * OTHER_HALF_DEG


def named_star(latitudes_deg: tuple[float, ...]) -> BrightStar:
    """The brightest star with a name of its own that stands high at all these places at once, on
    their meridian; near a pole the one that stands highest there."""
    near = [s for s in _bright() if s.name and abs(s.declination_deg) <= _EVERYWHERE_DEG]
    lowest = [
        float(azimuth_altitude(0.0, s.declination_deg, np.array(latitudes_deg))[1].min())
        for s in near
    ]
    high = [s for s, least in zip(near, lowest, strict=True) if least >= _HIGH_DEG]
    return high[0] if high else near[int(np.argmax(lowest))]


@cache
def _bright() -> tuple[BrightStar, ...]:
    found = stars(FAINTEST_MAG)
    return tuple(
        BrightStar(float(ra) / 15.0, float(dec), float(mag), _name(int(hip)))
        for hip, ra, dec, mag in zip(
            found.number, found.ra_deg, found.dec_deg, found.magnitude_v, strict=True
        )
    )


def _name(hip: int) -> str:
    return next(iter(names_of(hip)), "")
