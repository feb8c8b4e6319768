"""In which pose was a gap noted? An object and a moment in, or what the circles show."""

from __future__ import annotations

import math
from datetime import datetime
from pathlib import Path
from typing import Literal

from axletree.axis.state import (
    BY_CIRCLES_DEG,
    BY_OBJECT_DEG,
    GAP_ERROR_MM,
    MOST_ERROR_MM,
    MOST_GAP_MM,
    TOUCH_ERROR_MM,
    GapNote,
)
from axletree.evening.brought.named import object_named
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.room.sides_now import targets_at
from axletree.pole.solution.record import evening_of
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants

# An object so low stands behind every skyline; whoever names it means another one.
_LOWEST_DEG = -1.0


@dataclass(frozen=True)
class GapRequest:
    """The least gap of the mount, 0 for a touch, with a tube on `side` at an aware moment.

    The pose: `object` in the eyepiece, or `circles`: hour angle (h) and declination as these show,
    which count as set right. `error_mm`: one standard deviation, None for that of the eye. `key`
    knows the note again.
    """

    at: datetime
    side: Literal["east", "west"]
    gap_mm: float
    key: str
    object: str = ""
    circles: tuple[float, float] | None = None
    error_mm: float | None = None
    kit_folder: Path | None = None


def gap_note(kit: Kit, request: GapRequest) -> GapNote:
    """The note as it is kept. Refuses unknown names, objects that aren't up, and figures that no
    gap has."""
    error = request.error_mm
    if error is None:
        error = GAP_ERROR_MM if request.gap_mm else TOUCH_ERROR_MM
    if not 0.0 <= request.gap_mm <= MOST_GAP_MM:
        raise AxletreeError(
            f"a gap of {request.gap_mm:g} mm: write one from 0 to {MOST_GAP_MM:g} mm"
        )
    if not 0.0 < error <= MOST_ERROR_MM:
        raise AxletreeError(
            f"an error of {error:g} mm: write one above 0, up to {MOST_ERROR_MM:g} mm"
        )
    if (request.circles is None) == (not request.object):
        raise AxletreeError("a gap needs an object, or what both circles show")
    name = ""
    if request.circles is not None:
        H, d = request.circles
        if not (abs(H) <= 24.0 and abs(d) <= 90.0 and math.isfinite(H + d)):
            raise AxletreeError("circles: write hours from -24 to 24, degrees from -90 to 90")
        pose = BY_CIRCLES_DEG
    else:
        thing = object_named(request.object, kit, request.kit_folder, request.at)
        now = Instants.from_datetime(request.at)
        target = targets_at([thing], now, observer_of(kit.site))
        if float(target.places.altitude_deg[0, 0]) < _LOWEST_DEG:
            raise AxletreeError(f"{thing.name} isn't up then: is time or object another one?")
        H, d = float(target.hour_angle_h()[0]), float(target.declination_deg()[0])
        name, pose = thing.name, BY_OBJECT_DEG
    zone = kit.site.zone
    return GapNote(
        request.at.astimezone(zone), evening_of(request.at, zone), request.side, H, d, pose,
        request.gap_mm, error, name, request.key,
    )  # fmt: skip
