"""How good the alignment has to be for what you will do, so that nobody aligns longer than needed.

From the eye at a magnification, with a nudge allowed every so often, and from the camera with
its exposure: the largest error of the polar axis that doesn't matter, by drift and by field
rotation, and which way of aligning reaches it soonest. Without options it is for the kit's
strongest eyepiece and habits, and for the kit's camera if there is one.
"""

from __future__ import annotations

import argparse
import math
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_options, parse_moment, read_kit
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.pole.enough.need import CameraUse, EyeUse

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
    from axletree.commands.set_up.pole import skyline_of
    from axletree.ground.magnetism import magnetic_field
    from axletree.pole.aim.target import pole_target
    from axletree.pole.aim.view import star_places
    from axletree.pole.enough.need import need_of
    from axletree.tell.enough.text import enough_data, enough_text, use_words

    kit = read_kit(options)
    site = kit.site
    moment = parse_moment(options.at, site)
    observer = observer_of(site)
    target = pole_target(observer)
    (star,) = star_places(observer, [moment], target)
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, moment)
    skyline = skyline_of(options, site, moment)
    in_view = None
    if skyline is not None:
        in_view = bool(target.altitude_deg > skyline(target.azimuth_deg))
    need = need_of(
        kit,
        target,
        star.distance_arcmin,
        field.declination_sigma_deg,
        eye=_eye(options, kit),
        camera=_camera(options, kit),
        declination_deg=_declination(options),
        use_of_field=0.5 if options.use_of_field is None else options.use_of_field,
        pole_in_view=in_view,
    )
    assumed = _assumed(options, kit, need.camera_use)

    def drawing() -> str:
        from axletree.tell.enough.drawing import tolerance_svg

        return tolerance_svg(need.strictest, need.methods, need.best, use_words(need))

    return Answer(enough_text(need, assumed), enough_data(need, assumed), drawing)


def _eye(options: argparse.Namespace, kit: Kit) -> EyeUse | None:
    from axletree.pole.enough.need import eye_use_of

    if options.use == "camera":
        return None
    minutes = options.nudge_minutes
    if minutes is not None and not 0 < minutes <= 24 * 60:
        raise AxletreeError(f"--nudge-minutes {minutes:g}: it must be more than 0, up to a day")
    seconds = None if minutes is None else minutes * 60.0
    return eye_use_of(kit, options.eyepiece_mm, options.magnification, seconds)


def _camera(options: argparse.Namespace, kit: Kit) -> CameraUse | None:
    from axletree.pole.enough.need import CameraUse

    asked = {
        "pixel_um": options.pixel_um,
        "width_px": options.width_px,
        "height_px": options.height_px,
    }
    if options.use == "eye":
        return None
    if kit.camera is None:
        missing = [f"--{name.replace('_', '-')}" for name, value in asked.items() if value is None]
        wanted = options.use == "camera" or any(v is not None for v in asked.values())
        if not wanted:
            return None
        if missing:
            raise AxletreeError(f"this kit has no camera: give {', '.join(missing)} as well")
    own = kit.camera
    exposure = options.exposure_s
    if exposure is None:
        exposure = own.exposure_s if own is not None else 30.0
    if not 0 < exposure <= 6 * 3600:
        raise AxletreeError(f"--exposure-s {exposure:g}: it must be more than 0, up to six hours")
    if options.guide_star_deg is not None and not 0 <= options.guide_star_deg <= 45:
        raise AxletreeError(f"--guide-star-deg {options.guide_star_deg:g}: give 0 to 45 degrees")
    guided = options.guided
    if guided is None:
        guided = own.guided if own is not None else False
    return CameraUse(
        focal_length_mm=options.focal_mm or kit.tube.focal_length_mm,
        pixel_um=options.pixel_um or (own.pixel_um if own else 0.0),
        width_px=options.width_px or (own.width_px if own else 0),
        height_px=options.height_px or (own.height_px if own else 0),
        exposure_s=exposure,
        guided=guided,
        allowed_px=options.trail_px,
        guide_star_deg=options.guide_star_deg,
    )


def _declination(options: argparse.Namespace) -> float | None:
    if options.declination is not None:
        value = float(options.declination)
        if not math.isfinite(value) or not -89.9 <= value <= 89.9:
            raise AxletreeError(f"--declination {value:g}: it must lie between -89.9 and 89.9")
        return value
    if options.object is None:
        return None
    from axletree.sky.catalogue.objects import find

    thing = find(options.object)
    if thing.dec_deg is None:
        raise AxletreeError(
            f"{thing.name} moves among the stars: give its --declination for tonight instead"
        )
    return thing.dec_deg


def _assumed(options: argparse.Namespace, kit: Kit, camera: CameraUse | None) -> list[str]:
    rows = []
    if camera is not None and options.declination is None and options.object is None:
        less = "; nearer the equator less is asked for" if camera.guided else ""
        rows.append(f"the camera points at declination 60°{less}")
    if camera is not None and camera.guided and camera.guide_star_deg is None:
        rows.append("the guide star stands in a corner of the frame, the worst place")
    if camera is not None and options.trail_px is None:
        rows.append(f"seeing {kit.site.seeing_arcsec:g}″")
    guessed = [n.rsplit(".", 1)[1] for n in kit.guessed if n.startswith("mount.bolts.")]
    if guessed:
        rows.append(f"guessed from the mount's size: {', '.join(guessed)}")
    return rows
