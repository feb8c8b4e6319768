"""What is an evening, written down? One immutable document that everything is drawn from.

Made from the evening's typed answer by `tell.evening.data`: figures and codes, and beside them
sentences. Text, paper, phone sheet and calendar file are made from it, so that they cannot
disagree. `json_schema()` is the published schema (docs/evening.schema.json). Names carry
units; moments are ISO 8601 with the site's offset; angles follow the conventions of the sky.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any, Literal

from pydantic import Field

from axletree.evening.night.set_up_pace import TAKE_DOWN_MIN
from axletree.kit.errors import AxletreeError
from axletree.tell.evening.older_sheet import from_older
from axletree.tell.evening.parts.document_part import DocumentPart, code_field, codes_field
from axletree.tell.evening.parts.set_up_facts import (
    BalanceFacts,
    NightFacts,
    NorthFacts,
    OwnMinutesFacts,
    PoleFacts,
    RigFacts,
    RingTurnFacts,
    SiteFacts,
    StageFacts,
)
from axletree.tell.evening.parts.stop_facts import StopFacts
from axletree.tell.eyepiece.forms import HappeningData
from axletree.tell.kit.measure_data import BroughtBackData, DimensionToMeasure
from axletree.tell.learned.data import RigLearnedData
from axletree.tell.satellites.data import SatellitesData
from axletree.tell.special.data import SpecialNightData

EVENING_VERSION: Literal[3] = 3


class DriftFacts(DocumentPart):
    """What one eyepiece shows and how long the sky takes to cross it."""

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    drift_time_s: float = Field(description="celestial equator, across the middle, drive off")


class FollowFacts(DocumentPart):
    """How the slow knob keeps an object in view."""

    seconds_per_knob_turn: float | None = Field(description="None: no knob on the hour axis")
    knob_turns_per_minute: float | None
    eyepieces: tuple[DriftFacts, ...]
    words: tuple[str, ...]


class HappeningFacts(DocumentPart):
    """What happens on a body in the session; `words` without a full stop."""

    happening: HappeningData
    words: str


class GivenUpFacts(DocumentPart):
    """An object that was considered and left out, with the reason."""

    name: str
    reason: str
    reason_code: str | None = Field(
        default=None, description="as a code; None: the sheet was older"
    )


EmptyBecause = Literal["no session", "session over", "clouds", "nothing fits", "nothing left"]


class OrderFacts(DocumentPart):
    """How good the order is, honestly; of an order without stops, why it has none."""

    method: str
    proven_best: bool
    gap_percent: float | None
    words: str
    empty_because: EmptyBecause | None = Field(default=None, description="None: there are stops")
    ended_by: str | None = code_field()
    idle_from: datetime | None = Field(
        default=None, description="None: the last stop ends with the session"
    )
    could_follow: tuple[str, ...] = Field(
        default=(), description="what could be shown after the last stop"
    )


class ChildrenFacts(DocumentPart):
    """Until when the children are there, stops that end by then, later ones for the patient."""

    until: datetime
    stops: int
    later: tuple[str, ...]
    words: str


class StateFacts(DocumentPart):
    """The notes of this mount by which its circles are told: the evening of the latest, its moment.

    `measurements` of that evening; `stands_since`: the evening of the axis where the mount was left
    standing.
    """

    evening: date
    at: datetime
    measurements: int
    stands_since: date | None


class Evening(DocumentPart):
    """The whole evening."""

    format: Literal["axletree evening"] = "axletree evening"
    version: Literal[3] = EVENING_VERSION
    date: date
    made_at: datetime
    place: SiteFacts
    rig: RigFacts
    units: Literal["metric", "us"]
    visitors: int
    darkness: NightFacts
    north: NorthFacts
    pole: PoleFacts
    balance: BalanceFacts
    follow: FollowFacts
    ring_turn: RingTurnFacts | None = Field(description="None: nothing can be turned, or no stops")
    stages: tuple[StageFacts, ...]
    stops: tuple[StopFacts, ...]
    order: OrderFacts
    given_up: tuple[GivenUpFacts, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    caution_codes: tuple[str, ...] | None = codes_field()
    notes: tuple[str, ...]
    happenings: tuple[HappeningFacts, ...] | None = Field(
        default=None,
        description="what begins or ends in the session on bodies with a stop; None: older sheet",
    )
    ways_words: str = Field(default="", description="what holds for the turns to every stop")
    state: StateFacts | None = Field(
        default=None, description="None: the circles are those of a perfect mount"
    )
    special: tuple[SpecialNightData, ...] = Field(
        default=(), description="eclipses, meetings, meteors; none in an older sheet"
    )
    satellites: SatellitesData | None = Field(
        default=None, description="None: the kit names none, no session, or an older sheet"
    )
    measure_first: tuple[DimensionToMeasure, ...] = Field(
        default=(), description="what makes tonight's rooms surer; none in an older sheet"
    )
    brings_back: BroughtBackData | None = Field(
        default=None,
        description="what, measured, lets in again what may touch too probably; None: nothing",
    )
    rig_learned: RigLearnedData | None = Field(
        default=None, description="what notes of gaps taught of the rig; None without any"
    )
    children: ChildrenFacts | None = Field(
        default=None, description="None: the kit names no end of their evening"
    )
    tonight: str = Field(default="", description="the great ones of them, for the first lines")
    own_minutes: tuple[OwnMinutesFacts, ...] = Field(
        default=(), description="setting up and taking down by one's own notes; (): none"
    )
    take_down_min: float = Field(
        default=TAKE_DOWN_MIN, description="how long taking down usually takes"
    )
    stop_sign: str = Field(
        default="", description="why this rig must not be set up as it is, before all else"
    )


def json_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of the document."""
    schema = Evening.model_json_schema(mode="serialization")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"axletree:evening:{EVENING_VERSION}",
        **schema,
    }


def evening_json(evening: Evening) -> str:
    """The document as JSON text."""
    return evening.model_dump_json(indent=2)


def read_evening(text: str) -> Evening:
    """The document back from its JSON, of any version; refuses what the schema refuses."""
    try:
        raw = json.loads(text)
        if isinstance(raw, dict) and raw.get("version") in (1, 2):
            text = json.dumps(from_older(raw))
    except (AxletreeError, KeyError, TypeError, ValueError, OverflowError, RecursionError):
        pass  # the schema says in its own words what is wrong
    return Evening.model_validate_json(text)
