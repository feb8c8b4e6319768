"""Which leg of the tripod to lengthen, and by how much, from one reading.

Either from the round bubble: how many divisions (of 2 mm) it stands from the middle, and in
which direction it went; or from an inclinometer laid on the top in two directions. Directions
are degrees clockwise from the direction of the elevated pole, seen from above, or leg1, leg2,
leg3 (towards that leg). A bubble that touches its rim is told as 'rim' instead of divisions.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_options, read_kit
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.stages.set_up.level import Leg, LevelRequest

EXAMPLE = "axletree level --bubble 1.5 135"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser, draw=True, at=False)
    parser.add_argument(
        "--bubble", nargs=2, metavar=("DIVISIONS", "TOWARDS"),
        help="divisions from the middle (or 'rim'), and where the bubble went",
    )  # fmt: skip
    parser.add_argument(
        "--sensitivity", type=float, metavar="ARCMIN",
        help="of the bubble, arcminutes for 2 mm (the kit's)",
    )  # fmt: skip
    parser.add_argument(
        "--incline", nargs=2, action="append", metavar=("DIRECTION", "DEG"),
        help="a reading of an inclinometer on the top, up positive; give two or more",
    )  # fmt: skip
    parser.add_argument(
        "--longer", nargs=2, action="append", default=[], metavar=("LEG", "MM"),
        help="a leg that is longer now than in the kit: leg2 20; may be repeated",
    )  # fmt: skip
    parser.add_argument(
        "--shorten", action="store_true", help="let legs be shortened too (smallest changes)"
    )


def answer(options: argparse.Namespace) -> Answer:
    """The legs."""
    from axletree.stages.set_up.level import level
    from axletree.tell.level.data import level_data
    from axletree.tell.level.text import level_text

    found = level(read_kit(options), _request(options))

    def drawing() -> str:
        from axletree.tell.level.drawing import level_drawing

        return level_drawing(found)

    return Answer(level_text(found), level_data(found), drawing)


def _request(options: argparse.Namespace) -> LevelRequest:
    from axletree.stages.set_up.level import BubbleReading, InclineReading, LevelRequest

    if (options.bubble is None) == (options.incline is None):
        raise AxletreeError(
            "give one reading: --bubble DIVISIONS TOWARDS, or --incline DIRECTION DEG twice"
        )
    bubble: BubbleReading | None = None
    inclines: tuple[InclineReading, ...] = ()
    if options.incline is not None:
        inclines = tuple(
            InclineReading(_direction(direction), _number(incline, "--incline"))
            for direction, incline in options.incline
        )
    else:
        divisions, towards = options.bubble
        rim = divisions.strip().lower() in ("rim", "edge")
        bubble = BubbleReading(None if rim else _number(divisions, "--bubble"), _direction(towards))
    longer = _longer(options.longer)
    return LevelRequest(bubble, inclines, options.sensitivity, options.shorten, longer)


def _longer(given: list[list[str]]) -> tuple[float, float, float]:
    """What each leg is longer, mm."""
    from axletree.stages.set_up.level import Leg

    longer = [0.0, 0.0, 0.0]
    for named, mm in given:
        leg = _direction(named)
        if not isinstance(leg, Leg):
            raise AxletreeError(f"--longer {named}: write leg1, leg2 or leg3")
        longer[leg.value - 1] = _number(mm, "--longer")
    return longer[0], longer[1], longer[2]


def _direction(text: str) -> float | Leg:
    """Degrees, or one of the legs."""
    from axletree.stages.set_up.level import Leg

    named = {f"leg{leg.value}": leg for leg in Leg}
    word = text.strip().lower().replace(" ", "")
    if word in named:
        return named[word]
    return _number(text, "a direction")


def _number(text: str, what: str) -> float:
    try:
        value = float(text.replace("−", "-"))
    except ValueError:
        value = float("nan")
    if not abs(value) < 1e6:
        raise AxletreeError(
            f"{what}: '{text}' is not a number; write --bubble 1.5 135, --bubble rim leg2 or "
            "--incline 0 0.8 --incline 90 -0.3"
        )
    return value
