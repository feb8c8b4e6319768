"""Where does the bare eye look, for a program? Keys carry units."""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.find.finding import Finding


class GuideStarData(TypedDict):
    """A bright star that leads the eye there: `way` and `clockwise_deg` from it to the place."""

    names: list[str]
    magnitude_v: float
    distance_deg: float
    distance_sigma_deg: float
    clockwise_deg: float
    way: str
    hand: str
    hand_count: float


class WhereToLookData(TypedDict):
    """Where the bare eye looks."""

    azimuth_deg: float
    altitude_deg: float
    overhead: bool
    guides: list[GuideStarData]


def where_data(found: Finding) -> WhereToLookData:
    """Where the bare eye looks, and the stars that lead there."""
    stars = found.sky_patch.stars
    return {
        "azimuth_deg": found.where.azimuth_deg,
        "altitude_deg": found.where.altitude_deg,
        "overhead": found.where.overhead,
        "guides": [
            {
                "names": list(found.star_names.get(int(stars.number[g.star_index]), ())),
                "magnitude_v": g.magnitude_v,
                "distance_deg": g.distance_deg,
                "distance_sigma_deg": g.hand_sigma_deg,
                "clockwise_deg": g.clockwise_deg,
                "way": g.way.value,
                "hand": g.hand.value,
                "hand_count": g.hand_count,
            }
            for g in found.where.guides
        ],
    }
