"""How does a planned evening go on from now, after what has happened?

Public: ``SoFar``, ``ClosedSky``, ``GoingOn``, ``go_on``.

Everything that doesn't change in an evening (candidates, openings, tracks, room) was kept when it
was planned; here only the order and the facts of its stops are made again.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from axletree.evening.given_up import GivenUp
from axletree.evening.order.candidates import OrderedStop
from axletree.evening.order.moving import Side
from axletree.evening.sequence.replan import ClosedPart, Now, replan
from axletree.evening.sheet.plan import Planned
from axletree.evening.sheet.sure_rooms import with_sure_rooms
from axletree.evening.stops.findings import FromHere
from axletree.evening.stops.outcome import OrderQuality, left_without, order_quality
from axletree.evening.stops.placing import stops_from
from axletree.evening.stops.stop import Stop
from axletree.evening.stops.windows import OrderTask
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.observer import Observer


@dataclass(frozen=True)
class ClosedSky:
    """A part of the sky that can't be used from `begin` to `end` (None: all night).

    Azimuths and altitudes as in `replan.ClosedPart`.
    """

    from_azimuth_deg: float
    to_azimuth_deg: float
    low_altitude_deg: float = 0.0
    high_altitude_deg: float = 90.0
    begin: datetime | None = None
    end: datetime | None = None


@dataclass(frozen=True)
class Standing:
    """The stop on which the rig stands: its key, tube side and when it began.

    It goes on until `until`; None: it is over.
    """

    key: str
    side: Side
    begin: datetime
    until: datetime | None = None


@dataclass(frozen=True)
class SoFar:
    """What has happened by `at`, and what is asked for; keys are catalogue ids of the evening.

    `gone` gets no stop any more (shown or skipped). `promised`: what people have been told they
    will see, besides what the kit must show. `announced`: the order that people know. `given`:
    the person's own order of what is left; None lets the best be found.
    """

    at: datetime
    gone: tuple[str, ...] = ()
    standing: Standing | None = None
    promised: tuple[str, ...] = ()
    announced: tuple[str, ...] = ()
    closed: tuple[ClosedSky, ...] = ()
    given: tuple[str, ...] | None = None


@dataclass(frozen=True)
class GoingOn:
    """The stops from now on; the one on which the rig stands comes first while it goes on.

    `lost`: announced or promised stops that have no place any more, each with the reason;
    `broken` are the promised ones among them. `stay_cut_s`: how much of the time asked for at the
    present stop it does not have. `here`: what the ways to the stops are reckoned with.
    """

    stops: tuple[Stop, ...]
    lost: tuple[GivenUp, ...]
    broken: tuple[str, ...]
    quality: OrderQuality
    stay_cut_s: float
    here: FromHere | None = None


def go_on(kit: Kit, observer: Observer, planned: Planned, so_far: SoFar) -> GoingOn:
    """The rest of the evening; refuses keys that are none of its objects.

    An evening without a session can't go on and is refused.
    """
    task = planned.task
    if task is None:
        raise AxletreeError("this night has no session: there is nothing to order again")
    zero = task.session.first_stop.timestamp()
    standing = so_far.standing
    stay = 0.0
    if standing is not None and standing.until is not None:
        stay = max(0.0, standing.until.timestamp() - so_far.at.timestamp())
    new = replan(
        task.targets, task.span, task.handling,
        Now(
            at_s=so_far.at.timestamp() - zero,
            shown=tuple(k for k in so_far.gone if standing is None or k != standing.key),
            current=(standing.key, standing.side) if standing is not None else None,
            stay_s=stay,
            promised=so_far.promised,
            announced=so_far.announced,
            closed=tuple(_closed(part, zero) for part in so_far.closed),
            given=so_far.given,
        ),
        task.tracks,
    )  # fmt: skip
    ordered = list(new.order.stops)
    if standing is not None and stay > new.stay_cut_s:
        ordered.insert(0, _present(task, standing, new.free_from_s))
    promised = frozenset(so_far.promised)
    from_here = _from_here(task, standing)
    stops = stops_from(kit, observer, planned.ground.table, from_here, ordered, promised)
    stops = with_sure_rooms(planned.ground, observer, stops)
    broken = frozenset(x.key for x in new.broken_promises)
    known = {*so_far.announced, *(so_far.given or ()), *broken}
    lost = tuple(
        left_without(task, x)
        for x in new.order.left_out if x.key in known
    )  # fmt: skip
    return GoingOn(
        stops=stops,
        lost=lost,
        broken=tuple(task.name(key) for key in sorted(broken)),
        quality=order_quality(task, new.order, new.free_from_s),
        stay_cut_s=new.stay_cut_s,
        here=from_here.here,
    )


def _closed(part: ClosedSky, zero: float) -> ClosedPart:
    closed = ClosedPart(
        part.from_azimuth_deg, part.to_azimuth_deg, part.low_altitude_deg, part.high_altitude_deg
    )
    if part.begin is None and part.end is None:
        return closed
    return ClosedPart(
        part.from_azimuth_deg, part.to_azimuth_deg, part.low_altitude_deg, part.high_altitude_deg,
        closed.start_s if part.begin is None else part.begin.timestamp() - zero,
        closed.end_s if part.end is None else part.end.timestamp() - zero,
    )  # fmt: skip


def _present(task: OrderTask, standing: Standing, until_s: float) -> OrderedStop:
    """The stop that runs, from when it began until the rig leaves it."""
    begin = standing.begin.timestamp() - task.session.first_stop.timestamp()
    ends = [
        o.end_s for w in task.targets if w.key == standing.key for o in w.openings
        if o.side == standing.side and o.start_s <= until_s <= o.end_s + 1.0
    ]  # fmt: skip
    return OrderedStop(
        key=standing.key, side=standing.side, arrive_s=begin, start_s=begin, end_s=until_s,
        move_s=0.0, room_end_s=max(ends, default=until_s),
    )  # fmt: skip


def _from_here(task: OrderTask, standing: Standing | None) -> OrderTask:
    """The task with the first way beginning where the tube points now."""
    if standing is None or task.here is None:
        return task
    things = {c.thing.catalogue_id: c.thing for c in task.chosen.candidates}
    thing = things.get(standing.key)
    in_view = None if thing is None else (thing, standing.side)
    return replace(task, here=replace(task.here, in_view=in_view))
