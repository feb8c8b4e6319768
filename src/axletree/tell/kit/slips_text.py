"""In which line is something told that was hardly meant?"""

from __future__ import annotations

from collections.abc import Callable

from axletree.stages.kit.slips import KitSlip, KitSlipKind


def slip_words(slip: KitSlip) -> str:
    """One line without the key: what stands there, and what may be meant."""
    return _WORDS[slip.kind](slip.given or 0.0, slip.likely or 0.0, slip.name)


_WORDS: dict[KitSlipKind, Callable[[float, float, str], str]] = {
    KitSlipKind.LONGITUDE_SIGN: lambda given, likely, _: (
        f"no town lies near {given:g}°; east is positive, is {likely:g}° meant?"
    ),
    KitSlipKind.LATITUDE_SIGN: lambda given, likely, _: (
        f"no town lies near {given:g}°; north is positive, is {likely:g}° meant?"
    ),
    KitSlipKind.AT_SEA: lambda given, _, __: (
        f"the site lies at sea, {given:.0f} km from the nearest town; check both coordinates"
    ),
    KitSlipKind.FAR_FROM_NAME: lambda given, _, name: (
        f"{name} lies {given:.0f} km from these coordinates; check both"
    ),
    KitSlipKind.TIME_ZONE: lambda given, _, name: (
        f"clocks here keep {name}, {given:g} h from this zone; is it meant?"
    ),
    KitSlipKind.ELEVATION_ZERO: lambda _, likely, __: (
        f"0 m, though the sea is more than {likely:.0f} km away; look at a map"
    ),
    KitSlipKind.SHORT_TUBE: lambda given, likely, _: (
        f"{given:g} mm is very short for a focal length of {likely:g} mm; measure it again"
    ),
    KitSlipKind.CENTIMETRES: lambda given, likely, _: (
        f"{given:g} mm looks like centimetres; are {likely:g} mm meant?"
    ),
    KitSlipKind.TOO_STRONG: lambda given, likely, name: (
        f"{name} magnifies {given:.0f} times; this aperture bears about {likely:.0f} times"
    ),
    KitSlipKind.NEVER_UP: lambda given, likely, name: (
        f"{name} never stands higher than {given:.0f}° here, and nothing below {likely:g}° is shown"
        if given > 0
        else f"{name} never rises here"
    ),
    KitSlipKind.OVERLOADED: lambda given, likely, _: (
        f"the tube with all on it weighs {given:.1f} kg, the mount may carry {likely:g} kg"
    ),
}
