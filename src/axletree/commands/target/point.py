"""Which side of the mount the tube goes for an object, and what awaits you there.

Both tube sides beside each other: room until something touches, the axis stops or the object
sets; what the circles read; where the weights hang; the eyepiece's height and the way to face;
how the sky stands and drifts in the view; and the better side with its reason. Side 'east' means
that the tube hangs east of the mount when its object crosses the meridian above the pole.
"""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from axletree.commands.shared.common import (
    Answer,
    Late,
    kit_folder,
    kit_options,
    parse_moment,
    read_kit,
)
from axletree.commands.shared.own_state import state_here, state_options

if TYPE_CHECKING:
    from axletree.stages.target.point import PointAnswer

EXAMPLE = "axletree point Vega --at 2026-08-12T23:00 --draw vega.svg"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    from axletree.mount.room.choice import USUAL_MINUTES

    parser.add_argument("object", nargs="+", help="a name: Vega, M13, NGC 7000, Saturn, Moon")
    kit_options(parser, draw=True)
    parser.add_argument(
        "--minutes", type=float, default=USUAL_MINUTES, metavar="N",
        help=f"how long you want to stay on it ({USUAL_MINUTES:g})",
    )  # fmt: skip
    parser.add_argument(
        "--ring-turn", type=float, metavar="DEG",
        help="focuser's angle around the tube, instead of the kit's",
    )  # fmt: skip
    parser.add_argument("--camera", action="store_true", help="the kit's camera is in the focuser")
    state_options(parser)


def answer(options: argparse.Namespace) -> Answer:
    """Both sides of one object."""
    from axletree.stages.target.point import PointRequest, point
    from axletree.tell.point.text import point_text

    kit = read_kit(options)
    at = parse_moment(options.at, kit.site)
    request = PointRequest(
        " ".join(options.object),
        at,
        minutes=options.minutes,
        ring_turn_deg=options.ring_turn,
        camera=options.camera,
        kit_folder=kit_folder(options),
        state=state_here(options, kit, at),
    )
    found = point(kit, request)
    text, data = point_text(found), Late(lambda: _data(found))
    if found.refusal is not None:
        return Answer(text, data, status=1)

    def drawing() -> str:
        from axletree.tell.point.drawing import point_drawing

        return point_drawing(found)

    return Answer(text, data, drawing)


def _data(found: PointAnswer) -> Mapping[str, Any]:
    from axletree.tell.point.data import point_data

    return point_data(found)
