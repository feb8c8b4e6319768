"""In which sentences is the Moon's face told, and what stands in its light?

How shadows lie in a feature at a given height of the Sun is common practice, no source.
"""

from __future__ import annotations

import math

from axletree.find.at_eyepiece.answer import EarthShadowOnMoon, MoonAtEyepiece
from axletree.sky.lunar.features import FeatureKind
from axletree.sky.lunar.light import LitFeature
from axletree.sky.special.moon_eclipses import FAINT_PENUMBRAL_MAGNITUDE
from axletree.tell.eyepiece.moon_features_text import FEATURE_WORDS
from axletree.tell.eyepiece.way_text import EyeTurn, dial_words, side_words

_KINDS = {
    FeatureKind.SEA: "sea",
    FeatureKind.BAY: "bay",
    FeatureKind.CRATER: "crater",
    FeatureKind.MOUNTAINS: "mountain range",
    FeatureKind.MOUNTAIN: "mountain",
    FeatureKind.CAPE: "cape",
    FeatureKind.VALLEY: "valley",
    FeatureKind.RILLE: "rille",
    FeatureKind.SCARP: "scarp",
    FeatureKind.RIDGE: "ridge",
    FeatureKind.BRIGHT_SPOT: "bright spot",
}
# More of it lit than this is called full: nobody sees the edge of the light (ours).
_FULL_FROM = 0.985
# Up to which height of the Sun a crater's floor lies in shadow, and walls throw long ones (ours).
_FLOOR_DARK_DEG, _LONG_SHADOWS_DEG = 4.0, 8.0


def moon_words(shown: MoonAtEyepiece, turn: EyeTurn | None) -> list[str]:
    """Phase, edge of the light, nodding and features, a line each, without full stops."""
    first = _phase(shown, turn) if shown.shadow is None else _eclipsed(shown, shown.shadow, turn)
    return [first, _nodding(shown, turn), *feature_rows(shown, turn)]


def moon_short(shown: MoonAtEyepiece, turn: EyeTurn | None) -> str:
    """The Earth's shadow on it, else what stands best in the light, by name, for a run sheet."""
    if shown.shadow is not None and shown.shadow.umbral_magnitude > 0.0:
        return _in_umbra(shown.shadow, turn)
    names = [lit.feature.name for lit in shown.features]
    if not names:
        return "no low light on any feature: look at the seas and the bright rays"
    return "best in the light: " + ", ".join(names)


def feature_rows(shown: MoonAtEyepiece, turn: EyeTurn | None) -> list[str]:
    """Of each feature that stands well in the light where it is and how, then what it is."""
    return [_feature(shown, lit, turn) for lit in shown.features]


def feature_saying(name: str) -> str:
    """What a feature is and what to look for in it, without the last full stop; '' where nothing
    stands here of it."""
    return FEATURE_WORDS.get(name, "")


def _phase(shown: MoonAtEyepiece, turn: EyeTurn | None) -> str:
    size = shown.diameter_arcsec / 60.0
    if shown.lit_fraction >= _FULL_FROM:
        return f"full ({100.0 * shown.lit_fraction:.0f} % lit), {size:.1f}′ across"
    grows = "waxing" if shown.waxing else "waning"
    edge = "sunrise" if shown.waxing else "sunset"
    return (
        f"{100.0 * shown.lit_fraction:.0f} % lit and {grows}, bright side "
        f"{side_words(shown.bright_limb_deg, turn)}, {size:.1f}′ across; the line of {edge} "
        f"crosses its equator at {_longitude(shown.terminator_longitude_deg)}"
    )


def _eclipsed(shown: MoonAtEyepiece, shadow: EarthShadowOnMoon, turn: EyeTurn | None) -> str:
    size = f"{shown.diameter_arcsec / 60.0:.1f}′ across"
    if shadow.umbral_magnitude > 0.0:
        return f"{_in_umbra(shadow, turn)}; {size}"
    grey = (
        f"a grey shade {side_words(shadow.toward_deg, turn)}"
        if shadow.penumbral_magnitude >= FAINT_PENUMBRAL_MAGNITUDE
        else "hardly to be seen"
    )
    return f"full, {size}, in the Earth's outer shadow, {grey}"


def _in_umbra(shadow: EarthShadowOnMoon, turn: EyeTurn | None) -> str:
    if shadow.umbral_magnitude >= 1.0:
        darkest = side_words(shadow.toward_deg, turn)
        return f"wholly in the Earth's shadow, darkest {darkest}; mind its colour"
    part = min(max(100.0 * shadow.umbral_magnitude, 1.0), 99.0)
    return (
        f"{part:.0f} % of its width in the Earth's shadow, the dark side "
        f"{side_words(shadow.toward_deg, turn)}; the shadow's edge is round"
    )


def _longitude(degrees_east: float) -> str:
    return f"{abs(degrees_east):.1f}° {'east' if degrees_east >= 0.0 else 'west'}"


def _nodding(shown: MoonAtEyepiece, turn: EyeTurn | None) -> str:
    """How far it has nodded, and which edges show more for it."""
    longitude, latitude = shown.libration_longitude_deg, shown.libration_latitude_deg
    east = "east (Mare Crisium's)" if longitude >= 0.0 else "west (Oceanus Procellarum's)"
    north = "north" if latitude >= 0.0 else "south"
    along = shown.axis_deg + (-90.0 if longitude >= 0.0 else 90.0)
    up = shown.axis_deg + (0.0 if latitude >= 0.0 else 180.0)
    return (
        f"nodded by {abs(longitude):.2f}°, so that its {east} edge "
        f"({side_words(along, turn)}) shows more, and by {abs(latitude):.2f}° for the "
        f"{north} edge ({side_words(up, turn)})"
    )


def _feature(shown: MoonAtEyepiece, lit: LitFeature, turn: EyeTurn | None) -> str:
    feature = lit.feature
    error = f"{max(lit.sun_error_deg, 0.1):.1f}°"
    angle = shown.axis_deg - math.degrees(math.atan2(lit.right_radii, lit.up_radii))
    out = math.hypot(lit.right_radii, lit.up_radii)
    where = (
        "near the middle"
        if out < 0.25
        else (f"{dial_words(angle, turn)}, {100.0 * out:.0f} % of the way to the edge")
    )
    words = feature_saying(feature.name)
    about = f". {words}" if words else ""
    return (
        f"{feature.name} ({_KINDS[feature.kind]}, {feature.size_km:.0f} km) {where}: "
        f"the Sun stands {lit.sun_deg:.1f}° ± {error} high there, "
        f"{'morning' if lit.rising else 'evening'}; {_light(lit)}{about}"
    )


def _light(lit: LitFeature) -> str:
    kind, low = lit.feature.kind, lit.sun_deg < _FLOOR_DARK_DEG
    if kind is FeatureKind.CRATER:
        if low:
            return "its floor is black and its rim shines"
        if lit.sun_deg < _LONG_SHADOWS_DEG:
            return "its wall throws a long shadow over the floor"
        return "its walls and what stands on the floor show plainly"
    if kind in (FeatureKind.MOUNTAINS, FeatureKind.MOUNTAIN, FeatureKind.CAPE):
        return "its tops shine out of the dark" if low else "it throws long shadows"
    if kind in (FeatureKind.VALLEY, FeatureKind.RILLE):
        return "a line of shadow"
    if kind is FeatureKind.BAY:
        return "the mountains of its rim catch the light"
    return "only light as low as this shows it"
