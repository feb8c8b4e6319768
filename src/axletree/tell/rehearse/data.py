"""What does a page need to play an evening through, and a program to know of it?"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from typing_extensions import TypedDict

from axletree.evening.stops.stop import Nudge, NudgeDirection, Stop
from axletree.pole.correct.bolts import BoltStep
from axletree.stages.night.rehearsal import Act, FreedLock, Rehearsal, RehearsedStep
from axletree.stages.night.rehearsed_turns import AxesStand, OpenLockTurn, turned_by_keys
from axletree.tell.evening.stop_data import stop_facts
from axletree.tell.rehearse.text import chapter_words, nothing_words, rehearsed_words
from axletree.tell.shared.rig_data import rig_data
from axletree.tell.side.doubt_data import RoomDoubtData


class AxesStandData(TypedDict):
    """Where the axes stand, and how far the polar axis is above and east of the pole."""

    tube_end_h: float
    swing_deg: float
    raise_deg: float
    move_east_deg: float


class RehearsedEyeData(TypedDict):
    """Where the eye goes: `stance_code` and the height of the stool that it takes."""

    height_mm: float
    stance_code: str
    stool_mm: float


class RehearsedRoomData(TypedDict):
    """The stop's time and its room; `room_ends` null: nothing ends it."""

    begin: str
    end: str
    room_ends: str | None
    doubt: RoomDoubtData | None


class RehearsedStepData(TypedDict):
    """One step: what is done between which two standings, by which lock, and what it is called.

    `driven`: the motor turns the axis, both locks shut. `knob`: of a stop that is followed by hand,
    how much the hour knob is turned, how often.
    `plays_s`: how long a hand takes of it; null of what only waits. `built`: so many groups of the
    rig stand. `marked`: rows of its parts that the step is about. `bolt`: code, turns and sense.
    """

    key: str
    act: str
    chapter: str
    begin: str
    end: str
    start: AxesStandData
    finish: AxesStandData
    plays_s: float | None
    built: int
    marked: list[int]
    touches: bool
    shown: bool
    lock: str | None
    driven: bool
    bolt: dict[str, Any] | None
    knob: dict[str, Any] | None
    eye: RehearsedEyeData | None
    room: RehearsedRoomData | None
    title: str
    done: list[str]
    hold: str
    beware: list[str]


class RehearsalData(TypedDict):
    """A whole evening to be played; `nothing` says why there is none, '' where there is one.

    `group`: of each part of the rig, with which group of parts it is put on, counted from 1.
    """

    version: int
    date: str
    nothing: str
    units: str
    rig: dict[str, Any]
    group: list[int]
    eye_height_min_mm: float
    eye_height_max_mm: float
    steps: list[RehearsedStepData]


def rehearsal_data(whole: Rehearsal) -> RehearsalData:
    """The answer for pages and programs."""
    habits = whole.evening.kit.habits
    return {
        "version": 1,
        "date": whole.evening.day.isoformat(),
        "nothing": nothing_words(whole),
        "units": habits.units,
        "rig": rig_data(whole.rig),
        "group": list(whole.built.group),
        "eye_height_min_mm": habits.eye_height_min_mm,
        "eye_height_max_mm": habits.eye_height_max_mm,
        "steps": [_step(whole, step) for step in whole.steps],
    }


def _step(whole: Rehearsal, step: RehearsedStep) -> RehearsedStepData:
    words, detail = rehearsed_words(whole, step), step.detail
    turn = detail if isinstance(detail, OpenLockTurn) else None
    stop = step.stop if step.act in (Act.LOOK, Act.FOLLOW) else None
    return {
        "key": step.key,
        "act": step.act.value,
        "chapter": chapter_words(step),
        "begin": _iso(step.begin),
        "end": _iso(step.end),
        "start": _standing(step.start),
        "finish": _standing(step.finish),
        "plays_s": None if turn is None else turn.seconds,
        "built": step.built,
        "marked": list(step.marked),
        "touches": step.act in (Act.TURN, Act.FOLLOW),
        # Past a Sun that is up no way is drawn.
        "shown": turn is None or not turn.near_sun,
        "lock": detail.lock.value if isinstance(detail, OpenLockTurn | FreedLock) else None,
        "driven": turn is not None and turned_by_keys(whole.evening.kit.mount.motor, turn.lock),
        "bolt": _bolt(detail) if isinstance(detail, BoltStep) else None,
        "knob": _knob(stop.nudge) if step.act is Act.FOLLOW and stop is not None else None,
        "eye": None if stop is None else _eye(stop),
        "room": None if stop is None else _room(stop, whole.evening.kit.habits.units),
        "title": words.title,
        "done": list(words.done),
        "hold": words.hold,
        "beware": list(words.beware),
    }


def _standing(standing: AxesStand) -> AxesStandData:
    return {
        "tube_end_h": round(standing.tube_end_h, 4),
        "swing_deg": round(standing.swing_deg, 3),
        "raise_deg": round(standing.raise_deg, 4),
        "move_east_deg": round(standing.move_east_deg, 4),
    }


def _bolt(step: BoltStep) -> dict[str, Any]:
    return {
        "code": step.bolt.value, "action_code": step.verb.value, "turns": round(step.turns, 3),
        "clockwise": step.clockwise,
    }  # fmt: skip


def _knob(nudge: Nudge) -> dict[str, Any] | None:
    if nudge.every_s is None or not nudge.knob_turns:
        return None
    return {
        "turns": round(nudge.knob_turns, 4), "every_s": round(nudge.every_s, 1),
        "clockwise": nudge.direction is NudgeDirection.CLOCKWISE,
    }  # fmt: skip


def _eye(stop: Stop) -> RehearsedEyeData:
    posture = stop.view.posture
    return {
        "height_mm": round(stop.view.height_mm, 1),
        "stance_code": posture.stance.value,
        "stool_mm": posture.stool_mm,
    }


def _room(stop: Stop, units: str) -> RehearsedRoomData:
    facts = stop_facts(stop, units).chosen
    ends = stop.chosen.room_ends
    return {
        "begin": _iso(stop.begin),
        "end": _iso(stop.end),
        "room_ends": None if ends is None else _iso(ends),
        "doubt": facts.doubt,
    }


def _iso(moment: datetime) -> str:
    return moment.replace(microsecond=0).isoformat()
