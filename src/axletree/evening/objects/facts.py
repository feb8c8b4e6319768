"""What is worth telling of an object's looks: size, light, colour, how far apart, phase and rings?

Public: ``facts_of``, ``orbit_facts``, ``body_facts``, ``ObjectFacts``.
"""

from __future__ import annotations

from axletree.evening.seeing.visibility import PAIR
from axletree.kit.frozen import dataclass
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.orbits.brightness import (
    COMA_FACTOR,
    COMET_SIGHT_SIGMA_MAG,
    COMET_SIGMA_MAG,
    MINOR_PLANET_SIGMA_MAG,
)
from axletree.sky.orbits.orbit import Orbit
from axletree.sky.positions.bodies import body_positions
from axletree.sky.time.instants import Instants


@dataclass(frozen=True)
class PairFacts:
    """A double star: both magnitudes, or neither."""

    separation_arcsec: float
    magnitudes: tuple[float, float] | None


@dataclass(frozen=True)
class StarFacts:
    """A single star of known colour, B-V in magnitudes."""

    colour_bv: float


@dataclass(frozen=True)
class DiffuseFacts:
    """Anything with a size or a light of its own; None where it is not known."""

    size_arcmin: float | None
    magnitude_v: float | None
    magnitude_guessed: bool


@dataclass(frozen=True)
class BodyFacts:
    """The Moon or a planet; `ring_tilt_deg` is None for all but Saturn."""

    is_moon: bool
    diameter_arcsec: float
    lit_fraction: float
    ring_tilt_deg: float | None


@dataclass(frozen=True)
class OrbitFacts:
    """A comet or a minor planet by its elements: magnitude (None: not said) with one standard
    deviation, and of a comet the assumed width of its coma with the factor
    within which it is known. `sight_sigma_mag`: how well it is known by how much it shows."""

    magnitude_v: float | None
    sigma_mag: float
    sight_sigma_mag: float
    coma_arcmin: float | None
    coma_factor: float | None


ObjectFacts = PairFacts | StarFacts | DiffuseFacts | BodyFacts | OrbitFacts


def facts_of(target: SkyObject, sort: int) -> ObjectFacts:
    """What the catalogues know of a fixed object's looks; `sort` as in `Looks`."""
    if sort == PAIR and target.separation_arcsec:
        bright, faint = target.magnitude_v, target.companion_magnitude_v
        both = None if bright is None or faint is None else (bright, faint)
        return PairFacts(target.separation_arcsec, both)
    if target.orbit is not None:
        return orbit_facts(target, target.orbit)
    if target.kind == "star" and target.colour_bv:
        return StarFacts(target.colour_bv)
    return DiffuseFacts(
        target.size_major_arcmin or None, target.magnitude_v, target.magnitude_guessed
    )


def orbit_facts(target: SkyObject, orbit: Orbit) -> OrbitFacts:
    """How well a comet or a minor planet is known."""
    comet, wide = orbit.comet, target.size_major_arcmin
    return OrbitFacts(
        magnitude_v=target.magnitude_v,
        sigma_mag=COMET_SIGMA_MAG if comet else MINOR_PLANET_SIGMA_MAG,
        sight_sigma_mag=COMET_SIGHT_SIGMA_MAG if comet else MINOR_PLANET_SIGMA_MAG,
        coma_arcmin=wide if comet else None,
        coma_factor=COMA_FACTOR if comet else None,
    )


def body_facts(name: str, instants: Instants, observer: Observer) -> BodyFacts:
    """The Moon or a planet as it looks in the middle of the instants."""
    body = body_positions(name, instants[len(instants) // 2], observer)
    tilt = float(body.ring_tilt_deg[0, 0])
    return BodyFacts(
        is_moon=name == "moon",
        diameter_arcsec=float(body.diameter_arcsec[0, 0]),
        lit_fraction=float(body.lit_fraction[0, 0]),
        ring_tilt_deg=tilt if tilt == tilt else None,
    )
