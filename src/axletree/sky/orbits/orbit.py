"""What are the elements of an orbit, and what is doubtful about them?

Public: ``Orbit``, ``Approach``, ``OrbitDoubt``, ``OrbitDoubtKind``, ``doubts_of``.
"""

from __future__ import annotations

from enum import Enum

from axletree.kit.frozen import dataclass

# Elements older (or younger) than this are doubtful, and so is an orbit that came so near a planet.
OLD_DAYS = 180.0
NEAR_AU = 0.1


@dataclass(frozen=True)
class Approach:
    """How near the body came to a planet between the elements' epoch and the moment asked for.

    `tt`: when, Julian date of terrestrial time, to the day or better.
    """

    planet: str
    distance_au: float
    tt: float


@dataclass(frozen=True)
class Orbit:
    """Heliocentric elements, mean ecliptic and equinox J2000.0; degrees, au, Julian dates of TT.

    `perihelion_au` q above 0, `eccentricity` e of 0 and more. `given_tt`: the epoch at which the
    published elements osculate (None: not said). `asked_tt`: the moment for which the orbit was
    asked (None: for none yet); `holds_tt`: the one to which the planets' pull was followed and at
    which these elements osculate (None: they are as published), `approaches` what was met on the
    way. `absolute_magnitude` and `slope` are H and G of a minor planet, g and k
    of a comet (`brightness`); None: not said.
    """

    perihelion_au: float
    eccentricity: float
    perihelion_tt: float
    argument_deg: float
    node_deg: float
    inclination_deg: float
    comet: bool
    absolute_magnitude: float | None = None
    slope: float | None = None
    given_tt: float | None = None
    asked_tt: float | None = None
    holds_tt: float | None = None
    approaches: tuple[Approach, ...] = ()


class OrbitDoubtKind(Enum):
    """Why a place by elements may be wrong by more than its error says."""

    OLD = "elements_old"
    NO_EPOCH = "epoch_unknown"
    APPROACH = "approach"


@dataclass(frozen=True)
class OrbitDoubt:
    """One doubt with its figures: the age of the elements in days, or who came how near."""

    kind: OrbitDoubtKind
    age_days: float | None = None
    planet: str | None = None
    distance_au: float | None = None


def doubts_of(orbit: Orbit) -> tuple[OrbitDoubt, ...]:
    """What is doubtful about the place of this orbit's body at the moment it was asked for."""
    found: list[OrbitDoubt] = []
    if orbit.given_tt is None:
        found.append(OrbitDoubt(OrbitDoubtKind.NO_EPOCH))
    elif orbit.asked_tt is not None and abs(orbit.asked_tt - orbit.given_tt) > OLD_DAYS:
        age = abs(orbit.asked_tt - orbit.given_tt)
        found.append(OrbitDoubt(OrbitDoubtKind.OLD, age_days=age))
    found += [
        OrbitDoubt(OrbitDoubtKind.APPROACH, planet=one.planet, distance_au=one.distance_au)
        for one in orbit.approaches
    ]
    return tuple(found)
