"""How is an alt-azimuth mount on the same object told?"""

from __future__ import annotations

import math

from axletree.mount.follow.altaz_comparison import ZONE_SPEEDS_DEG_PER_S, AltazComparison
from axletree.tell.shared.paragraphs import listed
from axletree.tell.shared.words import degrees, duration


def exposure(seconds: float) -> str:
    """An exposure time, or that there is no limit."""
    if not math.isfinite(seconds):
        return "no limit"
    return f"{seconds:.2f} s" if seconds < 10 else duration(seconds)


def comparison_text(found: AltazComparison, rate_arcsec_per_s: float) -> str:
    """What an alt-azimuth mount would have to do instead."""
    now, crossing = found.now, found.crossing
    rows = [
        f"azimuth {_rate(float(now.azimuth))}, altitude {_rate(float(now.altitude))}, and the "
        f"picture turns {_rate(float(now.turn))}, all three changing; yours: one axis, "
        f"{rate_arcsec_per_s:.2f}″/s, and the picture stands still",
        f"at culmination it stands {degrees(crossing.closest_deg)} from the zenith: azimuth "
        f"{_fast(crossing.top_azimuth_arcsec_per_s)}, picture "
        f"{_fast(crossing.top_turn_arcsec_per_s)}",
    ]
    if crossing.behind_s > 0:
        rows.append(
            f"an azimuth axis of {found.speed_deg_per_s:g}°/s would be behind it for "
            f"{duration(crossing.behind_s)} around culmination"
        )
    if found.blind_zone:
        zones = ", ".join(
            f"{z:.2f}° at {v:g}°/s"
            for z, v in zip(found.zones_deg, ZONE_SPEEDS_DEG_PER_S, strict=True)
        )
        rows.append(
            f"around the zenith it falls behind, within {zones} of its azimuth axis; yours crosses "
            "the zenith like any other place"
        )
    if found.camera_turn_s is not None:
        rows.append(
            f"without a rotator an exposure would end after {exposure(found.camera_turn_s)}, "
            "when the corner has turned too far"
        )
    return listed("An alt-azimuth mount on the same object", rows)


def _rate(arcsec_per_s: float) -> str:
    if not math.isfinite(arcsec_per_s):
        return "without bound"
    return f"{arcsec_per_s:+.1f}″/s".replace("-", "−")


def _fast(arcsec_per_s: float) -> str:
    if not math.isfinite(arcsec_per_s):
        return "without bound, it goes through the zenith"
    if arcsec_per_s < 3600:
        return f"{arcsec_per_s:.1f}″/s"
    return f"{arcsec_per_s / 3600:.2f}°/s"
