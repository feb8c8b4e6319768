"""In which sentences are a planet's disc, rings and moons told?"""

from __future__ import annotations

from axletree.find.at_eyepiece.answer import (
    ANGLE_ERROR_DEG,
    OPENING_ERROR_DEG,
    BesidePlanet,
    MoonBeside,
    PlanetAtEyepiece,
    RingsShown,
)
from axletree.sky.discs.look import SkySide
from axletree.sky.discs.rings import RingFace
from axletree.sky.happenings.kinds import HappeningKind
from axletree.tell.eyepiece.happenings_text import MOON_NAMES
from axletree.tell.eyepiece.way_text import EyeTurn, line_words, reading_order, side_words

# A disc that looks smaller than this at the eye is taken for a point (ours), arcminutes.
_DISC_FROM_ARCMIN = 5.0
_COLOURS = {"uranus": "pale blue-green", "neptune": "blue-grey"}
_FACES = {
    RingFace.NORTH_LIT: "their north face is seen",
    RingFace.SOUTH_LIT: "their south face is seen",
    RingFace.NORTH_DARK: "the Sun lights their other face, so that they hardly show",
    RingFace.SOUTH_DARK: "the Sun lights their other face, so that they hardly show",
}
# How rings look that are open less than so many degrees (common practice, no source).
_OPEN = (
    (0.5, "edge-on, a line like a hair if they show at all"),
    (4.0, "nearly edge-on, like a needle through the globe"),
    (10.0, "narrow"),
    (18.0, "half open"),
    (90.0, "wide open"),
)
_NUMBERS = ("no", "one", "two", "three", "four")


def planet_words(shown: PlanetAtEyepiece, turn: EyeTurn | None, power: float | None) -> list[str]:
    """What its disc, rings and moons show, a line each, without full stops."""
    rows = [_disc(shown, turn, power)]
    if shown.rings is not None:
        rows.append(_rings(shown, shown.rings, turn))
    if shown.body == "jupiter":
        told = frozenset(
            h.actor for h in shown.happenings if h.kind is not HappeningKind.SHADOW_ON_DISC
        )
        rows += _four(shown, turn, told)
    elif shown.moons:
        rows += [_titan(shown, moon, turn) for moon in shown.moons]
    return rows


def planet_short(
    shown: PlanetAtEyepiece,
    turn: EyeTurn | None,
    power: float | None,
    told: frozenset[str] = frozenset(),
) -> str:
    """The one thing to look for, for a run sheet: moons, rings or phase.

    Moons in `told` are told of elsewhere in the same line, where they go and when.
    """
    if shown.body == "jupiter":
        return _counted(shown, turn, told)
    if shown.rings is not None:
        return _rings_short(shown.rings)
    return _disc(shown, turn, power)


def _disc(shown: PlanetAtEyepiece, turn: EyeTurn | None, power: float | None) -> str:
    size = f"{shown.diameter_arcsec:.1f}″ across"
    if shown.body in _COLOURS:
        at_eye = shown.diameter_arcsec / 60.0 * (power or 0.0)
        disc = at_eye >= _DISC_FROM_ARCMIN
        colour = _COLOURS[shown.body]
        return f"a tiny {colour} disc, {size}" if disc else f"a steady {colour} point, {size}"
    if shown.body == "jupiter":
        belts = line_words(shown.axis_deg + 90.0, turn)
        return (
            f"{shown.diameter_arcsec:.1f}″ wide, {shown.polar_diameter_arcsec:.1f}″ from pole to "
            f"pole; its belts run {belts}"
        )
    if shown.body == "saturn":
        return f"the globe {size}"
    return f"{_phase(shown, turn)}, {size}"


def _phase(shown: PlanetAtEyepiece, turn: EyeTurn | None) -> str:
    lit = shown.lit_fraction
    if lit > 0.985:
        return "a full disc"
    # So that no rounding makes a full one of it.
    part = f"{min(100.0 * lit, 99.0):.0f} % lit"
    bright = f"bright side {side_words(shown.bright_limb_deg, turn)}"
    if lit < 0.42:
        return f"a crescent, {part}, {bright}"
    if lit < 0.58:
        return f"a half disc, {part}, {bright}"
    return f"more than half, {part}, {bright}"


def _rings_short(rings: RingsShown) -> str:
    tilt = abs(rings.opening_deg)
    if tilt < _OPEN[0][0]:
        return f"rings {_open_words(tilt)}"
    return f"rings {_open_words(tilt)}, tilted {tilt:.1f}°; {_FACES[rings.face]}"


def _open_words(tilt_deg: float) -> str:
    return next(words for below, words in _OPEN if tilt_deg <= below)


