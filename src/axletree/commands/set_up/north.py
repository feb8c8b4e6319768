"""Which way is true north (in the southern hemisphere, south)?

Every method that works here and now, ranked by expected error: the compass corrected for the
local magnetic field, the shadow of the Sun and the instant when it lies exactly along the
meridian, the Moon, bright stars, the pole star corrected for its own azimuth, and a landmark
between two known positions. Errors are one standard deviation.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.ground.north.pointers import ObservingErrors

EXAMPLE = 'axletree north --at 2026-12-05T15:30 --landmark "geo:38.6003,-7.9101"'


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser, draw=True)
    parser.add_argument(
        "--landmark", metavar="PLACE",
        help="coordinates or a geo: URI of something in sight (its u= is the uncertainty in m)",
    )  # fmt: skip
    parser.add_argument("--landmark-name", metavar="NAME", help="what it is called")
    for name, unit, words in (
        ("compass", "DEG", "reading a compass (1)"),
        ("sighting", "DEG", "sighting along a plumb line by eye (0.25)"),
        ("lean", "DEG", "how far the rod or sight leans (0.2)"),
        ("clock", "S", "the time (2)"),
        ("position", "M", "your own position (5)"),
    ):
        parser.add_argument(f"--{name}-error", type=float, metavar=unit, help=f"error of {words}")


def answer(options: argparse.Namespace) -> Answer:
    """The methods that lead to true north."""
    from axletree.ground.north.landmark import typed_landmark
    from axletree.stages.set_up.north import NorthRequest, north
    from axletree.tell.north.data import north_data
    from axletree.tell.north.text import north_text

    kit = read_kit(options)
    mark = None
    if options.landmark is not None:
        mark = typed_landmark(options.landmark, options.landmark_name)
    request = NorthRequest(
        at=parse_moment(options.at, kit.site),
        landmark=mark,
        errors=_errors(options),
        kit_folder=kit_folder(options),
    )
    found = north(kit, request)

    def drawing() -> str:
        from axletree.tell.north.drawing import north_view

        return north_view(found)

    return Answer(north_text(found), north_data(found), drawing)


def _errors(options: argparse.Namespace) -> ObservingErrors:
    from axletree.ground.north.pointers import ObservingErrors

    given = {
        "compass_deg": options.compass_error,
        "sighting_deg": options.sighting_error,
        "lean_deg": options.lean_error,
        "clock_s": options.clock_error,
        "site_m": options.position_error,
    }
    for name, value in given.items():
        if value is not None and not 0.0 <= value < 1e6:
            option = name.split("_")[0].replace("site", "position")
            raise AxletreeError(f"--{option}-error {value:g}: an error is 0 or more")
    return ObservingErrors(**{name: v for name, v in given.items() if v is not None})
