"""A map of how long each tube side can follow, over all hour angles and declinations.

In words: from which hour angle to which each side can follow at each declination, and what ends
it. As a drawing (--draw): two strips, one a tube side, with the room tinted and written in.
Objects that you name are marked where they stand at the time given.
"""

from __future__ import annotations

import argparse

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.commands.shared.own_state import state_here, state_options

EXAMPLE = "axletree room Vega M31 --at 2026-08-12T23:00 --draw room.svg"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("object", nargs="*", help="objects to mark ('alpha Cen' in quotes)")
    kit_options(parser, draw=True)
    parser.add_argument("--camera", action="store_true", help="the kit's camera is in the focuser")
    state_options(parser)


def answer(options: argparse.Namespace) -> Answer:
    """Room over the sky."""
    from axletree.stages.target.room import RoomRequest, room
    from axletree.tell.room.data import room_data
    from axletree.tell.room.text import room_text

    kit = read_kit(options)
    at = parse_moment(options.at, kit.site)
    request = RoomRequest(
        at,
        tuple(options.object),
        camera=options.camera,
        kit_folder=kit_folder(options),
        state=state_here(options, kit, at),
    )
    found = room(kit, request)

    def drawing() -> str:
        from axletree.tell.room.drawing import room_drawing

        return room_drawing(found)

    return Answer(room_text(found), room_data(found), drawing)
