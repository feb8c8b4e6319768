"""What does the page beside the globe get to know?"""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.stages.target.teach import TeachAnswer


class NamedStarData(TypedDict):
    """A star with a name, J2000.0."""

    name: str
    right_ascension_h: float
    declination_deg: float


class TeachEyepieceData(TypedDict):
    """An eyepiece on that star; `leaves_s` from the middle of the field to its edge, axis still."""

    label: str
    magnification: float
    true_field_deg: float
    leaves_s: float


class TeachData(TypedDict):
    """The place, and stars as right ascension (h), declination (deg) and magnitude, rounded.

    `latitudes_deg`: the own place, and two unlike it; `star` stands over all three at once.
    `overhead_deg`: declination of a star that passes close to the point overhead; an upright
    axis would have to turn after it at `rush_deg_per_h` there.
    """

    latitude_deg: float
    place: str
    stars: list[list[float]]
    latitudes_deg: list[float]
    star: NamedStarData
    eyepiece: TeachEyepieceData
    overhead_deg: float
    rush_deg_per_h: float


def teach_data(answer: TeachAnswer) -> TeachData:
    """The answer for a page."""
    star, eyepiece = answer.star, answer.eyepiece
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
        "latitudes_deg": list(answer.latitudes_deg),
        "star": {
            "name": star.name,
            "right_ascension_h": round(star.right_ascension_h, 3),
            "declination_deg": round(star.declination_deg, 2),
        },
        "eyepiece": {
            "label": eyepiece.label,
            "magnification": round(eyepiece.magnification, 1),
            "true_field_deg": round(eyepiece.true_field_deg, 4),
            "leaves_s": round(eyepiece.leaves_s, 2),
        },
        "overhead_deg": answer.overhead_deg,
        "rush_deg_per_h": round(answer.rush_deg_per_h, 1),
    }
