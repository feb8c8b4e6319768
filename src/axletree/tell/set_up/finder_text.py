"""In which sentences is setting the finder told?"""

from __future__ import annotations

from axletree.find.instruments import InstrumentKind
from axletree.find.practice.finder_match import BrightThing, FinderMatch
from axletree.tell.shared.words import compass_point, magnitude


def finder_stage(
    match: FinderMatch, units: str = "metric"
) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """Answer, details and cautions of setting the finder."""
    sight = match.kind is InstrumentKind.PLAIN_SIGHT
    far = f"a thing on the ground at least {_far(match.far_m, units)} away"
    bright = None if match.bright is None else _bright_words(match.bright)
    now, other = (far, bright) if match.daylight or bright is None else (bright, far)
    within = f"{match.within_deg:.2f}° ({match.in_finder:.2f} of "
    within += "its smallest ring's radius)" if sight else "its field)"
    said = (
        f"{now[:1].upper() + now[1:]} to the middle of the weakest eyepiece; then "
        f"the {'sight' if sight else 'finder'}'s screws, to {within}."
    )
    why = f"Half the eyepiece's field less {match.centring_deg:.2f}° for centring"
    later = "later" if match.daylight else "while the ground is light"
    details = [why + (f"; {later}: {other}." if other else ".")]
    cautions: list[str] = []
    if match.sun_up:
        cautions = [
            "The Sun is up: caps on whatever nobody looks through, no child alone at the tube.",
            f"Keep tube and finder {match.sun_distance_deg:.0f}° away from the Sun, and turn them "
            "there with the caps on.",
        ]
    return said, tuple(details), tuple(cautions)


def _bright_words(thing: BrightThing) -> str:
    return (
        f"{thing.names[0]} ({compass_point(thing.azimuth_deg)}, {thing.altitude_deg:.0f}° high, "
        f"{magnitude(thing.magnitude_v)} mag, tube side {thing.side})"
    )


def _far(length_m: float, units: str) -> str:
    """A distance to the next ten metres, or fifty feet, up."""
    if units == "us":
        return f"{-(-length_m / 0.3048 // 50) * 50:.0f} ft"
    return f"{-(-length_m // 10) * 10:.0f} m"
