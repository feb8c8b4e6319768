"""What does a program get to know about notes of gaps and what they taught? Keys carry units."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from typing_extensions import TypedDict

from axletree.axis.state import GapNote
from axletree.mount.learned.learn import DimensionLearned, LearnedRig
from axletree.tell.learned.text import learned_words, misfit_words, note_words


class GapData(TypedDict):
    """A gap that was noted, 0 mm for a touch; `object` is '' where the circles tell the pose."""

    at: str
    key: str
    side: str
    object: str
    hour_angle_h: float
    declination_deg: float
    pose_error_deg: float
    gap_mm: float
    error_mm: float
    words: str


class GapUsedData(TypedDict):
    """A note that counts and the two parts that it is taken to be of."""

    note: GapData
    parts: list[str]


class GapMisfitData(TypedDict):
    """A note that was left out: what all else expects, how far it lies off, what may be wrong."""

    note: GapData
    expected_mm: float
    sigma_mm: float
    sigmas: float
    may_be_code: str
    other_key: str | None
    dimension: str | None
    needed: float | None
    words: str


class DimensionLearnedData(TypedDict):
    """A dimension before and after, each in the unit at the end of its key, ± one sigma."""

    key: str
    value_before: float
    sigma_before: float
    value: float
    sigma: float
    words: str


class RigLearnedData(TypedDict):
    """What notes of gaps taught of the rig."""

    used: list[GapUsedData]
    left_out: list[GapMisfitData]
    dimensions: list[DimensionLearnedData]


class GapsData(TypedDict):
    """The answer of `log gaps` and of a note: all notes of this rig, what they teach."""

    notes: list[GapData]
    rig: RigLearnedData | None
    taken_back: bool


def gap_data(note: GapNote, zone: ZoneInfo, units: str) -> GapData:
    """One note."""
    return {
        "at": note.at.isoformat(),
        "key": note.key,
        "side": note.side,
        "object": note.object,
        "hour_angle_h": round(note.hour_angle_h, 5),
        "declination_deg": round(note.declination_deg, 4),
        "pose_error_deg": round(note.pose_error_deg, 3),
        "gap_mm": round(note.gap_mm, 2),
        "error_mm": round(note.error_mm, 2),
        "words": note_words(note, zone, units),
    }


def learned_data(learned: LearnedRig, zone: ZoneInfo, units: str) -> RigLearnedData:
    """What was taught."""
    return {
        "used": [
            {"note": gap_data(one.note, zone, units), "parts": list(one.parts)}
            for one in learned.used
        ],
        "left_out": [
            {
                "note": gap_data(one.note, zone, units),
                "expected_mm": round(one.expected_mm, 1),
                "sigma_mm": round(one.sigma_mm, 1),
                "sigmas": round(one.sigmas, 2),
                "may_be_code": one.may_be.value,
                "other_key": None if one.other is None else one.other.key,
                "dimension": one.dimension,
                "needed": None if one.dimension is None else round(one.needed, 3),
                "words": misfit_words(one, zone, units),
            }
            for one in learned.left_out
        ],
        "dimensions": [dimension_data(one, units) for one in learned.dimensions],
    }


def dimension_data(one: DimensionLearned, units: str) -> DimensionLearnedData:
    """A dimension before and after."""
    return {
        "key": one.name,
        "value_before": round(one.value_before, 3),
        "sigma_before": round(one.sigma_before, 3),
        "value": round(one.value, 3),
        "sigma": round(one.sigma, 3),
        "words": learned_words(one, units),
    }


def gaps_data(
    notes: Sequence[GapNote], learned: LearnedRig | None, zone: ZoneInfo, units: str,
    *, taken_back: bool = False,
) -> GapsData:  # fmt: skip
    """All notes and what they teach."""
    return {
        "notes": [gap_data(note, zone, units) for note in notes],
        "rig": None if learned is None else learned_data(learned, zone, units),
        "taken_back": taken_back,
    }
