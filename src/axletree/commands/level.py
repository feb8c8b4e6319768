"""Which leg of the tripod to lengthen, and by how much, from one reading.

Either from the round bubble: how many divisions (of 2 mm) it stands from the middle, and in
which direction it went; or from an inclinometer laid on the top in two directions. Directions
are degrees clockwise from the direction of the elevated pole, seen from above, or leg1, leg2,
leg3 (towards that leg). A bubble that touches its rim is told as 'rim' instead of divisions.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from axletree.commands.common import Answer, kit_options, observer_of, read_kit
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.ground.level import Tilt
    from axletree.kit.kit import Kit
    from axletree.kit.mount import Tripod

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
        "--shorten", action="store_true", help="let legs be shortened too (smallest changes)"
    )


def answer(options: argparse.Namespace) -> Answer:
    """The legs."""
    from axletree.deliver.level_words import level_data, level_text
    from axletree.ground.leftover import leftover
    from axletree.ground.level import leg_changes, leg_slant_deg
    from axletree.sky.refraction import refracted_pole_altitude_deg

    kit = read_kit(options)
    tripod = kit.mount.tripod
    tilt, assumed = _tilt(options, kit)
    changes = leg_changes(
        tilt,
        tripod.leg_directions_deg,
        tripod.foot_radius_mm,
        leg_slant_deg(tripod),
        shorten=options.shorten,
    )
    pole_altitude = refracted_pole_altitude_deg(observer_of(kit.site))
    after = leftover(tilt, kit.site.latitude_deg, pole_altitude)
    assumed += _assumed(kit)
    facing = 0.0 if kit.site.north else 180.0
    scale = pole_altitude + kit.mount.bolts.latitude_scale_offset_deg
    directions = tripod.leg_directions_deg
    text = level_text(changes, after, directions, facing, scale, kit.habits.units, assumed)

    def drawing() -> str:
        from axletree.draw.level_view import level_view

        return level_view(changes, tripod, facing, kit.habits.units)

    return Answer(text, level_data(changes, after, assumed), drawing)


def _tilt(options: argparse.Namespace, kit: Kit) -> tuple[Tilt, list[str]]:
    from axletree.ground.level import tilt_from_bubble, tilt_from_inclines

    tripod = kit.mount.tripod
    if (options.bubble is None) == (options.incline is None):
        raise AxletreeError(
            "give one reading: --bubble DIVISIONS TOWARDS, or --incline DIRECTION DEG twice"
        )
    if options.incline is not None:
        directions = [_direction(d, tripod) for d, _ in options.incline]
        readings = [_number(v, "--incline") for _, v in options.incline]
        return tilt_from_inclines(directions, readings), ["the inclinometer reads ±0.1°"]
    sensitivity = options.sensitivity or tripod.bubble_arcmin_per_division
    divisions, towards = options.bubble
    rim = divisions.strip().lower() in ("rim", "edge")
    count = tripod.bubble_edge_divisions if rim else _number(divisions, "--bubble")
    # As far out as the rim, the bubble can't show any more.
    rim = rim or count >= tripod.bubble_edge_divisions
    assumed = [f"the bubble moves 2 mm for {sensitivity:g}′ and is read to a quarter of that"]
    if rim:
        assumed.append(f"its rim is {tripod.bubble_edge_divisions:g} divisions from the middle")
    return tilt_from_bubble(count, _direction(towards, tripod), sensitivity, at_rim=rim), assumed


def _direction(text: str, tripod: Tripod) -> float:
    word = text.strip().lower().replace(" ", "")
    if word in ("leg1", "leg2", "leg3"):
        return float(tripod.leg_directions_deg[int(word[-1]) - 1])
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


def _assumed(kit: Kit) -> list[str]:
    tripod = kit.mount.tripod
    used = ("foot_radius_mm", "top_height_mm", "top_radius_mm", "bubble_arcmin_per_division")
    guessed = [k for k in used if f"mount.tripod.{k}" in kit.guessed]
    legs = ", ".join(f"{d:g}" for d in tripod.leg_directions_deg)
    rows = [
        f"legs at {legs}° clockwise from the pole's direction, feet {tripod.foot_radius_mm:g} mm "
        "from the middle; braced legs, each foot sliding on its own line"
    ]
    if guessed:
        rows.append("guessed, not measured: " + ", ".join(guessed))
    return rows
