"""What does the page beside the globe get to know?"""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.stages.target.teach import TeachAnswer


class TeachData(TypedDict):
    """The place, and stars as right ascension (h), declination (deg) and magnitude, rounded."""

    latitude_deg: float
    place: str
    stars: list[list[float]]


def teach_data(answer: TeachAnswer) -> TeachData:
    """The answer for a page."""
    return {
        "latitude_deg": answer.latitude_deg,
        "place": answer.place,
        "stars": [
            [
                round(star.right_ascension_h, 3),
                round(star.declination_deg, 2),
                round(star.magnitude_v, 1),
            ]
            for star in answer.stars
        ],
    }
