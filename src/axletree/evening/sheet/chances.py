"""What else could be shown and when first, and what has to be set for the side not planned?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from axletree.axis.circles_read import SetOnStar
from axletree.axis.marks import after_setting
from axletree.evening.objects.choosing import Candidate
from axletree.evening.order.moving import Side
from axletree.evening.sheet.plan import Planned
from axletree.evening.stops.facts import stops_of
from axletree.evening.stops.own_circles import with_own_circles
from axletree.evening.stops.room_ahead import SideOpening
from axletree.evening.stops.set_on_star import with_circles_set
from axletree.evening.stops.stop import Stop, StopPlan
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import later


def fits(openings: Sequence[SideOpening], queue_s: float) -> bool:
    """Whether a stop of so many seconds has room in one of them."""
    return any(o.lasts_s() - o.begin_s >= queue_s for o in openings)


@dataclass(frozen=True)
class SetForSide:
    """On which star the hour circle is set for a tube side."""

    side: Side
    told: SetOnStar


@dataclass(frozen=True)
class Chances:
    """A planned evening, seconds of its openings counted from `begin`."""

    kit: Kit
    observer: Observer
    planned: Planned
    begin: datetime

    def spares(
        self, chosen: Sequence[Candidate], openings: Sequence[Sequence[SideOpening]]
    ) -> tuple[Stop, ...]:
        """Each of them as a stop at its first chance; all of them have one."""
        assert self.planned.task is not None
        queue_s = self.planned.task.queue_s
        plans = []
        for candidate, own in zip(chosen, openings, strict=True):
            first = next(o for o in own if fits([o], queue_s))
            plans.append(self._plan(candidate, first, first.begin_s, queue_s))
        return tuple(replace(stop, turn_cautions=()) for stop in self._stops(plans))

    def other_sides(
        self, stops: Sequence[Stop], openings: Sequence[Sequence[SideOpening]]
    ) -> list[SetForSide | None]:
        """On which star the hour circle is set for the side that a stop doesn't have; None without
        a chance there, and where the circle is never set. At the stop's begin, else at the first
        chance."""
        circles, plans, rows = self.kit.mount.circles, [], []
        if after_setting(circles) is not None and self.planned.evening.pointing is not None:
            for k, (stop, own) in enumerate(zip(stops, openings, strict=True)):
                begin_s = stop.begin.timestamp() - self.begin.timestamp()
                first = next(
                    (o for o in own if o.side != stop.chosen.side and fits([o], stop.queue_s)), None
                )
                if first is not None:
                    last_s = first.lasts_s() - stop.queue_s
                    at_s = begin_s if first.begin_s <= begin_s <= last_s else first.begin_s
                    plans.append(self._plan(stop.candidate, first, at_s, stop.queue_s))
                    rows.append(k)
        found: list[SetForSide | None] = [None] * len(stops)
        for k, plan in zip(rows, plans, strict=True):
            # Each by itself: what the drive keeps of a stop before is of the side that was planned.
            told = self._stops([plan])[0].set_on
            found[k] = None if told is None else SetForSide(plan.side, told)
        return found

    def _plan(
        self, candidate: Candidate, opening: SideOpening, at_s: float, queue_s: float
    ) -> StopPlan:
        start = later(self.begin, round(at_s))
        return StopPlan(
            candidate=candidate, side=opening.side, begin=start,
            end=later(start, round(queue_s)), queue_s=queue_s, promised=False,
        )  # fmt: skip

    def _stops(self, plans: Sequence[StopPlan]) -> tuple[Stop, ...]:
        if not plans:
            return ()
        kit, observer, table = self.kit, self.observer, self.planned.ground.table
        things = [p.thing for p in plans]
        begins = Instants.from_datetimes([p.begin for p in plans])
        ends = Instants.from_datetimes([p.end for p in plans])
        made = stops_of(
            kit, observer, table, plans,
            object_positions(things, begins, observer), object_positions(things, ends, observer),
        )  # fmt: skip
        model = self.planned.evening.pointing
        return with_circles_set(
            kit, observer, table, with_own_circles(made, model, observer), model
        )
