"""What is being shown now, what comes next, and when is somebody's turn likely?

For those who look on, and for a board on the table: the leader's evening, as they may know it.
"""

from __future__ import annotations

import json
from datetime import datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, WholeDesk, moment_of
from axletree.app.answers.night.evening import evening
from axletree.app.state import Desk
from axletree.evening.hosting.pace import TALK_MIN, look_factor
from axletree.evening.hosting.turn import Queue, likely_turn
from axletree.sky.observer import observer_of
from axletree.sky.positions.ephemeris import BODIES
from axletree.sky.positions.light_time import light_time_s
from axletree.sky.time.instants import Instants
from axletree.tell.sayings.text import light_years_of

router = APIRouter(prefix="/answer")
MOST_BEFORE = 500
MOST_NEXT = 3
# What a board tells of a stop; nothing of the mount, which is the host's.
_TOLD = ("name", "also_called", "kind", "constellation", "begin", "end", "promised", "sayings")


@router.get("/shown")
def shown(
    desk: WholeDesk,
    seen: OnDesk,
    at: str | None = None,
    before: Annotated[int | None, Query(ge=0, le=MOST_BEFORE)] = None,
) -> dict[str, Any]:
    """The evening as a visitor needs it; `before`: how many stand in front of who asks."""
    told = json.loads(bytes(evening(desk, seen, None, at).body))
    now = moment_of(seen, at)
    ticked = {t["key"] for t in told["ticked"]}
    over = told["over_from"] is not None and now >= datetime.fromisoformat(told["over_from"])
    stops = [] if over else [s for s in told["stops"] if s["catalogue_id"] not in ticked]
    leader = desk.seats.leader
    return {
        "date_words": told["date_words"],
        "stops": [_stop(seen, s) for s in stops[: 1 + MOST_NEXT]],
        "to_come": len(stops),
        "shown": [t["name"] for t in told["ticked"] if t["state"] == "done"],
        "setting_up": bool(told["stages"]) and not ticked and _before(now, stops),
        "session": told["session"],
        "turn": None if before is None else _turn(seen, stops, now, before),
        "visitors": seen.kit.habits.visitors,
        "light": leader.light if leader else "",
    }


def _before(now: datetime, stops: list[dict[str, Any]]) -> bool:
    return bool(stops) and now < datetime.fromisoformat(stops[0]["begin"])


def _stop(seen: Desk, stop: dict[str, Any]) -> dict[str, Any]:
    eyepiece = stop["eyepiece"] or {}
    key = stop["catalogue_id"]
    light_s = None
    if key in BODIES:
        begin = Instants.from_datetime(datetime.fromisoformat(stop["begin"]))
        light_s = round(light_time_s(key, begin, observer_of(seen.kit.site)), 1)
    return {
        **{name: stop[name] for name in _TOLD},
        "key": key,
        "look_for": eyepiece.get("words", []),
        "glance": stop["visibility"],
        "magnification": stop["view"]["magnification"],
        "light_years": light_years_of(stop["name"]),
        "light_s": light_s,
    }


def _turn(
    seen: Desk, stops: list[dict[str, Any]], now: datetime, before: int
) -> dict[str, Any] | None:
    habits = seen.kit.habits
    talk_s = 60.0 * (TALK_MIN if habits.talk_min is None else habits.talk_min)

    def since(iso: str) -> float:
        return (datetime.fromisoformat(iso) - now).total_seconds()

    queues = [
        Queue(since(s["begin"]), since(s["end"]), talk_s,
              habits.seconds_per_visitor * look_factor(s["margin_mag"] or 0.0))
        for s in stops
    ]  # fmt: skip
    found = likely_turn(queues, 0.0, before)
    if found is None:
        return None
    return {
        "name": stops[found.stop]["name"], "first": found.stop == 0,
        "in_s": round(found.at_s, 0), "sigma_s": round(found.sigma_s, 0),
    }  # fmt: skip
