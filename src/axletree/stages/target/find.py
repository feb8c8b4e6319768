"""How does the object get into the eyepiece, and what will the eye see there?"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from enum import Enum
from pathlib import Path
from typing import Literal

from axletree.axis.model import PointingModel
from axletree.axis.state import State, axis_state
from axletree.evening.objects.looks import looks_of
from axletree.evening.seeing.shows_from import is_drowned, is_light, shows_from
from axletree.evening.stops.to_find import BestSight, is_driven, sight_of, with_looks
from axletree.find.finding import Finding, finding
from axletree.find.hopping.answer import HopOutcome
from axletree.find.practice.learned import FoundBy, LearnedFinding
from axletree.find.scene import FindingQuestion
from axletree.find.steps import Steps
from axletree.find.turning.seeking import SkyLight
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import EAST, WEST
from axletree.mount.room.choice import Choice
from axletree.mount.room.table import RoomTable
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.observer import observer_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.positions.stars import Positions
from axletree.sky.sun_rule import SunRefusal, SunRule
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import later
from axletree.stages.set_up.enough import pointing_known
from axletree.stages.target.point import PointRequest, point

Side = Literal["east", "west"]
_SIGNS = {"east": EAST, "west": WEST}


@dataclass(frozen=True)
class FindRequest:
    """An object by name at an aware moment, when it should be in the eyepiece.

    `start`: the star to begin at, None for the best. `side`: the tube side, None for the better
    one. `state` is what is known of the mount from the person's notes, its room and its errors;
    without it the axis is as uncertain as the way it is set. `table` is the room table of just this
    kit on the axes of that state, for who asks often; `learned` is what this person's log taught of
    finding; `kit_folder` holds the kit's own files.
    """

    object: str
    at: datetime
    start: str | None = None
    side: Side | None = None
    state: State | None = None
    table: RoomTable | None = None
    kit_folder: Path | None = None
    learned: LearnedFinding | None = None


class FindEnd(Enum):
    """Why an object is not to be found now."""

    BELOW_HORIZON = "below_horizon"
    TOO_LIGHT = "too_light"  # by day or in twilight: neither it nor a star to begin at shows yet
    NO_ROOM = "no_room"  # neither tube side, or not the one that was asked for


class FindCaution(Enum):
    """What can hurt on the way, in the order in which it should be heard."""

    CAPS_BY_DAY = "caps_by_day"
    HOLD_THE_TUBE = "hold_the_tube"
    LOOK_BEFORE_TURNING = "look_before_turning"


@dataclass(frozen=True)
class FindAnswer:
    """All ways to one object, or why there is none: too near the Sun, out of reach, too light.

    `side` is the tube side the ways hold for. `question` is what `finding` answers.
    `model` is what was reckoned with of the mount, `state` the notes it came from (None: assumed
    from the way the axis is set). `sight`: how it shows in the eyepiece that suits it.
    `shows_from`: where the sky is too light, when it is dark enough (None: not within a day).
    """

    kit: Kit
    thing: SkyObject
    at: datetime
    refusal: SunRefusal | None
    ended: FindEnd | None
    side: Side | None
    place: Positions | None
    choice: Choice | None
    question: FindingQuestion | None
    finding: Finding | None
    model: PointingModel | None
    state: State | None
    driven: bool
    cautions: tuple[FindCaution, ...]
    sight: BestSight | None = None
    shows_from: datetime | None = None

    @property
    def opens(self) -> SideOpens | None:
        """Where the tube doesn't reach it now: the side that does so first, and when; None where
        neither does within a day."""
        if self.choice is None or self.ended not in (FindEnd.BELOW_HORIZON, FindEnd.NO_ROOM):
            return None
        waits = [
            (0.0 if one.usable else one.opens_in_s, one.side)
            for one in self.choice.sides
            if one.usable or one.opens_in_s is not None
        ]
        if not waits:
            return None
        wait_s, side = min((wait_s or 0.0, side) for wait_s, side in waits)
        return SideOpens(later(self.at, wait_s), side)


@dataclass(frozen=True)
class SideOpens:
    """From when on an object can be reached on a tube side; the moment asked for: now."""

    at: datetime
    side: str


def find_object(kit: Kit, request: FindRequest) -> FindAnswer:
    """Every way to the object and the views on it. Refuses unknown names in one sentence."""
    if request.start is not None:
        find(request.start)  # a name that nobody knows is wrong at any hour
    pointed = point(
        kit,
        PointRequest(
            request.object,
            request.at,
            table=request.table,
            kit_folder=request.kit_folder,
            state=request.state,
            how_sure=False,
        ),
    )
    observer, now = observer_of(kit.site), Instants.from_datetime(request.at)
    refused = FindAnswer(
        kit=kit, thing=pointed.thing, at=request.at, refusal=pointed.refusal, ended=None, side=None,
        place=None, choice=pointed.choice, question=None, finding=None, model=None,
        state=axis_state(request.state), driven=is_driven(kit), cautions=(),
    )  # fmt: skip
    if pointed.refusal is not None or pointed.choice is None or pointed.table is None:
        return refused
    place = object_positions([pointed.thing], now, observer)
    if float(place.altitude_deg[0, 0]) <= 0.0:
        return _ended(refused, place, FindEnd.BELOW_HORIZON)
    side = request.side or _side_of(pointed.choice)
    if side is None or not {s.side: s for s in pointed.choice.sides}[side].usable:
        return _ended(refused, place, FindEnd.NO_ROOM)
    model = pointing_known(kit, request.state, request.at, request.kit_folder)
    looks = looks_of(pointed.thing)
    question = with_looks(
        FindingQuestion(
            kit=kit, observer=observer, arrival=now, target=pointed.thing, side=_SIGNS[side],
            table=pointed.table, model=model, sky=SkyLight(0.0, 0.0), driven=is_driven(kit),
            horizon=pointed.horizon, start=request.start, with_helps=True, learned=request.learned,
            body=pointed.body,
        ),
        looks,
    )  # fmt: skip
    sight = sight_of(question, looks)
    question = replace(question, planned_eyepiece=sight.eyepiece_index)
    found = finding(question)
    by_day = (FindCaution.CAPS_BY_DAY,) if SunRule.of(kit).sun_is_up(now)[0] else ()
    light = is_light(now, observer)
    if light and (found.first is None or is_drowned(kit, observer, pointed.thing, looks, now)):
        dark = shows_from(kit, observer, pointed.thing, looks, request.at)
        ended = _ended(refused, place, FindEnd.TOO_LIGHT)
        return replace(ended, shows_from=dark, cautions=by_day)
    cautions = (*by_day, FindCaution.HOLD_THE_TUBE, FindCaution.LOOK_BEFORE_TURNING)
    return FindAnswer(
        kit=kit, thing=pointed.thing, at=request.at, refusal=None, ended=None, side=side,
        place=place, choice=pointed.choice, question=question, finding=found,
        model=model, state=axis_state(request.state), driven=question.driven, cautions=cautions,
        sight=sight,
    )  # fmt: skip


def assumed_chance(kit: Kit, request: FindRequest, way: FoundBy) -> float | None:
    """The chance by assumed errors, 0-1, that counted turns or a hop lead to an object; None of
    other ways, and where there is none. What the request learned of is left out."""
    if way not in (FoundBy.STEPS, FoundBy.HOP):
        return None
    try:
        found = find_object(kit, replace(request, learned=None)).finding
    except AxletreeError:
        return None
    if found is None:
        return None
    if way is FoundBy.STEPS:
        return found.steps.by_turns.eyepiece if isinstance(found.steps, Steps) else None
    hopped = found.hop
    if hopped is None or hopped.outcome not in (HopOutcome.HOP, HopOutcome.UNSURE):
        return None
    return hopped.chance


def _side_of(choice: Choice) -> Side | None:
    better = choice.better
    return "east" if better == "east" else "west" if better == "west" else None


def _ended(answer: FindAnswer, place: Positions, end: FindEnd) -> FindAnswer:
    return replace(answer, place=place, ended=end)
