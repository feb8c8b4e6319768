"""The evening goes on: nothing changed, late, clouds, an own order, a promise."""

from __future__ import annotations

import re
import time
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

import pytest

from axletree.evening.given_up import GivenUpReason
from axletree.evening.sheet.going_on import ClosedSky, GoingOn, SoFar, Standing, go_on
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.evening.stops.findings import with_findings
from axletree.evening.stops.stop import Stop
from axletree.find.start_star import StartStar
from axletree.find.steps import Steps
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.sky.observer import observer_of
from axletree.stages.night.evening import pointing_of_evening
from axletree.tell.evening.stop_data import stop_facts
from axletree.tell.shared.words import own_clock
from axletree.tell.stop.text import given_up_words, order_words

KIT = demo_kit("courtyard")
OBSERVER = observer_of(KIT.site)
NOON = datetime(2026, 12, 5, 12, tzinfo=ZoneInfo("Europe/Lisbon"))


@cache
def the_plan() -> Planned:
    return plan_whole(KIT, OBSERVER, EveningRequest(date(2026, 12, 5), made_at=NOON))


def the_stops() -> tuple[Stop, ...]:
    return the_plan().evening.stops


def the_keys() -> tuple[str, ...]:
    return tuple(stop.catalogue_id for stop in the_stops())


def after(so_far: SoFar) -> GoingOn:
    began = time.process_time()
    found = go_on(KIT, OBSERVER, the_plan(), so_far)
    # To do: 2 s; about 0.2 s of processor time is usual.
    assert time.process_time() - began < 2.0
    return found


def standing(n: int, more: timedelta = timedelta()) -> Standing:
    stop = the_stops()[n]
    return Standing(the_keys()[n], stop.chosen.side, stop.begin, stop.end + more)


def test_where_nothing_changed_the_run_sheet_stays_word_for_word() -> None:
    at = the_stops()[2].begin + timedelta(minutes=3)
    for given in (None, the_keys()[3:]):
        new = after(SoFar(at, the_keys()[:2], standing(2), announced=the_keys()[3:], given=given))
        assert not new.lost
        kept = {s.catalogue_id: s for s in the_stops()}
        same = [s for s in new.stops if s.begin == kept[s.catalogue_id].begin]
        assert [s.catalogue_id for s in new.stops] == list(the_keys()[2:])
        for stop in same[2:]:
            old = kept[stop.catalogue_id]
            again = replace(stop, number=old.number)
            assert stop_facts(again, "metric") == stop_facts(old, "metric")


def test_a_late_start_names_what_has_no_place_any_more() -> None:
    at = the_stops()[0].begin + timedelta(hours=1)
    new = after(SoFar(at, announced=the_keys()))
    shown = {s.name for s in new.stops}
    assert all(s.begin >= at for s in new.stops)
    assert {g.name for g in new.lost} == {s.name for s in the_stops()} - shown
    assert all(g.reason for g in new.lost)


def test_no_stop_within_closed_sky_and_the_sky_opens_again() -> None:
    at = the_stops()[2].begin
    opens = at + timedelta(minutes=40)
    closed = ClosedSky(180.0, 360.0, begin=at, end=opens)
    new = after(SoFar(at, the_keys()[:2], standing(2), announced=the_keys()[3:], closed=(closed,)))
    assert new.stops
    for stop in new.stops:
        for pose in (stop.start, stop.finish):
            if pose.at < opens:
                assert not 180.0 < pose.azimuth_deg < 360.0


def test_the_own_order_is_kept_and_times_follow() -> None:
    own = (the_keys()[5], the_keys()[3], the_keys()[4], *the_keys()[6:])
    at = the_stops()[2].end
    new = after(SoFar(at, the_keys()[:2], standing(2), announced=the_keys()[3:], given=own))
    order = [s.catalogue_id for s in new.stops]
    assert order == [k for k in own if k in order]
    assert order[0] == the_keys()[5]
    ends = [s.end for s in new.stops]
    assert all(b.begin > a for a, b in zip(ends, new.stops[1:], strict=False))
    assert [s.number for s in new.stops] == list(range(1, len(order) + 1))
    # The first turn starts where the rig stands, not at rest.
    assert new.stops[0].begin > at


def test_a_longer_stay_moves_the_rest_and_is_cut_by_the_room() -> None:
    n = max(range(2, len(the_stops()) - 1), key=lambda k: the_stops()[k].chosen.room_s)
    at, ten = the_stops()[n].begin + timedelta(minutes=2), timedelta(minutes=10)
    rest = the_keys()[n + 1 :]
    new = after(SoFar(at, the_keys()[:n], standing(n, ten), announced=rest, given=rest))
    assert new.stops[0].catalogue_id == the_keys()[n]
    assert new.stops[0].end == the_stops()[n].end + ten
    assert new.stops[1].begin >= the_stops()[n].end + ten
    assert new.stay_cut_s == 0.0
    hours = after(SoFar(at, the_keys()[:n], standing(n, timedelta(hours=12)), announced=rest))
    room_ends = the_stops()[n].chosen.room_ends
    assert hours.stay_cut_s > 3600.0
    # Not beyond the session, and not beyond the room as the stop itself tells it.
    assert room_ends is None or hours.stops[0].end <= room_ends + timedelta(seconds=1)


