"""Which knob, which way, how fast; how long each eyepiece holds an object.

Turns of the knob for this object at this moment, through the air that is there; drift through
each eyepiece, the nudge that brings it back, and how often; what a motor leaves to the hand;
the camera's longest exposures. Without an object: a star on the celestial equator, the fastest.
The drawing shows each eyepiece's field and where the nudge is due. --compare shows what an
alt-azimuth mount would have to do instead.
"""

from __future__ import annotations

import argparse

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.commands.shared.own_state import state_here, state_options

EXAMPLE = "axletree follow Moon --kit courtyard --at 2026-12-20T21:00 --compare"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("object", nargs="*", help="a name: Vega, M13, Saturn, Moon")
    kit_options(parser, draw=True)
    parser.add_argument(
        "--keep", type=float, default=0.5, metavar="PART",
        help="nudge at this part of the way from the middle to the edge (0.5)",
    )  # fmt: skip
    parser.add_argument("--compare", action="store_true", help="beside an alt-azimuth mount")
    state_options(parser)


def answer(options: argparse.Namespace) -> Answer:
    """Following one object."""
    from axletree.evening.brought.named import object_named
    from axletree.stages.target.follow import FollowRequest, follow, sun_refusal
    from axletree.tell.follow.data import follow_data
    from axletree.tell.follow.text import follow_text
    from axletree.tell.shared.paragraphs import paragraph

    kit = read_kit(options)
    at = parse_moment(options.at, kit.site)
    name = " ".join(options.object)
    request = FollowRequest(
        target=object_named(name, kit, kit_folder(options), at) if name else None,
        at=at,
        keep=options.keep,
        compare=options.compare,
        state=state_here(options, kit, at),
    )
    refusal = sun_refusal(kit, request)
    if refusal is not None and request.target is not None:
        from axletree.tell.point.cautions_text import too_near_words
        from axletree.tell.point.data import too_near_the_sun

        name = request.target.name
        return Answer(
            "\n".join(paragraph(words) for words in too_near_words(name, refusal)),
            too_near_the_sun(name, at, refusal), status=1,
        )  # fmt: skip
    found = follow(kit, request)

    def drawing() -> str:
        from axletree.tell.follow.drawing import follow_drawing

        return follow_drawing(found)

    return Answer(follow_text(found), follow_data(found), drawing)
