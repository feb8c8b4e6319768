"""Which form has each stage's JSON? One JSON Schema a stage, published under docs/schemas."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from axletree.kit.errors import AxletreeError
from axletree.tell.balance.data import BalanceData
from axletree.tell.calendar.data import CalendarData
from axletree.tell.check.forms import CheckData, TurnedData
from axletree.tell.enough.data import EnoughData
from axletree.tell.find.data import FindData
from axletree.tell.follow.data import FollowData
from axletree.tell.kit.data import KitCheckData
from axletree.tell.kit.measure_data import KitMeasureData
from axletree.tell.level.data import LevelData
from axletree.tell.log.data import EveningsData, LearnedBoltsData
from axletree.tell.north.data import NorthData
from axletree.tell.objects.data import BestNightsData, ObjectsData
from axletree.tell.place.data import PlaceData
from axletree.tell.point.data import PointData, TooNearTheSun
from axletree.tell.pole.forms import PoleData
from axletree.tell.room.data import RoomData
from axletree.tell.spot.data import SpotData
from axletree.tell.where.data import WhereData

# The stages whose answers a program may read, in the order of the job.
FORMS: dict[str, Any] = {
    "kit-check": KitCheckData,
    "kit-measure": KitMeasureData,
    "place": PlaceData,
    "where": WhereData,
    "spot": SpotData,
    "level": LevelData,
    "balance": BalanceData,
    "follow": FollowData | TooNearTheSun,
    "north": NorthData,
    "pole": PoleData,
    "enough": EnoughData,
    "check": CheckData,
    "check-turned": TurnedData,
    "point": PointData | TooNearTheSun,
    "room": RoomData,
    "find": FindData,
    "objects": ObjectsData,
    "objects-best-nights": BestNightsData,
    "calendar": CalendarData,
    "log": EveningsData,
    "log-bolts": LearnedBoltsData,
}


def stage_schema(name: str) -> dict[str, Any]:
    """JSON Schema (2020-12) of what `axletree NAME --json` prints."""
    if name not in FORMS:
        raise AxletreeError(f"'{name}' has no form; there are {', '.join(FORMS)}")
    schema: dict[str, Any] = TypeAdapter(FORMS[name]).json_schema(mode="serialization")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"axletree {name.replace('-', ' ')} --json",
        **{key: value for key, value in schema.items() if key != "title"},
    }
