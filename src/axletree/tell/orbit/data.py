"""What does a program get to know about an object that goes by elements? Keys carry units."""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.evening.objects.facts import orbit_facts
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.orbits.orbit import doubts_of
from axletree.tell.orbit.text import orbit_words


class OrbitDoubtData(TypedDict):
    """Why its place may be wrong: the age of its elements, or who came how near; None where that
    has no meaning."""

    code: str
    age_days: float | None
    planet: str | None
    distance_au: float | None


class OrbitData(TypedDict):
    """How well an object by elements is known: one standard deviation of its magnitude, and of the
    margin by which it shows; a comet's assumed coma and the factor within which it is known."""

    epoch_jd_tt: float | None
    magnitude_sigma: float
    sight_sigma_mag: float
    coma_arcmin: float | None
    coma_factor: float | None
    doubts: list[OrbitDoubtData]
    notes: list[str]


def orbit_data(thing: SkyObject) -> OrbitData | None:
    """The form of an object's orbit; None of what stands still or needs no elements."""
    if thing.orbit is None:
        return None
    facts = orbit_facts(thing, thing.orbit)
    return {
        "epoch_jd_tt": thing.orbit.given_tt,
        "magnitude_sigma": facts.sigma_mag,
        "sight_sigma_mag": facts.sight_sigma_mag,
        "coma_arcmin": facts.coma_arcmin,
        "coma_factor": facts.coma_factor,
        "doubts": [
            {
                "code": doubt.kind.value,
                "age_days": doubt.age_days,
                "planet": doubt.planet,
                "distance_au": doubt.distance_au,
            }
            for doubt in doubts_of(thing.orbit)
        ],
        "notes": orbit_words(thing),
    }
