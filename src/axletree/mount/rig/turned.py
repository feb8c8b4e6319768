"""What does the kit look like with its focuser or diagonal at another angle around the tube?"""

from __future__ import annotations

from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit


def turned_kit(kit: Kit, ring_turn_deg: float) -> Kit:
    """The kit with its focuser (or diagonal) at another angle around the tube.

    A Newtonian's tube turns in its rings with all that rides on it; elsewhere only the diagonal
    turns. Refuses a tube that can't.
    """
    tube = kit.tube
    if not -360 <= ring_turn_deg <= 360:
        raise AxletreeError(f"a ring turn of {ring_turn_deg:g} degrees; give -360 to 360")
    if tube.ring_turn_fixed:
        raise AxletreeError(
            "the kit says ring_turn_fixed = true: this tube can't turn in its rings"
        )
    changes: dict[str, Any] = {"ring_turn_deg": ring_turn_deg}
    if tube.kind == "newtonian":
        by = ring_turn_deg - tube.ring_turn_deg
        if tube.finder is not None:
            angle = tube.finder.angle_deg + by
            changes["finder"] = tube.finder.model_copy(update={"angle_deg": angle})
        changes["accessories"] = tuple(
            a.model_copy(update={"angle_deg": a.angle_deg + by}) for a in tube.accessories
        )
    return kit.model_copy(update={"tube": tube.model_copy(update=changes)})
