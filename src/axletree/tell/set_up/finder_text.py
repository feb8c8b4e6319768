"""In which sentences is setting the finder told?"""

from __future__ import annotations

from axletree.find.instruments import InstrumentKind
from axletree.find.practice.finder_match import BrightThing, FinderMatch
from axletree.tell.shared.words import compass_point


def finder_stage(match: FinderMatch) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """Answer, details and cautions of setting the finder."""
    sight = match.kind is InstrumentKind.PLAIN_SIGHT
    name = "sight" if sight else "finder"
    on = _bright_words(match.bright) if match.bright is not None and not match.daylight else None
    far = f"a thing on the ground at least {_metres(match.far_m)} away"
    said = (
        f"{on or far[:1].upper() + far[1:]} in the middle of the weakest eyepiece, then the "
        f"{name}'s screws until it is in the middle there too."
    )
    of = "the smallest ring's radius" if sight else "the field from edge to edge"
    details = [
        f"The two may differ by {match.within_deg:.2f}° ({match.in_finder:.2f} of {of}): half the "
        f"eyepiece's field less {match.centring_deg:.2f}° for your own centring.",
    ]
    if on is not None:
        details.append(
            f"While there is light on the ground, {far} does as well ({match.offset_mm:.0f} mm "
            "from tube to finder).",
        )
    else:
        details.append(
            f"Nearer things mislead: finder and tube are {match.offset_mm:.0f} mm apart, which "
            "is then more than a tenth of that."
        )
        details.append(
            "No bright star stands well then."
            if match.bright is None
            else f"Or later: {_bright_words(match.bright)}."
        )
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
        f"{thing.names[0]} ({thing.magnitude_v:.1f} mag, {thing.altitude_deg:.0f}° high in the "
        f"{compass_point(thing.azimuth_deg)}, tube side {thing.side})"
    )


def _metres(length_m: float) -> str:
    """A distance to the next ten metres up."""
    return f"{-(-length_m // 10) * 10:.0f} m"
