"""Which drawings stand beside stages, stops and what to measure first on paper?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.evening.stops.stop import Stop
from axletree.find.practice.along_axis import look_tonight
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import axis_angles
from axletree.mount.room.table import RoomTable
from axletree.pole.aim.view import pole_view
from axletree.sky.observer import Observer
from axletree.stages.set_up.balance import BalanceRequest, balance
from axletree.tell.balance.small_drawing import small_balance_drawing
from axletree.tell.evening.document import Evening
from axletree.tell.find.small_view_drawing import small_view_svg
from axletree.tell.kit.tape_drawing import tape_alone
from axletree.tell.paper.text import BALANCE_PICTURE, pole_picture_words
from axletree.tell.pole.drawing import pole_dial_svg
from axletree.tell.shared.rig_side import rig_alone


def stage_pictures(kit: Kit, observer: Observer, evening: Evening) -> dict[str, str]:
    """SVG texts by their description, in the order of the stages: the pole, the balance."""
    pole = evening.pole
    view = pole_view(observer, pole.at, look_tonight(kit, observer, pole.at).axis_view)
    return {
        pole_picture_words(evening): pole_dial_svg(view),
        BALANCE_PICTURE: small_balance_drawing(balance(kit, BalanceRequest())),
    }


def tape_pictures(kit: Kit, table: RoomTable, evening: Evening) -> dict[str, str]:
    """SVG texts by the key of a dimension to measure first: where the tape goes."""
    keys = [one["key"] for one in evening.measure_first]
    return {key: tape_alone(kit, table.rig, table.axes, key) for key in keys}


def stop_fields(stops: Sequence[Stop]) -> dict[int, str]:
    """SVG texts by stop number: what the finder shows, else the weakest eyepiece, turned as the
    eye meets it at the stop's begin."""
    return {
        stop.number: small_view_svg(stop.finding.views.finder or stop.finding.views.weakest,
                                    stop.name)
        for stop in stops if stop.finding is not None
    }  # fmt: skip


def stop_pictures(table: RoomTable, evening: Evening) -> dict[int, str]:
    """SVG texts by stop number: the rig in its pose at the stop's begin, seen from behind."""
    pictures = {}
    for stop in evening.stops:
        angles = axis_angles(
            table.axes, stop.chosen.side, stop.start.hour_angle_h, stop.start.declination_deg
        )
        pictures[stop.number] = rig_alone(
            table.rig, table.axes, float(angles[0]), float(angles[1]), view=1
        )
    return pictures
