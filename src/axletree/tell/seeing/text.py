"""In which sentences is told how well an object shows, what it looks like, under what sky?

The evening, the list of objects and the calendar say it in the same words.
"""

from __future__ import annotations

from axletree.evening.stops.object_words import (
    facts_words,
    omission_words,
    session_end_words,
    sky_words,
    visibility_words,
    why_words,
)

__all__ = [
    "facts_words",
    "omission_words",
    "session_end_words",
    "sky_words",
    "visibility_words",
    "why_words",
]
