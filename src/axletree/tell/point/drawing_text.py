"""Which words stand in the drawing of both tube sides?"""

from __future__ import annotations

import math

from axletree.kit.frozen import dataclass
from axletree.mount.room.side_answer import SideAnswer
from axletree.stages.target.point import PointAnswer
from axletree.tell.point.circles_text import (
    circles_line,
)
from axletree.tell.shared.words import (
    above_ground,
    compass_point,
    duration,
    length,
)


@dataclass(frozen=True)
class SideLabels:
    """The words of one row of the drawing; `warns` where the last of them is a warning."""

    title: str
    rows: tuple[str, ...]
    warns: bool


@dataclass(frozen=True)
class PointDrawingWords:
    """What stands on the drawing beside the rig itself, a side's words by its name."""

    title: str
    description: str
    sides: dict[str, SideLabels]


def drawing_words(answer: PointAnswer) -> PointDrawingWords:
    """All words of the drawing."""
    assert answer.choice is not None
    choice, units = answer.choice, answer.kit.habits.units
    return PointDrawingWords(
        title=f"{answer.thing.name}: both tube sides",
        description="Side, rear and top views of the rig, to scale.",
        sides={
            side.side: _labels(side, choice.better, units, line)
            for side, line in zip(choice.sides, _circle_lines(answer), strict=True)
        },
    )


def _circle_lines(answer: PointAnswer) -> tuple[str, ...]:
    assert answer.circles is not None
    marks = answer.kit.mount.circles.hour_marks
    pairs = zip(answer.circles, answer.set_on, strict=True)
    return tuple(circles_line(one, marks, on) for one, on in pairs)


def _labels(side: SideAnswer, better: str, units: str, circles: str) -> SideLabels:
    room = "room all night" if side.endless else f"room {duration(side.room_s)}"
    azimuth = float(side.eye.face_azimuth_deg)
    face = "any way" if math.isnan(azimuth) else compass_point(azimuth)
    nearest = "in contact"
    if side.clearance_m > 0:
        nearest = f"nearest {length(side.clearance_m * 1000, units)}"
    rows = [
        room if side.usable else "no room",
        f"eyepiece {above_ground(float(side.eye.height_m) * 1000, units)}, face {face}",
        nearest,
        circles,
    ]
    warnings = (("barrel hangs", side.can_fall), ("weights up", side.weights_up))
    beware = [words for words, applies in warnings if applies]
    if beware:
        rows.append(f"beware: {', '.join(beware)}")
    title = f"side {side.side}" + (", better" if side.side == better else "")
    return SideLabels(title, tuple(rows), bool(beware))
