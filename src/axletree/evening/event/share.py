"""What does each telescope of one event show, and when, so that neighbours do not show the same?

Public: ``Berth``, ``share_evening`` -> ``Event`` of ``Slot``.

First the objects are shared out (`shares`), each to the telescope that it suits, good ones fairly
among all. Then every telescope's stops are ordered: its own share counts in full, what a
neighbour shows counts half and is closed while the neighbour shows it. Two rounds, the second
knowing what all the others do.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

from geographiclib.geodesic import Geodesic

from axletree.axis.model import PointingModel
from axletree.axis.state import State
from axletree.evening.event.allotment import Share, WhyHere, share_out
from axletree.evening.given_up import GivenUp, GivenUpReason
from axletree.evening.objects.choosing import MOST_CANDIDATES
from axletree.evening.order.candidates import Opening, Order, Target
from axletree.evening.people.seen_lately import SeenLately
from axletree.evening.sequence.best import order_stops
from axletree.evening.sequence.for_people import for_people
from axletree.evening.sheet.answer import Prepared
from axletree.evening.sheet.plan import EveningRequest, Planned, planned_of, prepare
from axletree.find.practice.learned import LearnedFinding
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.observer import Observer

MOST_RIGS = 12
MOST_SHARED = 120
ONE_PLACE_M = 3000.0
# What a neighbour shows as well is worth half (ours).
NEIGHBOURS_SHARE = 0.5
# No telescope's label: all of them are shared out.
SHARING = ""

Span = tuple[float, float]


@dataclass(frozen=True)
class Berth:
    """One telescope of the event: its kit, with a site of its own, the kit's folder, what is known
    of its mount, and what the ways to its stops are reckoned with (as `EveningRequest`)."""

    kit: Kit
    observer: Observer
    folder: Path | None = None
    state: State | None = None
    pointing: PointingModel | None = None
    learned: LearnedFinding | None = None


@dataclass(frozen=True)
class Slot:
    """One stop of one telescope: `rig` is its place in `Event.labels`.

    `why_here` says why this telescope shows it.
    """

    rig: int
    begin: datetime
    end: datetime
    key: str
    name: str
    why_here: WhyHere


@dataclass(frozen=True)
class Event:
    """One evening for each telescope, in the order given, and all their stops by time."""

    labels: tuple[str, ...]
    planned: tuple[Planned, ...]
    slots: tuple[Slot, ...]


def share_evening(
    berths: Sequence[Berth],
    day: date,
    *,
    made_at: datetime,
    minutes_per_stop: float | None = None,
    seen: SeenLately | None = None,
    progress: Callable[[str], None] = lambda label: None,
) -> Event:
    """The evenings of all telescopes of one event.

    `progress` is told which telescope's evening begins, by its label, then `SHARING`. Refuses fewer
    than two kits, kits that stand kilometres apart or keep different clocks.
    """
    refuse_berths(berths)
    labels = labels_of([berth.kit for berth in berths])
    most = min(MOST_CANDIDATES + 25 * (len(berths) - 1), MOST_SHARED)
    prepared = []
    for label, berth in zip(labels, berths, strict=True):
        progress(label)
        prepared.append(
            prepare(
                berth.kit,
                berth.observer,
                EveningRequest(
                    day,
                    made_at=made_at,
                    minutes_per_stop=minutes_per_stop,
                    kit_folder=berth.folder,
                    seen=seen,
                    most=most,
                    state=berth.state,
                    pointing=berth.pointing,
                    learned=berth.learned,
                ),
            )  # fmt: skip
        )
    progress(SHARING)
    share = share_out(prepared)
    orders: list[Order | None] = [None] * len(prepared)
    for quick in (True, False):
        for i in range(len(prepared)):
            orders[i] = _ordered(i, prepared, share, orders, quick)
    planned = tuple(planned_of(p, order) for p, order in zip(prepared, orders, strict=True))
    slots = _slots(prepared, orders, share, labels)
    return Event(
        labels=labels,
        planned=tuple(_with_neighbours(p, k, slots, labels) for k, p in enumerate(planned)),
        slots=slots,
    )


def refuse_berths(berths: Sequence[Berth]) -> None:
    """One line for kits that make no event."""
    if not 2 <= len(berths) <= MOST_RIGS:
        raise AxletreeError(f"an event has from 2 to {MOST_RIGS} kits, not {len(berths)}")
    first = berths[0].kit
    for berth in berths[1:]:
        site, here = berth.kit.site, first.site
        line = Geodesic.WGS84.Inverse(
            here.latitude_deg, here.longitude_deg, site.latitude_deg, site.longitude_deg
        )
        if line["s12"] > ONE_PLACE_M:
            raise AxletreeError(
                f"'{first.name}' and '{berth.kit.name}' stand {line['s12'] / 1000:,.0f} km apart: "
                "the kits of one event share a place (3 km at most)"
            )
        if site.time_zone != here.time_zone:
            raise AxletreeError(
                f"'{first.name}' keeps {here.time_zone} and '{berth.kit.name}' {site.time_zone}: "
                "the kits of one event keep one time"
            )


def labels_of(kits: Sequence[Kit]) -> tuple[str, ...]:
    """Names that tell the telescopes apart: the tube's, with the kit's or a number if need be."""
    for names in (
        [kit.tube.label for kit in kits],
        [kit.name for kit in kits],
        [f"{kit.tube.label}, {kit.name}" for kit in kits],
    ):
        if len(set(names)) == len(names):
            return tuple(names)
    return tuple(f"{kit.tube.label} {k + 1}" for k, kit in enumerate(kits))


def _ordered(
    i: int, prepared: Sequence[Prepared], share: Share, orders: Sequence[Order | None], quick: bool
) -> Order | None:
    """The order of one telescope, knowing what the others do so far."""
    task = prepared[i].task
    if task is None:
        return None
    zero = task.session.first_stop.timestamp()
    taken: dict[str, list[Span]] = {}
    for j, order in enumerate(orders):
        other = prepared[j].task
        if j == i or order is None or other is None:
            continue
        shift = other.session.first_stop.timestamp() - zero
        for stop in order.stops:
            taken.setdefault(stop.key, []).append((stop.start_s + shift, stop.end_s + shift))
    targets = [_shared_target(target, i, share, taken) for target in task.targets]
    order = order_stops(targets, task.span, task.handling, effort="quick" if quick else "auto")
    return order if quick else for_people(order, targets, task.span, task.handling)


def _shared_target(
    target: Target, i: int, share: Share, taken: Mapping[str, Sequence[Span]]
) -> Target:
    spans = taken.get(target.key, ())
    elsewhere = share.owner.get(target.key, i) != i or bool(spans)
    mine = target.must or not elsewhere
    value = target.value if mine else max(target.value * NEIGHBOURS_SHARE, 0.1)
    return replace(target, value=value, openings=_without(target.openings, spans))


def _without(openings: Sequence[Opening], spans: Sequence[Span]) -> tuple[Opening, ...]:
    """The openings less the spans in which a neighbour shows the object."""
    left = list(openings)
    for low, high in spans:
        cut: list[Opening] = []
        for one in left:
            if high <= one.start_s or low >= one.end_s:
                cut.append(one)
                continue
            if one.start_s < low:
                cut.append(replace(one, end_s=low))
            if high < one.end_s:
                cut.append(replace(one, start_s=high))
        left = cut
    return tuple(left)


def _slots(
    prepared: Sequence[Prepared], orders: Sequence[Order | None], share: Share,
    labels: Sequence[str],
) -> tuple[Slot, ...]:  # fmt: skip
    slots: list[Slot] = []
    for i, (p, order) in enumerate(zip(prepared, orders, strict=True)):
        if p.task is None or order is None:
            continue
        for stop in order.stops:
            slots.append(
                Slot(
                    rig=i,
                    begin=p.task.at(stop.start_s),
                    end=p.task.at(stop.end_s),
                    key=stop.key,
                    name=p.task.name(stop.key),
                    why_here=share.why(stop.key, i),
                )
            )
    return tuple(sorted(slots, key=lambda s: (s.begin, s.rig)))


def _with_neighbours(
    planned: Planned, rig: int, slots: Sequence[Slot], labels: Sequence[str]
) -> Planned:
    """The evening whose left-out objects name the neighbour that shows them."""
    elsewhere: dict[str, Slot] = {}
    mine = {slot.name for slot in slots if slot.rig == rig}
    for slot in slots:
        if slot.rig != rig and slot.name not in mine and slot.name not in elsewhere:
            elsewhere[slot.name] = slot
    left = tuple(
        one if one.name not in elsewhere else _shown_by(elsewhere[one.name], labels)
        for one in planned.evening.given_up
    )
    evening = replace(planned.evening, given_up=left)
    return replace(planned, evening=evening)


def _shown_by(slot: Slot, labels: Sequence[str]) -> GivenUp:
    neighbour = labels[slot.rig]
    return GivenUp(slot.name, GivenUpReason.ELSEWHERE, neighbour=neighbour, shown_at=slot.begin)
