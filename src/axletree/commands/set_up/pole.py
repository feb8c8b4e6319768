"""How to put the axis on the pole: scale, bolts, and where the pole star goes.

The altitude to set, for the pole as it is seen through the air (or the true one); the place of
Polaris or of sigma Octantis in this polar scope now and for two hours; when it comes out
tonight and what stands before it; and, from a reading of the altitude scale or an error in
azimuth, which bolt to turn, which way and how far. For a mount without a view of the pole: the
way by level, north, scale and drift, with the error to expect.
"""

from __future__ import annotations

import argparse
import math
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.commands.shared.own_logbook import learned_kit, logbook_option
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of

if TYPE_CHECKING:
    from datetime import datetime

    from axletree.ground.magnetism import MagneticField
    from axletree.kit.kit import Kit
    from axletree.kit.parts.site import Site
    from axletree.pole.aim.view import Skyline
    from axletree.pole.correct.report import AxisSays

# Where the kit doesn't say how dark the site is: the edge of a small town (common practice).
ORDINARY_SKY_MAG_ARCSEC2 = 20.0

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
    logbook_option(parser)


def answer(options: argparse.Namespace) -> Answer:
    """The way to the pole."""
    from axletree.evening.seeing.contrast import FIELD_FACTOR, naked_eye_limit_mag
    from axletree.ground.magnetism import magnetic_field
    from axletree.pole.correct.report import pole_report
    from axletree.tell.pole.data import drawing_rows, pole_data
    from axletree.tell.pole.text import pole_text

    kit, learned = learned_kit(options, read_kit(options))
    site = kit.site
    moment = parse_moment(options.at, site)
    skyline = skyline_of(options, site, moment)
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, moment)
    limit = site.naked_eye_limit_mag
    if limit is None:
        sky = site.sky_brightness_mag_arcsec2 or ORDINARY_SKY_MAG_ARCSEC2
        limit = float(naked_eye_limit_mag(sky, FIELD_FACTOR[kit.habits.observer]))
    report = pole_report(
        kit,
        observer_of(site),
        moment,
        naked_eye_limit_mag=limit,
        magnetic_sigma_deg=field.declination_sigma_deg,
        magnetic_note=_magnetic_note(field),
        skyline=skyline,
        true_pole=options.true_pole,
        says=_says(options),
    )
    assumed = _assumed(kit, limit, *report.sight.assumed, *learned)

    def drawing() -> str:
        from axletree.tell.pole.drawing import pole_view_svg

        return pole_view_svg(report.view, drawing_rows(report, site.zone))

    step = kit.mount.bolts.latitude_scale_step_deg
    text = pole_text(report, site.name, site.zone, step, assumed)
    return Answer(text, pole_data(report, assumed), drawing)


def _magnetic_note(field: MagneticField) -> str:
    if field.zone == "usual":
        return f"Magnetic model: {field.note}." if field.note else ""
    trust = "don't use a compass here" if field.zone == "blackout" else "a compass is poor here"
    return (
        f"Magnetic {field.zone} zone: {trust}; take north from the Sun, a star or a landmark "
        "('axletree north')."
    )


def skyline_of(options: argparse.Namespace, site: Site, moment: datetime) -> Skyline | None:
    """Altitude of the skyline by azimuth, or None where nobody measured it towards the pole."""
    from axletree.ground.skyline.of_site import site_horizon

    horizon = site_horizon(site, kit_folder(options), moment)
    given = bool(site.skyline.points or site.skyline.file)
    known = given and bool(horizon.known_at(0.0 if site.north else 180.0))
    return horizon.altitude_at if known else None


def _says(options: argparse.Namespace) -> AxisSays:
    from axletree.pole.correct.report import AxisSays

    for name in ("scale_reading", "azimuth_error_arcmin", "high_arcmin", "east_arcmin"):
        value = getattr(options, name)
        if value is not None and not math.isfinite(value):
            raise AxletreeError(f"--{name.replace('_', '-')} {value}: write a plain number")
    return AxisSays(
        options.scale_reading,
        options.azimuth_error_arcmin,
        options.high_arcmin,
        options.east_arcmin,
    )


def _assumed(kit: Kit, limit_mag: float, *more: str) -> list[str]:
    bolts, site = kit.mount.bolts, kit.site
    rows = list(more)
    guessed = [n.rsplit(".", 1)[1] for n in kit.guessed if n.startswith("mount.bolts.")]
    if guessed:
        values = ", ".join(f"{name} {getattr(bolts, name):g}" for name in guessed)
        rows.append(f"guessed from the mount's size: {values}")
    if "latitude_scale_offset_deg" not in bolts.model_fields_set:
        rows.append("the altitude scale was never checked: it may be half a degree out")
    if site.pressure_hpa is None:
        rows.append("pressure of the standard atmosphere at this elevation")
    if site.naked_eye_limit_mag is None and site.sky_brightness_mag_arcsec2 is None:
        rows.append(f"an ordinary sky: stars to magnitude {limit_mag:.1f} with the bare eye")
    return rows
