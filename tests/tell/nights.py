"""Evenings for the tests of what is delivered, each planned once."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import cache

from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.evening.sheet.tables import NightTables, night_tables
from axletree.kit.kit import Kit, demo_kit, demo_text
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import pointing_known
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening
from axletree.tell.field_sheet.field_sheet import field_sheet

MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)
DAY = date(2026, 12, 5)
HOSTILE = "</script><img src=x onerror=alert(1)>'\"`{{7*7}}&amp;\u202eRTL\u2066"
# A night with the Moon among the stops, for tracks that are not those of stars.
MOON_DAY = date(2026, 11, 25)


@cache
def kit_of(name: str) -> Kit:
    return demo_kit(name)


@cache
def planned_of(name: str, day: date = DAY) -> Planned:
    kit = kit_of(name)
    return plan_whole(
        kit, observer_of(kit.site), EveningRequest(day, made_at=MADE_AT, effort="quick")
    )


@cache
def found_of(name: str, day: date = DAY) -> Planned:
    """The same with what is known of the axis: errors of the circles, ways to each object."""
    kit = kit_of(name)
    asked = EveningRequest(
        day, made_at=MADE_AT, effort="quick", pointing=pointing_known(kit, None, MADE_AT)
    )
    return plan_whole(kit, observer_of(kit.site), asked)


@cache
def tables_of(name: str, day: date = DAY) -> NightTables:
    kit = kit_of(name)
    return night_tables(kit, observer_of(kit.site), planned_of(name, day))


@cache
def sheet_of(name: str, day: date = DAY) -> bytes:
    planned = planned_of(name, day)
    return field_sheet(
        evening_document(planned.evening),
        tables_of(name, day),
        planned.ground.table,
        kit_toml=demo_text(name),
    )


def planned_by(name: str) -> Planned:
    """The evening of a sheet by the short name of its file: north, south or moon."""
    days = {"moon": ("courtyard", MOON_DAY), "south": ("paddock", DAY), "north": ("courtyard", DAY)}
    return planned_of(*days[name])


def in_stop(planned: Planned, number: int, after_s: float = 60.0) -> datetime:
    """A moment within a stop, counted from 1."""
    return planned.evening.stops[number - 1].begin + timedelta(seconds=after_s)


def hostile_evening() -> Evening:
    """The evening with every word that a person can write being a trap."""
    evening = evening_document(planned_of("courtyard").evening)
    stops = tuple(
        stop.model_copy(update={"name": f"{HOSTILE} {stop.number}", "also_called": (HOSTILE,),
                                "why": HOSTILE, "cautions": tuple(HOSTILE for _ in stop.cautions),
                                "turn_warnings": tuple(HOSTILE for _ in stop.turn_warnings)})
        for stop in evening.stops
    )  # fmt: skip
    stages = tuple(
        s.model_copy(update={"answer": HOSTILE, "cautions": tuple(HOSTILE for _ in s.cautions)})
        for s in evening.stages
    )
    return evening.model_copy(
        update={
            "stops": stops,
            "stages": stages,
            "place": evening.place.model_copy(update={"name": HOSTILE}),
            "rig": evening.rig.model_copy(update={"kit_name": HOSTILE, "tube": HOSTILE}),
            "cautions": tuple(HOSTILE for _ in evening.cautions),
            "assumptions": tuple(HOSTILE for _ in evening.assumptions),
        }
    )


def hostile_sheet() -> bytes:
    return field_sheet(hostile_evening(), tables_of("courtyard"),
                       planned_of("courtyard").ground.table, kit_toml=HOSTILE)  # fmt: skip


def bright_sheet() -> bytes:
    """A night at 69 degrees north in June: no darkness, no stages, no stops."""
    kit = kit_of("courtyard")
    place = {"latitude_deg": 69.0, "longitude_deg": 18.0, "time_zone": "Europe/Oslo"}
    kit = kit.model_copy(update={"site": kit.site.model_copy(update=place)})
    observer = observer_of(kit.site)
    planned = plan_whole(
        kit, observer, EveningRequest(date(2026, 6, 21), made_at=MADE_AT, effort="quick")
    )
    tables = night_tables(kit, observer, planned)
    return field_sheet(evening_document(planned.evening), tables, planned.ground.table, kit_toml="")
