"""Which side of the mount the tube goes for an object, and what awaits you there.

Both tube sides beside each other: room until something touches, the axis stops or the object
sets; what the circles read; where the weights hang; the eyepiece's height and the way to face;
how the sky stands and drifts in the view; and the better side with its reason. Side 'east' means
that the tube hangs east of the mount when its object crosses the meridian above the pole.
"""

from __future__ import annotations

import argparse
import math
from datetime import datetime
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.mount.room.choice import Choice
    from axletree.mount.room.ring_turn import RingTurn
    from axletree.mount.room.table import RoomTable

EXAMPLE = "axletree point Vega --at 2026-08-12T23:00 --draw vega.svg"

SUN_UP_DEG = -0.9  # its upper edge on the horizon
DAYLIGHT = (
    "The Sun is up: caps on tube and finder until the tube points at its object, and turn it there "
    "by a way that passes far from the Sun."
)
SUN = (
    "Never point a telescope at or near the Sun without a filter made for it over the front: it "
    "blinds in an instant."
)


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    from axletree.mount.room.sides_now import USUAL_MINUTES

    parser.add_argument("object", nargs="+", help="a name: Vega, M13, NGC 7000, Saturn, Moon")
    kit_options(parser, draw=True)
    parser.add_argument(
        "--minutes", type=float, default=USUAL_MINUTES, metavar="N",
        help=f"how long you want to stay on it ({USUAL_MINUTES:g})",
    )  # fmt: skip
    parser.add_argument(
        "--ring-turn", type=float, metavar="DEG",
        help="focuser's angle around the tube, instead of the kit's",
    )  # fmt: skip
    parser.add_argument("--camera", action="store_true", help="the kit's camera is in the focuser")


def answer(options: argparse.Namespace) -> Answer:
    """Both sides of one object."""
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.mount.room.choice import choose
    from axletree.mount.room.sides_now import asked_now
    from axletree.sky.catalogue.objects import find
    from axletree.sky.positions.objects import object_positions
    from axletree.sky.time.instants import Instants
    from axletree.tell.point.text import point_data, point_text
    from axletree.tell.shared.skyline_data import unknown_skyline
    from axletree.tell.shared.text import rotation_words

    if not 0 < options.minutes <= 1440:
        raise AxletreeError(f"--minutes {options.minutes:g}: write a number from 1 to 1440")
    kit = read_kit(options)
    if options.ring_turn is not None:
        kit = _turned_kit(kit, options.ring_turn)
    moment = parse_moment(options.at, kit.site)
    thing = find(" ".join(options.object))
    observer = observer_of(kit.site)
    now = Instants.from_datetime(moment)
    both = object_positions([thing, find("Sun")], now, observer)
    refused = near_sun(kit, thing.name, moment, both.azimuth_deg[:, 0], both.altitude_deg[:, 0])
    if refused is not None:
        return refused
    before = [DAYLIGHT] if float(both.altitude_deg[1, 0]) > SUN_UP_DEG else []
    # Who asks often for one kit (the app) keeps the table and gives it.
    table = getattr(options, "table", None) or table_of(kit, moment, options, camera=options.camera)
    H, d = float(both.hour_angle_h[0, 0]), float(both.declination_deg[0, 0])
    asked = asked_now([thing], now, observer)
    rate = float(asked.hours_per_s[0])
    choice = choose(
        kit, table, H, d, need_h=options.minutes * 60 * rate, hours_per_s=rate,
        track=asked.tracks[0],
    )  # fmt: skip
    turn = _turn(kit, table, choice)
    horizon = site_horizon(kit.site, kit_folder(options), moment)
    notes = [note for note in (rotation_words(now.doubts), *horizon.notes) if note]
    azimuth, altitude = float(both.azimuth_deg[0, 0]), float(both.altitude_deg[0, 0])

    def drawing() -> str:
        from axletree.tell.point.drawing import choice_views

        return choice_views(table.rig, table.axes, choice, kit, thing.name)

    text = point_text(choice, kit, thing.name, moment, azimuth, altitude, notes, turn, before)
    data = point_data(
        choice, kit, thing.name, moment, turn, azimuth_deg=azimuth, altitude_deg=altitude,
        hours_per_s=rate, before=before,
    )  # fmt: skip
    data = {**data, "skyline_unknown": unknown_skyline(horizon)}
    return Answer(text, data, drawing)


def _turn(kit: Kit, table: RoomTable, choice: Choice) -> RingTurn | None:
    """The ring turn that suits the chosen side best, where rings or diagonal can turn."""
    from axletree.mount.room.ring_turn import can_turn, ring_turn

    if choice.chosen is None or not can_turn(kit.tube):
        return None
    pose = choice.chosen.tube_end_h, choice.chosen.swing_deg
    return ring_turn(kit, table.rig, table.axes, *pose)


def table_of(
    kit: Kit, moment: datetime, options: argparse.Namespace, *, camera: bool = False
) -> RoomTable:
    """The kit's rig with all that can end its following, skyline and air included."""
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.mount.rig.build import build_rig
    from axletree.mount.room.table import room_table

    horizon = site_horizon(kit.site, kit_folder(options), moment)
    return room_table(
        kit,
        rig=build_rig(kit, camera=camera),
        skyline=horizon,
        observer=observer_of(kit.site),
    )


def _turned_kit(kit: Kit, ring_turn_deg: float) -> Kit:
    """The kit with its focuser or diagonal at another angle, as `axletree balance` turns it."""
    from axletree.mount.rig.turned import turned_kit

    if not math.isfinite(ring_turn_deg):
        raise AxletreeError(f"--ring-turn {ring_turn_deg}: write degrees, 0 to 360")
    return turned_kit(kit, ring_turn_deg)


def near_sun(
    kit: Kit, name: str, moment: datetime, azimuth_deg: object, altitude_deg: object
) -> Answer | None:
    """No directions for the Sun, nor for anything near it while it is up."""
    from axletree.sky.directions import angle_between_deg, vector_from_azimuth_altitude
    from axletree.tell.shared.paragraphs import paragraph

    thing, sun = vector_from_azimuth_altitude(azimuth_deg, altitude_deg)  # type: ignore[arg-type]
    apart = float(angle_between_deg(thing, sun))
    if sun[2] < math.sin(math.radians(SUN_UP_DEG)) or apart >= kit.habits.sun_distance_deg:
        return None
    why = "it is up" if apart < 0.01 else f"it stands {apart:.0f}° from the Sun, which is up"
    words = paragraph(f"{name}: no side now, {why}. {SUN}") + "\n"
    words += paragraph(f"This kit keeps {kit.habits.sun_distance_deg:g}° away (sun_distance_deg).")
    data = {
        "object": name, "at": moment.isoformat(), "better_side": None,
        "sun_distance_deg": round(apart, 2), "cautions": [SUN],
    }  # fmt: skip
    return Answer(words, data, status=1)
