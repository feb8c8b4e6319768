"""What does the person look at the pole with: a polar scope, a hollow axis, the tube, the eye?"""

from __future__ import annotations

import math
from enum import Enum
from typing import Literal

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.mount import PolarScope
from axletree.pole.aim.bore import Bore, bore_of
from axletree.pole.aim.scope_orientation import Look

# A polar scope shows no fainter stars than this (common practice, no source).
DEEPEST_MAG = 9.0
NIGHT_PUPIL_MM = 7.0
# Ordinary polar scopes show 6 to 8 degrees (common practice, no source).
SCOPE_FIELD_DEG = 6.0
# What is drawn for the bare eye beside the mount: the pole star and its brighter neighbours.
BARE_EYE_FIELD_DEG = 12.0


LookingAlong = Literal["scope", "hollow", "tube", "none"]

# A wider picture than this can't be drawn on a flat plane, nor seen along an axis.
WIDEST_FIELD_DEG = 60.0


class ViewAssumption(Enum):
    """What the kit left open about the look along the axis."""

    EYE_BEHIND_BORE = "eye_behind_bore"
    SCOPE_FIELD = "scope_field"
    SCOPE_DEPTH = "scope_depth"


@dataclass(frozen=True)
class AxisView:
    """How the sky around the pole is seen along the axis: which way up, how much, how deep.

    `kind` "tube": the tube itself, set along the axis (`find.practice`). `bore` for a hollow axis
    only, `engraved_ring_arcmin` of a scope that has a ring. `assumed`: what the kit left open.
    """

    kind: LookingAlong = "scope"
    look: Look = "inverted"
    rotation_deg: float = 0.0
    field_deg: float = 8.0
    limit_mag: float = DEEPEST_MAG
    engraved_ring_arcmin: float | None = None
    bore: Bore | None = None
    assumed: tuple[ViewAssumption, ...] = ()


def axis_view(scope: PolarScope, naked_eye_limit_mag: float) -> AxisView:
    """The view of this kit. A hollow axis and the bare eye show the sky erect and unturned.

    Refuses fields wider than 60 degrees.
    """
    limit = limit_through(scope, naked_eye_limit_mag)
    ring = scope.ring_radius_arcmin
    if scope.kind == "hollow":
        assert scope.bore_diameter_mm is not None
        assert scope.bore_length_mm is not None
        bore = bore_of(scope.bore_diameter_mm, scope.bore_length_mm)
        _not_too_wide("bore_diameter_mm and bore_length_mm make a field", bore.field_deg)
        left_open = (ViewAssumption.EYE_BEHIND_BORE,)
        return AxisView("hollow", "erect", 0.0, bore.field_deg, limit, ring, bore, left_open)
    if scope.kind == "none":
        return AxisView("none", "erect", 0.0, BARE_EYE_FIELD_DEG, limit, ring)
    assumed = []
    _not_too_wide("field_deg is", scope.field_deg or SCOPE_FIELD_DEG)
    if scope.field_deg is None:
        assumed.append(ViewAssumption.SCOPE_FIELD)
    if scope.aperture_mm is None:
        assumed.append(ViewAssumption.SCOPE_DEPTH)
    return AxisView(
        "scope",
        scope.view,
        scope.rotation_deg,
        scope.field_deg or SCOPE_FIELD_DEG,
        limit,
        ring,
        None,
        tuple(assumed),
    )


def _not_too_wide(words: str, field_deg: float) -> None:
    if field_deg > WIDEST_FIELD_DEG:
        raise AxletreeError(
            f"mount.polar_scope: {words} {field_deg:.0f}°; ordinary ones show 3 to 12 degrees"
        )


def limit_through(scope: PolarScope, naked_eye_limit_mag: float) -> float:
    """Faintest star that this polar scope shows, never beyond magnitude 9.

    The naked eye's limit plus 5 log10(aperture / 7 mm): light grasp over a dark pupil of 7 mm.
    Along a hollow axis, and beside the head where there is nothing to look through, the naked
    eye's own. A scope whose aperture isn't known draws all stars to magnitude 9.
    """
    if scope.kind != "scope":
        return naked_eye_limit_mag
    if scope.aperture_mm is None:
        return DEEPEST_MAG
    return limit_with(scope.aperture_mm, naked_eye_limit_mag)


def limit_with(aperture_mm: float, naked_eye_limit_mag: float) -> float:
    """Faintest star drawn for an opening of this width, never beyond magnitude 9."""
    gain = 5.0 * math.log10(aperture_mm / NIGHT_PUPIL_MM)
    return min(DEEPEST_MAG, naked_eye_limit_mag + max(gain, 0.0))
