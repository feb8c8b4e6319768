"""How to put the axis on the pole: scale, bolts, and where the pole star goes.

The altitude to set, for the pole as it is seen through the air (or the true one); the place of
Polaris or of sigma Octantis in this polar scope now and for two hours; when it comes out
tonight and what stands before it; and, from a reading of the altitude scale or an error in
azimuth, which bolt to turn, which way and how far. For a mount without a polar scope: the point
that stands still in the finder's field while the hour axis swings, and where the star goes about
it. Without any view of the pole: the way by level, north, scale and drift, with the error to
expect.
"""

from __future__ import annotations

import argparse
import math
from typing import TYPE_CHECKING

from axletree.commands.shared.common import (
    Answer,
    kit_folder,
    kit_options,
    parse_moment,
    read_kit,
)
from axletree.commands.shared.own_logbook import learning_path, logbook_option
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.pole.correct.bolts import AxisError
    from axletree.stages.set_up.pole_request import HeadReading

EXAMPLE = "axletree pole --scale-reading 40 --azimuth-error-arcmin 25 --draw pole.svg"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser, draw=True)
    parser.add_argument(
        "--scale-reading", type=float, metavar="DEG", help="what the altitude scale shows now"
    )
    parser.add_argument(
        "--azimuth-error-arcmin", type=float, metavar="X",
        help="how far east of the pole the axis points, along the horizon (west: negative)",
    )  # fmt: skip
    parser.add_argument(
        "--high-arcmin", type=float, metavar="X", help="axis error above the pole, great circle"
    )
    parser.add_argument(
        "--east-arcmin", type=float, metavar="X", help="axis error east of the pole, great circle"
    )
    parser.add_argument(
        "--true-pole", action="store_true", help="aim at the pole without refraction"
    )
    parser.add_argument(
        "--through-tube", action="store_true",
        help="by the point of the finder's or eyepiece's field that stands still while the hour "
        "axis swings (always so for a mount with nothing to look along its axis with)",
    )  # fmt: skip
    logbook_option(parser)


def answer(options: argparse.Namespace) -> Answer:
    """What brings the axis onto the pole."""
    from axletree.logbook.own import learned_bolts
    from axletree.stages.set_up.pole import pole
    from axletree.stages.set_up.pole_request import PoleRequest
    from axletree.tell.pole.data import pole_data
    from axletree.tell.pole.text import pole_text

    learned = learned_bolts(read_kit(options), learning_path(options))
    found = pole(
        learned.kit,
        PoleRequest(
            at=parse_moment(options.at, learned.kit.site),
            reading=_reading(options),
            error=_error(options),
            true_pole=options.true_pole,
            kit_folder=kit_folder(options),
            through_tube=True if options.through_tube else None,
        ),
    )

    def drawing() -> str:
        from axletree.tell.pole.whole_drawing import pole_drawing

        return pole_drawing(found)

    return Answer(pole_text(found, learned), pole_data(found, learned), drawing)


def _reading(options: argparse.Namespace) -> HeadReading | None:
    from axletree.stages.set_up.pole_request import HeadReading

    scale = _finite(options, "scale_reading")
    azimuth = _finite(options, "azimuth_error_arcmin")
    return None if scale is None and azimuth is None else HeadReading(scale, azimuth)


def _error(options: argparse.Namespace) -> AxisError | None:
    from axletree.pole.correct.bolts import AxisError

    high, east = _finite(options, "high_arcmin"), _finite(options, "east_arcmin")
    return None if high is None and east is None else AxisError(high or 0.0, east or 0.0)


def _finite(options: argparse.Namespace, name: str) -> float | None:
    value: float | None = getattr(options, name)
    if value is not None and not math.isfinite(value):
        raise AxletreeError(f"--{name.replace('_', '-')} {value}: write a plain number")
    return value
