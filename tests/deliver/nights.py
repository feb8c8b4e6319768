"""Evenings for the tests of what is delivered, each planned once."""

from __future__ import annotations

from datetime import UTC, date, datetime
from functools import cache

from axletree.commands.common import observer_of
from axletree.deliver.field_sheet import field_sheet
from axletree.evening.plan import Planned, plan_whole
from axletree.evening.tables import NightTables, night_tables
from axletree.kit.kit import Kit, demo_kit, demo_text

MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)
DAY = date(2026, 12, 5)
# A night with the Moon among the stops, for tracks that are not those of stars.
MOON_DAY = date(2026, 11, 25)


@cache
def kit_of(name: str) -> Kit:
    return demo_kit(name)


@cache
def planned_of(name: str, day: date = DAY) -> Planned:
    kit = kit_of(name)
    return plan_whole(kit, observer_of(kit.site), day, made_at=MADE_AT, effort="quick")


@cache
def tables_of(name: str, day: date = DAY) -> NightTables:
    kit = kit_of(name)
    return night_tables(kit, observer_of(kit.site), planned_of(name, day))


@cache
def sheet_of(name: str, day: date = DAY) -> bytes:
    planned = planned_of(name, day)
    return field_sheet(
        planned.evening, tables_of(name, day), planned.ground.table, kit_toml=demo_text(name)
    )
