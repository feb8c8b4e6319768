"""What does a program get to know about the room of both tube sides? Keys carry units."""

from __future__ import annotations

from typing import Literal, NotRequired

from typing_extensions import TypedDict

from axletree.mount.room.choice import Choice
from axletree.stages.target.room import RoomAnswer, RoomObject
from axletree.tell.learned.data import RigLearnedData, learned_data
from axletree.tell.point.cautions_text import NEVER_AT_THE_SUN
from axletree.tell.room.text import caution_words, reason_words
from axletree.tell.shared.guessed import guessed_of_rig
from axletree.tell.shared.skyline_data import UnknownSkyline, unknown_skyline
from axletree.tell.side.text import end_words


class ShareData(TypedDict):
    """Shares of the open sky by solid angle, 0 to 1."""

    east: float
    west: float
    either: float
    both: float
    weights_down: float


class StretchData(TypedDict):
    """Between two hour angles one side can follow; `ends` is a code, `why` a sentence's end."""

    side: str
    declination_deg: float
    from_hour_angle_h: float
    to_hour_angle_h: float
    ends: str
    why: str


class SideInShort(TypedDict):
    """One tube side: can it be used, for how long (null: all night), what ends it."""

    side: str
    usable: bool
    room_s: float | None
    ends: str
    ends_code: str


class NamedData(TypedDict):
    """One named object: where it stands, the better side and its reason, the room of both."""

    object: str
    hour_angle_h: float
    declination_deg: float
    better_side: str | None
    reason: str
    reason_code: str
    sides: list[SideInShort]


class NamedNearTheSun(TypedDict):
    """One named object that stands too near the Sun, by so much."""

    object: str
    at: str
    better_side: None
    sun_code: str
    sun_distance_deg: float
    cautions: list[str]
    reason: str


class RoomStateData(TypedDict):
    """The notes by which the rig stands on its real axes: the evening of the latest, its moment."""

    evening: str
    at: str


class RoomData(TypedDict):
    """The answer of `axletree room`; cautions as codes and, in the same order, as sentences."""

    version: Literal[1]
    share_of_open_sky: ShareData
    margin_mm: float
    lowest_altitude_deg: float
    stretches: list[StretchData]
    guessed: list[str]
    skyline_unknown: list[UnknownSkyline]
    objects: list[NamedData | NamedNearTheSun]
    caution_codes: list[str]
    cautions: list[str]
    state: NotRequired[RoomStateData]
    rig_learned: NotRequired[RigLearnedData]


def room_data(answer: RoomAnswer) -> RoomData:
    """The answer for programs."""
    kit, share = answer.kit, {k: round(v, 4) for k, v in answer.shares.items()}
    data: RoomData = {
        "version": 1,
        "share_of_open_sky": {
            "east": share["east"],
            "west": share["west"],
            "either": share["either"],
            "both": share["both"],
            "weights_down": share["weights_down"],
        },
        "margin_mm": kit.habits.clearance_margin_mm,
        "lowest_altitude_deg": kit.habits.lowest_altitude_deg,
        "stretches": [
            {
                "side": r.side,
                "declination_deg": r.declination_deg,
                "from_hour_angle_h": round(r.from_h, 4),
                "to_hour_angle_h": round(r.to_h, 4),
                "ends": r.ends.by.key,
                "why": end_words(r.ends),
            }
            for r in answer.stretches
        ],
        "guessed": guessed_of_rig(kit),
        "skyline_unknown": unknown_skyline(answer.horizon),
        "objects": [_named(named, answer) for named in answer.objects],
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
    }
    if answer.state is not None:
        data["state"] = {
            "evening": answer.state.evening.isoformat(),
            "at": answer.state.at.isoformat(),
        }
    if answer.learned is not None:
        data["rig_learned"] = learned_data(answer.learned, kit.site.zone, kit.habits.units)
    return data


def sides_data(choice: Choice) -> list[SideInShort]:
    """Both tube sides in short."""
    return [
        {
            "side": side.side,
            "usable": side.usable,
            "room_s": None if side.endless else round(side.room_s, 1),
            "ends": end_words(side.ends),
            "ends_code": side.ends.by.key,
        }
        for side in choice.sides
    ]


def _named(named: RoomObject, answer: RoomAnswer) -> NamedData | NamedNearTheSun:
    units, choice = answer.kit.habits.units, named.choice
    if choice is None:
        assert named.refusal is not None
        return {
            "object": named.thing.name,
            "at": answer.at.isoformat(),
            "better_side": None,
            "sun_code": named.refusal.code,
            "sun_distance_deg": round(named.refusal.separation_deg, 2),
            "cautions": [NEVER_AT_THE_SUN],
            "reason": reason_words(named, units),
        }
    return {
        "object": named.thing.name,
        "hour_angle_h": round(choice.hour_angle_h, 6),
        "declination_deg": round(choice.declination_deg, 6),
        "better_side": choice.better or None,
        "reason": reason_words(named, units),
        "reason_code": choice.reason.value,
        "sides": sides_data(choice),
    }
