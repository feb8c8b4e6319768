"""How good the alignment has to be for what you will do, so that nobody aligns longer than needed.

From the eye at a magnification, with a nudge allowed every so often, and from the camera with
its exposure: the largest error of the polar axis that doesn't matter, by drift and by field
rotation, and which way of aligning reaches it soonest. Without options it is for the kit's
strongest eyepiece and habits, and for the kit's camera if there is one.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from axletree.commands.shared.common import (
    Answer,
    kit_folder,
    kit_options,
    parse_moment,
    read_kit,
)

if TYPE_CHECKING:
    from axletree.stages.set_up.enough import CameraRequest, EyeRequest

EXAMPLE = "axletree enough --for camera --exposure-s 60 --object M42"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser, draw=True)
    parser.add_argument("--for", dest="use", choices=("eye", "camera"), help="only this one")
    guiding = parser.add_mutually_exclusive_group()
    guiding.add_argument("--guided", dest="guided", action="store_true", default=None,
                         help="a guider corrects the drift (the kit's)")  # fmt: skip
    guiding.add_argument("--unguided", dest="guided", action="store_false", default=None,
                         help="nothing corrects it")  # fmt: skip
    for name, unit, words in (
        ("magnification", "X", "of the eyepiece in use"),
        ("eyepiece-mm", "MM", "the eyepiece in use"),
        ("nudge-minutes", "MIN", "time between nudges"),
        ("use-of-field", "PART", "how far to the edge the object may wander (0.5)"),
        ("focal-mm", "MM", "of the camera's lens or tube"),
        ("pixel-um", "UM", "pixel of the camera"),
        ("exposure-s", "S", "one exposure"),
        ("guide-star-deg", "DEG", "guide star from the frame's middle (in its corner)"),
        ("trail-px", "PX", "longest trail allowed (one that isn't seen)"),
    ):
        parser.add_argument(f"--{name}", type=float, metavar=unit, help=words)
    for name in ("width-px", "height-px"):
        parser.add_argument(f"--{name}", type=int, metavar="N", help="of the sensor")
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--declination", type=float, metavar="DEG", help="of the object")
    where.add_argument("--object", metavar="NAME", help="the object, for its declination")


def answer(options: argparse.Namespace) -> Answer:
    """How good is good enough."""
    from axletree.pole.enough.tolerance import Use
    from axletree.stages.set_up.enough import EnoughRequest, enough
    from axletree.tell.enough.data import enough_data
    from axletree.tell.enough.text import enough_text

    kit = read_kit(options)
    found = enough(
        kit,
        EnoughRequest(
            at=parse_moment(options.at, kit.site),
            only=None if options.use is None else Use(options.use),
            eye=_eye(options),
            camera=_camera(options),
            declination_deg=options.declination,
            object_name=options.object,
            kit_folder=kit_folder(options),
        ),
    )

    def drawing() -> str:
        from axletree.tell.enough.drawing import tolerance_svg

        return tolerance_svg(found)

    return Answer(enough_text(found), enough_data(found), drawing)


def _eye(options: argparse.Namespace) -> EyeRequest:
    from axletree.stages.set_up.enough import USE_OF_FIELD, EyeRequest

    minutes, part = options.nudge_minutes, options.use_of_field
    return EyeRequest(
        options.eyepiece_mm,
        options.magnification,
        None if minutes is None else minutes * 60.0,
        USE_OF_FIELD if part is None else part,
    )


def _camera(options: argparse.Namespace) -> CameraRequest:
    from axletree.stages.set_up.enough import CameraRequest

    return CameraRequest(
        focal_length_mm=options.focal_mm,
        pixel_um=options.pixel_um,
        width_px=options.width_px,
        height_px=options.height_px,
        exposure_s=options.exposure_s,
        guided=options.guided,
        allowed_px=options.trail_px,
        guide_star_deg=options.guide_star_deg,
    )
