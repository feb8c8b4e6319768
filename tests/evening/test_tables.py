"""The phone's tables, against ERFA's own sidereal time and against the machine minute by minute."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from itertools import pairwise

import erfa
import numpy as np
import pytest

from axletree.evening.order.moving import handling_of, moving
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.evening.sheet.tables import MOST_SAMPLES, NightTables, night_tables
from axletree.evening.stops.room_ahead import openings_of
from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.habits import Break
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.table import room, room_end
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.tell.field_sheet.tables_data import tables_data

MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)


def kit_with(**habits: object) -> Kit:
    kit = demo_kit("courtyard")
    return kit.model_copy(update={"habits": kit.habits.model_copy(update=habits)})


@cache
def night_of(name: str, day: date) -> tuple[Kit, Planned, NightTables]:
    kit = demo_kit(name)
    observer = observer_of(kit.site)
    planned = plan_whole(kit, observer, EveningRequest(day, made_at=MADE_AT, effort="quick"))
    return kit, planned, night_tables(kit, observer, planned)


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_the_sidereal_clock_begins_where_erfa_says(name: str) -> None:
    """Local apparent sidereal time: GAST (IAU 2006/2000A) by ERFA's gst06a plus the longitude."""
    kit, _, tables = night_of(name, date(2026, 12, 5))
    now = Instants.from_datetime(tables.begin)
    greenwich = erfa.gst06a(now.ut11[0], now.ut12[0], now.tt1[0], now.tt2[0])
    expected_h = (np.degrees(greenwich) + kit.site.longitude_deg) / 15.0
    off_s = ((tables.sidereal_h - expected_h + 12.0) % 24.0 - 12.0) * 3600.0
    # The polar motion's and the terrestrial origin's part in a local hour angle stay below this.
    assert abs(off_s) < 0.02


@pytest.mark.parametrize(("name", "day"), [("paddock", date(2026, 12, 5)),
                                           ("courtyard", date(2026, 11, 25))])  # fmt: skip
def test_openings_are_where_the_machine_is_free(name: str, day: date) -> None:
    """Every two minutes: inside an opening the room lasts to its end, outside there is none."""
    kit, planned, tables = night_of(name, day)
    assert planned.chosen is not None
    things = {c.thing.catalogue_id: c.thing for c in planned.chosen.candidates}
    seconds = np.arange(90.0, float(tables.seconds[-1]), 120.0)
    seen = object_positions(
        [things[o.key] for o in tables.objects],
        Instants.from_datetime(tables.begin).plus(seconds), observer_of(kit.site),
    )  # fmt: skip
    answer = room(planned.ground.table, seen.hour_angle_h, seen.declination_deg)
    # The room is a star's. What moves among the stars, as Uranus by 3 s of its hour circle in nine
    # hours, comes to its end so much sooner or later.
    along_h = np.unwrap(seen.right_ascension_h, period=24.0)
    own_motion = (along_h[:, -1] - along_h[:, 0]) * 3600.0 / (seconds[-1] - seconds[0])
    inside, outside = 0, 0
    for k, own in enumerate(tables.objects):
        for s, side in enumerate(("east", "west")):
            openings = [o for o in own.openings if o.side == side]
            for j, t in enumerate(seconds):
                here = [o for o in openings if o.begin_s + 2 < t < (o.end_s or np.inf) - 2]
                usable = bool(answer.usable[s, k, j])
                if here:
                    inside += 1
                    assert usable, (own.key, side, t)
                    end = here[0].end_s
                    if end is not None and things[own.key].kind != "moon":
                        room_s = answer.room_s[s, k, j] * (1.0 + own_motion[k])
                        assert t + room_s == pytest.approx(end, abs=0.5)
                        code, pair = int(answer.ends[s, k, j]), int(answer.pair[s, k, j])
                        pair = pair if code == CONTACT else -1
                        assert here[0].ends_by == room_end(planned.ground.table, code, pair)
                # Not before it may be shown, nor close to an edge: then the machine is closed.
                elif (
                    openings
                    and t > min(o.begin_s for o in openings)
                    and all(abs(t - e) > 2 for o in openings for e in (o.begin_s, o.end_s or 0.0))
                ):
                    outside += 1
                    assert not usable, (own.key, side, t)
    assert inside > 500
    assert outside > 20


def test_an_opening_begins_where_the_machine_becomes_free() -> None:
    """Two seconds before it is closed, two seconds after it is free; many begin between steps."""
    kit, planned, tables = night_of("courtyard", date(2026, 11, 25))
    assert planned.chosen is not None
    things = {c.thing.catalogue_id: c.thing for c in planned.chosen.candidates}
    step = float(tables.seconds[1]) / 2.0
    between = [
        (own.key, 0 if o.side == "east" else 1, o.begin_s)
        for own in tables.objects
        for o in own.openings
        if min(o.begin_s % step, step - o.begin_s % step) > 1.0
    ]
    assert len(between) >= 3
    for key, side, begin in between:
        moments = Instants.from_datetime(tables.begin).plus([begin - 2.0, begin + 2.0])
        seen = object_positions([things[key]], moments, observer_of(kit.site))
        usable = room(planned.ground.table, seen.hour_angle_h[0], seen.declination_deg[0]).usable
        assert usable[side].tolist() == [False, True], key


