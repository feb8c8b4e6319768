"""Where the weights and the tube go; what is left over; what can tip.

From the kit's masses, or from a luggage scale at a known distance (--scale), for both axes and
for the crosswise part. The drawing shows shaft and tube to scale, or with --stand the feet from
above. The order of work and the cautions come with the answer: read them first.

A scale reading is AXIS END READING DISTANCE, the lever held level, the scale square to it:
  hour tube 0.8kg 300mm          shaft level, the tube's end held up, 300 mm from the polar axis
  hour weights 0.8kg 300mm       shaft level, the weights' end held up
  declination front 6N 250mm     shaft and tube level, the front (or back) held up
  declination right 2N 250mm     shaft level, tube upright, its top pulled right (or left)
"""

from __future__ import annotations

import argparse

from axletree.commands.shared.common import Answer, kit_options, read_kit

EXAMPLE = "axletree balance --kit courtyard --scale hour tube 0.8kg 300mm --on-shaft 5.1@120"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser, draw=True, at=False)
    parser.add_argument("--eyepiece", metavar="NAME", help="the one in the focuser, or 'camera'")
    parser.add_argument(
        "--now", type=float, metavar="MM", help="tube's front end to the saddle's middle, as it is"
    )
    parser.add_argument(
        "--ring-turn", type=float, metavar="DEG",
        help="focuser's angle around the tube, instead of the kit's",
    )  # fmt: skip
    parser.add_argument("--tray", type=float, metavar="KG", help="load in the tray")
    parser.add_argument(
        "--scale", nargs=4, action="append", default=[],
        metavar=("AXIS", "END", "READING", "DISTANCE"),
        help="what a luggage scale says, such as: hour tube 0.8kg 300mm",
    )  # fmt: skip
    parser.add_argument(
        "--on-shaft", metavar="WEIGHTS",
        help="weights on the shaft now, kg and gap in mm: '5.1@120 3.4@185'",
    )  # fmt: skip
    parser.add_argument("--stand", action="store_true", help="with --draw: the feet from above")


def answer(options: argparse.Namespace) -> Answer:
    """Balance and tipping of the kit."""
    from axletree.commands.shared.quantities import on_shaft, scale_reading
    from axletree.stages.set_up.balance import BalanceRequest, balance
    from axletree.tell.balance.data import balance_data
    from axletree.tell.balance.text import balance_text

    request = BalanceRequest(
        eyepiece=options.eyepiece,
        front_to_saddle_mm=options.now,
        ring_turn_deg=options.ring_turn,
        tray_kg=options.tray,
        readings=tuple(scale_reading(*words) for words in options.scale),
        on_shaft=None if options.on_shaft is None else on_shaft(options.on_shaft),
    )
    found = balance(read_kit(options), request)

    def drawing() -> str:
        if options.stand:
            from axletree.tell.balance.stand_drawing import stand_drawing

            return stand_drawing(found)
        from axletree.tell.balance.drawing import balance_drawing

        return balance_drawing(found)

    return Answer(balance_text(found), balance_data(found), drawing)
