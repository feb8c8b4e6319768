"""How much sky do the kit's eyepieces show?"""

from __future__ import annotations

from axletree.kit.kit import Kit
from axletree.kit.parts.tube import Eyepiece
from axletree.sky.optics import true_field_deg


def strongest_eyepiece(kit: Kit) -> tuple[float, Eyepiece]:
    """The kit's eyepiece of the shortest focal length: its true field in degrees, and itself."""
    eyepiece = min(kit.eyepieces, key=lambda e: e.focal_length_mm)
    return eyepiece_field_deg(kit, eyepiece), eyepiece


def eyepiece_field_deg(kit: Kit, eyepiece: Eyepiece) -> float:
    """True field of one of the kit's eyepieces in its tube, degrees."""
    return float(
        true_field_deg(
            kit.tube.focal_length_mm,
            eyepiece.focal_length_mm,
            eyepiece.apparent_field_deg,
            eyepiece.field_stop_mm,
        )
    )


def widest_field_deg(kit: Kit) -> float:
    """The widest true field among the kit's eyepieces, degrees: what finds objects by circles."""
    return max(eyepiece_field_deg(kit, eyepiece) for eyepiece in kit.eyepieces)
