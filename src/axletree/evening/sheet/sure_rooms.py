"""How sure is the room of each stop?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from axletree.evening.ground_here import Ground
from axletree.evening.night.set_up_times import seconds_between
from axletree.evening.stops.stop import Stop
from axletree.mount.room.along import track_of
from axletree.mount.room.table import RoomTable
from axletree.mount.sure.room_doubt import SkyCourse, room_doubt
from axletree.mount.sure.spread import RigSpread
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants


def with_sure_rooms(ground: Ground, observer: Observer, stops: Sequence[Stop]) -> tuple[Stop, ...]:
    """The stops, each with how sure the room of its own side is."""
    return tuple(_sure(ground.spread, observer, ground.table, stop) for stop in stops)


def _sure(spread: RigSpread, observer: Observer, table: RoomTable, stop: Stop) -> Stop:
    start, finish = stop.start, stop.finish
    turned = float(wrap_h(finish.hour_angle_h - start.hour_angle_h))
    rate = turned / seconds_between(stop.begin, stop.end)
    track = track_of(stop.candidate.thing, Instants.from_datetime(stop.begin), observer)
    course = SkyCourse(start.hour_angle_h, start.declination_deg, rate, track)
    answer = stop.choice.east if stop.chosen.side == "east" else stop.choice.west
    doubt = room_doubt(spread, table, answer, course)
    return replace(stop, chosen=replace(stop.chosen, doubt=doubt))
