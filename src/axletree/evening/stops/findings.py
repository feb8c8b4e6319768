"""How is the object of each stop found, from where the evening's mount stands?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from axletree.axis.model import PointingModel
from axletree.evening.objects.looks import looks_of_each
from axletree.evening.order.moving import Side
from axletree.evening.stops.stop import Stop
from axletree.evening.stops.to_find import is_driven, with_looks
from axletree.find.finding import finding
from axletree.find.instruments import eyepieces_of
from axletree.find.practice.learned import LearnedFinding
from axletree.find.scene import FindingQuestion
from axletree.find.turning.seeking import SkyLight
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import EAST, WEST
from axletree.mount.room.table import RoomTable
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants


@dataclass(frozen=True)
class FromHere:
    """What the ways are reckoned with: the mount's errors as far as known, the skyline, and what
    a log taught of this person (None: nothing). `in_view`: what the tube has in view on which side
    before the first stop."""

    model: PointingModel
    horizon: Horizon | None
    learned: LearnedFinding | None = None
    in_view: tuple[SkyObject, Side] | None = None


def with_findings(
    kit: Kit, observer: Observer, table: RoomTable, stops: Sequence[Stop], here: FromHere | None
) -> tuple[Stop, ...]:
    """The stops, each with its way for the moment when it begins; as they are without `here`."""
    if here is None or not stops:
        return tuple(stops)
    labels = [eyepiece.label for eyepiece in eyepieces_of(kit)]
    found = []
    for stop, looks in zip(stops, looks_of_each([s.candidate.thing for s in stops]), strict=True):
        planned = stop.view.eyepiece
        question = FindingQuestion(
            kit=kit,
            observer=observer,
            arrival=Instants.from_datetime(stop.begin),
            target=stop.candidate.thing,
            side=EAST if stop.chosen.side == "east" else WEST,
            table=table,
            model=here.model,
            sky=SkyLight(0.0, 0.0),  # `with_looks` knows it
            driven=is_driven(kit),
            horizon=here.horizon,
            planned_eyepiece=labels.index(planned) if planned in labels else None,
            learned=here.learned,
            in_view=_in_view(here, stops, stop),
            brief=True,
            body=stop.body,
        )
        found.append(replace(stop, finding=finding(with_looks(question, looks))))
    return tuple(found)


def _in_view(here: FromHere, stops: Sequence[Stop], stop: Stop) -> SkyObject | None:
    """What the tube has in view before a stop: of the first to which it has to be turned."""
    if here.in_view is None:
        return None
    thing, side = here.in_view
    ahead = [s for s in stops if s.catalogue_id != thing.catalogue_id]
    return thing if ahead[:1] == [stop] and stop.chosen.side == side else None
