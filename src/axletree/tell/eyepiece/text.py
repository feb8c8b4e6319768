"""Which sentences stand on an answer about a body at the eyepiece, which on a stop?"""

from __future__ import annotations

from zoneinfo import ZoneInfo

from axletree.find.at_eyepiece.answer import (
    AtEyepiece,
    MoonAtEyepiece,
    PairAtEyepiece,
    PlanetAtEyepiece,
)
from axletree.sky.happenings.kinds import Happening, HappeningKind
from axletree.tell.eyepiece.happenings_text import begin_of, end_of, happening_words
from axletree.tell.eyepiece.lunar_text import moon_short, moon_words
from axletree.tell.eyepiece.planet_text import elongation_words, planet_short, planet_words
from axletree.tell.eyepiece.way_text import EyeTurn, dial_words
from axletree.tell.shared.words import magnitude

# Nearer than this to the Sun a planet is told with its distance from it (ours).
_NEAR_SUN_DEG = 50.0
# More than so many happenings no line of a run sheet holds.
_MOST_TOLD = 2


def body_words(
    shown: AtEyepiece, turn: EyeTurn | None, power: float | None, zone: ZoneInfo
) -> list[str]:
    """Everything of it, a sentence each; `turn` None: sides are those of the sky."""
    if isinstance(shown, MoonAtEyepiece):
        rows = moon_words(shown, turn)
    elif isinstance(shown, PairAtEyepiece):
        rows = [_pair(shown, turn, power)]
    else:
        rows = planet_words(shown, turn, power)
        if shown.elongation_deg < _NEAR_SUN_DEG:
            rows.append(elongation_words(shown))
        rows += [happening_words(one, shown.at, zone) for one in shown.happenings]
    return [f"{row[:1].upper()}{row[1:]}." for row in rows]


def body_short(shown: AtEyepiece, turn: EyeTurn | None, power: float | None, zone: ZoneInfo) -> str:
    """One line for a run sheet, without a full stop."""
    if isinstance(shown, MoonAtEyepiece):
        return moon_short(shown, turn)
    if isinstance(shown, PairAtEyepiece):
        return _pair_short(shown, turn)
    # What changes while people look; what goes on all the time is counted.
    changing = [h for h in shown.happenings if _changes(shown, h)][:_MOST_TOLD]
    told = frozenset(h.actor for h in changing if h.kind is not HappeningKind.SHADOW_ON_DISC)
    parts = [planet_short(shown, turn, power, told)]
    return "; ".join([*parts, *(happening_words(h, shown.at, zone) for h in changing)])


def _changes(shown: PlanetAtEyepiece, told: Happening) -> bool:
    if told.kind is HappeningKind.SHADOW_ON_DISC:
        return True
    moments = (begin_of(told), end_of(told))
    return any(t is not None and shown.at <= t.time <= shown.until for t in moments)


def _pair_short(shown: PairAtEyepiece, turn: EyeTurn | None) -> str:
    words = _apart(shown)
    if shown.magnitude_v is not None and shown.companion_magnitude_v is not None:
        words += f", {_both_mag(shown.magnitude_v, shown.companion_magnitude_v)} mag"
    if shown.position_angle_deg is None:
        return words
    return f"{words}, the fainter star {dial_words(shown.position_angle_deg, turn)}"


def _both_mag(brighter: float, fainter: float) -> str:
    return f"{magnitude(brighter)} and {magnitude(fainter)}"


def _apart(shown: PairAtEyepiece) -> str:
    return f"{shown.separation_arcsec:.{1 if shown.separation_arcsec < 20.0 else 0}f}″ apart"


def _pair(shown: PairAtEyepiece, turn: EyeTurn | None, power: float | None) -> str:
    apart = shown.separation_arcsec
    digits = 1 if apart < 20.0 else 0
    words = f"the fainter star {apart:.{digits}f}″ from the brighter one"
    if shown.position_angle_deg is not None:
        words += f", {dial_words(shown.position_angle_deg, turn)}"
        if turn is not None:
            words += f" (position angle {shown.position_angle_deg:.0f}°)"
    if shown.magnitude_v is not None and shown.companion_magnitude_v is not None:
        words += f"; magnitudes {_both_mag(shown.magnitude_v, shown.companion_magnitude_v)}"
    if power is not None:
        words += f"; {apart * power / 60.0:.0f}′ apart at the eye"
    return words if shown.year is None else f"{words} (as of {shown.year:.0f})"