def _rings(shown: PlanetAtEyepiece, rings: RingsShown, turn: EyeTurn | None) -> str:
    line = line_words(shown.axis_deg + 90.0, turn)
    tilt = f"{abs(rings.opening_deg):.2f}° ± {OPENING_ERROR_DEG:.2f}°"
    words = [_open_words(abs(rings.opening_deg))]
    if abs(rings.opening_deg) >= _OPEN[0][0]:
        words.append(_FACES[rings.face])
    return (
        f"rings {rings.outer_arcsec:.1f}″ from tip to tip, {line}, tilted {tilt}: "
        f"{'; '.join(words)}"
    )


def _titan(shown: PlanetAtEyepiece, moon: MoonBeside, turn: EyeTurn | None) -> str:
    name = MOON_NAMES[moon.name]
    if not moon.state.seen:
        return f"{name} is {_state(shown, moon)}"
    return (
        f"{name} {side_words(moon.position_angle_deg, turn)}, {moon.apart_radii:.1f} radii "
        f"({moon.apart_arcsec:.0f}″ ± {moon.error_arcsec:.1f}″) from the middle, "
        f"magnitude {moon.magnitude_v:.1f}"
    )


def _four(shown: PlanetAtEyepiece, turn: EyeTurn | None, told: frozenset[str]) -> list[str]:
    """Where the moons stand; of those in `told` the passage is told beside, with its times."""
    rows = []
    for way, moons in _sides(shown, turn):
        there = ", ".join(
            f"{MOON_NAMES[moon.name]} {moon.apart_radii:.1f} ({moon.apart_arcsec:.0f}″)"
            for moon in moons
        )
        rows.append(f"{way}: {there}")
    beside = []
    if rows:
        error = shown.moons[0].error_arcsec
        beside.append(
            f"moons, in Jupiter's radii from its middle (±{error:.1f}″), {'; '.join(rows)}"
        )
    others = [m for m in shown.moons if m.state is not BesidePlanet.BESIDE and m.name not in told]
    beside += [f"{MOON_NAMES[moon.name]} is {_state(shown, moon)}" for moon in others]
    return beside


def _state(shown: PlanetAtEyepiece, moon: MoonBeside) -> str:
    planet = shown.body[:1].upper() + shown.body[1:]
    return {
        BesidePlanet.BESIDE: f"beside {planet}",
        BesidePlanet.BEFORE_DISC: "before the disc, hard to tell from it",
        BesidePlanet.BEHIND_DISC: "hidden behind the disc",
        BesidePlanet.IN_SHADOW: f"in {planet}'s shadow, unseen",
    }[moon.state]


def _counted(shown: PlanetAtEyepiece, turn: EyeTurn | None, told: frozenset[str]) -> str:
    """'two moons left, one right; Io before the disc'."""
    sides = _sides(shown, turn)
    counts = []
    for n, (way, moons) in enumerate(sides):
        noun = (" moon" if len(moons) == 1 else " moons") if n == 0 else ""
        counts.append(f"{_NUMBERS[len(moons)]}{noun} {way}")
    parts = [", ".join(counts)] if counts else ["no moon beside it"]
    short = {
        BesidePlanet.BEFORE_DISC: "before the disc",
        BesidePlanet.BEHIND_DISC: "behind the disc",
        BesidePlanet.IN_SHADOW: "in the shadow",
    }
    parts += [
        f"{MOON_NAMES[moon.name]} {short[moon.state]}"
        for moon in shown.moons
        if moon.state in short and moon.name not in told
    ]
    return "; ".join(parts)


def _sides(shown: PlanetAtEyepiece, turn: EyeTurn | None) -> list[tuple[str, list[MoonBeside]]]:
    """The moons that stand beside it by the side of the planet, each from the planet outward."""
    beside = [m for m in shown.moons if m.state is BesidePlanet.BESIDE]
    found: list[tuple[int, str, list[MoonBeside]]] = []
    for west, angle in ((True, shown.axis_deg - 90.0), (False, shown.axis_deg + 90.0)):
        moons = sorted(
            (m for m in beside if (m.west_radii > 0) == west), key=lambda m: m.apart_arcsec
        )
        if moons:
            found.append((reading_order(angle, turn), side_words(angle, turn), moons))
    return [(way, moons) for _, way, moons in sorted(found, key=lambda one: one[0])]


def elongation_words(shown: PlanetAtEyepiece) -> str:
    """How far from the Sun it stands, and on which side."""
    side = "east" if shown.side is SkySide.EAST else "west"
    return f"{shown.elongation_deg:.1f}° ± {ANGLE_ERROR_DEG:.2f}° {side} of the Sun"
