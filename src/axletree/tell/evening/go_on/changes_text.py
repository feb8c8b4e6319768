"""In which words is told what was changed in an evening that goes on, and which sky is closed?"""

from __future__ import annotations

from datetime import datetime

from axletree.evening.sheet.going_on import ClosedSky
from axletree.tell.shared.words import compass_point

OTHER_ORDER = "another order"
AROUND_CLOUDS = "planned around clouds"
OPEN_AGAIN = "sky open again"
AXIS_ANEW = (
    "Planned again: what is known of the axis has changed, and room is that of the axis as it is "
    "known now."
)


def ticked_words(name: str, *, done: bool) -> str:
    """A stop was shown or skipped."""
    return f"{name} {'shown' if done else 'skipped'}"


def left_out_words(name: str) -> str:
    """A stop was taken out."""
    return f"{name} left out"


def put_in_words(name: str) -> str:
    """Another object was put in."""
    return f"{name} put in"


def moved_words(name: str, *, earlier: bool) -> str:
    """A stop was moved in the order."""
    return f"{name} {'earlier' if earlier else 'later'}"


def planned_again_words(start: datetime) -> str:
    """The rest was planned again from this moment on."""
    return f"planned again from {start:%H:%M}"


def hours_words(first: datetime, end: datetime) -> str:
    """The session got other hours."""
    return f"hours from {first:%H:%M} to {end:%H:%M}"


def longer_words(name: str, minutes: float) -> str:
    """The present stop lasts longer."""
    return f"{name} {minutes:g} minutes longer"


def promised_words(name: str, *, promised: bool) -> str:
    """A stop was promised to people, or no longer is."""
    return f"{name} promised" if promised else f"{name} no longer promised"


def closed_words(part: ClosedSky) -> str:
    """'south-west to north, below 45°, until 21:40'; directions are whole eighths."""
    first = compass_point(part.from_azimuth_deg + 22.5)
    last = compass_point(part.to_azimuth_deg - 22.5)
    whole = part.from_azimuth_deg == part.to_azimuth_deg
    words = ["the whole sky" if whole else first if first == last else f"{first} to {last}"]
    if part.low_altitude_deg > 0.0:
        words.append(f"above {part.low_altitude_deg:.0f}°")
    if part.high_altitude_deg < 90.0:
        words.append(f"below {part.high_altitude_deg:.0f}°")
    words.append(f"until {part.end:%H:%M}" if part.end else "until it is opened again")
    return ", ".join(words)
