"""What do the hands do all evening, step by step: the rig built, its axis set, every turn made?

The evening's own answer in, a row of steps out, each with where the axes stand when it begins and
when it ends. Between two stops the axes turn as `mount.clearance.paths` turns them: one lock after
the other, weights kept low, the tube by way of the elevated pole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from enum import Enum

from axletree.evening.night.set_up_times import StageTime, seconds_between
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.set_up import WeightPlace
from axletree.evening.stops.stop import Stop
from axletree.kit.frozen import dataclass
from axletree.mount.rig.parts import Rig
from axletree.mount.room.table import RoomTable
from axletree.pole.aim.scale import scale_setting
from axletree.pole.aim.target import pole_target
from axletree.pole.correct.bolts import AxisError, BoltMoves, BoltStep, bolt_moves
from axletree.pole.enough.of_kit import rough_of_kit
from axletree.pole.enough.rough import RoughAlignment
from axletree.sky.time.nights import later
from axletree.stages.night.rehearsed_turns import REST, AxesStand, Lock, OpenLockTurn, Turning
from axletree.stages.night.rig_built import BuiltLeg, RigBuilt


class Act(Enum):
    """What is done in one step."""

    ARRIVE = "arrive"
    SPOT = "spot"
    LEG = "leg"
    HEAD = "head"
    WEIGHT = "weight"
    TUBE = "tube"
    FREE = "free"
    FINDER = "finder"
    SCALE = "scale"
    BOLT = "bolt"
    CHECK = "check"
    COOL = "cool"
    TURN = "turn"
    LOOK = "look"
    FOLLOW = "follow"
    TUBE_OFF = "tube_off"
    WEIGHTS_OFF = "weights_off"


@dataclass(frozen=True)
class FreedLock:
    """An axis set free to see that it stays where it is, its lever level."""

    lock: Lock


Detail = BuiltLeg | WeightPlace | FreedLock | BoltStep | OpenLockTurn | None


@dataclass(frozen=True)
class RehearsedStep:
    """One step of the hands.

    `key` names it within the evening ('turn-3-1'). `built`: so many groups of the rig's parts stand
    (`RigBuilt.group`), `marked` are rows of those that it is about. `stage` of the set-up or `stop`
    that it belongs to; `first`: it is that stage's or stop's first. `detail`: what is turned, put
    on or set.
    """

    key: str
    act: Act
    begin: datetime
    end: datetime
    start: AxesStand
    finish: AxesStand
    built: int
    marked: tuple[int, ...] = ()
    stage: StageTime | None = None
    stop: Stop | None = None
    first: bool = False
    detail: Detail = None


@dataclass(frozen=True)
class Rehearsal:
    """All steps of an evening in their order, () without a session; the rig that makes them.

    `rough`: what compass, level and scale may leave of the axis' error, one standard deviation;
    `moves`: the bolts' turns that take just so much away. `deg_per_s`: how fast a hand turns.
    """

    evening: EveningAnswer
    rig: Rig
    built: RigBuilt
    steps: tuple[RehearsedStep, ...]
    rough: RoughAlignment
    moves: BoltMoves
    deg_per_s: float


@dataclass(frozen=True)
class RehearsalRequest:
    """An evening as it stands: its answer, all its stops in their order, the rig's room.

    Without a session there is nothing to rehearse.
    """

    evening: EveningAnswer
    stops: tuple[Stop, ...]
    table: RoomTable


def rehearsal(request: RehearsalRequest) -> Rehearsal:
    """The steps of the evening, from the first leg to the last weight."""
    return _Rehearsing(request).whole()


@dataclass(frozen=True)
class _Shown:
    """One step before it has its time: its act, where the axes get to, what it is about."""

    act: Act
    finish: AxesStand
    built: int
    marked: tuple[int, ...] = ()
    detail: Detail = None
    part: float = 1.0  # of the time of its stage


class _Rehearsing:
    """The rig as the steps leave it, one after the other."""

    def __init__(self, request: RehearsalRequest) -> None:
        self._asked = request
        self._evening = evening = request.evening
        kit, target = evening.kit, pole_target(evening.observer)
        setting = scale_setting(kit.mount.bolts, target)
        magnetic_deg = evening.set_up.north.field.declination_sigma_deg
        self._rough = rough = rough_of_kit(kit, target, setting, magnetic_deg)
        left = AxisError(-rough.high_sigma_arcmin, -rough.east_sigma_arcmin)
        self._moves = bolt_moves(kit.mount.bolts, left, target.altitude_deg)
        self._rig = request.table.rig
        self._built = RigBuilt.of(self._rig)
        self._turning = Turning.of(request.evening, request.table)
        self._stands, self._there = REST, 0
        self._steps: list[RehearsedStep] = []

    def whole(self) -> Rehearsal:
        evening, asked = self._evening, self._asked
        stops = [replace(stop, number=k + 1) for k, stop in enumerate(asked.stops)]
        blocks: list[StageTime | Stop] = [*evening.stages, *stops]
        for block in sorted(blocks, key=lambda b: b.begin.timestamp()):
            if isinstance(block, Stop):
                self._stop(block)
            else:
                self._stage(block)
        if self._steps and evening.session is not None:
            self._take_down(max(evening.session.end, self._steps[-1].end, key=datetime.timestamp))
        return Rehearsal(
            evening, self._rig, self._built, tuple(self._steps), self._rough, self._moves,
            self._turning.hour_deg_per_s,
        )  # fmt: skip

    # -- setting up -------------------------------------------------------------------------

    def _stage(self, stage: StageTime) -> None:
        shown = {
            "level": self._legs, "north": self._head, "balance": self._load, "pole": self._bolts,
        }.get(stage.name, lambda: [self._still(Act(stage.name))])()  # fmt: skip
        whole_s = seconds_between(stage.begin, stage.end) / sum(one.part for one in shown)
        begin = stage.begin
        for number, one in enumerate(shown):
            end = later(begin, whole_s * one.part)
            key = f"{stage.name}-{number + 1}" if len(shown) > 1 else stage.name
            self._add(
                key, (begin, end), one, replace(_NO_STEP, stage=stage, first=number == 0)
            )  # fmt: skip
            begin = end

    def _still(self, act: Act) -> _Shown:
        return _Shown(act, self._stands, self._there)

    def _legs(self) -> list[_Shown]:
        return [
            _Shown(Act.LEG, REST, k + 1, leg.rows, leg) for k, leg in enumerate(self._built.legs)
        ]

    def _head(self) -> list[_Shown]:
        return [_Shown(Act.HEAD, REST, self._built.with_head, self._built.head_rows)]

    def _load(self) -> list[_Shown]:
        built, made = self._built, self._evening.set_up.balance
        weights = [
            _Shown(Act.WEIGHT, REST, built.with_head + k + 1, (row,), place)
            for k, (row, place) in enumerate(zip(built.weight_rows, made.weights, strict=False))
        ]
        level_shaft, level_tube = self._turning.level_poses()
        whole = built.whole
        home = self._turning.way(level_tube, REST, None)
        return [
            *weights,
            _Shown(Act.TUBE, REST, whole, built.tube_rows),
            _Shown(Act.FREE, level_shaft, whole, (), FreedLock(Lock.HOUR)),
            _Shown(Act.FREE, level_tube, whole, (), FreedLock(Lock.DECLINATION)),
            *(_Shown(Act.TURN, turn.finish, whole, detail=turn, part=0.2) for turn in home),
        ]

    def _bolts(self) -> list[_Shown]:
        """The scale set, then the bolts' turns that take away what compass and scale may leave."""
        moves = self._moves
        off = replace(
            self._stands, raise_deg=-moves.raise_deg, move_east_deg=-moves.move_east_deg
        )  # fmt: skip
        shown = [_Shown(Act.SCALE, off, self._there)]
        steps = moves.steps
        for number, step in enumerate(steps):
            if step in moves.altitude_steps:
                off = replace(off, raise_deg=0.0)
            elif number == len(steps) - 1:  # of a pair the head moves with the bolt that pushes
                off = replace(off, move_east_deg=0.0)
            shown.append(_Shown(Act.BOLT, off, self._there, detail=step))
        return shown

    # -- at the eyepiece --------------------------------------------------------------------

    def _stop(self, stop: Stop) -> None:
        start, finish = self._turning.poses_of(stop)
        turns = self._turning.way(self._stands, start, stop)
        seconds = [turn.seconds for turn in turns]
        begin = later(stop.begin, -sum(seconds))
        belongs = replace(_NO_STEP, stop=stop)
        for number, (turn, lasts) in enumerate(zip(turns, seconds, strict=True)):
            shown = _Shown(Act.TURN, turn.finish, self._there, self._rows(turn.too_near), turn)
            self._add(
                f"turn-{stop.number}-{number + 1}", (begin, later(begin, lasts)),
                shown, replace(belongs, first=number == 0),
            )  # fmt: skip
            begin = later(begin, lasts)
        self._add(
            f"look-{stop.number}", (stop.begin, stop.begin), self._still(Act.LOOK),
            replace(belongs, first=not turns),
        )  # fmt: skip
        doubt = stop.chosen.doubt
        touches = doubt.parts if doubt is not None and doubt.matters(stop.queue_s) else ()
        followed = _Shown(Act.FOLLOW, finish, self._there, self._rows(touches))
        self._add(f"follow-{stop.number}", (stop.begin, stop.end), followed, belongs)

    def _take_down(self, begin: datetime) -> None:
        turns = self._turning.way(self._stands, REST, None)
        for number, turn in enumerate(turns):
            end = later(begin, turn.seconds)
            shown = _Shown(Act.TURN, turn.finish, self._there, (), turn)
            self._add(f"home-{number + 1}", (begin, end), shown,
                      replace(_NO_STEP, first=number == 0))  # fmt: skip
            begin = end
        built = self._built
        for act, left in ((Act.TUBE_OFF, built.whole - 1), (Act.WEIGHTS_OFF, built.with_head)):
            self._add(act.value, (begin, begin), _Shown(act, REST, left), _NO_STEP)

    # -- all --------------------------------------------------------------------------------

    def _rows(self, names: Sequence[str]) -> tuple[int, ...]:
        return tuple(k for k, name in enumerate(self._rig.names) if name in names)

    def _add(
        self, key: str, times: tuple[datetime, datetime], shown: _Shown, belongs: RehearsedStep
    ) -> None:
        self._steps.append(
            replace(
                belongs, key=key, act=shown.act, begin=times[0], end=times[1], start=self._stands,
                finish=shown.finish, built=shown.built, marked=shown.marked, detail=shown.detail,
            )
        )  # fmt: skip
        self._stands, self._there = shown.finish, shown.built


_NO_STEP = RehearsedStep("", Act.ARRIVE, datetime.min, datetime.min, REST, REST, 0)
