"""In which sentences are the doubts of an orbit told?"""

from __future__ import annotations

from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.orbits.orbit import NEAR_AU, OLD_DAYS, OrbitDoubt, OrbitDoubtKind, doubts_of

_PLANETS = {"earth": "the Earth", "jupiter": "Jupiter"}


def orbit_doubt_words(doubt: OrbitDoubt) -> str:
    """One doubt, a sentence without its full stop."""
    if doubt.kind is OrbitDoubtKind.OLD and doubt.age_days is not None:
        return (
            f"its elements are {doubt.age_days:.0f} days from their epoch, more than "
            f"{OLD_DAYS:.0f}: bring newer ones, it may stand elsewhere"
        )
    if doubt.kind is OrbitDoubtKind.APPROACH and doubt.distance_au is not None:
        return (
            f"it came within {doubt.distance_au:.3g} au of {_PLANETS.get(doubt.planet or '', '')} "
            f"since the epoch of its elements, nearer than {NEAR_AU:g} au: small errors of them "
            "have grown"
        )
    return "its elements don't say for which day they hold: it may stand elsewhere"


def orbit_words(thing: SkyObject) -> list[str]:
    """All doubts about an object that goes by elements; [] of any other."""
    return [] if thing.orbit is None else [orbit_doubt_words(d) for d in doubts_of(thing.orbit)]