def test_a_promise_comes_before_points_and_is_marked() -> None:
    at = the_stops()[0].begin
    last = the_keys()[-1]
    new = after(SoFar(at, promised=(last,), announced=the_keys()))
    marked = {s.catalogue_id for s in new.stops if s.promised}
    assert last in marked or new.broken
    closed = ClosedSky(0.0, 0.0)
    none = after(SoFar(at, promised=(last,), announced=the_keys(), closed=(closed,)))
    assert not none.stops
    assert none.broken == (the_stops()[-1].name,)
    assert {g.name: g.promised for g in none.lost}[the_stops()[-1].name]
    assert all(given_up_words(g).startswith("promised") == g.promised for g in none.lost)


def test_a_night_without_a_session_and_a_foreign_key_are_refused() -> None:
    with pytest.raises(AxletreeError, match="none of this evening's objects"):
        after(SoFar(the_stops()[0].begin, gone=("NGC 1",)))
    with pytest.raises(AxletreeError, match="no session"):
        go_on(KIT, OBSERVER, replace(the_plan(), task=None), SoFar(NOON))


def test_late_in_the_evening_only_the_hours_are_over() -> None:
    assert the_plan().session is not None
    new = after(
        SoFar(
            the_plan().session.end - timedelta(minutes=5), the_keys()[:2], announced=the_keys()[2:]
        )
    )
    assert (new.stops, new.quality.empty_because) == ((), "session over")
    assert own_clock(the_plan().session.end) in order_words(new.quality)
    assert len(new.lost) == len(the_keys()[2:])
    for lost in new.lost:
        assert lost.reason is GivenUpReason.SESSION_OVER
        assert "hours" in given_up_words(lost)
        assert not re.search("too low|too faint|reach", given_up_words(lost))


def test_under_clouds_the_reason_is_clouds() -> None:
    closed = ClosedSky(0.0, 0.0)
    new = after(
        SoFar(the_stops()[2].begin, the_keys()[:2], announced=the_keys()[2:], closed=(closed,))
    )
    assert (new.stops, new.quality.empty_because) == ((), "clouds")
    assert {lost.reason for lost in new.lost} == {GivenUpReason.CLOUDED}


def test_an_order_with_stops_is_not_empty_for_any_reason() -> None:
    new = after(SoFar(the_stops()[2].begin, the_keys()[:2], announced=the_keys()[2:]))
    assert new.stops
    assert new.quality.empty_because is None
    gone = after(SoFar(the_stops()[2].begin, tuple(w.key for w in the_plan().task.targets)))
    assert (gone.stops, gone.quality.empty_because) == ((), "nothing left")


def test_the_way_on_begins_at_what_the_tube_has_in_view() -> None:
    """From M2 to M15 the hour axis turns by the difference of their right ascensions (21h 33.5m
    and 21h 30.0m, declinations -0.8 and +12.2: printed in any list of Messier's objects), less what
    the sky goes on meanwhile; nobody takes what is in the eyepiece for another thing."""
    pointing = pointing_of_evening(KIT, None, date(2026, 12, 5))
    kit = KIT.model_copy(
        update={"habits": KIT.habits.model_copy(update={"must_see": ("M2", "M15")})}
    )
    planned = plan_whole(
        kit, OBSERVER,
        EveningRequest(date(2026, 12, 5), made_at=NOON, pointing=pointing, effort="quick"),
    )  # fmt: skip
    stops = {s.name: s for s in planned.evening.stops}
    was, onward = stops["M2"], stops["M15"]
    on_it = Standing(was.catalogue_id, was.chosen.side, was.begin, was.end)
    at = was.end - timedelta(minutes=2)
    new = go_on(
        kit, OBSERVER, planned, SoFar(at, standing=on_it, given=(onward.catalogue_id,))
    )  # fmt: skip
    assert [s.name for s in new.stops] == ["M2", "M15"]
    found = new.stops[1].finding
    assert found is not None
    assert isinstance(found.start, StartStar)
    assert isinstance(found.steps, Steps)
    assert found.start.in_view
    assert found.start.names[0] == "M2"
    sky = 15.041 * found.steps.seconds / 3600.0
    assert found.steps.hour.degrees == pytest.approx(3.5 / 4.0 + sky, abs=0.1)
    assert found.steps.declination.degrees == pytest.approx(13.0, abs=0.1)
    assert "M2" in stop_facts(new.stops[1], "metric").finding.words  # type: ignore[union-attr]
    # At later stops the way begins at a star, and where the tube hangs on the other side.
    assert planned.task is not None
    assert planned.task.here is not None
    first = planned.evening.stops.index(was) + 1
    ahead = planned.evening.stops[first : first + 3]
    for side in ("east", "west"):
        here = replace(planned.task.here, in_view=(was.candidate.thing, side))
        told = with_findings(KIT, OBSERVER, planned.ground.table, ahead, here)
        starts = [stop.finding.start for stop in told if stop.finding is not None]
        begun = [isinstance(one, StartStar) and one.in_view for one in starts]
        assert begun == [ahead[0].chosen.side == side, False, False]