def test_the_moons_room_ends_where_the_moon_is_by_then() -> None:
    kit, planned, tables = night_of("courtyard", date(2026, 12, 20))
    (stop,) = [s for s in planned.evening.stops if s.catalogue_id == "moon"]
    ends = stop.chosen.room_ends
    assert ends is not None
    (own,) = [o for o in tables.objects if o.key == "moon"]
    assert any(
        o.side == stop.chosen.side and o.end_s is not None
        and abs((ends - tables.begin).total_seconds() - o.end_s) < 2.0
        for o in own.openings
    )  # fmt: skip
    # Free just before, closed just after, with the Moon where it really is at those moments.
    around = [ends + timedelta(seconds=s) for s in (-60, 60)]
    seen = object_positions([find("Moon")], Instants.from_datetimes(around), observer_of(kit.site))
    side = 0 if stop.chosen.side == "east" else 1
    usable = room(planned.ground.table, seen.hour_angle_h[0], seen.declination_deg[0]).usable
    assert usable[side].tolist() == [True, False]


def test_what_no_longer_shows_closes_before_its_room_does() -> None:
    _, planned, _ = night_of("courtyard", date(2026, 11, 25))
    table, seconds = planned.ground.table, np.arange(0.0, 7201.0, 300.0)
    hours = np.linspace(1.0, 3.0, len(seconds))[np.newaxis]
    declination = np.full_like(hours, 30.0)
    always = openings_of(table, seconds, hours, declination, np.ones(hours.shape, dtype=np.bool_))
    until = (seconds <= 3600.0)[np.newaxis]
    some = openings_of(table, seconds, hours, declination, until)
    (whole,) = [o for o in always[0] if o.side == "east"]
    (part,) = [o for o in some[0] if o.side == "east"]
    assert whole.shows_until_s is None
    assert part.shows_until_s == 3600.0
    assert part.lasts_s() == 3600.0 < whole.lasts_s()
    assert part.end_s is not None
    assert part.end_s > 3600.0


def test_moves_are_those_of_the_order() -> None:
    kit, planned, tables = night_of("courtyard", date(2026, 11, 25))
    assert planned.task is not None
    targets = {w.key: w for w in planned.task.targets}
    stops = planned.evening.stops
    keys = [o.key for o in tables.objects]
    assert keys[: len(stops)] == [s.catalogue_id for s in stops]
    for before, after in pairwise(stops):
        poses = [targets[s.catalogue_id].pose(s.chosen.side) for s in (before, after)]
        seconds = float(moving(poses[:1], poses[1:], handling_of(kit), north=True)[0][0, 0])
        row, column = (
            2 * keys.index(s.catalogue_id) + (s.chosen.side == "west") for s in (before, after)
        )
        assert seconds <= tables.moving_s[row, column] < seconds + 15.0
        gap = (after.begin - before.end).total_seconds()
        assert gap >= tables.moving_s[row, column] - 1.0


def test_breaks_go_along_and_a_long_night_has_no_more_samples() -> None:
    pause = Break(at=time(20, 30), minutes=15.0)
    kit = kit_with(hours=12.0, stop=None, bedtime=None, breaks=(pause,))
    observer = observer_of(kit.site)
    planned = plan_whole(
        kit, observer, EveningRequest(date(2026, 12, 12), made_at=MADE_AT, effort="quick")
    )
    tables = night_tables(kit, observer, planned)
    # The axis is set on the pole star between two stops, then comes the break.
    (pole, (start, end)) = tables.breaks
    assert planned.session is not None
    assert planned.session.set_between is not None
    aligned = tables.begin + timedelta(seconds=pole[1])
    assert abs((aligned - planned.session.aligned).total_seconds()) < 1.0
    assert end - start == 900.0
    at = (tables.begin + timedelta(seconds=start)).astimezone(kit.site.zone)
    assert abs((at - at.replace(hour=20, minute=30, second=0, microsecond=0)).total_seconds()) < 1
    assert len(tables.seconds) <= MOST_SAMPLES + 1
    assert tables.seconds[-1] > 10 * 3600


def test_a_night_without_stars_still_has_its_clock_and_its_pole() -> None:
    kit = demo_kit("courtyard")
    place = {"latitude_deg": 69.0, "longitude_deg": 18.0, "time_zone": "Europe/Oslo"}
    kit = kit.model_copy(update={"site": kit.site.model_copy(update=place)})
    observer = observer_of(kit.site)
    planned = plan_whole(
        kit, observer, EveningRequest(date(2026, 6, 21), made_at=MADE_AT, effort="quick")
    )
    data = tables_data(night_tables(kit, observer, planned), "metric")
    assert data["objects"] == []
    assert data["moving_s"] == []
    assert len(data["pole"]["ring"]) > 100
    assert 0.0 <= data["sidereal_h"] < 24.0
