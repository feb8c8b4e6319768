"""What does a program get to know of a body at the eyepiece? Keys carry units."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from axletree.find.at_eyepiece.answer import (
    ANGLE_ERROR_DEG,
    LIBRATION_ERROR_DEG,
    OPENING_ERROR_DEG,
    SIZE_ERROR,
    AtEyepiece,
    EarthShadowOnMoon,
    MoonAtEyepiece,
    MoonBeside,
    PairAtEyepiece,
    PlanetAtEyepiece,
    RingsShown,
)
from axletree.sky.happenings.kinds import Happening
from axletree.sky.lunar.light import LitFeature
from axletree.tell.eyepiece.forms import (
    AtEyepieceData,
    DiscData,
    EarthShadowData,
    HappeningData,
    LitFeatureData,
    MoonBesideData,
    MoonFaceData,
    PairData,
    RingsData,
)
from axletree.tell.eyepiece.lunar_text import feature_saying
from axletree.tell.eyepiece.text import body_short, body_words
from axletree.tell.eyepiece.way_text import EyeTurn
from axletree.tell.shared.words import small


def eyepiece_data(
    shown: AtEyepiece | None, turn: EyeTurn | None, power: float | None, zone: ZoneInfo
) -> AtEyepieceData | None:
    """The answer for programs; None of what shows no more than a spot.

    `turn` and `power` are the eyepiece's, None where none is chosen.
    """
    if shown is None:
        return None
    told: AtEyepieceData = {
        "kind": "planet",
        "at": shown.at.isoformat(),
        "disc": None,
        "magnitude_v": None,
        "elongation_deg": None,
        "rings": None,
        "moons": [],
        "face": None,
        "pair": None,
        "happenings": [],
        "short": body_short(shown, turn, power, zone),
        "words": body_words(shown, turn, power, zone),
    }
    if isinstance(shown, PairAtEyepiece):
        return {**told, "kind": "pair", "pair": _pair(shown)}
    told["disc"] = _disc(shown)
    if isinstance(shown, MoonAtEyepiece):
        return {**told, "kind": "moon", "face": _face(shown)}
    told["magnitude_v"] = shown.magnitude_v
    told["elongation_deg"] = shown.elongation_deg
    told["rings"] = None if shown.rings is None else _rings(shown.rings)
    told["moons"] = [_moon(moon) for moon in shown.moons]
    told["happenings"] = [happening_data(one) for one in shown.happenings]
    return told


def happening_data(told: Happening) -> HappeningData:
    """One happening, all its moments."""
    mover, border = told.meets
    return {
        "body": told.body,
        "kind": told.kind.value,
        "actor": told.actor,
        "mover": mover.value,
        "border": border.value,
        "turns": [
            {
                "kind": turn.kind.value,
                "at": turn.time.isoformat(timespec="seconds"),
                "sigma_s": round(turn.doubt_s, 1),
                "seen": turn.seen,
            }
            for turn in told.turns
        ],
        "grazing": told.grazing,
    }


def features_said(told: AtEyepieceData) -> tuple[str, ...]:
    """Of the Moon's best-lit features what may be said of each, a full sentence; () of others."""
    features = () if told["face"] is None else told["face"]["features"]
    said = ((f["name"], f.get("words", "")) for f in features)
    return tuple(f"{name}: {small(words)}." for name, words in said if words)


def _disc(shown: PlanetAtEyepiece | MoonAtEyepiece) -> DiscData:
    wide = shown.diameter_arcsec
    return {
        "diameter_arcsec": wide,
        "diameter_sigma_arcsec": SIZE_ERROR * wide,
        "polar_diameter_arcsec": (
            wide if isinstance(shown, MoonAtEyepiece) else shown.polar_diameter_arcsec
        ),
        "phase_angle_deg": shown.phase_angle_deg,
        "lit_fraction": shown.lit_fraction,
        "bright_limb_deg": shown.bright_limb_deg,
        "axis_deg": shown.axis_deg,
        "angle_sigma_deg": ANGLE_ERROR_DEG,
    }


def _rings(rings: RingsShown) -> RingsData:
    return {
        "opening_deg": rings.opening_deg,
        "opening_sigma_deg": OPENING_ERROR_DEG,
        "sun_deg": rings.sun_deg,
        "face": rings.face.value,
        "outer_arcsec": rings.outer_arcsec,
        "inner_arcsec": rings.inner_arcsec,
        "gap_arcsec": rings.gap_arcsec,
        "short_over_long": rings.short_over_long,
    }


def _moon(moon: MoonBeside) -> MoonBesideData:
    shadow = moon.shadow
    return {
        "name": moon.name,
        "state": moon.state.value,
        "position_angle_deg": moon.position_angle_deg,
        "apart_arcsec": moon.apart_arcsec,
        "apart_sigma_arcsec": moon.error_arcsec,
        "west_radii": moon.west_radii,
        "north_radii": moon.north_radii,
        "size_arcsec": moon.size_arcsec,
        "magnitude_v": moon.magnitude_v,
        "shadow_radii": None if shadow is None else [shadow.west_radii, shadow.north_radii],
    }


def _face(shown: MoonAtEyepiece) -> MoonFaceData:
    return {
        "waxing": shown.waxing,
        "libration_longitude_deg": shown.libration_longitude_deg,
        "libration_latitude_deg": shown.libration_latitude_deg,
        "libration_sigma_deg": LIBRATION_ERROR_DEG,
        "terminator_longitude_deg": shown.terminator_longitude_deg,
        "features": [_feature(lit) for lit in shown.features],
        "shadow": None if shown.shadow is None else _shadow(shown.shadow),
    }


def _shadow(shadow: EarthShadowOnMoon) -> EarthShadowData:
    return {
        "umbral_magnitude": shadow.umbral_magnitude,
        "penumbral_magnitude": shadow.penumbral_magnitude,
        "toward_deg": shadow.toward_deg,
        "apart_radii": shadow.apart_radii,
        "umbra_radii": shadow.umbra_radii,
    }


def _feature(lit: LitFeature) -> LitFeatureData:
    return {
        "name": lit.feature.name,
        "words": feature_saying(lit.feature.name),
        "kind": lit.feature.kind.value,
        "latitude_deg": lit.feature.latitude_deg,
        "longitude_deg": lit.feature.longitude_deg,
        "size_km": lit.feature.size_km,
        "sun_deg": lit.sun_deg,
        "sun_sigma_deg": lit.sun_error_deg,
        "morning": lit.rising,
        "right_radii": lit.right_radii,
        "up_radii": lit.up_radii,
    }


def _pair(shown: PairAtEyepiece) -> PairData:
    return {
        "separation_arcsec": shown.separation_arcsec,
        "position_angle_deg": shown.position_angle_deg,
        "year": shown.year,
        "magnitude_v": shown.magnitude_v,
        "companion_magnitude_v": shown.companion_magnitude_v,
    }
