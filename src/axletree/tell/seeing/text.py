"""In which sentences is told how well an object shows, what it looks like, under what sky?

The evening, the list of objects and the calendar say it in the same words.
"""

from __future__ import annotations

import math

from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.objects.choosing import Candidate
from axletree.evening.objects.facts import (
    BodyFacts,
    DiffuseFacts,
    ObjectFacts,
    OrbitFacts,
    PairFacts,
    StarFacts,
)
from axletree.evening.seeing.grades import Visibility
from axletree.evening.seeing.sky_brightness import AssumedSky, SkyAssumption
from axletree.tell.shared.words import magnitude

DEEP_RED_BV = 1.5
_FULL_MOON = 0.985
HIGH_DEG, LOW_DEG = 50.0, 25.0


def visibility_words(visibility: Visibility) -> str:
    """How well it shows, in words that a visitor would use."""
    return {
        Visibility.UNKNOWN: "nobody knows how well it shows",
        Visibility.FIRST_GLANCE: "shows at first glance",
        Visibility.PLAIN: "plain after a few seconds",
        Visibility.SOFT: "soft; give it half a minute",
        Visibility.EDGE_OF_SIGHT: "at the edge of sight: look beside it",
        Visibility.NOT_SEEN: "not tonight",
    }[visibility]


def session_end_words(end: SessionEnd) -> str:
    """What the session ends with."""
    return {
        SessionEnd.DAWN: "dawn",
        SessionEnd.HOURS: "the hours you chose",
        SessionEnd.STOP: "the end you chose",
        SessionEnd.BEDTIME: "bedtime",
    }[end]


def sky_words(assumed: AssumedSky) -> str:
    """What was taken for granted of a sky that the kit leaves open."""
    if assumed.what == SkyAssumption.FROM_FAINTEST_STAR:
        return (
            f"sky of {assumed.value:.1f} mag/arcsec² from the faintest star, "
            f"{assumed.faintest_star_mag:.1f}"
        )
    if assumed.what == SkyAssumption.RURAL:
        return (
            f"a rural sky of {assumed.value:.1f} mag/arcsec² (the kit says nothing of its darkness)"
        )
    return f"clear air that takes {assumed.value:.2f} mag at the zenith"


def facts_words(facts: ObjectFacts) -> str:
    """Size, light, separation, colour, phase or rings of an object; '' where nothing is known."""
    if isinstance(facts, PairFacts):
        text = f"a pair {facts.separation_arcsec:.0f}″ apart"
        if facts.magnitudes is None:
            return text
        bright, faint = facts.magnitudes
        return f"{text}, {magnitude(bright)} and {magnitude(faint)} mag"
    if isinstance(facts, StarFacts):
        red = facts.colour_bv > DEEP_RED_BV
        return f"a deep red star (B−V {facts.colour_bv:.1f})" if red else "a star"
    if isinstance(facts, BodyFacts):
        return _body_words(facts)
    if isinstance(facts, OrbitFacts):
        return _orbit_words(facts)
    return _diffuse_words(facts)


def _orbit_words(facts: OrbitFacts) -> str:
    light = "brightness not known"
    if facts.magnitude_v is not None:
        light = f"about {magnitude(facts.magnitude_v)} ± {facts.sigma_mag:.1f} mag by its elements"
    if facts.coma_arcmin is None or facts.coma_factor is None:
        return f"{light}; a point that moves among the stars"
    return (
        f"{light}; its coma, some {facts.coma_arcmin:.0f}′ across, is assumed and known within a "
        f"factor of {facts.coma_factor:.0f}, so that how well it shows is known to "
        f"{facts.sight_sigma_mag:.1f} mag at best"
    )


def _diffuse_words(facts: DiffuseFacts) -> str:
    parts = []
    size = facts.size_arcmin
    if size is not None:
        parts.append(f"{size:.0f}′ across" if size >= 1.5 else f"{size * 60:.0f}″ across")
    if facts.magnitude_v is not None:
        about = "about " if facts.magnitude_guessed else ""
        parts.append(f"{about}{magnitude(facts.magnitude_v)} mag")
    return ", ".join(parts)


def _body_words(facts: BodyFacts) -> str:
    size = facts.diameter_arcsec
    text = f"{size / 60:.0f}′ across" if size > 120 else f"{size:.0f}″ across"
    # Of a full Moon the head of the sheet says so, or what the Earth's shadow does to it.
    if facts.lit_fraction < (_FULL_MOON if facts.is_moon else 0.97):
        text += f", {facts.lit_fraction * 100:.0f} % lit"
    if facts.ring_tilt_deg is not None:
        text += f", rings tilted {abs(facts.ring_tilt_deg):.0f}°"
    return text


def why_words(candidate: Candidate) -> str:
    """Why it is worth a stop, in a sentence."""
    facts = [facts_words(candidate.facts)]
    height, margin = candidate.highest_deg, candidate.margin_mag
    if height > HIGH_DEG:
        facts.append(f"up to {height:.0f}° high this evening")
    elif height < LOW_DEG:
        facts.append(f"never higher than {height:.0f}° this evening")
    measured = not isinstance(candidate.facts, BodyFacts | PairFacts)
    if measured and math.isfinite(margin) and margin > -9:
        facts.append(f"{margin:+.1f} mag of margin".replace("-", "−"))
    if candidate.line_filter:
        facts.append(f"with the {candidate.line_filter} filter before the eyepiece")
    why = "; ".join(f for f in facts if f)
    return why[:1].upper() + why[1:] + "."
