"""Where to put the tripod, from the yard plan in the kit.

Every place of a 25 cm grid gets its own skyline from the posts, walls, trees and roofs of the
plan (and the kit's measured skyline). A place must show the pole star with a margin; of those
the one is best from which the evening's objects stand clear longest in the dark. The drawing
shows the yard, the best place, and the skyline from there. Without a yard plan, the measured
skyline is judged as it is.
"""

from __future__ import annotations

import argparse
import re
from datetime import date
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_date, read_kit
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.ground.spot.directions import WantedView
    from axletree.stages.set_up.spot import SpotRequest

EXAMPLE = "axletree spot --date 2026-12-05 --objects M42,M31,Saturn --draw spot.svg"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser, draw=True, at=False)
    parser.add_argument("--date", metavar="DATE", help="evening of the night meant (tonight)")
    parser.add_argument("--objects", metavar="A,B", help="what to see (planets and Messier's list)")
    parser.add_argument(
        "--view", action="append", default=[], metavar="FROM-TO:ABOVE",
        help="sky wanted free, such as 90-180:10 for east to south above 10 degrees",
    )  # fmt: skip
    parser.add_argument("--hours", type=float, metavar="H", help="count the first H dark hours")
    parser.add_argument("--no-pole", action="store_true", help="the pole star need not be seen")
    parser.add_argument("--margin", type=float, default=1.0, metavar="DEG",
                        help="how far it must clear the skyline (1)")  # fmt: skip
    parser.add_argument("--spacing", type=float, default=0.25, metavar="M",
                        help="of the grid (0.25)")  # fmt: skip
    parser.add_argument("--step", type=float, default=1.0, metavar="M",
                        help="how far 'a step away' is (1)")  # fmt: skip


def answer(options: argparse.Namespace) -> Answer:
    """The best place."""
    from axletree.stages.set_up.spot import spot
    from axletree.tell.spot.data import spot_data
    from axletree.tell.spot.drawing_text import drawing_words
    from axletree.tell.spot.text import spot_text

    kit = read_kit(options)
    found = spot(kit, _request(options, parse_date(options.date, kit.site)))

    def drawing() -> str:
        from axletree.tell.spot.drawing import spot_map
        from axletree.tell.spot.skyline_drawing import spot_skyline

        if not found.planned:
            return spot_skyline(found, drawing_words(found).skyline_title)
        return spot_map(found)

    return Answer(spot_text(found), spot_data(found), drawing)


def _request(options: argparse.Namespace, evening: date) -> SpotRequest:
    from axletree.ground.spot.directions import SpotCriteria
    from axletree.sky.catalogue.objects import find
    from axletree.stages.set_up.spot import SpotRequest

    _check(options)
    objects = None
    if options.objects:
        objects = tuple(find(name) for name in options.objects.split(",") if name.strip())
    criteria = SpotCriteria(
        objects=objects,
        hours=options.hours,
        views=tuple(_view(text) for text in options.view),
        pole_needed=not options.no_pole,
        pole_margin_deg=options.margin,
    )
    return SpotRequest(evening, criteria, options.spacing, options.step, kit_folder(options))


def _check(options: argparse.Namespace) -> None:
    """The request refuses these too; here the option is named as it was typed."""
    from axletree.ground.spot.directions import LONGEST_H, WIDEST_MARGIN_DEG
    from axletree.stages.set_up.spot import SPACING_M, STEP_M

    limits = {"spacing": SPACING_M, "step": STEP_M, "margin": (0.0, WIDEST_MARGIN_DEG)}
    for name, (low, high) in limits.items():
        value = getattr(options, name)
        if not low <= value <= high:
            raise AxletreeError(f"--{name} {value:g}: write a number from {low:g} to {high:g}")
    if options.hours is not None and not 0.0 < options.hours <= LONGEST_H:
        raise AxletreeError(f"--hours {options.hours:g}: write a number from 0.1 to {LONGEST_H:g}")


def _view(text: str) -> WantedView:
    from axletree.ground.spot.directions import WantedView

    match = re.fullmatch(
        r"\s*(\d{1,3}(?:\.\d+)?)-(\d{1,3}(?:\.\d+)?)(?::(\d{1,2}(?:\.\d+)?))?", text
    )
    if match is None or float(match[1]) > 360 or float(match[2]) > 360:
        raise AxletreeError(f"--view '{text}': write it like 90-180:10 (azimuths, then altitude)")
    return WantedView(float(match[1]), float(match[2]), float(match[3] or 15.0))
