"""What would an alt-azimuth mount have to do on the object that this kit follows?"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.follow.altaz_rates import (
    AltazRates,
    Culmination,
    altaz_rates,
    culmination,
    zenith_zone_deg,
)
from axletree.mount.follow.nudge import TRAIL_PX

TOP_SPEED_DEG_PER_S = 2.0  # of an alt-azimuth mount's axis, where the kit names none (our figure)
ZONE_SPEEDS_DEG_PER_S = (0.5, 1.0, 2.0, 4.0)
# A smaller blind zone is nothing that anybody meets (our figure).
FELT_ZONE_DEG = 0.005


@dataclass(frozen=True)
class AltazComparison:
    """What an alt-azimuth mount would have to do on the same object.

    `now` holds numbers; `crossing` its culmination at `speed_deg_per_s`; `zones_deg` the radius
    around the zenith that an azimuth axis of each of `ZONE_SPEEDS_DEG_PER_S` cannot follow
    through; `camera_turn_s` until the picture's corner has turned by `TRAIL_PX` now (None: no
    camera).
    """

    now: AltazRates
    crossing: Culmination
    speed_deg_per_s: float
    zones_deg: tuple[float, ...]
    camera_turn_s: float | None

    @property
    def blind_zone(self) -> bool:
        """Whether such a mount has a zone around the zenith worth speaking of."""
        return max(self.zones_deg) >= FELT_ZONE_DEG


def altaz_comparison(
    kit: Kit, hour_angle_h: float, declination_deg: float, rate_arcsec_per_s: float
) -> AltazComparison:
    """The comparison for an object here, whose hour angle grows at this rate."""
    latitude = kit.site.latitude_deg
    now = altaz_rates(hour_angle_h, declination_deg, latitude, rate_arcsec_per_s)
    motor = kit.mount.motor
    speed = TOP_SPEED_DEG_PER_S
    if motor is not None and motor.slew_deg_per_s is not None:
        speed = motor.slew_deg_per_s
    turn_s = None
    if kit.camera is not None:
        corner_px = np.hypot(kit.camera.width_px, kit.camera.height_px) / 2
        per_s = abs(float(now.turn)) / 3600.0
        turn_s = float(np.degrees(TRAIL_PX / corner_px)) / per_s if per_s > 0 else float("inf")
    return AltazComparison(
        now=now,
        crossing=culmination(declination_deg, latitude, speed),
        speed_deg_per_s=speed,
        zones_deg=tuple(float(z) for z in zenith_zone_deg(latitude, ZONE_SPEEDS_DEG_PER_S)),
        camera_turn_s=turn_s,
    )
