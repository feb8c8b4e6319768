"""Which telescope of an event does each object suit, and how is everything shared out fairly?

A flow of least cost (networkx's network simplex): each object goes to at most one telescope, each
telescope gets as many as it has time for, and of every rank of objects (the best few, the next
few) its fair part; more than that costs points. Exact and the same on every machine.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from enum import Enum

import numpy as np

from axletree.evening.objects.choosing import Candidate
from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.visibility import SURE
from axletree.evening.sheet.answer import Prepared
from axletree.evening.stops.windows import OrderTask
from axletree.kit.frozen import dataclass

# Points for suiting a telescope, ours: for each magnitude of margin above the others' mean, for
# twice the others' aperture on planets and pairs, and for a field that holds the object.
MARGIN_POINTS, MOST_MARGIN_MAG = 4.0, 2.0
APERTURE_POINTS = 6.0
FIELD_POINTS = 10.0
# What it costs to give a telescope more than its fair part of a rank.
UNFAIR_POINTS = 15.0
# A rank holds as many objects as give each telescope this many.
FAIR_PART = 2
SPARE_STOPS = 2
SKY_AROUND = 1.25


class HereBecause(Enum):
    """Why a telescope of the event shows an object."""

    PROMISED = "promised"
    ALSO_ELSEWHERE = "also_elsewhere"
    ONLY_HERE = "only_here"
    WHOLE_IN_FIELD = "whole_in_field"
    MORE_APERTURE = "more_aperture"
    CLEARER = "clearer"
    ALIKE = "alike"
    OTHERS_FULL = "others_full"


@dataclass(frozen=True)
class WhyHere:
    """The reason, with its figure: field (degrees), aperture (mm) or margin gained (magnitudes).

    `neighbour`: the telescope, by its place in the event, that shows it as well.
    """

    because: HereBecause
    value: float = 0.0
    neighbour: int = -1


@dataclass(frozen=True)
class Suits:
    """How one object suits one telescope: points, and what speaks for it there."""

    points: float
    why: WhyHere


@dataclass(frozen=True)
class Share:
    """`owner` of each key that was shared out; `suits` by key and rig, of all that could show."""

    owner: Mapping[str, int]
    suits: Mapping[tuple[str, int], Suits]
    musts: frozenset[tuple[str, int]]

    def why(self, key: str, rig: int) -> WhyHere:
        """Why this telescope shows this object."""
        if (key, rig) in self.musts:
            return WhyHere(HereBecause.PROMISED)
        owner = self.owner.get(key)
        if owner is not None and owner != rig:
            return WhyHere(HereBecause.ALSO_ELSEWHERE, neighbour=owner)
        return self.suits[key, rig].why


def share_out(prepared: Sequence[Prepared]) -> Share:
    """The owner of every object worth a stop."""
    tasks = [p.task for p in prepared]
    could = {
        (target.key, i): candidate
        for i, task in enumerate(tasks) if task is not None
        for target, candidate in zip(task.targets, task.chosen.candidates, strict=True)
        if any(o.end_s - o.start_s >= target.show_s for o in target.openings)
    }  # fmt: skip
    suits = _suits(prepared, could)
    musts = frozenset(place for place, candidate in could.items() if candidate.must)
    promised = {key for key, _ in musts}
    worth = {
        place: candidate.value + suits[place].points
        for place, candidate in could.items() if place[0] not in promised
    }  # fmt: skip
    room = [
        max(0, _stops_that_fit(task) - sum(1 for _, i in musts if i == k)) if task else 0
        for k, task in enumerate(tasks)
    ]
    owner = _flow(worth, room)
    for key, i in sorted(musts):
        owner.setdefault(key, i)
    return Share(owner, suits, musts)


def _stops_that_fit(task: OrderTask) -> int:
    """How many stops a telescope has time for, finding and slack counted in, and a few to spare."""
    handling, span = task.handling, task.span
    hands_s = handling.find_factor * handling.find_s + handling.focus_s
    stop_s = task.queue_s + float(handling.with_slack_s(hands_s))
    free_s = span.end_s - span.start_s - sum(high - low for low, high in span.breaks)
    fits = int(free_s // stop_s)
    return (fits if span.most is None else min(fits, span.most)) + SPARE_STOPS


def _suits(
    prepared: Sequence[Prepared], could: Mapping[tuple[str, int], Candidate]
) -> dict[tuple[str, int], Suits]:
    by_key: dict[str, list[int]] = {}
    for key, i in could:
        by_key.setdefault(key, []).append(i)
    apertures = [p.kit.tube.aperture_mm for p in prepared]
    fields = [60.0 * float(views_of(p.kit).true_field_deg.max()) for p in prepared]
    return {
        (key, i): _suit(i, rigs, {j: could[key, j] for j in rigs}, apertures, fields)
        for key, rigs in by_key.items() for i in rigs
    }  # fmt: skip


def _suit(
    i: int, rigs: Sequence[int], here: Mapping[int, Candidate], apertures: Sequence[float],
    fields_arcmin: Sequence[float],
) -> Suits:  # fmt: skip
    """Points and the reason for one object at one of the telescopes `rigs` that can show it."""
    others = [j for j in rigs if j != i]
    if not others:
        return Suits(0.0, WhyHere(HereBecause.ONLY_HERE))
    candidate = here[i]
    size = candidate.thing.size_major_arcmin or 0.0
    points = 0.0
    why: WhyHere | None = None
    holds = [fields_arcmin[j] >= SKY_AROUND * size for j in rigs]
    if size and any(holds) and not all(holds):
        if fields_arcmin[i] >= SKY_AROUND * size:
            points += FIELD_POINTS
            why = WhyHere(HereBecause.WHOLE_IN_FIELD, fields_arcmin[i] / 60.0)
        else:
            points -= FIELD_POINTS
    if candidate.thing.kind in ("planet", "double star"):
        mean = math.exp(float(np.mean([math.log(apertures[j]) for j in others])))
        finer = math.log2(apertures[i] / mean)
        points += APERTURE_POINTS * finer
        if finer > 0.25:
            why = WhyHere(HereBecause.MORE_APERTURE, apertures[i])
    elif candidate.margin_mag < SURE:
        known = [here[j].margin_mag for j in others if math.isfinite(here[j].margin_mag)]
        if known and math.isfinite(candidate.margin_mag):
            more = candidate.margin_mag - float(np.mean(known))
            points += MARGIN_POINTS * min(max(more, -MOST_MARGIN_MAG), MOST_MARGIN_MAG)
            if more > 0.3 and points > 0.0 and why is None:
                why = WhyHere(HereBecause.CLEARER, more)
    if why is None:
        why = WhyHere(HereBecause.ALIKE if points > -2.0 else HereBecause.OTHERS_FULL)
    return Suits(points, why)


def _flow(worth: Mapping[tuple[str, int], float], room: Sequence[int]) -> dict[str, int]:
    """The owner of each key: as many as fit, of the greatest worth, fair by rank."""
    import networkx as nx

    best: dict[str, float] = {}
    for (key, _), value in worth.items():
        best[key] = max(best.get(key, 0.0), value)
    ranked = sorted(best, key=lambda key: (-best[key], key))
    rank = {key: n // (FAIR_PART * len(room)) for n, key in enumerate(ranked)}
    # The library promises the best flow for whole numbers: costs are thousandths.
    unfair = round(UNFAIR_POINTS * 1000)
    net = nx.DiGraph()
    net.add_nodes_from(["source", "sink"])
    for i, places in enumerate(room):
        net.add_edge("source", ("rig", i), capacity=places, weight=0)
    for key, i in sorted(worth):
        tier = ("rank", i, rank[key])
        if tier not in net:
            net.add_edge(("rig", i), ("fair", *tier), capacity=FAIR_PART, weight=0)
            net.add_edge(("rig", i), ("unfair", *tier), capacity=len(ranked), weight=unfair)
            net.add_edge(("fair", *tier), tier, capacity=FAIR_PART, weight=0)
            net.add_edge(("unfair", *tier), tier, capacity=len(ranked), weight=0)
        net.add_edge(tier, ("object", key), capacity=1, weight=-round(worth[key, i] * 1000))
        net.add_edge(("object", key), "sink", capacity=1, weight=0)
    flow = nx.max_flow_min_cost(net, "source", "sink")
    return {
        key: i for key, i in sorted(worth)
        if flow["rank", i, rank[key]]["object", key] > 0
    }  # fmt: skip
