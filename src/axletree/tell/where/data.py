"""What does a program get to know about an object's place? Keys carry units."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.stages.target.where import WhereAnswer
from axletree.tell.orbit.data import OrbitData, orbit_data
from axletree.tell.shared.text import rotation_words
from axletree.tell.where.text import caution_words


class WhereData(TypedDict):
    """The answer of `axletree where`: apparent place of date; airmass None below the horizon."""

    version: Literal[1]
    object: str
    kind: str
    at: str
    right_ascension_h: float
    declination_deg: float
    hour_angle_h: float
    azimuth_deg: float
    altitude_true_deg: float
    altitude_deg: float
    airmass: float | None
    caution_codes: list[str]
    cautions: list[str]
    note_codes: list[str]
    notes: list[str]
    orbit: OrbitData | None


def where_data(answer: WhereAnswer) -> WhereData:
    """The answer for programs."""
    return {
        "version": 1,
        "object": answer.target.name,
        "kind": answer.target.kind,
        "at": answer.at.isoformat(),
        "right_ascension_h": answer.right_ascension_h,
        "declination_deg": answer.declination_deg,
        "hour_angle_h": answer.hour_angle_h,
        "azimuth_deg": answer.azimuth_deg,
        "altitude_true_deg": answer.altitude_true_deg,
        "altitude_deg": answer.altitude_deg,
        "airmass": answer.airmass,
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "note_codes": [doubt.kind.value for doubt in answer.doubts],
        "notes": [rotation_words(answer.doubts)] if answer.doubts else [],
        "orbit": orbit_data(answer.target),
    }
