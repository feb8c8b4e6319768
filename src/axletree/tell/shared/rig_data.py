"""What does a page need to draw the rig in space by itself?"""

from __future__ import annotations

from typing import Any

from axletree.mount.rig.parts import Rig


def rig_data(rig: Rig) -> dict[str, Any]:
    """Every part as a rod in its frame (0 ground, 1 head, 2 polar, 3 declination), in metres."""

    def point(values: Any) -> list[float]:
        return [round(float(v), 4) for v in values]

    return {
        "latitude_deg": rig.latitude_deg,
        "hinge_height_m": round(rig.hinge_height_m, 4),
        "crossing_along_m": round(rig.crossing_along_m, 4),
        "crossing_above_m": round(rig.crossing_above_m, 4),
        "eye_point_m": point(rig.eye_point_m),
        "barrel": point(rig.barrel),
        "parts": [
            {
                "name": rig.names[k],
                "frame": int(rig.frame[k]),
                "start_m": point(rig.start_m[k]),
                "end_m": point(rig.end_m[k]),
                "radius_m": round(float(rig.radius_m[k]), 4),
                "flat": bool(rig.flat[k]),
            }
            for k in range(len(rig.names))
        ],
    }
