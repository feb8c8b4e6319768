"""How an object gets into the eyepiece, and what the eye will see there.

Where to look with the bare eye; the turns of both knobs, and the differences on both circles, from
the best bright star; a star of the same declination, where there is one; the hop through the
finder; the search if it isn't there; each with its chance. --draw shows the fields of finder and
eyepieces as the eye meets them.
"""

from __future__ import annotations

import argparse

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.commands.shared.own_logbook import finding_learned
from axletree.commands.shared.own_state import state_here, state_options

EXAMPLE = "axletree find M57 --at 2026-08-12T23:00 --from Vega --draw m57.svg"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("object", nargs="+", help="a name: Vega, M13, NGC 7000, Saturn, Moon")
    kit_options(parser, draw=True)
    parser.add_argument("--from", dest="start", metavar="STAR", help="the star to begin at")
    parser.add_argument(
        "--side", choices=("east", "west"), help="the tube side (the one that has more room)"
    )
    state_options(parser)


def answer(options: argparse.Namespace) -> Answer:
    """All ways to one object."""
    from axletree.stages.target.find import FindRequest, find_object
    from axletree.tell.find.data import find_data
    from axletree.tell.find.text import find_text

    kit = read_kit(options)
    at = parse_moment(options.at, kit.site)
    request = FindRequest(
        " ".join(options.object), at, start=options.start, side=options.side,
        state=state_here(options, kit, at), kit_folder=kit_folder(options),
        learned=finding_learned(options, kit),
    )  # fmt: skip
    found = find_object(kit, request)
    text, data = find_text(found), find_data(found)
    if found.finding is None:
        return Answer(text, data, status=1)

    def drawing() -> str:
        from axletree.tell.find.drawing import find_drawing

        return find_drawing(found)

    return Answer(text, data, drawing)
